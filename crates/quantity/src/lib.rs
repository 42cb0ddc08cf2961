//! Amounts with units.
//!
//! What lives here: physical quantities as types ([`Mass`], [`Volume`], [`Length`],
//! [`Temperature`], [`Time`]), a low–likely–high [`Spread`] of any of them, kitchen units and
//! what they hold in each [`Locale`], oven settings, and [`household`] measures: the way back
//! from grams to cups and spoons that can really be measured.
//!
//! What does not: ingredients (a cup of *what* is the larder's business), text, disk, clock.

mod figure;
pub mod household;
mod lengths;
mod listed;
mod locale;
mod numeral;
mod oven;
mod physical;
mod scales;
mod spread;
pub mod typed;
mod unit;

pub use figure::figure;
pub use lengths::{lengths_alone_in, lengths_in};
pub use listed::listed;
pub use locale::{Locale, UnknownLocale};
pub use numeral::{fraction, number_word, number_words, signs};
pub use oven::{GasMark, OvenSetting, fan_equivalent};
pub use physical::{Length, Mass, Quantity, Ratio, Temperature, Time, Volume};
pub use scales::{both_scales, degrees_in, scales_of};
pub use spread::Spread;
pub use unit::{Hold, Unit, UnitKind, UnitWord, unit_words};
