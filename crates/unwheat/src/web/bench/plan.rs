//! The plan of a batch: everything the bench shows, for so many times the recipe, as it was when
//! the batch was started. Kept as JSON with the batch; a later change of the recipe does not
//! touch a batch under way.

use crate::web::kitchen::oven_words;
use larder::{Allergen, FoodId, Function, Gluten, Larder};
use quantity::{Mass, Spread, Temperature, Time};
use recipe::household::{Drawer, household, is_fine};
use recipe::rework::blend::Blend;
use recipe::rework::{Change, Kept, ReworkedComponent, ReworkedLine, owners};
use recipe::sheet::{Sheet, Worked};
use recipe::{Activity, FactKind, Heat, Step};
use serde::{Deserialize, Serialize};
use store::Settings;

/// What is to weigh and do in a batch. The JSON of a batch's `plan`.
///
/// All grams are for this batch: the recipe's, times the factor. Every field but the names may
/// be left out.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Plan {
    /// Parts of the recipe in the order of the work: what others use comes first.
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
    /// The method in the baker's own words, a step each.
    #[serde(default)]
    pub method: Vec<String>,
    /// What the last bake's record said to change next time, as it stood at the start.
    #[serde(default)]
    pub last_time: Option<String>,
    /// Scales in which the source states its temperatures: `F`, `both`; nothing is °C.
    #[serde(default)]
    pub degrees: Option<String>,
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
    /// Timers of the rework.
    #[serde(default)]
    pub ours: Vec<Offer>,
    /// Oven and other figures of the source's method.
    #[serde(default)]
    pub heat: Vec<Figure>,
    /// Timers of the source's method, to start with one tap.
    #[serde(default)]
    pub timers: Vec<Offer>,
    /// The source's own steps, for the baker's eyes.
    #[serde(default)]
    pub steps: Vec<String>,
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
    /// The step of the source's method.
    #[serde(default)]
    pub step: Option<usize>,
}

/// What the kitchen's scales show, in grams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// The bench scale's step.
    pub step: f64,
    /// The fine scale's; 0 where there is none.
    pub fine: f64,
}

/// A weight a scale can show must be known to a tenth of itself.
const ROUGHEST: f64 = 5.0;

impl Scale {
    fn of(settings: &Settings) -> Self {
        Self {
            step: settings.scale_step,
            fine: settings.fine_scale_step,
        }
    }

    fn step_for(self, grams: f64, fine: bool) -> f64 {
        if self.fine > 0.0 && (grams < 10.0 || fine && grams < 100.0) {
            self.fine
        } else {
            self.step
        }
    }

    /// Grams as a scale shows them, and whether they are finer than it does: then they are given
    /// as they are. Never rounded to nothing.
    #[must_use]
    pub fn shows(self, grams: f64, fine: bool) -> (f64, bool) {
        let step = self.step_for(grams, fine);
        if grams <= 0.0 {
            return (0.0, false);
        }
        if grams < ROUGHEST * step {
            let digits = if grams >= 1.0 { 10.0 } else { 100.0 };
            return (((grams * digits).round() / digits).max(0.01), true);
        }
        (clean((grams / step).round() * step), false)
    }

    /// Shares of a weight on the scale that add up to it exactly.
    fn shared(self, whole: f64, shares: &[f64]) -> Vec<f64> {
        let sum: f64 = shares.iter().sum();
        let exact: Vec<f64> = shares.iter().map(|s| whole * s / sum).collect();
        let rough = exact.iter().all(|g| *g >= ROUGHEST * self.step);
        let step = match (rough, self.fine > 0.0) {
            (true, _) => self.step,
            (false, true) => self.fine,
            (false, false) => 0.1,
        };
        let mut units: Vec<f64> = exact.iter().map(|g| (g / step).floor()).collect();
        let mut left = (whole / step).round() - units.iter().sum::<f64>();
        let mut order: Vec<usize> = (0..exact.len()).collect();
        order.sort_by(|a, b| {
            let rest = |i: usize| exact[i] / step - units[i];
            rest(*b).total_cmp(&rest(*a))
        });
        for i in order {
            if left >= 0.5 {
                units[i] += 1.0;
                left -= 1.0;
            }
        }
        if units.iter().any(|u| *u <= 0.0) {
            return exact.into_iter().map(|g| g.max(0.01)).collect();
        }
        units.into_iter().map(|u| clean(u * step)).collect()
    }
}

/// Without the last bits of the sum.
fn clean(grams: f64) -> f64 {
    (grams * 1000.0).round() / 1000.0
}

