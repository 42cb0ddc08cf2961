//! Mixtures: shares of parts that add up to 1, as near as can be to what is wanted of the whole,
//! under limits on single parts and on sums of them; and the best choice of a few parts of many.
//!
//! A mixture of chosen parts is a convex quadratic programme, or a second-order cone programme
//! where the cheapest within a distance is asked for; both are left to Clarabel. Which parts to
//! choose is an exact search over all choices ([`Mixture::best`]): a choice is set aside only
//! when a lower bound proves that it is worse.

mod clash;
mod cut;
mod search;
mod solve;

use crate::{NumericError, finite, length, not_negative};

pub use search::Ask;

/// Shares may miss a limit by this much.
pub const TOLERANCE: f64 = 1e-7;

/// A limit on a weighted sum of shares: `row · x ≤ at_most`.
#[derive(Debug, Clone, PartialEq)]
pub struct Cap {
    /// A weight for every part.
    pub row: Vec<f64>,
    /// What the sum may come to.
    pub at_most: f64,
}

/// What is minimised.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Goal {
    /// Half the squared distance plus the cost: `½ Σ (aᵣ·x − tᵣ)² + c·x`.
    Nearest,
    /// The cost alone, `c·x`, at a distance of no more than this from the targets.
    Cheapest {
        /// The greatest distance, `√ Σ (aᵣ·x − tᵣ)²`.
        within: f64,
    },
}

/// Parts to mix, what is wanted of the whole, and the limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixture {
    /// What is wanted, a row for each property: what every part brings of it. Scale each row so
    /// that 1 is an equally grave miss.
    pub properties: Vec<Vec<f64>>,
    /// What the whole should have of each property, on the same scales.
    pub targets: Vec<f64>,
    /// The cost of every part, for a share of 1.
    pub cost: Vec<f64>,
    /// The least share of every part that is used at all.
    pub low: Vec<f64>,
    /// The greatest share of every part.
    pub high: Vec<f64>,
    /// Limits on sums.
    pub caps: Vec<Cap>,
    /// What is minimised.
    pub goal: Goal,
}

/// A limit of a mixture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Limit {
    /// The least share of a part.
    Low(usize),
    /// The greatest share of a part.
    High(usize),
    /// A cap.
    Cap(usize),
    /// The greatest distance, where one is set.
    Within,
}

/// A limit that the best mixture lies on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bind {
    /// Which.
    pub limit: Limit,
    /// By how much the goal would fall for each unit of slack in the limit, ≥ 0.
    pub price: f64,
}

/// A mixture of chosen parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Blend {
    /// The chosen parts, ascending.
    pub parts: Vec<usize>,
    /// Their shares, adding up to 1.
    pub shares: Vec<f64>,
    /// What the goal comes to.
    pub value: f64,
    /// The limits that it lies on and what they cost, dearest first.
    pub binds: Vec<Bind>,
}

impl Blend {
    /// The share of a part, 0 where it is not chosen.
    #[must_use]
    pub fn share(&self, part: usize) -> f64 {
        self.parts
            .iter()
            .position(|p| *p == part)
            .map_or(0.0, |at| self.shares[at])
    }
}

impl Mixture {
    /// How many parts there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.cost.len()
    }

    /// Whether there is no part.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.cost.is_empty()
    }

    /// What a blend has of every property.
    #[must_use]
    pub fn properties_of(&self, blend: &Blend) -> Vec<f64> {
        let sum = |row: &Vec<f64>| {
            let parts = blend.parts.iter().zip(&blend.shares);
            parts.map(|(&p, s)| row[p] * s).sum()
        };
        self.properties.iter().map(sum).collect()
    }

    /// How far a blend is from the targets, `√ Σ (aᵣ·x − tᵣ)²`.
    #[must_use]
    pub fn distance(&self, blend: &Blend) -> f64 {
        let has = self.properties_of(blend);
        let missed = has.iter().zip(&self.targets).map(|(h, t)| (h - t).powi(2));
        missed.sum::<f64>().sqrt()
    }

    /// What a blend costs, `c·x`.
    #[must_use]
    pub fn cost_of(&self, blend: &Blend) -> f64 {
        let parts = blend.parts.iter().zip(&blend.shares);
        parts.map(|(&p, s)| self.cost[p] * s).sum()
    }

    /// Refuses lengths that disagree and figures that cannot be.
    fn check(&self) -> Result<(), NumericError> {
        let n = self.len();
        if n == 0 {
            return Err(NumericError::Empty { what: "parts" });
        }
        length("targets", &self.targets, self.properties.len())?;
        finite("targets", &self.targets)?;
        finite("cost", &self.cost)?;
        for row in &self.properties {
            length("a property", row, n)?;
            finite("a property", row)?;
        }
        for (what, values) in [("low", &self.low), ("high", &self.high)] {
            length(what, values, n)?;
            not_negative(what, values)?;
        }
        for cap in &self.caps {
            length("a cap", &cap.row, n)?;
            finite("a cap", &cap.row)?;
            finite("a cap's limit", &[cap.at_most])?;
        }
        if let Goal::Cheapest { within } = self.goal {
            not_negative("within", &[within])?;
        }
        Ok(())
    }
}
