//! The batch sheet: everything the bench shows, for so many times the recipe, as it was when
//! the batch was started. Kept as JSON with the batch; a later change of the recipe does not
//! touch a batch under way.

#[cfg(test)]
mod example;
mod make;
mod method;
mod mind;
mod tasks;
mod words;

use crate::day::words::kept_for;
use recipe::plan::{Place, kept_after};
use recipe::size::Ask;
use serde::{Deserialize, Serialize};

pub use make::batch_sheet;
pub use mind::{gluten, still};
pub use recipe::size::times;
pub use tasks::{MARK, timed};
pub use words::{grams, minutes, more_or_less};

/// What is to weigh and do in a batch. The JSON of a batch's `plan`.
///
/// All grams are for this batch: the recipe's, times each component's factor. Every field but the names may
/// be left out.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct BatchSheet {
    /// Parts of the recipe in the order of the work: as the steps begin with them.
    pub components: Vec<Part>,
    /// What in it contains gluten; nothing where the screen found none.
    #[serde(default)]
    pub gluten: Vec<String>,
    /// Cautions that stand with no component.
    #[serde(default)]
    pub cautions: Vec<Caution>,
    /// Labels not yet read that stand with no component.
    #[serde(default)]
    pub labels: Vec<String>,
    /// Least share of its weight that it loses in the oven, and the most, %.
    #[serde(default)]
    pub bake_loss: Option<(f64, f64)>,
    /// The steps of the plan, what comes first before what follows it; none of batches begun before
    /// they were kept.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tasks: Vec<Task>,
    /// When it is to be ready, Unix seconds; nothing where nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serve: Option<i64>,
    /// The recipe of the day that it is of, by its key there; nothing of other batches, and of those begun
    /// before that was kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of_day: Option<String>,
    /// Why it could not be planned for that time, a sentence each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub unplanned: Vec<String>,
    /// The method in the baker's own words, a step each.
    #[serde(default)]
    pub method: Vec<String>,
    /// What the last bake's record said to change next time, as it stood at the start.
    #[serde(default)]
    pub last_time: Option<String>,
    /// What was asked for, in words; empty of batches begun before that was kept.
    #[serde(default)]
    pub asked: String,
    /// The pan it is made in, in words; nothing where no one says, and of batches begun before that was kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pan: Option<String>,
    /// The size it was made in; so many times the recipe where nothing is kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<Ask>,
    /// Scales in which the source states its temperatures: `F`, `both`; nothing is °C.
    #[serde(default)]
    pub degrees: Option<String>,
    /// The country whose degrees stand first, `us`, `metric`, `uk` or `au`: as on the recipe's pages when it was
    /// begun. The kitchen's for batches begun before that was kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measures: Option<String>,
}

/// A caution.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Caution {
    /// In two words: `raw egg`.
    pub short: String,
    /// In full.
    pub text: String,
}

/// A component of a batch.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Part {
    /// Its name; empty where the recipe has one part.
    pub name: String,
    /// Grams it makes, raw.
    #[serde(default)]
    pub makes: Option<f64>,
    /// Grams of it that other components take.
    #[serde(default)]
    pub used: Option<f64>,
    /// What to weigh.
    pub lines: Vec<Line>,
    /// Cautions that count at the bench for what is in it: raw egg, raw flour.
    #[serde(default)]
    pub cautions: Vec<Caution>,
    /// Labels of it not yet read when the batch was started: what, and why.
    #[serde(default)]
    pub labels: Vec<String>,
    /// What to do differently.
    #[serde(default)]
    pub notes: Vec<Note>,
    /// Timers of the rework, of batches begun before the steps were kept.
    #[serde(default)]
    pub ours: Vec<Offer>,
    /// The oven of the rework.
    #[serde(default)]
    pub our_heat: Vec<Figure>,
    /// How near the warm hours of what holds egg or milk come to their limit.
    #[serde(default)]
    pub warm: Option<String>,
    /// Oven and other figures of the source's method.
    #[serde(default)]
    pub heat: Vec<Figure>,
    /// Timers of the source's method, of batches begun before the steps were kept.
    #[serde(default)]
    pub timers: Vec<Offer>,
    /// The source's own steps, for the baker's eyes.
    #[serde(default)]
    pub steps: Vec<String>,
}

