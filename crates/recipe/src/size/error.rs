//! Why an ask cannot be met.

use super::{LEAST, MOST};
use std::fmt;

/// Why an ask cannot be met. Says what to do about it.
#[derive(Debug, Clone, PartialEq)]
pub enum SizeError {
    /// So many times the recipe cannot be made.
    Factor {
        /// The factor.
        factor: f64,
    },
}

impl fmt::Display for SizeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Factor { factor } => write!(
                f,
                "{factor} times the recipe cannot be made: ask for {LEAST} to {MOST:.0} times"
            ),
        }
    }
}
impl std::error::Error for SizeError {}

/// Whether so many times a recipe can be worked with.
pub(super) fn check_factor(factor: f64) -> Result<(), SizeError> {
    if factor.is_finite() && (LEAST..=MOST).contains(&factor) {
        Ok(())
    } else {
        Err(SizeError::Factor { factor })
    }
}