/// Grams in the fewest digits: `312`, `2.4`, `0.25`.
#[must_use]
pub fn grams(g: f64) -> String {
    let text = format!("{:.2}", g);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// How many times the recipe: `½`, `2`, `1.5`.
#[must_use]
pub fn times(factor: f64) -> String {
    if (factor - 0.5).abs() < 1e-9 {
        "½".to_owned()
    } else {
        grams(factor)
    }
}

/// Minutes in words: `35 min`, `8 h`, `1 h 30 min`.
#[must_use]
pub fn minutes(m: f64) -> String {
    if m < 1.0 {
        return format!("{:.0} s", m * 60.0);
    }
    let m = if m > 10.0 {
        m.round()
    } else {
        (m * 2.0).round() / 2.0
    };
    if m < 60.0 {
        return format!("{} min", grams(m));
    }
    let (h, rest) = ((m / 60.0).floor(), (m % 60.0).round());
    if rest == 0.0 {
        format!("{h:.0} h")
    } else {
        format!("{h:.0} h {rest:.0} min")
    }
}

/// The plan of a worked sheet.
///
/// # Arguments
/// * `factor` — times the recipe.
/// * `settings` — of the kitchen: its scales, its cups and spoons, its oven.
#[must_use]
pub fn plan(w: &Worked, sheet: &Sheet, larder: &Larder, settings: &Settings, factor: f64) -> Plan {
    let owners = owners(&w.formula.recipe);
    let drawer = Drawer::of(sheet.locale(), &settings.scoops);
    let loss = w.rework.bake_loss();
    let components: Vec<Part> = w
        .formula
        .order
        .iter()
        .filter_map(|&c| {
            Some(Maker {
                w,
                larder,
                scale: Scale::of(settings),
                settings,
                drawer: &drawer,
                factor,
                place: c,
                component: w.rework.components.get(c)?,
            })
        })
        .map(|m| m.part(&owners))
        .collect();
    // What no component can be shown to hold, 'or one egg', is said for all.
    let cautions = cautions(w, |c| {
        !components
            .iter()
            .any(|p| p.cautions.iter().any(|x| x.text == c.text))
    });
    Plan {
        components,
        gluten: gluten(w, larder),
        cautions,
        labels: Vec::new(),
        bake_loss: loss.map(|l| (l.low().get() * 100.0, l.high().get() * 100.0)),
        method: own_method(sheet.method.as_deref().unwrap_or_default()),
        last_time: None,
        degrees: stated(&w.formula.recipe.steps).map(str::to_owned),
    }
}

/// The baker's own method, a step a line, without numbers of their own.
fn own_method(text: &str) -> Vec<String> {
    text.lines()
        .map(|l| {
            let l = l.trim();
            let rest = l.trim_start_matches(|c: char| c.is_ascii_digit());
            match rest.strip_prefix(['.', ')']) {
                Some(step) if rest.len() < l.len() && step.starts_with(' ') => step.trim(),
                _ => l,
            }
        })
        .filter(|l| !l.is_empty())
        .map(str::to_owned)
        .collect()
}

/// The scales of the source's temperatures: `F`, `both`, or nothing where it has none but °C.
fn stated(steps: &[Step]) -> Option<&'static str> {
    let (mut c, mut f) = (false, false);
    for (step, fact) in steps
        .iter()
        .flat_map(|s| s.facts.iter().map(move |x| (s, x)))
    {
        let FactKind::Temperature { value, .. } = &fact.kind else {
            continue;
        };
        let words = step.text.get(fact.span.clone()).unwrap_or_default();
        let figures = words
            .split(|x: char| !x.is_ascii_digit() && x != '.')
            .filter_map(|n| n.parse::<f64>().ok());
        for n in figures {
            for t in [value.low(), value.likely(), value.high()] {
                c |= (t.as_celsius() - n).abs() < 0.6;
                f |= (t.as_fahrenheit() - n).abs() < 0.6;
            }
        }
        // The other scale may stand in words beside the fact.
        let upper = words.to_uppercase();
        c |= upper.contains("°C") || upper.ends_with('C');
        f |= upper.contains("°F") || upper.ends_with('F');
    }
    match (c, f) {
        (_, false) => None,
        (false, true) => Some("F"),
        (true, true) => Some("both"),
    }
}

/// What in the rework contains gluten, each once; nothing where the screen found none.
#[must_use]
pub fn gluten(w: &Worked, larder: &Larder) -> Vec<String> {
    if w.rework_screening.verdict != Gluten::Contains {
        return Vec::new();
    }
    let mut out: Vec<String> = Vec::new();
    for f in &w.rework_screening.findings {
        let name = f.food.map_or(&f.words, |food| &larder.food(food).name);
        if f.verdict == Gluten::Contains && !out.contains(name) {
            out.push(name.clone());
        }
    }
    if out.is_empty() {
        out.push("see the Screen page".to_owned());
    }
    out
}

/// That there is gluten in it, in a sentence.
#[must_use]
pub fn still(what: &str, gluten: &[String]) -> String {
    format!("{what} still contains gluten: {}.", gluten.join(", "))
}

fn cautions(w: &Worked, counts: impl Fn(&recipe::screen::Caution) -> bool) -> Vec<Caution> {
    w.rework_screening
        .cautions
        .iter()
        .filter(|c| matches!(c.code, "raw_egg" | "raw_flour") && counts(c))
        .map(|c| Caution {
            short: c.code.replace('_', " "),
            text: c.text.to_owned(),
        })
        .collect()
}

fn labels(w: &Worked, place: usize) -> Vec<String> {
    let mut out: Vec<String> = w
        .rework_screening
        .open()
        .filter(|f| f.component == place)
        .map(|f| format!("{}: {}", f.words, f.reason))
        .collect();
    out.sort();
    out.dedup();
    out
}