/// A step: a stretch of work, and the wait that follows it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Task {
    /// Its key among the batch's marks: `step:`, and its key in the plan.
    pub item: String,
    /// Its component, by place in this batch.
    #[serde(default)]
    pub component: usize,
    /// Its row in the table of practice: `weigh`, `rise`, `bake` …
    #[serde(default)]
    pub what: String,
    /// What is done: `Rise`.
    pub name: String,
    /// The step of the method, as the page numbers it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<String>,
    /// The words of that step, where the name alone does not tell what to do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub words: Option<String>,
    /// Minutes at work.
    #[serde(default)]
    pub hands: f64,
    /// What they rest on: `said`, `reworked`, `guess`, `own`.
    #[serde(default)]
    pub hands_rests: String,
    /// Least minutes of the wait; nothing where it is all work.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least: Option<f64>,
    /// Most minutes of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<f64>,
    /// Any length between will do; otherwise it takes as long as it takes.
    #[serde(default)]
    pub may: bool,
    /// What the wait rests on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait_rests: Option<String>,
    /// Where it waits: `bench`, `fridge`, `freezer`, `oven`, `stove`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// The oven, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat: Option<String>,
    /// What to know: what to look for, what limits it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<String>,
    /// What the original has in its place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub was: Option<String>,
    /// What leaving it out costs, where it may be left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub optional: Option<String>,
    /// Steps that come before it, by `item`.
    #[serde(default)]
    pub after: Vec<String>,
    /// What the plan has before it in another part, where it has hours: it is not offered sooner. It
    /// may be done sooner all the same.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub behind: Option<String>,
    /// Timers it offers.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub timers: Vec<Offer>,
    /// When its work begins by the plan, Unix seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub begin: Option<i64>,
    /// When it must begin, so that all is ready in time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<i64>,
    /// When its wait is over by the plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end: Option<i64>,
}

impl Task {
    /// How what it makes is kept until the next step takes it, by the hours of the plan and in its words.
    ///
    /// # Arguments
    /// * `all` — the steps of the batch.
    pub fn kept(&self, all: &[Self]) -> Option<String> {
        let waits = self.place.as_deref().and_then(Place::from_key);
        let place = kept_after(&self.what, waits)?;
        let takes = |t: &&Self| t.what != "preheat" && t.after.contains(&self.item);
        let next = all.iter().filter(takes).map(|t| t.begin);
        let next = next.min().flatten()?;
        kept_for(place, i32::try_from((next - self.end?) / 60).ok()?)
    }
}

/// A line to weigh.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Line {
    /// Its key among the batch's marks: `PLACE:KEY`, the component's place in the recipe and the
    /// line's key there; a part of a blend adds `/FOOD`.
    pub item: String,
    /// Its name.
    pub name: String,
    /// Grams as the kitchen's scale shows them; none where it is not weighed.
    #[serde(default)]
    pub grams: Option<f64>,
    /// Grams before rounding to the scale.
    #[serde(default)]
    pub exact: Option<f64>,
    /// Finer than the scale shows.
    #[serde(default)]
    pub finer: bool,
    /// In cups, spoons, eggs.
    #[serde(default)]
    pub household: Option<String>,
    /// The words of a line without grams.
    #[serde(default)]
    pub words: Option<String>,
    /// A remark.
    #[serde(default)]
    pub note: Option<String>,
    /// Not the same as in the original.
    #[serde(default)]
    pub changed: bool,
    /// For the bench or the pan, not in the formula.
    #[serde(default)]
    pub aside: bool,
    /// What it is for then: `to serve`.
    #[serde(default)]
    pub purpose: Option<String>,
    /// Another component of this batch.
    #[serde(default)]
    pub made_here: bool,
    /// The flours of a blend.
    #[serde(default)]
    pub parts: Vec<Line>,
}

