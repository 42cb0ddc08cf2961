//! Reading the method: temperatures, times, pans, thicknesses, rises, chills.

use crate::recipe::Step;

/// Reads the facts of a step's text.
#[must_use]
pub fn step(number: usize, text: &str, component: Option<usize>) -> Step {
    Step { number, text: text.to_owned(), component, facts: Vec::new(), doubts: Vec::new() }
}
