//! Notes for the method: what to do differently at which step, in our words.

mod aids;
mod facts;
mod gel;
mod oven;
pub(super) mod rest;
mod say;
pub(super) mod shape;
#[cfg(test)]
mod tests;

use crate::Line;
use crate::recipe::{Activity, Component, Fact, FactKind, Heat, Recipe, Step};
use crate::rework::steps::is_filling;
use crate::rework::style::Style;
use crate::weigh::is_preferment;
pub(super) use facts::does;
use facts::{doing, longest, rises_in};
pub(crate) use facts::{in_the_cold, longer};
pub use gel::Gel;
pub use oven::gas_mark;
pub(crate) use oven::{Setting, of_bake, settings};
pub(super) use oven::{Stage, stages};
use quantity::Temperature;
use say::minutes;
pub(super) use say::{all_minutes, others};
use say::{joined, stage_allowed, stage_stated};
pub(crate) use shape::sides as sheet_sides;
use std::ops::Range;

/// A note for the method.
#[derive(Debug, Clone, PartialEq)]
pub struct MethodNote {
    /// The step of the original it is about.
    pub step: Option<usize>,
    /// What to do.
    pub text: String,
    /// The rule it follows.
    pub rule: &'static str,
    /// Where the rule comes from.
    pub source: String,
    /// The words of the step it answers, where it answers words.
    pub aid: Option<Aid>,
    /// The still oven it asks for, from coolest to hottest, stage by stage.
    pub ovens: Vec<(Temperature, Temperature)>,
    /// The step whose first rise is not had any more: one rise is enough.
    pub leaves_out: Option<usize>,
}

/// What a step says that only wheat needs, and what takes its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Aid {
    /// What is found: `knead`, `windowpane`, `second_rise` …, a key of `method_aids.tsv`.
    pub found: &'static str,
    /// The bytes of the step's text that say it.
    pub span: Range<usize>,
    /// What to do instead.
    pub instead: String,
    /// How to know that it is right.
    pub look_for: String,
}

impl MethodNote {
    /// The words of the original's step that the note answers: for the developer's eyes, never
    /// printed on a card.
    ///
    /// # Inputs
    /// - `recipe`: the recipe the note was made for.
    #[must_use]
    pub fn words<'a>(&self, recipe: &'a Recipe) -> Option<&'a str> {
        let step = recipe.steps.iter().find(|s| Some(s.number) == self.step)?;
        step.text.get(self.aid.as_ref()?.span.clone())
    }

    /// Its words, with each step called as its page calls it.
    #[must_use]
    pub fn shown(&self, recipe: &Recipe) -> String {
        renumbered(&self.text, |step, n| {
            format!("{step} {}", recipe.step_label(n))
        })
    }

    /// The same beside the baker's own method, whose steps have numbers of their own: `The original’s step 2
    /// chills …`.
    #[must_use]
    pub fn of_original(&self, recipe: &Recipe) -> String {
        renumbered(&self.text, |step, n| {
            let the = if step == "Step" { "The" } else { "the" };
            format!("{the} original’s step {}", recipe.step_label(n))
        })
    }
}

/// A note's steps, called otherwise: `Step 4 rolls …, as in step 2`.
///
/// # Arguments
/// * `to` — from `Step` or `step` and the number to the words for them.
fn renumbered(text: &str, to: impl Fn(&str, usize) -> String) -> String {
    let mut out = String::with_capacity(text.len());
    let mut from = 0;
    let all = ["Step", "step"].into_iter();
    let mut found: Vec<_> = all.flat_map(|word| text.match_indices(word)).collect();
    found.sort_unstable();
    for (at, word) in found {
        let Some(rest) = text[at + word.len()..].strip_prefix(' ') else {
            continue;
        };
        let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        if let Ok(number) = rest[..digits].parse() {
            out.push_str(&text[from..at]);
            out.push_str(&to(word, number));
            from = at + word.len() + 1 + digits;
        }
    }
    out.push_str(&text[from..]);
    out
}