/// What to do differently.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Note {
    /// What to do.
    pub text: String,
    /// Where that comes from.
    #[serde(default)]
    pub source: String,
}

/// A figure of the method, in words.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Figure {
    /// Of what.
    pub what: String,
    /// The figure with its unit.
    pub value: String,
}

/// What is to be done when a timer rings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ring {
    /// It is over.
    #[default]
    Over,
    /// To look whether it is, from then on.
    LookFrom,
    /// To look whether it is.
    LookAt,
    /// It must be over.
    Latest,
}

impl Ring {
    /// In words, before its minutes; none where it is just over.
    #[must_use]
    pub fn words(self) -> Option<&'static str> {
        match self {
            Self::Over => None,
            Self::LookFrom => Some("look from"),
            Self::LookAt => Some("look at"),
            Self::Latest => Some("no longer than"),
        }
    }
    fn is_over(&self) -> bool {
        *self == Self::Over
    }
}

/// A timer on offer.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Offer {
    /// What it is for.
    pub label: String,
    /// Minutes.
    pub minutes: f64,
    /// The longest that the method allows, where it gives a range.
    #[serde(default)]
    pub most: Option<f64>,
    /// It may be longer than its minutes, and is over at the least of them.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub longer: bool,
    /// The step of the source's method.
    #[serde(default)]
    pub step: Option<usize>,
    /// What is to be done when it rings.
    #[serde(default, skip_serializing_if = "Ring::is_over")]
    pub ring: Ring,
}

impl Offer {
    /// Its label with what is to be done when it rings: `Rise: look from`.
    #[must_use]
    pub fn words(&self) -> String {
        let ring = self.ring.words();
        ring.map_or_else(|| self.label.clone(), |r| format!("{}: {r}", self.label))
    }
}

/// So many minutes of work are no more than putting something by: common practice, no source.
const LITTLE: f64 = 3.0;

impl BatchSheet {
    /// Brings what an older program kept to what is kept now: a timer's label ended in what is to be done
    /// when it rings.
    pub fn renew(&mut self) {
        for offer in self.tasks.iter_mut().flat_map(|t| &mut t.timers) {
            for ring in [Ring::LookFrom, Ring::LookAt, Ring::Latest] {
                let end = ring.words().map(|w| format!(": {w}"));
                if let Some(label) = end.and_then(|e| offer.label.strip_suffix(&e)) {
                    offer.label = label.to_owned();
                    offer.ring = ring;
                    break;
                }
            }
        }
    }

    /// Puts the components into the order in which the steps begin with them; one without a step stays
    /// before the one it came before.
    pub fn in_order(&mut self) {
        let mut first = vec![usize::MAX; self.components.len()];
        for c in (0..first.len()).rev() {
            let own = self.tasks.iter().position(|t| t.component == c);
            first[c] = own.unwrap_or(first.get(c + 1).copied().unwrap_or(usize::MAX));
        }
        let mut order: Vec<usize> = (0..first.len()).collect();
        order.sort_by_key(|&c| first[c]);
        for t in &mut self.tasks {
            let to = order.iter().position(|&c| c == t.component);
            t.component = to.unwrap_or(t.component);
        }
        let mut old: Vec<Option<Part>> = self.components.drain(..).map(Some).collect();
        self.components
            .extend(order.into_iter().filter_map(|c| old[c].take()));
    }

    /// Puts the steps into the order of their hours, where all have them, and the components with them.
    pub fn settle(&mut self) {
        tasks::settle(&mut self.tasks);
        self.in_order();
    }

    /// Every line that has a tick of its own, in order, blends before their flours.
    pub fn items(&self) -> impl Iterator<Item = &Line> {
        self.components
            .iter()
            .flat_map(|c| &c.lines)
            .flat_map(|l| std::iter::once(l).chain(&l.parts))
    }

