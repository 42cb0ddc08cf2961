//! The sheet: a recipe's text and everything the baker decided about it. Recipe, formula,
//! screening and rework all follow from the sheet and the larder, so only sheets are saved.
//!
//! A sheet is changed through [`Change`]s alone. Each names one field, so that a change can be
//! undone, said in words, and compared with what another window did to the same field.

mod answer;
mod change;
mod differs;
mod part;
mod shapes;
mod work;

pub use answer::{Answer, answers, answers_gum, answers_rework, answers_whole, item_of, place_of};
pub use change::{Change, ChangeError, step_words};
pub use differs::Difference;
pub use part::Part;
pub use work::{SheetError, Worked, key_of, work};

use crate::LeftOut;
use crate::plan::OwnStep;
use crate::rework::Hold;
use crate::shape::ShapeAsk;
use crate::size::Ask;
use quantity::Locale;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A recipe's text, as it is worked on, and the decisions on it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sheet {
    /// The text that is read. The first paste is kept elsewhere, for ever.
    pub text: String,
    /// Whose cups and spoons the text means: `us`, `metric`, `uk`, `au`.
    pub locale: String,
    /// A title in place of the one read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// Whom to credit, where the text does not say or says it wrongly.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub credit: Option<String>,
    /// What it makes, in the baker's own words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub makes: Option<String>,
    /// How it keeps, in the baker's own words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub keeping: Option<String>,
    /// The method in the baker's own words, one step a line. The text's own steps are never
    /// published.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<String>,
    /// The size that the words of the method suit, where the baker says so: these words, and no others.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method_suits: Option<Ask>,
    /// Decisions on single lines.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<LineDecision>,
    /// Codes of doubts about the whole recipe that are taken as read.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub accepted: Vec<String>,
    /// Component name → style key, where the baker says.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub styles: BTreeMap<String, String>,
    /// Component name → blend key, where the baker says; an own blend's key begins with `own_`.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub blends: BTreeMap<String, String>,
    /// Figures of the rework held where the baker put them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pins: Vec<Pin>,
    /// Words of what is left out besides gluten, see [`crate::LeftOut::word`].
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub left_out: Vec<String>,
    /// Component name → its shape, where the baker chose one.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub shapes: BTreeMap<String, ShapeAsk>,
    /// The baker's own figures of steps, for the plan.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<OwnStep>,
    /// Components of other recipes used here, each at a version.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartUse>,
    /// How much of it is made; once the recipe where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<Ask>,
    /// Figures of heat, as typed: [`crate::heat::HeatField::key`] → words.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub heat: crate::heat::HeatNotes,
}

/// A line, by the component it stands in and its words: it stays the same line when lines are
/// put in before it.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct LineKey {
    /// The component's name; empty where the recipe has one part.
    pub component: String,
    /// The line as pasted.
    pub text: String,
    /// Which of equal lines in the component, from 0.
    #[serde(default)]
    pub nth: usize,
}

/// What the baker decided about one line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LineDecision {
    /// The line.
    pub line: LineKey,
    /// Read it as if it said this.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub read_as: Option<String>,
    /// The food of its first ingredient, by larder key.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub food: Option<String>,
    /// The food of its further ingredients, by larder key, by their place on the line, from 1.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub foods: BTreeMap<usize, String>,
    /// Grams of its first ingredient, weighed by the baker.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grams: Option<f64>,
    /// Grams of its further ingredients, by their place on the line, from 1.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub also: BTreeMap<usize, f64>,
    /// Codes of doubts taken as read.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub accepted: Vec<String>,
}

impl LineDecision {
    /// A decision that decides nothing yet.
    #[must_use]
    pub fn new(line: LineKey) -> Self {
        Self {
            line,
            read_as: None,
            food: None,
            foods: BTreeMap::new(),
            grams: None,
            also: BTreeMap::new(),
            accepted: Vec::new(),
        }
    }