/// Makes the part of one component.
struct Maker<'a> {
    w: &'a Worked,
    larder: &'a Larder,
    scale: Scale,
    factor: f64,
    settings: &'a Settings,
    drawer: &'a Drawer,
    place: usize,
    component: &'a ReworkedComponent,
}

impl Maker<'_> {
    fn part(&self, owners: &[usize]) -> Part {
        let c = self.component;
        let whole = |m: Spread<Mass>| {
            let g = m.likely().as_grams() * self.factor;
            (g > 0.0).then(|| self.scale.shows(g, false).0)
        };
        let recipe = &self.w.formula.recipe;
        let steps: Vec<&Step> = recipe
            .steps
            .iter()
            .zip(owners)
            .filter(|(_, o)| **o == self.place)
            .map(|(s, _)| s)
            .collect();
        Part {
            name: c.name.clone(),
            makes: whole(c.makes),
            used: c.used.and_then(whole),
            lines: c
                .lines
                .iter()
                .filter(|l| l.kept != Kept::Dropped)
                .map(|l| self.line(l))
                .collect(),
            cautions: cautions(self.w, |c| {
                foods(self.w, self.place, 0).iter().any(|f| {
                    let food = self.larder.food(*f);
                    match c.code {
                        "raw_flour" => food.is_flour_phase(),
                        _ => {
                            let egg = |a: &(Allergen, bool)| a.0 == Allergen::Egg;
                            food.does(Function::Egg) && food.allergens.iter().any(egg)
                        }
                    }
                })
            }),
            labels: labels(self.w, self.place),
            ours: ours(&c.changes),
            notes: c
                .method_notes
                .iter()
                // What one time the recipe makes says nothing of another size.
                .filter(|n| (self.factor - 1.0).abs() < 1e-9 || !of_the_size(&n.text))
                .map(|n| Note {
                    text: both_scales(&whole_minutes(&n.text)),
                    source: n.source.clone(),
                })
                .collect(),
            heat: self.heat(&steps),
            timers: without_reworked(self.offers(&steps), &c.changes),
            steps: steps
                .iter()
                .map(|s| format!("{}. {}", s.number, s.text))
                .collect(),
        }
    }

    fn line(&self, l: &ReworkedLine) -> Line {
        let item = format!("{}:{}", self.place, l.key);
        let exact = l
            .grams
            .map(|g| g.likely().as_grams() * self.factor)
            .filter(|g| *g > 0.0);
        let fine = l.food.is_some_and(|f| is_fine(self.larder, f));
        let (mut shown, finer) = exact.map_or((None, false), |g| {
            let (shown, finer) = self.scale.shows(g, fine);
            (Some(shown), finer)
        });
        let mut parts = Vec::new();
        if let (true, Some(blend), Some(whole)) = (l.blend, &self.component.blend, shown) {
            parts = self.blend(blend, whole, &item);
            shown = Some(clean(parts.iter().filter_map(|p| p.grams).sum()));
        }
        // Another amount than the original's is measured anew.
        let mut scaled = l.clone();
        scaled.grams = l.grams.map(|g| g.scaled(self.factor));
        if (self.factor - 1.0).abs() > 1e-9 && exact.is_some() {
            scaled.kept = Kept::Changed;
        }
        let name = match l.component.and_then(|x| self.w.rework.components.get(x)) {
            Some(other) => format!("the {}", other.name),
            None => l.name.clone(),
        };
        let purpose = l.origin.and_then(|(line, item)| {
            let read = &self.w.formula.recipe.components.get(self.place)?;
            read.lines.get(line)?.items.get(item)?.purpose.words()
        });
        let written = l.origin.filter(|_| exact.is_none()).and_then(|(line, _)| {
            let line = self
                .w
                .formula
                .recipe
                .components
                .get(self.place)?
                .lines
                .get(line)?;
            Some(line.text.trim().to_owned())
        });
        Line {
            item,
            name,
            grams: shown,
            exact: exact.map(clean),
            finer,
            household: exact
                .and_then(|_| {
                    self.w
                        .rework
                        .household(self.place, &scaled, self.larder, self.drawer)
                })
                .map(|h| h.shown()),
            words: written,
            note: l.note.clone(),
            changed: l.kept != Kept::Same,
            aside: !l.in_formula,
            purpose: purpose.filter(|_| !l.in_formula).map(str::to_owned),
            made_here: l.component.is_some(),
            parts,
        }
    }

    /// The flours of a blend, on the scale, adding up to the blend.
    fn blend(&self, blend: &Blend, whole: f64, item: &str) -> Vec<Line> {
        let shares: Vec<f64> = blend.parts.iter().map(|p| p.1).collect();
        let sum: f64 = shares.iter().sum();
        blend
            .parts
            .iter()
            .zip(self.scale.shared(whole, &shares))
            .map(|(&(food, share), g)| {
                let is = self.larder.food(food);
                Line {
                    item: format!("{item}/{}", is.key),
                    name: is.name.clone(),
                    grams: Some(g),
                    exact: Some(clean(whole * share / sum)),
                    finer: g < self.scale.step_for(g, false),
                    household: household(self.larder, food, Mass::grams(g), self.drawer)
                        .map(|h| h.shown()),
                    ..Line::default()
                }
            })
            .collect()
    }

    fn heat(&self, steps: &[&Step]) -> Vec<Figure> {
        let mut out: Vec<Figure> = Vec::new();
        let mut say = |what: &str, value: String| {
            let figure = Figure {
                what: what.to_owned(),
                value,
            };
            if !out.contains(&figure) {
                out.push(figure);
            }
        };
        let bakes = steps.iter().any(|s| does(s, Activity::Bake));
        let oven = |s: &&Step| {
            s.facts.iter().any(|f| {
                matches!(
                    f.kind,
                    FactKind::Temperature {
                        of: Heat::Oven | Heat::FanOven,
                        ..
                    }
                )
            })
        };
        let elsewhere: Vec<&Step> = self
            .w
            .formula
            .recipe
            .steps
            .iter()
            .filter(|_| bakes && !steps.iter().any(oven))
            .filter(oven)
            .take(1)
            .collect();
        for fact in elsewhere.iter().chain(steps).flat_map(|s| s.facts.iter()) {
            match &fact.kind {
                FactKind::Temperature { value, of } => match of {
                    Heat::Oven => {
                        let own = oven_words(self.settings, value.likely().as_celsius());
                        let own = own.map_or(String::new(), |w| format!(", {}", both_scales(&w)));
                        say("Oven", format!("{}{own}", degrees(*value, 5.0)));
                    }
                    Heat::FanOven => say("Fan oven", degrees(*value, 5.0)),
                    Heat::Core => say("In the middle", degrees(*value, 1.0)),
                    Heat::Other => {}
                },
                FactKind::Duration {
                    value,
                    doing: Some(Activity::Bake),
                } => say("Bake", span(*value)),
                _ => {}
            }
        }
        out
    }

    fn offers(&self, steps: &[&Step]) -> Vec<Offer> {
        let mut out: Vec<Offer> = Vec::new();
        for step in steps {
            for fact in &step.facts {
                let FactKind::Duration { value, doing } = &fact.kind else {
                    continue;
                };
                // A dough without gluten is not kneaded to the clock.
                if matches!(
                    doing,
                    Some(Activity::Knead | Activity::KnockBack | Activity::Windowpane)
                ) {
                    continue;
                }
                let (low, high) = (value.low().as_minutes(), value.high().as_minutes());
                if !(0.1..=2880.0).contains(&low) {
                    continue;
                }
                let offer = Offer {
                    label: doing.map_or_else(
                        || format!("Step {}", step.number),
                        |d| crate::web::recipe::component_name(d.word()),
                    ),
                    minutes: tidy(low),
                    most: (high > low * 1.001).then_some(high.round()),
                    step: Some(step.number),
                };
                // 'overnight, or at least 8 hours' is one chill.
                let twin = out.iter_mut().find(|o| {
                    o.label == offer.label && o.minutes == offer.minutes && o.step == offer.step
                });
                match twin {
                    Some(twin) => twin.most = twin.most.or(offer.most),
                    None => out.push(offer),
                }
            }
        }
        out
    }
}