    /// The line of a key.
    #[must_use]
    pub fn item(&self, key: &str) -> Option<&Line> {
        self.items().find(|l| l.item == key)
    }

    /// Whether something can be ticked: a line, a step.
    #[must_use]
    pub fn knows(&self, key: &str) -> bool {
        self.item(key).is_some() || self.tasks.iter().any(|t| t.item == key)
    }

    /// The steps that need no more thought: those that are done, the weighing of a component whose lines
    /// all are, and all that comes before one of these. By place among the steps.
    pub fn passed(&self, is_done: impl Fn(&str) -> bool) -> Vec<bool> {
        let weighed = |t: &Task| {
            let lines = self.components.get(t.component).map(|c| c.lines.as_slice());
            t.what == "weigh"
                && lines.is_some_and(|l| !l.is_empty() && l.iter().all(|l| is_done(&l.item)))
        };
        let mut out: Vec<bool> = self
            .tasks
            .iter()
            .map(|t| is_done(&t.item) || weighed(t))
            .collect();
        for i in (0..out.len()).rev().filter(|&i| out[i]).collect::<Vec<_>>() {
            self.pass(i, &mut out);
        }
        out
    }

    fn pass(&self, i: usize, out: &mut [bool]) {
        for a in &self.tasks[i].after {
            if let Some(at) = self.tasks.iter().position(|t| t.item == *a)
                && !std::mem::replace(&mut out[at], true)
            {
                self.pass(at, out);
            }
        }
    }

    /// What can be done next: steps not passed, all before them passed, by the plan too where there is
    /// one. By place among the steps.
    pub fn next(&self, is_ticked: impl Fn(&str) -> bool) -> Vec<usize> {
        let passed = self.passed(is_ticked);
        let over = |item: &String| {
            let at = self.tasks.iter().position(|t| t.item == *item);
            at.is_none_or(|at| passed[at])
        };
        (0..passed.len())
            .filter(|&i| {
                let t = &self.tasks[i];
                !passed[i] && t.after.iter().chain(&t.behind).all(over)
            })
            .collect()
    }

    /// The steps in the order in which they are offered: that of their hours; without hours those first behind which
    /// the batch takes longest, waits at their shortest. What only has to be put to cool, chill or rest follows at once
    /// on what was made: it waits by itself while the hands go on.
    pub fn longest_first(&self) -> Vec<usize> {
        let mut out: Vec<usize> = (0..self.tasks.len()).collect();
        if self.tasks.iter().any(|t| t.begin.is_some()) {
            return out;
        }
        let lead = tasks::lead(&self.tasks);
        out.sort_by(|&a, &b| lead[b].total_cmp(&lead[a]));
        let waits = |t: &Task| {
            t.what != "preheat" && t.hands <= LITTLE && t.most.is_some_and(|most| most > 0.0)
        };
        let at = |out: &[usize], item: &str| out.iter().position(|&i| self.tasks[i].item == item);
        for i in out.clone().into_iter().filter(|&i| waits(&self.tasks[i])) {
            let after = self.tasks[i].after.iter();
            let (Some(last), Some(here)) = (
                after.filter_map(|a| at(&out, a)).max(),
                at(&out, &self.tasks[i].item),
            ) else {
                continue;
            };
            if last < here {
                let moved = out.remove(here);
                out.insert(last + 1, moved);
            }
        }
        out
    }

