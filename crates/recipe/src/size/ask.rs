//! What is asked for.

use serde::{Deserialize, Serialize};

/// How much is wanted.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Ask {
    /// The figure that everything else follows from.
    #[serde(default)]
    pub target: Target,
}

impl Ask {
    /// So many times the recipe.
    #[must_use]
    pub fn times(factor: f64) -> Self {
        Self {
            target: Target::Times(factor),
        }
    }
}

/// The figure that a batch's size follows from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Target {
    /// So many times the recipe.
    Times(f64),
}

impl Default for Target {
    fn default() -> Self {
        Self::Times(1.0)
    }
}