/// Minutes as the bench counts them: whole above 10.
fn tidy(m: f64) -> f64 {
    if m > 10.0 {
        m.round()
    } else {
        (m * 60.0).round() / 60.0
    }
}

/// Foods of a component, those of the components it takes along.
fn foods(w: &Worked, place: usize, depth: usize) -> Vec<FoodId> {
    let Some(c) = w.rework.components.get(place).filter(|_| depth < 8) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for l in c.lines.iter().filter(|l| l.kept != Kept::Dropped) {
        out.extend(l.food);
        if let (true, Some(b)) = (l.blend, &c.blend) {
            out.extend(b.parts.iter().chain(&b.binders).map(|p| p.0));
        }
        if let Some(other) = l.component {
            out.extend(foods(w, other, depth + 1));
        }
    }
    out
}

/// Timers for what the rework changes: its rest, its bake.
fn ours(changes: &[Change]) -> Vec<Offer> {
    let mut out = Vec::new();
    for c in changes {
        let label = match c.what.as_str() {
            // What stays is among the source's own.
            "rest" if !c.to.ends_with("as it was") => "Rest",
            "oven" => "Bake",
            _ => continue,
        };
        let mut times = spans(&c.to);
        if let ("rest", [(low, high)]) = (c.what.as_str(), times.as_mut_slice()) {
            // The change names the usual rest; its range says how long it may be.
            if let Some((_, most)) = c.range.as_deref().and_then(|r| spans(r).pop()) {
                *high = most.max(*low);
            }
        }
        let several = times.len() > 1;
        for (i, (low, high)) in times.into_iter().enumerate() {
            let (low, high) = (tidy(low), tidy(high));
            out.push(Offer {
                label: if several {
                    format!("{label}, as reworked, part {}", i + 1)
                } else {
                    format!("{label}, as reworked")
                },
                minutes: low,
                most: (high > low * 1.001).then_some(high),
                step: None,
            });
        }
    }
    out
}