    /// What a tick of an item ticks: a blend takes its flours along, the last flour its blend.
    pub fn ticks(
        &self,
        item: &str,
        ticked: bool,
        is_ticked: impl Fn(&str) -> bool,
    ) -> Vec<(String, bool)> {
        let mut out = Vec::new();
        if self.tasks.iter().any(|t| t.item == item) {
            out.push((item.to_owned(), ticked));
        }
        for line in self.components.iter().flat_map(|c| &c.lines) {
            if line.item == item {
                out.push((line.item.clone(), ticked));
                out.extend(line.parts.iter().map(|p| (p.item.clone(), ticked)));
            } else if line.parts.iter().any(|p| p.item == item) {
                let all = ticked
                    && line
                        .parts
                        .iter()
                        .all(|p| p.item == item || is_ticked(&p.item));
                out.push((item.to_owned(), ticked));
                if all != is_ticked(&line.item) {
                    out.push((line.item.clone(), all));
                }
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_timer_of_before_says_what_to_do_when_it_rings() {
        let old = r#"{"components":[],"tasks":[{"item":"step:0:1","component":0,"name":"Rise","what":"rise","after":[],
            "timers":[{"label":"Rise: look from","minutes":60.0},{"label":"Cool: for long","minutes":9.0}]}]}"#;
        let mut sheet: BatchSheet = serde_json::from_str(old).expect("an old sheet");
        sheet.renew();
        let [rise, cool] = sheet.tasks[0].timers.as_slice() else {
            panic!("two timers");
        };
        assert_eq!((rise.label.as_str(), rise.ring), ("Rise", Ring::LookFrom));
        assert_eq!(rise.words(), "Rise: look from");
        assert_eq!(
            (cool.words().as_str(), cool.ring),
            ("Cool: for long", Ring::Over)
        );
    }

    #[test]
    fn components_stand_as_the_hours_begin_them() {
        let part = |name: &str| Part {
            name: name.to_owned(),
            ..Part::default()
        };
        let task = |component: usize, begin: i64| Task {
            item: format!("step:{component}:{begin}"),
            component,
            begin: Some(begin),
            ..Task::default()
        };
        let mut sheet = BatchSheet {
            components: ["filling", "salt for the pan", "crumb", "dough"]
                .map(part)
                .into(),
            tasks: vec![
                task(0, 90),
                task(2, 40),
                task(2, 50),
                task(3, 10),
                task(3, 95),
            ],
            ..BatchSheet::default()
        };
        let told = |sheet: &BatchSheet| {
            let names: Vec<&str> = sheet.components.iter().map(|c| c.name.as_str()).collect();
            let steps = sheet
                .tasks
                .iter()
                .map(|t| names[t.component])
                .collect::<Vec<_>>();
            (names.join(", "), steps.join(", "))
        };
        let want = (
            "dough, salt for the pan, crumb, filling".to_owned(),
            "dough, crumb, crumb, filling, dough".to_owned(),
        );
        sheet.settle();
        assert_eq!(told(&sheet), want);
        sheet.settle();
        assert_eq!(told(&sheet), want, "once in order it stays");
    }

    #[test]
    fn a_blend_takes_its_flours_along() {
        let part = |item: &str| Line {
            item: item.to_owned(),
            ..Line::default()
        };
        let plan = BatchSheet {
            components: vec![Part {
                lines: vec![Line {
                    item: "0:blend".to_owned(),
                    parts: vec![part("0:blend/a"), part("0:blend/b")],
                    ..Line::default()
                }],
                ..Part::default()
            }],
            ..BatchSheet::default()
        };
        let told = |item: &str, ticked, done: &[&str]| {
            plan.ticks(item, ticked, |k| done.contains(&k))
                .into_iter()
                .map(|(k, t)| format!("{k}={t}"))
                .collect::<Vec<_>>()
                .join(" ")
        };
        assert_eq!(
            told("0:blend", true, &[]),
            "0:blend=true 0:blend/a=true 0:blend/b=true"
        );
        assert_eq!(told("0:blend/a", true, &[]), "0:blend/a=true");
        assert_eq!(
            told("0:blend/a", true, &["0:blend/b"]),
            "0:blend/a=true 0:blend=true"
        );
        assert_eq!(
            told("0:blend/a", false, &["0:blend", "0:blend/a", "0:blend/b"]),
            "0:blend/a=false 0:blend=false"
        );
        assert_eq!(told("9:x", true, &[]), "");
    }
}