    /// Whether nothing is decided.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.read_as.is_none()
            && self.food.is_none()
            && self.foods.is_empty()
            && self.grams.is_none()
            && self.also.is_empty()
            && self.accepted.is_empty()
    }

    /// The larder key of the ingredient at a place on the line.
    #[must_use]
    pub fn food_at(&self, place: usize) -> Option<&String> {
        match place {
            0 => self.food.as_ref(),
            n => self.foods.get(&n),
        }
    }

    /// Decides about the food of the ingredient at a place on the line, or leaves it as read.
    pub(crate) fn set_food(&mut self, place: usize, food: Option<String>) {
        match (place, food) {
            (0, food) => self.food = food,
            (n, Some(food)) => {
                self.foods.insert(n, food);
            }
            (n, None) => {
                self.foods.remove(&n);
            }
        }
    }

    /// Grams weighed of the ingredient at a place on the line.
    #[must_use]
    pub fn grams_at(&self, place: usize) -> Option<f64> {
        match place {
            0 => self.grams,
            n => self.also.get(&n).copied(),
        }
    }
}

/// A figure of the rework, held.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pin {
    /// The component's name.
    pub component: String,
    /// The reworked line's key, see [`crate::rework::ReworkedLine::key`], or `hydration` or
    /// `binder`.
    pub line: String,
    /// What it is held at: `grams`, `percent`, `count` or `none`.
    #[serde(flatten)]
    pub hold: Hold,
}

/// A use of another saved recipe as a component of this one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PartUse {
    /// The other recipe's id in the kitchen.
    pub recipe: String,
    /// Its version. Never moved by the program.
    pub version: u32,
    /// Its title when it was taken in.
    pub title: String,
}

impl Sheet {
    /// A sheet without decisions.
    #[must_use]
    pub fn new(text: impl Into<String>, locale: Locale) -> Self {
        Self {
            text: text.into(),
            locale: locale.key().to_owned(),
            title: None,
            credit: None,
            makes: None,
            keeping: None,
            method: None,
            method_suits: None,
            lines: Vec::new(),
            accepted: Vec::new(),
            styles: BTreeMap::new(),
            blends: BTreeMap::new(),
            pins: Vec::new(),
            left_out: Vec::new(),
            shapes: BTreeMap::new(),
            steps: Vec::new(),
            parts: Vec::new(),
            size: None,
            heat: BTreeMap::new(),
        }
    }
    /// Whose cups and spoons; US where the key is not known.
    #[must_use]
    pub fn locale(&self) -> Locale {
        self.locale.parse().unwrap_or(Locale::Us)
    }
    /// The decision on a line. It follows the line under another heading while the text has these
    /// words once; a recipe with parts of others may have them there too, so that it does not there.
    #[must_use]
    pub fn decision(&self, line: &LineKey) -> Option<&LineDecision> {
        self.decided(line).map(|at| &self.lines[at])
    }
    /// The place of the decision on a line.
    fn decided(&self, line: &LineKey) -> Option<usize> {
        let here = self.lines.iter().position(|d| d.line == *line);
        here.or_else(|| {
            let words = line.text.trim();
            let mut all =
                (0..self.lines.len()).filter(|l| self.lines[*l].line.text.trim() == words);
            let at = all.next()?;
            let once = || self.text.lines().filter(|l| l.trim() == words).count() == 1;
            (all.next().is_none() && self.parts.is_empty() && once()).then_some(at)
        })
    }
    /// Whether the baker says that the words of the method suit the size that is made.
    #[must_use]
    pub fn method_suits_size(&self) -> bool {
        self.method_suits.is_some() && self.method_suits == self.size
    }
    /// What is left out besides gluten. Words that are not known, of a later program, are passed
    /// over.
    #[must_use]
    pub fn left_out(&self) -> Vec<LeftOut> {
        let words = self.left_out.iter();
        words.filter_map(|w| LeftOut::from_word(w)).collect()
    }
    /// The pin on a reworked line.
    #[must_use]
    pub fn pin(&self, component: &str, line: &str) -> Option<&Hold> {
        self.pins
            .iter()
            .find(|p| p.component == component && p.line == line)
            .map(|p| &p.hold)
    }
}
