//! The batch sheet: everything the bench shows, for so many times the recipe, as it was when
//! the batch was started. Kept as JSON with the batch; a later change of the recipe does not
//! touch a batch under way.

#[cfg(test)]
mod example;
mod make;
mod method;
mod mind;
mod timers;
mod words;

use recipe::size::Ask;
use serde::{Deserialize, Serialize};

pub use make::batch_sheet;
pub use mind::{gluten, still};
pub use words::{grams, minutes, nearest, times};

/// What is to weigh and do in a batch. The JSON of a batch's `plan`.
///
/// All grams are for this batch: the recipe's, times each component's factor. Every field but the names may
/// be left out.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct BatchSheet {
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
    /// What was asked for, in words; empty of batches begun before that was kept.
    #[serde(default)]
    pub asked: String,
    /// The size it was made in; so many times the recipe where nothing is kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<Ask>,
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
    /// The oven of the rework.
    #[serde(default)]
    pub our_heat: Vec<Figure>,
    /// How near the warm hours of what holds egg or milk come to their limit.
    #[serde(default)]
    pub warm: Option<String>,
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

impl BatchSheet {
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