/// Timers of the source but those the rework has a time of its own for.
fn without_reworked(mut timers: Vec<Offer>, changes: &[Change]) -> Vec<Offer> {
    for c in changes {
        if ours(std::slice::from_ref(c)).is_empty() {
            continue;
        }
        let label = if c.what == "oven" { "Bake" } else { "Rest" };
        let from = spans(&c.from);
        timers.retain(|t| {
            let same = |s: &(f64, f64)| (tidy(s.0) - t.minutes).abs() < 0.51;
            t.label != label || !from.iter().any(same)
        });
    }
    timers
}

/// Whether a note speaks of how much one time the recipe makes.
fn of_the_size(note: &str) -> bool {
    note.starts_with("Makes ") && note.contains(" than the original")
}

/// Words with °F behind every °C that has none yet; differences (`10 °C hotter`) stay.
fn both_scales(text: &str) -> String {
    const APART: [&str; 10] = [
        "hotter", "cooler", "lower", "higher", "less", "more", "warmer", "colder", "below", "above",
    ];
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find("°C") {
        let (before, after) = rest.split_at(at + "°C".len());
        out.push_str(before);
        rest = after;
        let figure = before[..at].trim_end();
        let from = figure
            .char_indices()
            .rev()
            .take_while(|(_, c)| c.is_ascii_digit() || matches!(c, '.' | '–'))
            .last()
            .map_or(figure.len(), |(i, _)| i);
        let (lead, figure) = figure.split_at(from);
        let next = after.trim_start_matches([' ', '/', '(']);
        let told = next
            .trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '–' | '.' | ' '))
            .starts_with("°F");
        let word = next.split(|c: char| !c.is_alphabetic()).next();
        let apart = APART.contains(&word.unwrap_or_default())
            || ["−", "-", "+", " by ", " less ", "− ", " to −"]
                .iter()
                .any(|l| lead.ends_with(l));
        let fahrenheit = |figure: &str| -> Option<String> {
            let of = |n: &str| {
                let c: f64 = n.parse().ok()?;
                let step = if c > 130.0 { 5.0 } else { 1.0 };
                Some(format!("{:.0}", nearest(c * 1.8 + 32.0, step)))
            };
            let parts: Option<Vec<String>> = figure.split('–').map(of).collect();
            parts.map(|p| p.join("–"))
        };
        if let (false, false, Some(f)) = (told, apart, fahrenheit(figure)) {
            // A range in brackets goes with its own scale: '98 °C (95–98)'.
            let range = after
                .strip_prefix(" (")
                .and_then(|r| r.split_once(')'))
                .and_then(|(r, on)| Some((r, fahrenheit(r)?, on)));
            match range {
                Some((c, of_f, on)) => {
                    out.push_str(&format!(" ({c}) / {f} °F ({of_f})"));
                    rest = on;
                }
                None => out.push_str(&format!(" / {f} °F")),
            }
        }
    }
    out.push_str(rest);
    out
}

/// The times in the words of a change, minutes from and to: `170 °C to 180 °C, 39–50 minutes`.
fn spans(words: &str) -> Vec<(f64, f64)> {
    words
        .split(", ")
        .flat_map(|p| p.split(" and then "))
        .map(|p| p.trim().trim_start_matches("then "))
        .filter_map(|p| match p.split_once(" to ") {
            Some((from, to)) => Some((one_span(from)?.0, one_span(to)?.1)),
            None => one_span(p),
        })
        .filter(|(low, _)| (0.1..=2880.0).contains(low))
        .collect()
}

/// `45 seconds`, `39–50 minutes`, `1½ hours`, `2 hours 25`, in minutes.
fn one_span(words: &str) -> Option<(f64, f64)> {
    let mut words = words.split_whitespace();
    let (figure, unit) = (words.next()?, words.next()?);
    let unit = match unit.trim_end_matches('s') {
        "second" => 1.0 / 60.0,
        "minute" => 1.0,
        "hour" => 60.0,
        _ => return None,
    };
    let number = |t: &str| -> Option<f64> {
        match t.strip_suffix('½') {
            Some("") => Some(0.5),
            Some(whole) => Some(whole.parse::<f64>().ok()? + 0.5),
            None => t.parse().ok(),
        }
    };
    let (low, high) = figure.split_once('–').unwrap_or((figure, figure));
    let more = words.next().and_then(|w| w.parse().ok()).unwrap_or(0.0);
    Some((number(low)? * unit + more, number(high)? * unit + more))
}

/// Words with minutes above 10 in whole ones: nobody stops a clock at 16.5.
fn whole_minutes(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').collect();
    let whole = |n: &str| match n.parse::<f64>() {
        Ok(v) if v > 10.0 && v.fract() != 0.0 => format!("{:.0}", v.round()),
        _ => n.to_owned(),
    };
    let told: Vec<String> = words
        .iter()
        .enumerate()
        .map(|(i, w)| {
            if words.get(i + 1).is_some_and(|next| next.starts_with("min")) {
                w.split('–').map(whole).collect::<Vec<_>>().join("–")
            } else {
                (*w).to_owned()
            }
        })
        .collect();
    told.join(" ")
}

fn does(step: &Step, what: Activity) -> bool {
    step.facts.iter().any(|f| match &f.kind {
        FactKind::Duration { doing, .. } => *doing == Some(what),
        FactKind::Doing(doing) => *doing == what,
        _ => false,
    })
}