/// When a custard is done.
const WOBBLES: &str = " Done when the edge is set and the middle still wobbles.";
const PRACTICE: &str = "common practice, no source";
/// A chill or rise of so many minutes is a night.
const NIGHT: f64 = 300.0;
/// So many minutes above 5 °C are the limit for what holds egg or milk.
const COUNTS: f64 = 120.0;
const EGG_OR_MILK: &str = "with egg or milk in it keep it at 5 °C or below and no longer than 24 hours; time above 5 °C counts towards a limit of 2 hours (your local rules come first)";
/// Liquid for yeast, °C at most.
const YEAST_LIQUID: f64 = 45.0;
/// A rework that weighs this much more than the original wants a larger pan.
pub(super) const GROWN: f64 = 1.15;
/// The rule of a note on more dough or batter for a pan.
pub(super) const MORE_IN_PAN: &str = "more in the pan";
/// Words of ingredients that raise.
const YEASTS: &[&str] = &["yeast", "starter", "sourdough", "levain", "leaven"];

/// What the notes of one component are made from.
pub(crate) struct About<'a> {
    /// The whole recipe: the oven is set in any step of it.
    pub recipe: &'a Recipe,
    /// The component's place in it.
    pub component: usize,
    /// The steps that are about this component.
    pub steps: &'a [&'a Step],
    /// Its style.
    pub style: Style,
    /// How the psyllium of the reworked component gels, where it has some.
    pub gel: Option<Gel>,
    /// The liquid a tenth of which can be held back, where there is one.
    pub held_back: Option<String>,
    /// Whether yolk is in it.
    pub holds_yolk: bool,
    /// Whether egg sets it in the oven, with hardly any flour.
    pub set_by_egg: bool,
    /// Whether any binder is.
    pub binder: bool,
    /// What raises it at once, as reworked.
    pub(in crate::rework) raised: rest::Raised,
    /// Whether the raw dough is perishable.
    pub holds_egg_or_milk: bool,
    /// Whether the recipe holds meat, poultry or fish.
    pub meat: bool,
    /// Grams before.
    pub before: f64,
    /// Grams after.
    pub after: f64,
}

/// Hours on end in which a dough rises.
#[derive(Clone, Copy)]
struct Night {
    step: usize,
    /// In the fridge, as the original has it.
    cold: bool,
    /// The step calls it a rise.
    is_rise: bool,
}

/// The notes so far; none is said twice.
struct Notes<'a> {
    about: &'a About<'a>,
    list: Vec<MethodNote>,
    /// The oven through the whole method.
    ovens: Vec<oven::Setting>,
    /// The boiling point has been spoken of.
    boiling: bool,
}

/// The notes for a component's steps.
#[must_use]
pub(crate) fn notes(about: &About) -> Vec<MethodNote> {
    let mut notes = Notes {
        about,
        list: Vec::new(),
        ovens: oven::settings(about.recipe),
        boiling: false,
    };
    if notes.preferment() {
        return notes.list;
    }
    notes.before_mixing();
    notes.rises();
    for (i, step) in about.steps.iter().enumerate() {
        notes.aids(step);
        notes.dusting(step);
        notes.balls(step);
        notes.bake(step);
        notes.stated_core(step);
        notes.yeast_liquid(i, step);
    }
    notes.rest(true);
    notes.list.sort_by_key(|n| n.step.unwrap_or(0));
    notes.bench_lines();
    notes.rest(false);
    notes.end();
    notes.grown();
    notes.list
}

impl<'a> Notes<'a> {
    /// Adds a note, unless its rule has been said of this step, or, for one about the whole, of
    /// any.
    fn say(&mut self, step: Option<usize>, rule: &'static str, source: &str, text: String) {
        let said = self
            .list
            .iter()
            .any(|n| n.text == text || n.rule == rule && (n.step == step || step.is_none()));
        if !said {
            self.list.push(MethodNote {
                step,
                text,
                rule,
                source: source.to_owned(),
                aid: None,
                ovens: Vec::new(),
                leaves_out: None,
            });
        }
    }

