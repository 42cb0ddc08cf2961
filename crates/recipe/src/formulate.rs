//! Formulating a blend: the flours, starches and shares that come closest to what is wanted,
//! under limits.
//!
//! What is wanted is a make-up of six properties ([`Property`]): that of the published formulas of
//! a style, of a wheat flour, or of a blend that has to be rebuilt. Distance is counted in the
//! spread of published blends, so that a gram of fibre and a gram of starch weigh as they should
//! ([`Target::distance`]). The search is exact: no other choice of as many flours comes closer.
//!
//! # Errors of the figures
//! The composition of flours is USDA SR28's and the larder's; absorption is mostly from memory,
//! ±20 %. A blend on target is a starting point for a test bake, no promise of a crumb.

mod ask;
mod makeup;
mod solve;
mod wanted;
mod words;

pub use ask::{Aim, Ask, Candidate, Wish, is_fibre, usual, whole_larder};
pub use makeup::{MakeUp, Property, Target};
pub use solve::{Answer, Bound, Formulated, Limit, Outcome, formulate, why};
pub use wanted::{Wanted, WantedError};
pub use words::FormulateError;
