//! Times and heats as figures, for what plans a batch: the rest of a rework, every bake with its
//! oven.

pub(crate) use super::method::{longer, sets_a_custard};
use super::method::{of_bake, settings};
use crate::recipe::{Activity, FactKind, Recipe};
use crate::sentences::sentence;
use quantity::{OvenSetting, Spread, Temperature, Time};

/// The rest a component is to have.
#[derive(Debug, Clone, PartialEq)]
pub struct RestTime {
    /// The step of the original that rests or chills it, where one does.
    pub step: Option<usize>,
    /// Minutes: least, usual, most.
    pub minutes: Spread<Time>,
    /// When: `after mixing`, `chilled` …
    pub when: &'static str,
    /// Why.
    pub why: &'static str,
    /// Where the figures come from.
    pub source: String,
    /// The original's own rest stays.
    pub kept: bool,
}

impl RestTime {
    /// Whether it is a rest in the fridge.
    pub(crate) fn is_cold(&self) -> bool {
        self.when.contains("chilled") || self.when.contains("4 °C")
    }
}

/// A bake that the method states.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BakeTime {
    /// The step's number.
    pub step: usize,
    /// Where its time stands in the step's text, in bytes.
    pub at: usize,
    /// As stated; `None` where it is baked until it looks done.
    pub stated: Option<Spread<Time>>,
    /// As a rework has it: a tenth to a quarter longer; `None` where a custard sets in it.
    pub reworked: Option<Spread<Time>>,
    /// The still oven it stands in, °C on the dial; `None` where the method names none.
    pub oven: Option<Temperature>,
}

/// Every bake of a method in its order, with the oven said with it or last set before it.
#[must_use]
pub fn bakes(recipe: &Recipe) -> Vec<BakeTime> {
    let settings = settings(recipe);
    let mut out: Vec<BakeTime> = Vec::new();
    for step in &recipe.steps {
        for fact in &step.facts {
            let stated = match fact.kind {
                FactKind::Duration {
                    value,
                    doing: Some(Activity::Bake),
                } => Some(value),
                FactKind::Doing(Activity::Bake) => None,
                _ => continue,
            };
            let at = fact.span.start;
            if let (None, Some(above)) = (stated, said_above(&out, &step.text, at)) {
                let step = step.number;
                out.push(BakeTime { step, at, ..above });
                continue;
            }
            let custard = sets_a_custard(recipe, step, at);
            let oven = of_bake(&settings, step, fact);
            out.push(BakeTime {
                step: step.number,
                at,
                stated,
                reworked: stated.filter(|_| !custard).map(longer),
                oven: oven.map(|o| OvenSetting(o.temperature).dialled()),
            });
        }
    }
    out
}

/// The bake that 'bake as above' speaks of: the one before with a time, where its step has no second stage.
fn said_above(before: &[BakeTime], text: &str, at: usize) -> Option<BakeTime> {
    const LIKE: [&str; 6] = [
        "as above",
        "as before",
        "as described",
        "as directed",
        "as the others",
        "in the same way",
    ];
    let said = sentence(text, at);
    let from = at - (said.as_ptr() as usize - text.as_ptr() as usize);
    let behind = said.get(from..)?.to_lowercase();
    let above = before.iter().rfind(|b| b.stated.is_some())?;
    let stages = before.iter().filter(|b| b.step == above.step);
    (LIKE.iter().any(|w| behind.contains(w)) && stages.count() == 1).then_some(*above)
}
