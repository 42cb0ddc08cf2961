//! Size: a reworked recipe, or one component of it, in the amount that is wanted.
//!
//! [`size`] turns an [`Ask`] into a [`Batch`]: a factor for every component, the grams of every
//! line, and what is left over of components that others use. It is exact; what the kitchen's
//! scale and spoons make of a line is asked of the line.

mod ask;
mod batch;
mod error;
pub mod pan;

pub use ask::{Ask, Target};
pub use batch::{Batch, BatchComponent, BatchLine};
pub use error::SizeError;

use crate::rework::Rework;

/// As little of a recipe as is worked with.
pub const LEAST: f64 = 0.01;
/// As many times a recipe as is worked with.
pub const MOST: f64 = 1000.0;

/// Sizes a rework.
///
/// # Inputs
/// - `rework`: as [`crate::rework::rework`] makes it.
/// - `ask`: how much of it is wanted.
///
/// # Returns
/// The batch. Grams are the rework's times the component's factor, low–likely–high; nothing is
/// rounded. A line without a weight has none in the batch either.
///
/// # Errors
/// [`SizeError`] when the ask cannot be met, with what to do about it.
pub fn size(rework: &Rework, ask: &Ask) -> Result<Batch, SizeError> {
    let Target::Times(factor) = ask.target;
    error::check_factor(factor)?;
    let factors = vec![factor; rework.components.len()];
    Ok(Batch::of(rework, factor, &factors))
}