    /// Adds a note about words of a step: `Step 2 kneads: …`.
    fn answer(&mut self, n: usize, does: &str, rule: &'static str, source: &str, aid: Aid) {
        let text = format!(
            "Step {n} {does}: {} Look for {}.",
            aid.instead, aid.look_for
        );
        let before = self.list.len();
        self.say(Some(n), rule, source, text);
        if let Some(note) = self.list.get_mut(before) {
            note.aid = Some(aid);
        }
    }

    fn style(&self) -> &'static str {
        self.about.style.key()
    }

    /// The component's ingredient lines.
    fn lines(&self) -> &'a [Line] {
        let component = self.about.recipe.components.get(self.about.component);
        component.map_or(&[], |c| &c.lines)
    }

    /// Whether an ingredient line's text has one of these words.
    fn names(&self, words: &[&str]) -> bool {
        self.lines().iter().any(|l| {
            let text = l.clean.to_lowercase();
            words.iter().any(|w| text.contains(w))
        })
    }

    /// Whether a step's text has one of these words.
    fn steps_say(&self, words: &[&str]) -> bool {
        self.about.steps.iter().any(|s| {
            let text = s.text.to_lowercase();
            words.iter().any(|w| text.contains(w))
        })
    }

    /// A yeast dough with yeast in it: a flatbread may have none.
    fn yeasted(&self) -> bool {
        self.about.style.is_yeast_dough() && self.names(YEASTS)
    }

    /// The notes of a poolish, a starter or the like: it is only mixed and kept.
    fn preferment(&mut self) -> bool {
        let about = self.about;
        let part = about.recipe.components.get(about.component);
        if !part.is_some_and(|c| is_preferment(&c.name.to_lowercase())) {
            return false;
        }
        if let Some(gel) = about.gel {
            self.say(None, "hydrate the psyllium", PRACTICE, gel.words(""));
        }
        for (i, step) in about.steps.iter().enumerate() {
            let n = step.number;
            let kept = [Activity::Rest, Activity::Rise, Activity::Chill]
                .iter()
                .filter_map(|a| Some((*a, longest(step, *a)?)))
                .max_by(|(_, a), (_, b)| a.high().as_minutes().total_cmp(&b.high().as_minutes()));
            if let Some((what, time)) = kept {
                let verb = match what {
                    Activity::Chill => "chills it",
                    Activity::Rise => "lets it rise",
                    _ => "lets it stand",
                };
                let cold = if about.holds_egg_or_milk && time.high().as_minutes() > COUNTS {
                    format!("; {EGG_OR_MILK}")
                } else {
                    String::new()
                };
                self.say(
                    Some(n),
                    "keep the ferment",
                    PRACTICE,
                    format!(
                        "Step {n} {verb} for {}: keep that. It is ready when it is full of bubbles and smells ripe; it grows less than one of wheat{cold}.",
                        minutes(time)
                    ),
                );
            }
            self.yeast_liquid(i, step);
        }
        true
    }

    fn before_mixing(&mut self) {
        let about = self.about;
        let by_feel = about.style.is_yeast_dough() || about.style.key() == "pie_pastry";
        let held_back = about.held_back.as_ref().filter(|_| by_feel);
        if let Some(gel) = about.gel {
            let less = match held_back {
                Some(_) => " (less the tenth you hold back)",
                None => "",
            };
            self.say(None, "hydrate the psyllium", PRACTICE, gel.words(less));
        }
        if let Some(liquid) = held_back {
            self.say(
                None,
                "hold back a tenth",
                PRACTICE,
                format!(
                    "Hold back a tenth of the {liquid}; add it by feel and write down what went in."
                ),
            );
        }
    }

    /// Rises, their end, and hours in the cold.
    fn rises(&mut self) {
        let about = self.about;
        if !self.yeasted() {
            return;
        }
        let first_bake = about
            .steps
            .iter()
            .find(|s| doing(s, Activity::Bake).is_some())
            .map_or(usize::MAX, |s| s.number);
        let mut night: Option<Night> = None;
        for step in about.steps.iter().filter(|s| s.number <= first_bake) {
            let cold = longest(step, Activity::Chill).filter(|t| t.high().as_minutes() >= NIGHT);
            let risen = longest(step, Activity::Rise).filter(|t| t.high().as_minutes() >= NIGHT);
            let Some(time) = cold.or(risen) else { continue };
            let this = Night {
                step: step.number,
                cold: cold.is_some() || rises_in_the_cold(step),
                is_rise: cold.is_none(),
            };
            let verb = if cold.is_some() { "chills" } else { "rises" };
            // The author's yeast was set for the author's night, cold or warm: it is not cut again.
            let keep = match (this.cold, about.holds_egg_or_milk) {
                (true, true) => format!("{EGG_OR_MILK}. The yeast in the list is meant for it."),
                (true, false) => {
                    "keep it at 3–5 °C for 8–18 hours. The yeast in the list is meant for it."
                        .to_owned()
                }
                (false, true) => format!("{EGG_OR_MILK}. In the cold it grows more slowly."),
                (false, false) => "keep that; the yeast in the list is meant for it.".to_owned(),
            };
            let rule = if this.cold || about.holds_egg_or_milk {
                "cold overnight"
            } else {
                "long rise"
            };
            self.say(
                Some(step.number),
                rule,
                PRACTICE,
                format!(
                    "Step {} {verb} for {}: {keep} Go by how far it has grown, not by the clock.",
                    step.number,
                    minutes(time)
                ),
            );
            night.get_or_insert(this);
        }
        let rises: Vec<usize> = about
            .steps
            .iter()
            .flat_map(|s| std::iter::repeat_n(s.number, rises_in(s)))
            .collect();
        if let [first, .., last] = rises[..] {
            let twice = first == last;
            let mut out = Some(first);
            let instead = if twice {
                "one rise is enough; shape first, then let it rise once, and bake.".to_owned()
            } else if let Some(night) = night.filter(|night| night.step <= last) {
                match night {
                    Night {
                        cold: false, step, ..
                    } => {
                        out = Some(if step == first { last } else { first });
                        format!(
                            "one rise is enough; shape before the long rise of step {step}, and bake after it."
                        )
                    }
                    Night {
                        is_rise: true,
                        step,
                        ..
                    } if step == first => {
                        out = None;
                        "keep this rise, after shaping, and do not knock it back.".to_owned()
                    }
                    _ => format!(
                        "keep this rise, after shaping, and leave out the warm one of step {first}; the hours in the cold stand in for it."
                    ),
                }
            } else {
                format!(
                    "one rise is enough; leave out that of step {first}, shape, let it rise once, and bake."
                )
            };
            let does = if twice {
                "lets it rise twice"
            } else {
                "lets it rise again"
            };
            let rises = |f: &&Fact| {
                matches!(
                    f.kind,
                    FactKind::Doing(Activity::Rise)
                        | FactKind::Duration {
                            doing: Some(Activity::Rise),
                            ..
                        }
                )
            };
            let step = about.steps.iter().find(|s| s.number == last);
            let found = step.and_then(|s| Some((s, s.facts.iter().rev().find(rises)?)));
            if let Some((step, fact)) = found {
                let aid = Aid {
                    found: "second_rise",
                    span: with_verb(&step.text, &fact.span),
                    instead,
                    look_for: format!(
                        "{} times the volume, a dent that half returns, pinholes",
                        self.proof()
                    ),
                };
                self.answer(last, does, "one rise", PRACTICE, aid);
                if let Some(note) = self.list.iter_mut().find(|n| n.rule == "one rise") {
                    note.leaves_out = out;
                }
            }
        }
        let asked = about.steps.iter().rev().find_map(|s| {
            let to = s.facts.iter().rev().find_map(|f| match f.kind {
                FactKind::RiseTo(x) => Some((x, f.span.clone())),
                _ => None,
            });
            to.map(|(x, span)| (s.number, x, span))
        });
        if let Some((n, x, span)) = asked
            && let Some(r) = about.style.range("proof_x")
            && x > r.value.likely().get()
        {
            let aid = Aid {
                found: "doubled",
                span,
                instead: format!("stop at {} times; past that it falls.", self.proof()),
                look_for: "a dent that fills half way, and pinholes".to_owned(),
            };
            let does = format!("waits for {x:.1} times the volume");
            self.answer(n, &does, "end of the rise", &r.cited(), aid);
        }
    }

    /// How far a rise goes: `1.3–1.8`; empty where the style has none.
    fn proof(&self) -> String {
        let r = self.about.style.range("proof_x");
        let shown = |v: f64| format!("{v:.1}");
        r.map_or(String::new(), |r| {
            let (low, high) = (shown(r.value.low().get()), shown(r.value.high().get()));
            if low == high {
                low
            } else {
                format!("{low}–{high}")
            }
        })
    }

    /// What the step's words say that only wheat needs.
    fn aids(&mut self, step: &Step) {
        let style = self.about.style;
        let said = |notes: &Self, rule: &str| notes.list.iter().any(|n| n.rule == rule);
        for find in aids::find(&step.text, style) {
            let mut row = find.row;
            // How often and how far it rises is said once, of all steps together.
            let rises = matches!(row.found, "second_rise" | "doubled");
            if rises && (said(self, row.rule) || !self.yeasted()) {
                continue;
            }
            let mut does = row.does.to_owned();
            if row.found == "knead" {
                let time = doing(step, Activity::Knead).flatten();
                let how_long = time.map_or(String::new(), |t| format!(" for {}", minutes(t)));
                does = does.replace("{for}", &how_long);
                if style.is_yeast_dough() && !self.yeasted() {
                    row = aids::kneaded_without_yeast().unwrap_or(row);
                }
            }
            let (mut instead, mut source) = (row.instead.to_owned(), row.cited());
            if instead.contains("{core}") {
                let Some((core, r)) = style.core() else {
                    continue;
                };
                instead = instead.replace("{core}", &self.core_words("", core));
                source = r.cited();
            }
            if instead.contains("{proof}") {
                let Some(r) = style.range("proof_x") else {
                    continue;
                };
                instead = instead.replace("{proof}", &self.proof());
                source = r.cited();
            }
            if row.found == "roll_out" {
                let before = self.about.steps.iter().filter(|s| s.number < step.number);
                let earlier: Vec<&str> = before.map(|s| s.text.as_str()).collect();
                if let Some(area) = shape::rolled(&step.text, &earlier, &instead, self.about.after)
                {
                    instead = format!("{instead} {area}");
                }
            }
            let aid = Aid {
                found: row.found,
                span: find.span,
                instead,
                look_for: row.look_for.replace("{proof}", &self.proof()),
            };
            self.answer(step.number, &does, row.rule, &source, aid);
        }
    }

    /// Dusting in words that no cue knows: only the list of ingredients may say with what.
    fn dusting(&mut self, step: &Step) {
        let n = step.number;
        let dusts = |f: &&Fact| f.kind == FactKind::Doing(Activity::Dust);
        let tin = |note: &MethodNote| note.step == Some(n) && note.rule == "line the tin";
        let Some(fact) = step.facts.iter().find(dusts) else {
            return;
        };
        if self.list.iter().any(tin) {
            return;
        }
        // The note says where the flour is spoken of: in the step, or only in the list.
        let does = if names_flour(step) {
            "dusts with flour"
        } else if self.bench_line().is_some() {
            "dusts, and the list of ingredients has flour for it"
        } else {
            "dusts and does not say with what"
        };
        let aid = Aid {
            found: "dust",
            span: fact.span.clone(),
            instead: "no wheat flour for dusting. Oil the bench, pin and hands, or roll between two sheets. Dry flour makes seams that do not close.".to_owned(),
            look_for: "dough that lets go of an oiled hand".to_owned(),
        };
        self.answer(n, does, "no bench flour", PRACTICE, aid);
    }

    /// Flour that an ingredient line keeps for the bench, where no step spoke of it.
    fn bench_lines(&mut self) {
        if let Some(what) = self.bench_line() {
            self.say(
                None,
                "no bench flour",
                PRACTICE,
                format!(
                    "The list of ingredients has flour {what}: no wheat flour for dusting. Oil, two sheets, or a little rice flour."
                ),
            );
        }
    }

    /// What an ingredient line keeps flour for, beside the dough: 'for dusting'.
    fn bench_line(&self) -> Option<String> {
        const BENCH: &[&str] = &[
            "for dusting",
            "to dust",
            "for flouring",
            "for rolling",
            "for kneading",
            "for the counter",
            "for the bench",
            "for the board",
            "for the work",
            "for the surface",
            "for the table",
            "for the tin",
            "for the pan",
            "for the top",
            "for your hands",
        ];
        const OTHERS: &[&str] = &[
            "rice flour",
            "corn flour",
            "cornflour",
            "potato flour",
            "gluten-free",
        ];
        self.lines().iter().find_map(|line| {
            let text = line.clean.to_lowercase();
            let flour = text.find("flour")?;
            let what = BENCH
                .iter()
                .find(|b| text.find(**b).is_some_and(|at| at > flour))?;
            let wheat = !OTHERS.iter().any(|o| text.contains(o));
            wheat.then(|| match *what {
                "to dust" => "to dust with".to_owned(),
                "for the work" => "for the work surface".to_owned(),
                w => w.to_owned(),
            })
        })
    }

    fn by_colour(&self) -> bool {
        self.about.style.is_done_by_colour()
    }

    /// Whether another part came between this one's steps, before step `n`: it is filled.
    fn holds_another(&self, n: usize) -> bool {
        let steps = self.about.steps;
        let first = steps.first().map_or(n, |s| s.number);
        let between = |s: &&Step| s.number > first && s.number < n;
        let all = self.about.recipe.steps.iter().filter(between).count();
        all > steps.iter().copied().filter(between).count()
    }

    fn bake(&mut self, step: &Step) {
        let n = step.number;
        let stages = oven::stages(&self.ovens, [step]);
        if stages.is_empty() {
            return;
        }
        let stated = joined(&stages, stage_stated);
        if self.about.style.is_thickened() {
            self.say(
                Some(n),
                "bake as before",
                PRACTICE,
                format!(
                    "Step {n} bakes for {stated}: no longer than before, a filling holds little flour.{}",
                    if self.about.holds_yolk { WOBBLES } else { "" }
                ),
            );
            return;
        }
        if !self.about.style.is_baked() {
            return;
        }
        let decides = if self.about.meat {
            "the middle of the meat or fish in it decides, not the colour"
        } else if self.by_colour() && self.holds_another(n) {
            "colour and crispness decide, and what is in it being set"
        } else if self.by_colour() {
            "colour and crispness decide"
        } else {
            "the core temperature decides"
        };
        self.say(
            Some(n),
            "bake longer",
            PRACTICE,
            format!(
                "Step {n} bakes for {stated}: allow {}, 10–25 % longer. The time is a guess; {decides}.",
                joined(&stages, stage_allowed)
            ),
        );
        let ovens = stages.iter().filter_map(|s| Some(s.oven?.allowed()));
        if let Some(note) = self.list.iter_mut().rfind(|x| x.rule == "bake longer") {
            note.ovens = ovens.collect();
        }
    }

    fn stated_core(&mut self, step: &Step) {
        let stated = step.facts.iter().find_map(|f| match &f.kind {
            FactKind::Temperature {
                value,
                of: Heat::Core,
            } => Some(value.likely()),
            _ => None,
        });
        if let Some(t) = stated
            && let Some((core, r)) = self.about.style.core()
        {
            let n = step.number;
            let lead = format!(
                "Step {n} is done at {:.0} °C / {:.0} °F inside: look for ",
                t.as_celsius(),
                t.as_fahrenheit()
            );
            let text = self.core_words(&lead, core);
            self.say(Some(n), "core temperature", &r.cited(), text);
        }
    }

    /// The heat of the middle; what it means up high is said once.
    fn core_words(&mut self, lead: &str, [low, likely, high]: [f64; 3]) -> String {
        let up = if self.boiling {
            ""
        } else {
            " Above 900 m, no more than 1.5 °C below your boiling point."
        };
        let beside = if !self.boiling && self.bakes_a_filling() {
            " Probe beside the filling: a soft one never reads like the crumb."
        } else {
            ""
        };
        self.boiling = true;
        format!("{lead}{likely:.0} °C ({low:.0}–{high:.0}).{beside}{up}")
    }

    /// Whether another component is put in or on before the last bake.
    fn bakes_a_filling(&self) -> bool {
        let about = self.about;
        let bakes = |s: &Step| doing(s, Activity::Bake).is_some();
        let last = about
            .steps
            .iter()
            .rev()
            .find(|s| bakes(s))
            .map(|s| s.number);
        let other = |(i, c): (usize, &Component)| i != about.component && is_filling(&c.name);
        about.recipe.components.iter().enumerate().any(other)
            && about.recipe.steps.iter().any(|s| {
                let text = s.text.to_lowercase();
                last.is_some_and(|n| s.number <= n)
                    && ["filling", "fill ", "custard", "jam", "curd", "compote"]
                        .iter()
                        .any(|w| text.contains(w))
            })
    }

    /// Liquid too hot for yeast, in the step that adds it or the one before.
    fn yeast_liquid(&mut self, i: usize, step: &Step) {
        if !self.yeasted() {
            return;
        }
        let hot = step
            .facts
            .iter()
            .rev()
            .find_map(|f| match &f.kind {
                FactKind::Temperature {
                    value,
                    of: Heat::Other,
                } => Some(value.high().as_celsius()),
                _ => None,
            })
            .filter(|c| (YEAST_LIQUID + 0.05..=100.0).contains(c));
        let says = |s: &Step, word: &str| s.text.to_lowercase().contains(word);
        let next = self.about.steps.get(i + 1);
        let yeast = says(step, "yeast")
            || next.is_some_and(|s| says(s, "yeast") && !says(s, "cool") && !says(s, "lukewarm"));
        if let Some(c) = hot
            && yeast
            && !says(step, "cool")
            && !says(step, "lukewarm")
        {
            let n = step.number;
            self.say(
                Some(n),
                "yeast likes it warm, not hot",
                PRACTICE,
                format!(
                    "Step {n} has the liquid for the yeast at {c:.0} °C: let it come down to {YEAST_LIQUID:.0} °C or below; yeast dies near 60 °C."
                ),
            );
        }
    }

    /// The rest: with its step where a stated one stays, else among the notes about the whole.
    fn rest(&mut self, kept: bool) {
        let about = self.about;
        let Some(rest) = rest::of(
            about.recipe,
            about.component,
            about.steps,
            about.style,
            about.binder,
            about.raised,
        ) else {
            return;
        };
        if rest.kept != kept {
            return;
        }
        let firm = self.yeasted()
            || matches!(
                self.style(),
                "pie_pastry" | "rolled_cookie" | "drop_cookie" | "pasta"
            );
        let said = self.steps_say(&["dough", "into a round"]) && !self.steps_say(&["batter"]);
        let what = if firm || said { "dough" } else { "batter" };
        if let Some(text) = rest.note(what) {
            let step = rest.stated.filter(|_| kept).map(|(n, ..)| n);
            self.say(step, "rest", &rest.source, text);
        }
    }

    /// How to know that it is risen, done, cool.
    fn end(&mut self) {
        let style = self.about.style;
        if self.yeasted()
            && let Some(r) = style.range("proof_x")
        {
            self.say(
                None,
                "end of the rise",
                &r.cited(),
                format!(
                    "One rise, to {:.1}–{:.1} times the volume; a dent half returns, pinholes show. Never to double unless the tin holds it.",
                    r.value.low().get(),
                    r.value.high().get()
                ),
            );
        }
        if self.by_colour() {
            let mut text =
                "Done when golden at the edge and dry to the touch; it crisps as it cools."
                    .to_owned();
            if self.about.meat {
                text.push_str(" Golden says nothing of the meat or fish in it: probe the middle.");
            }
            self.say(None, "colour and crispness", PRACTICE, text);
        } else if let Some((core, r)) = style.core()
            && !self
                .list
                .iter()
                .any(|n| matches!(n.rule, "core temperature" | "probe, do not tap"))
        {
            let text = self.core_words("Done when the middle reads ", core);
            self.say(None, "core temperature", &r.cited(), text);
        }
        if matches!(style.key(), "lean_bread" | "enriched_dough") {
            self.say(None, "cool before cutting", PRACTICE, "Out of the tin after 10 minutes; cut when the middle is below 35 °C: rolls 45–60 minutes, loaves 3–4 hours. Cut hot, it is gummy.".to_owned());
        }
        let hot = ["boil", "simmer", "thicken", "cook", "heat", "over a"];
        let heated = self.about.steps.is_empty() || self.steps_say(&hot);
        let baked = self.list.iter().any(|n| n.rule == "bake as before");
        if self.about.set_by_egg {
            if !baked {
                let text = "Egg sets it in the oven: bake it no longer than before, it holds little flour.";
                self.say(None, "bake as before", PRACTICE, format!("{text}{WOBBLES}"));
            }
        } else if style.is_thickened() && heated {
            self.say(None, "boil cereal starch", PRACTICE, "Bring it to the boil while stirring: rice and corn thicken only near 95 °C; root starches thicken from 70 °C and thin when boiled on.".to_owned());
        }
    }

    /// More dough than the pan was meant for.
    fn grown(&mut self) {
        let (before, after) = (self.about.before, self.about.after);
        if before <= 0.0 || after <= before * GROWN {
            return;
        }
        let more = (after / before - 1.0) * 100.0;
        let free = matches!(self.style(), "pizza_flatbread" | "choux");
        let panned = self.about.style.is_baked() && !self.by_colour() && !free;
        let then = if free {
            "the pieces grow heavier, or there is one more of them"
        } else if panned {
            "fill a pan no more than half to two thirds"
        } else {
            "expect more of it"
        };
        self.say(
            None,
            if panned { MORE_IN_PAN } else { "more dough" },
            "calculated from the weights; filling: common practice, no source",
            format!(
                "The conversion makes {more:.0} % more than the original, at any size: {then}."
            ),
        );
    }
}

