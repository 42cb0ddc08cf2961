//! The kitchen's own facts about foods, over the built-in ones.

mod apply;
mod check;

pub use apply::Kin;
pub use check::{OwnError, is_day};

use crate::allergen::Regime;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The kitchen's own facts about a food: what its label, scale and supplier say.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct OwnEntry {
    /// Key of a built-in food, or a new one that begins with `own_`.
    pub key: String,
    /// The name on screens; needed for a new food.
    pub name: Option<String>,
    /// Other names written for it.
    pub also: Vec<String>,
    /// What a new food does in a formula: a [`crate::Function`] word.
    pub function: Option<String>,
    /// Own measured weights: measure word (`cup`, `tbsp`, `tsp`, `each`, or another measure of
    /// the food's table rows) → grams. Cups and spoons are US customary ones.
    pub weights: BTreeMap<String, f64>,
    /// Composition per 100 g as on the label; what is absent stays as it was.
    pub label: Option<Label>,
    /// What is known about its gluten.
    pub gluten: Option<Evidence>,
    /// Allergens its label names, beside those of the food: [`crate::Allergen`] words. A new
    /// food without any is one whose label has still to be read; with some, these are all.
    /// Of other foods they are all where the label was read through.
    pub allergens: Vec<String>,
    /// That `allergens` are all its label names: who read it through, and when.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub read_through: Option<ReadThrough>,
    /// What the pack that is usually bought costs.
    pub price: Option<Price>,
    /// Other packs that are sold, beside the usual one.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub packs: Vec<Price>,
    /// What is in the kitchen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stock: Option<Stock>,
    /// Percent of the weight bought that is thrown away here, in place of the table's: peel,
    /// shells, cores; 0 where it is bought ready to use.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trim: Option<f64>,
    /// Brand or supplier, and anything to remember.
    pub note: String,
}

/// Composition per 100 g, grams, as labels give it.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Label {
    /// Water, where known.
    pub water: Option<f64>,
    /// Protein.
    pub protein: Option<f64>,
    /// Fat.
    pub fat: Option<f64>,
    /// Carbohydrate, without fibre as EU labels count it or with it as US labels do: see
    /// `with_fibre`.
    pub carbohydrate: Option<f64>,
    /// The carbohydrate counts fibre (US labels).
    pub with_fibre: bool,
    /// Fibre.
    pub fibre: Option<f64>,
    /// Sugars.
    pub sugars: Option<f64>,
}

/// What is known about a food's gluten.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Evidence {
    /// What was seen.
    pub kind: EvidenceKind,
    /// The day, `2026-11-25`.
    pub date: String,
    /// Brand, certificate number, lot.
    pub note: String,
}

/// A label that was read for every allergen it names.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ReadThrough {
    /// The day, `2026-11-25`.
    pub date: String,
    /// Who read it.
    pub who: String,
    /// The law that the label follows, a [`crate::allergen::Regime`] word: what that need not name
    /// may be in the food all the same.
    pub law: String,
}

impl ReadThrough {
    /// The law that the label follows.
    #[must_use]
    pub fn law(&self) -> Option<Regime> {
        Regime::from_word(&self.law)
    }
}

/// What was seen about gluten.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EvidenceKind {
    /// The label says gluten-free.
    Labelled,
    /// A certificate.
    Certificate,
    /// A test result, ppm.
    Test {
        /// mg/kg found, or the limit it was below.
        ppm: f64,
    },
    /// The label names a gluten grain, or warns of traces.
    NamesGluten,
}

/// What a pack costs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Price {
    /// Grams in the pack, as bought: with peel and shell.
    pub pack_grams: f64,
    /// Money, in the currency.
    pub amount: f64,
    /// ISO 4217 code.
    pub currency: String,
    /// The day, `2026-11-25`.
    pub date: String,
    /// The pack in the baker's words, where they are not grams: '5 lb bag', '12 eggs'.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub pack: String,
}

/// What there is of a food or a blend.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stock {
    /// Grams, as bought.
    pub grams: f64,
    /// The day it was counted, `2026-11-25`.
    pub date: String,
}

#[cfg(test)]
mod tests;
