//! Arithmetic on plain arrays: least squares with weights and pulls, fits that
//! outliers cannot drag far, quantiles, mixtures under limits, heat into a body, growth along a
//! temperature history.
//! outliers cannot drag far, quantiles, mixtures under limits, schedules.
//!
//! Knows nothing of flour. No clock, no disk, no randomness:
//! equal inputs give equal outputs. Every function refuses NaN and infinity
//! instead of passing them on.

#![deny(missing_docs)]

pub mod growth;
pub mod heat;
pub mod least_squares;
pub mod mixture;
pub mod quantile;
pub mod robust;
pub mod schedule;

use std::error::Error;
use std::fmt;

/// Why an array was refused.
#[derive(Debug, Clone, PartialEq)]
pub enum NumericError {
    /// Two lengths that must agree do not.
    Shape {
        /// Which argument is wrong.
        what: &'static str,
        /// The length it should have.
        expected: usize,
        /// The length it has.
        found: usize,
    },
    /// A value is NaN or infinite, or negative where only zero and more is meant.
    Value {
        /// Which argument is wrong.
        what: &'static str,
        /// Where in it, counted from 0.
        index: usize,
        /// The offending value.
        found: f64,
    },
    /// Nothing to work on.
    Empty {
        /// Which argument is empty.
        what: &'static str,
    },
    /// The columns do not determine the coefficients.
    Singular {
        /// The first column that adds nothing to those before it, counted from 0.
        column: usize,
    },
    /// The iteration did not settle.
    NotSettled {
        /// How many rounds were tried.
        rounds: usize,
    },
}

impl fmt::Display for NumericError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Shape {
                what,
                expected,
                found,
            } => {
                write!(f, "{what} has length {found}; give {expected}")
            }
            Self::Value { what, index, found } => {
                write!(
                    f,
                    "{what} holds {found} at place {index}; give a finite number in range"
                )
            }
            Self::Empty { what } => write!(f, "{what} is empty; give at least one value"),
            Self::Singular { column } => write!(
                f,
                "column {column} is a mixture of the columns before it; drop it or give it a penalty"
            ),
            Self::NotSettled { rounds } => {
                write!(
                    f,
                    "the fit did not settle in {rounds} rounds; look for a scale of nearly zero"
                )
            }
        }
    }
}

impl Error for NumericError {}

/// Refuses NaN and infinity, naming the argument and the place.
pub(crate) fn finite(what: &'static str, values: &[f64]) -> Result<(), NumericError> {
    match values.iter().position(|v| !v.is_finite()) {
        Some(index) => Err(NumericError::Value {
            what,
            index,
            found: values[index],
        }),
        None => Ok(()),
    }
}

/// Refuses NaN, infinity and anything below zero.
pub(crate) fn not_negative(what: &'static str, values: &[f64]) -> Result<(), NumericError> {
    finite(what, values)?;
    match values.iter().position(|v| *v < 0.0) {
        Some(index) => Err(NumericError::Value {
            what,
            index,
            found: values[index],
        }),
        None => Ok(()),
    }
}

/// Refuses a wrong length.
pub(crate) fn length(
    what: &'static str,
    values: &[f64],
    expected: usize,
) -> Result<(), NumericError> {
    if values.len() == expected {
        Ok(())
    } else {
        Err(NumericError::Shape {
            what,
            expected,
            found: values.len(),
        })
    }
}