/// A rise's words: with its verb, 'prove for 45 minutes', where only the time was read; the verb
/// alone where they stand far apart.
fn with_verb(text: &str, span: &Range<usize>) -> Range<usize> {
    const VERBS: &[&str] = &["rise", "rising", "prov", "proof", "ferment"];
    const FAR: usize = 12;
    let text = text.to_ascii_lowercase();
    let before = text.get(..span.start).unwrap_or_default();
    let Some(at) = VERBS.iter().filter_map(|v| before.rfind(v)).max() else {
        return span.clone();
    };
    let between = &before[at..];
    let verb = between
        .find(|c: char| !c.is_alphabetic())
        .unwrap_or(between.len());
    if between.contains(['.', ';', '!']) {
        span.clone()
    } else if between.len() > verb + FAR {
        at..at + verb
    } else {
        at..span.end
    }
}

/// Whether the sentence in which a step dusts names flour: 'a floured board'.
fn names_flour(step: &Step) -> bool {
    let dusts = |f: &&Fact| f.kind == FactKind::Doing(Activity::Dust);
    step.facts.iter().filter(dusts).any(|f| {
        let start = step.text[..f.span.start]
            .rfind(['.', ';', '!'])
            .unwrap_or(0);
        let rest = &step.text[f.span.start..];
        let end = rest.find(['.', ';', '!']).unwrap_or(rest.len());
        step.text[start..f.span.start + end]
            .to_lowercase()
            .contains("flour")
    })
}

/// Whether the longest rise of a step is in the fridge by its own clause.
fn rises_in_the_cold(step: &Step) -> bool {
    let rise = step.facts.iter().filter_map(|f| match &f.kind {
        FactKind::Duration {
            value,
            doing: Some(Activity::Rise),
        } => Some((value.high().as_minutes(), f.span.start)),
        _ => None,
    });
    let long = rise.max_by(|a, b| a.0.total_cmp(&b.0));
    long.is_some_and(|(_, at)| in_the_cold(&step.text, at))
}