/// Both scales, to a step: 5 as ovens are set, 1 as probes show.
fn degrees(t: Spread<Temperature>, step: f64) -> String {
    let both = |of: fn(Temperature) -> f64| {
        let (low, high) = (nearest(of(t.low()), step), nearest(of(t.high()), step));
        if low == high {
            format!("{low:.0}")
        } else {
            format!("{low:.0}–{high:.0}")
        }
    };
    format!(
        "{} °C ({} °F)",
        both(Temperature::as_celsius),
        both(Temperature::as_fahrenheit)
    )
}

/// The nearest multiple of a step.
pub fn nearest(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

fn span(t: Spread<Time>) -> String {
    let (low, high) = (t.low().as_minutes(), t.high().as_minutes());
    if high > low * 1.001 {
        format!("{} to {}", minutes(low), minutes(high))
    } else {
        minutes(low)
    }
}

impl Plan {
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

    /// What a tick of an item ticks: a blend takes its flours along, the last flour its blend.
    pub fn ticks(
        &self,
        item: &str,
        ticked: bool,
        is_ticked: impl Fn(&str) -> bool,
    ) -> Vec<(String, bool)> {
        let mut out = Vec::new();
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
    use quantity::Locale;
    use recipe::sheet::work;

    const SCALE: Scale = Scale {
        step: 1.0,
        fine: 0.1,
    };

    fn with(scale: Scale) -> Settings {
        Settings {
            scale_step: scale.step,
            fine_scale_step: scale.fine,
            ..Settings::default()
        }
    }

    fn worked(text: &str) -> (Worked, Sheet, Larder) {
        let larder = Larder::built_in().expect("the built-in tables");
        let sheet = Sheet::new(text, Locale::Us);
        let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
        (w, sheet, larder)
    }

    fn buns() -> (Worked, Sheet, Larder) {
        worked(include_str!(
            "../../../../../examples/apricot-almond-buns.txt"
        ))
    }

    #[test]
    fn lines_add_up_to_what_the_component_makes() {
        let (w, sheet, larder) = buns();
        for factor in [0.5, 1.0, 2.0, 3.0, 7.25] {
            let plan = plan(&w, &sheet, &larder, &with(SCALE), factor);
            assert_eq!(plan.components.len(), w.rework.components.len());
            for (part, &c) in plan.components.iter().zip(&w.formula.order) {
                let makes = w.rework.components[c].makes.likely().as_grams() * factor;
                let (exact, shown): (f64, f64) = part
                    .lines
                    .iter()
                    .filter(|l| !l.aside)
                    .map(|l| (l.exact.unwrap_or(0.0), l.grams.unwrap_or(0.0)))
                    .fold((0.0, 0.0), |s, l| (s.0 + l.0, s.1 + l.1));
                assert!(
                    (exact - makes).abs() < 0.01 * part.lines.len() as f64,
                    "{}",
                    part.name
                );
                let slack = 0.5 * SCALE.step * part.lines.len() as f64;
                assert!(
                    (shown - makes).abs() <= slack,
                    "{}: {shown} of {makes}",
                    part.name
                );
            }
        }
    }

    #[test]
    fn flours_add_up_to_their_blend_and_nothing_is_nothing() {
        let (w, sheet, larder) = buns();
        for scale in [
            SCALE,
            Scale {
                step: 5.0,
                fine: 0.0,
            },
            Scale {
                step: 1.0,
                fine: 0.0,
            },
        ] {
            for factor in [0.05, 0.5, 1.0, 3.0] {
                let plan = plan(&w, &sheet, &larder, &with(scale), factor);
                let mut blends = 0;
                for line in plan.components.iter().flat_map(|c| &c.lines) {
                    if !line.parts.is_empty() {
                        blends += 1;
                        let sum: f64 = line.parts.iter().filter_map(|p| p.grams).sum();
                        assert!((sum - line.grams.expect("grams")).abs() < 1e-6);
                    }
                }
                assert!(blends > 0);
                assert!(plan.items().all(|l| l.grams.is_none_or(|g| g > 0.0)));
            }
        }
    }

    #[test]
    fn the_kitchens_own_scoops_and_oven_are_used() {
        let (w, sheet, larder) = buns();
        let mut settings = Settings {
            scoops: vec!["1/2 cup".to_owned()],
            oven: "fan".to_owned(),
            ..Settings::default()
        };
        let told = |settings: &Settings| {
            let plan = plan(&w, &sheet, &larder, settings, 2.0);
            let spoons = plan.items().filter_map(|l| l.household.clone());
            let spoons = spoons
                .filter(|h| h.contains("tsp") || h.contains("tbsp"))
                .count();
            let heat = plan.components.iter().flat_map(|c| c.heat.iter());
            (
                spoons,
                heat.map(|f| f.value.clone()).collect::<Vec<_>>().join("; "),
            )
        };
        let (spoons, heat) = told(&settings);
        assert!(heat.contains("in your fan oven 155 °C"), "{heat}");
        settings = Settings::default();
        let (usual, still) = told(&settings);
        assert!(spoons < usual, "{spoons} of {usual}");
        assert!(!still.contains("fan"));
    }

    #[test]
    fn what_is_used_comes_first() {
        let (w, sheet, larder) = buns();
        let plan = plan(&w, &sheet, &larder, &with(SCALE), 1.0);
        let at = |name: &str| plan.components.iter().position(|c| c.name.contains(name));
        assert!(at("crumb").expect("crumb") < at("filling").expect("filling"));
        let mut keys: Vec<&str> = plan.items().map(|l| l.item.as_str()).collect();
        let all = keys.len();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), all, "every tick has a key of its own");
    }

    #[test]
    fn scales_round_by_their_step() {
        for (scale, grams, fine, want) in [
            (SCALE, 312.4, false, (312.0, false)),
            (SCALE, 7.04, true, (7.0, false)),
            (SCALE, 43.26, true, (43.3, false)),
            (SCALE, 0.03, true, (0.03, true)),
            (
                Scale {
                    step: 1.0,
                    fine: 0.0,
                },
                2.04,
                true,
                (2.0, true),
            ),
            (
                Scale {
                    step: 5.0,
                    fine: 0.0,
                },
                312.4,
                false,
                (310.0, false),
            ),
            (SCALE, 0.001, true, (0.01, true)),
        ] {
            assert_eq!(scale.shows(grams, fine), want, "{grams}");
        }
    }

    #[test]
    fn a_blend_takes_its_flours_along() {
        let part = |item: &str| Line {
            item: item.to_owned(),
            ..Line::default()
        };
        let plan = Plan {
            components: vec![Part {
                lines: vec![Line {
                    item: "0:blend".to_owned(),
                    parts: vec![part("0:blend/a"), part("0:blend/b")],
                    ..Line::default()
                }],
                ..Part::default()
            }],
            ..Plan::default()
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

    #[test]
    fn minutes_in_words() {
        for (m, want) in [
            (35.0, "35 min"),
            (90.0, "1 h 30 min"),
            (480.0, "8 h"),
            (0.5, "30 s"),
            (2.5, "2.5 min"),
            (16.5, "17 min"),
        ] {
            assert_eq!(minutes(m), want);
        }
        assert_eq!(
            whole_minutes("Step 4 bakes for 15: 16.5–19 minutes; dip 2.5 minutes, 16.5 g."),
            "Step 4 bakes for 15: 17–19 minutes; dip 2.5 minutes, 16.5 g."
        );
    }

    #[test]
    fn the_times_of_a_change_are_timers() {
        let change = |what: &str, to: &str, range: Option<&str>| Change {
            what: what.to_owned(),
            from: "none stated".to_owned(),
            to: to.to_owned(),
            range: range.map(str::to_owned),
            rule: String::new(),
            source: String::new(),
        };
        let told = |what: &str, to: &str, range: Option<&str>| {
            ours(&[change(what, to, range)])
                .iter()
                .map(|o| {
                    let most = o
                        .most
                        .map_or(String::new(), |m| format!(" to {}", minutes(m)));
                    format!("{}: {}{most}", o.label, minutes(o.minutes))
                })
                .collect::<Vec<_>>()
                .join("; ")
        };
        for (what, to, range, want) in [
            (
                "rest",
                "30 minutes, after mixing",
                Some("20–40 minutes"),
                "Rest, as reworked: 30 min to 40 min",
            ),
            (
                "rest",
                "10 minutes at most, after mixing",
                Some("0–10 minutes"),
                "Rest, as reworked: 10 min",
            ),
            (
                "rest",
                "1 hour, as it was",
                Some("30 minutes to 2 hours"),
                "",
            ),
            (
                "rest",
                "1½ hours, chilled",
                Some("1–2 hours"),
                "Rest, as reworked: 1 h 30 min to 2 h",
            ),
            (
                "oven",
                "170 °C to 180 °C, 39–50 minutes",
                None,
                "Bake, as reworked: 39 min to 50 min",
            ),
            (
                "oven",
                "16.5–19 minutes",
                None,
                "Bake, as reworked: 17 min to 19 min",
            ),
            (
                "oven",
                "210 °C to 220 °C, 11 minutes, then 170 °C to 180 °C, 1 hour 50 to 2 hours 5",
                None,
                "Bake, as reworked, part 1: 11 min; Bake, as reworked, part 2: 1 h 50 min to 2 h 5 min",
            ),
            ("core temperature", "96 °C", None, ""),
        ] {
            assert_eq!(told(what, to, range), want, "{to}");
        }
    }

    #[test]
    fn temperatures_of_notes_have_both_scales() {
        for (text, want) in [
            (
                "look for 98 °C (95–98).",
                "look for 98 °C (95–98) / 208 °F (203–208).",
            ),
            ("keep it at 3–5 °C for", "keep it at 3–5 °C / 37–41 °F for"),
            ("at 175 °C / 350 °F / gas 4", "at 175 °C / 350 °F / gas 4"),
            ("at 175 °C (350 °F)", "at 175 °C (350 °F)"),
            ("10 °C hotter", "10 °C hotter"),
            ("lower it by 15 °C", "lower it by 15 °C"),
            ("0 to −10 °C", "0 to −10 °C"),
            (
                "no more than 1.5 °C below your boiling point",
                "no more than 1.5 °C below your boiling point",
            ),
            ("5 °C or below", "5 °C / 41 °F or below"),
            ("no degrees", "no degrees"),
        ] {
            assert_eq!(both_scales(text), want);
        }
    }

    #[test]
    fn the_scale_of_the_source_is_known() {
        for (step, want) in [
            ("Bake at 350°F for 30 minutes.", Some("F")),
            ("Bake at 350 degrees F for 30 minutes.", Some("F")),
            ("Bake at 180 °C for 30 minutes.", None),
            ("Bake at 350°F (175°C) for 30 minutes.", Some("both")),
            ("Bake for 30 minutes.", None),
        ] {
            let (w, sheet, larder) = worked(&format!(
                "Tea cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\nMethod\n1. Mix.\n2. {step}\n"
            ));
            let plan = plan(&w, &sheet, &larder, &with(SCALE), 1.0);
            assert_eq!(plan.degrees.as_deref(), want, "{step}");
        }
    }

    #[test]
    fn a_reworked_bake_takes_the_place_of_the_sources() {
        let (w, mut sheet, larder) = worked(
            "Tea cake\n\n200 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n1 tsp baking powder\n\nMethod\n1. Mix.\n2. Bake at 180 °C for 35 minutes.\n",
        );
        sheet.method = Some("1. Whisk it all.\n\n2) Bake 180 C.\n100 g of it aside".to_owned());
        let plan = plan(&w, &sheet, &larder, &with(SCALE), 1.0);
        let part = &plan.components[0];
        assert!(part.ours.iter().any(|o| o.label.starts_with("Bake")));
        assert!(
            part.timers.iter().all(|o| o.label != "Bake"),
            "{:?}",
            part.timers
        );
        assert_eq!(
            plan.method,
            ["Whisk it all.", "Bake 180 C.", "100 g of it aside"]
        );
    }

    #[test]
    fn how_much_it_makes_is_said_of_one_time_alone() {
        let larger = |factor: f64| {
            let mut notes = 0;
            for text in [
                "apricot-almond-buns",
                "lemon-yoghurt-cake",
                "sunday-pancakes",
                "leek-and-cheddar-tart",
            ] {
                let path = format!("{}/../../examples/{text}.txt", env!("CARGO_MANIFEST_DIR"));
                let (w, sheet, larder) =
                    worked(&std::fs::read_to_string(path).expect("an example"));
                let plan = plan(&w, &sheet, &larder, &with(SCALE), factor);
                notes += plan
                    .components
                    .iter()
                    .flat_map(|c| &c.notes)
                    .filter(|n| n.text.contains("more than the original"))
                    .count();
            }
            notes
        };
        assert!(larger(1.0) > 0);
        assert_eq!(larger(0.5), 0);
    }

    #[test]
    fn every_rest_and_bake_of_a_rework_is_a_timer() {
        for text in [
            "apricot-almond-buns",
            "lemon-yoghurt-cake",
            "leek-and-cheddar-tart",
            "ginger-crumb-cheesecake",
        ] {
            let path = format!("{}/../../examples/{text}.txt", env!("CARGO_MANIFEST_DIR"));
            let (w, ..) = worked(&std::fs::read_to_string(path).expect("an example"));
            for c in &w.rework.components {
                for change in c
                    .changes
                    .iter()
                    .filter(|c| matches!(c.what.as_str(), "rest" | "oven"))
                {
                    let kept = change.to.ends_with("as it was");
                    assert_eq!(
                        ours(std::slice::from_ref(change)).is_empty(),
                        kept,
                        "{}",
                        change.to
                    );
                }
            }
        }
    }

    #[test]
    fn what_is_to_mind_stands_with_what_holds_it() {
        let (w, sheet, larder) = worked(
            "Custard tart\n\nFor the pastry:\n200 g plain flour\n100 g butter\n30 g water\n\n\
             For the filling:\n3 eggs\n300 g cream\n50 g sugar\n20 g flaked almonds, to serve\n\n\
             Method\n1. Make the pastry.\n2. Bake for 40 minutes.\n",
        );
        let plan = plan(&w, &sheet, &larder, &with(SCALE), 1.0);
        let minds = |name: &str| {
            let part = plan.components.iter().find(|c| c.name.contains(name));
            let part = part.unwrap_or_else(|| panic!("{:?}", plan.components));
            part.cautions
                .iter()
                .map(|c| c.short.clone())
                .collect::<Vec<_>>()
        };
        assert_eq!(minds("pastry"), ["raw flour"]);
        assert_eq!(minds("filling"), ["raw egg"]);
        assert!(plan.cautions.is_empty());
        let almonds = plan
            .items()
            .find(|l| l.name.contains("almond"))
            .expect("almonds");
        assert_eq!(almonds.purpose.as_deref(), Some("to serve"));
        assert!(plan.gluten.is_empty());
    }

    #[test]
    fn gluten_that_is_left_is_named() {
        let (w, sheet, larder) = worked(
            "Flapjack\n\n200 g barley flakes\n100 g butter\n80 g honey\n\n1. Bake for 20 minutes.\n",
        );
        let plan = plan(&w, &sheet, &larder, &with(SCALE), 1.0);
        assert_eq!(
            still("This version", &plan.gluten),
            "This version still contains gluten: barley flakes."
        );
    }
}
