//! Heat: how long a bake takes in another pan, how long a dough proofs along a temperature
//! history, how warm the water of a dough has to be, and what pans, ovens and heights do.
//!
//! Every time is an estimate with a range. What decides is measured: the core temperature of a bake
//! with a probe, the volume of a dough by eye.
//!
//! The physics is in [`numeric::heat`] and [`numeric::growth`]; here are the figures of doughs, each
//! with its source.

mod ask;
mod bake;
mod chosen;
mod dough;
mod given;
mod notes;
mod oven;
mod pan;
mod proof;
mod typed;

pub use ask::{AskError, Figures, Origin, Place, Value};
pub use bake::{Bake, Baked, CoreTarget, Curve, PROBE, bake, crumb_diffusivity};
pub use chosen::{Estimate, chosen, own_minutes};
pub use dough::{Coldest, Dough, DoughAsk, Friction, HOTTEST_WATER, Water, dough};
pub use given::{Given, Stretch, given};
pub use notes::{HeatField, HeatNotes};
pub use oven::{OvenFact, facts, offered};
pub use pan::{Make, Outline, Pan};
pub use proof::{
    FRIDGE, KnownProof, Leg, LegOut, Proof, Proofed, VOLUME, Wait, cardinal_range, proof,
};
pub use typed::{
    clock, degrees_words, difference, grams, legs, minutes, oven_temperature, oven_words,
    temperature,
};

use std::fmt;

/// Why nothing can be worked out: what is wrong, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeatError(pub(crate) String);

impl fmt::Display for HeatError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
impl std::error::Error for HeatError {}

pub(crate) fn wrong<T>(what: impl Into<String>) -> Result<T, HeatError> {
    Err(HeatError(what.into()))
}

/// A sentence with where it comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Advice {
    /// The sentence.
    pub words: String,
    /// Its source, or that it has none.
    pub source: String,
}

impl Advice {
    pub(crate) fn new(words: impl Into<String>, source: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            source: source.into(),
        }
    }
}

pub(crate) const PRACTICE: &str = "common practice, no source";

/// The core temperature that can be reached at a height: what a style asks, or 1.5 °C below the
/// boiling point there, whichever is lower.
///
/// # Source
/// Project rule R11.1: derived from the boiling point; nothing wet comes nearer to it.
#[must_use]
pub fn core_at(style_core: f64, boiling: f64) -> f64 {
    style_core.min(boiling - BELOW_BOILING)
}

/// A wet core comes no nearer to the boiling point than this, °C (project rule R11.1, derived).
pub const BELOW_BOILING: f64 = 1.5;
