//! How the components of a batch follow one another: factors through the graph of uses.

use super::ask::{Ask, PartSize, likely};
use super::error::{SizeError, check_factor};
use crate::rework::{Kept, Rework, goes_on_a_bake, is_crumb};

/// The component that a figure is of where none is named: the dough or batter with the most
/// flour that is no crumb, filling or preferment; else what makes the most.
pub(super) fn main_part(rework: &Rework) -> usize {
    let all = rework.components.iter().enumerate();
    let by = |weight: &dyn Fn(usize) -> f64| {
        let best = (0..rework.components.len()).max_by(|a, b| {
            let (x, y) = (weight(*a), weight(*b));
            // Of equals the first.
            x.total_cmp(&y).then(b.cmp(a))
        });
        best.unwrap_or(0)
    };
    let doughs: Vec<usize> = all
        .filter(|(_, c)| {
            c.is_dough() && !is_crumb(&c.name) && !goes_on_a_bake(&c.name) && c.beforehand.is_none()
        })
        .map(|(i, _)| i)
        .collect();
    if doughs.is_empty() {
        return by(&|i| likely(rework.components[i].makes));
    }
    by(&|i| {
        if doughs.contains(&i) {
            likely(rework.components[i].reworked.flour)
        } else {
            -1.0
        }
    })
}

/// The component of a name: exactly it, or the one part that is as good as called so.
///
/// # Errors
/// [`SizeError::NoPart`]: there is none, or several; the names are given.
pub fn part_named(rework: &Rework, name: &str) -> Result<usize, SizeError> {
    let plain = name.trim().to_lowercase();
    let names = || rework.components.iter().map(|c| c.name.clone());
    let exact = rework.components.iter().position(|c| c.name == plain);
    let near = || {
        let mut found = rework
            .components
            .iter()
            .enumerate()
            .filter(|(_, c)| !plain.is_empty() && crate::read::same_part(&c.name, &plain))
            .map(|(i, _)| i);
        found.next().filter(|_| found.next().is_none())
    };
    exact.or_else(near).ok_or_else(|| SizeError::NoPart {
        name: name.trim().to_owned(),
        parts: names().collect(),
    })
}

/// Grams that one component uses of another, at one time the recipe.
pub(super) fn uses(rework: &Rework, user: usize, of: usize) -> f64 {
    rework.components[user]
        .lines
        .iter()
        .filter(|l| l.component == Some(of) && l.kept != Kept::Dropped)
        .filter_map(|l| l.grams)
        .map(likely)
        .sum()
}

/// The factors of components, as they follow from the recipe's.
pub(super) struct Flow<'a> {
    rework: &'a Rework,
    /// The component the figure is of.
    pub(super) part: usize,
    /// Whether only that one is made.
    only: bool,
    /// Whether it was named.
    pub(super) is_named: bool,
    /// What is made otherwise, by place.
    sizes: Vec<Option<PartSize>>,
    /// What goes by another measure than the part does: its times over the recipe's, by place.
    shares: Vec<f64>,
}

impl<'a> Flow<'a> {
    pub(super) fn new(rework: &'a Rework, ask: &Ask) -> Result<Self, SizeError> {
        let part = match &ask.part {
            Some(name) => part_named(rework, name)?,
            None => main_part(rework),
        };
        let mut sizes = vec![None; rework.components.len()];
        for (name, size) in &ask.parts {
            let at = part_named(rework, name)?;
            if let PartSize::Times(times) = size {
                check_factor(*times)?;
            }
            let used = (0..sizes.len()).any(|user| uses(rework, user, at) > 0.0);
            let c = &rework.components[at];
            if *size == PartSize::Enough && !(used && likely(c.makes) > 0.0) {
                return Err(SizeError::Unused {
                    part: c.name.clone(),
                });
            }
            sizes[at] = Some(size.clone());
        }
        Ok(Self {
            rework,
            part,
            only: ask.only,
            is_named: ask.part.is_some(),
            sizes,
            shares: vec![1.0; rework.components.len()],
        })
    }

    /// The same, some parts by another measure: their times over the recipe's, by place; none where empty.
    pub(super) fn shared(mut self, shares: Vec<f64>) -> Self {
        if !shares.is_empty() {
            self.shares = shares;
        }
        self
    }

    /// The factors at so many times the recipe. Linear in it.
    pub(super) fn factors(&self, times: f64) -> Vec<f64> {
        let count = self.rework.components.len();
        let mut out: Vec<f64> = (0..count)
            .map(|c| match &self.sizes[c] {
                Some(PartSize::Times(n)) => *n,
                _ if self.only && c != self.part => 0.0,
                _ => times * self.shares[c],
            })
            .collect();
        // Users before what they use.
        for &c in self.rework.formula.order.iter().rev() {
            let enough = match self.sizes[c] {
                Some(PartSize::Enough) => true,
                Some(PartSize::Times(_)) => false,
                None => self.only && c != self.part,
            };
            let makes = likely(self.rework.components[c].makes);
            if enough && makes > 0.0 {
                let needed = (0..count).fold(0.0, |sum, u| sum + out[u] * uses(self.rework, u, c));
                out[c] = needed / makes;
            }
        }
        out
    }

    /// The times at which a sum of factors, each weighted, comes to `wanted`.
    ///
    /// # Errors
    /// [`SizeError::Fixed`] when it does not follow the recipe's size;
    /// [`SizeError::Without`] when it is always nothing.
    pub(super) fn solve(
        &self,
        weights: &[f64],
        wanted: f64,
        what: &'static str,
    ) -> Result<f64, SizeError> {
        let at = |times: f64| -> f64 {
            let factors = self.factors(times);
            factors.iter().zip(weights).map(|(f, w)| f * w).sum()
        };
        let name = || self.rework.components[self.part].name.clone();
        let (one, two) = (at(1.0), at(2.0));
        if two <= 0.0 {
            return Err(SizeError::Without { part: name(), what });
        }
        let (slope, fixed) = (two - one, 2.0 * one - two);
        if slope <= 1e-12 * two.abs() {
            return Err(SizeError::Fixed { part: name() });
        }
        Ok((wanted - fixed) / slope)
    }

    /// Whether just enough of the part is made for those that use it.
    pub(super) fn is_enough(&self) -> bool {
        self.sizes[self.part] == Some(PartSize::Enough)
    }

    /// Weights of one component's figure alone.
    pub(super) fn only_of(&self, part: usize, weight: f64) -> Vec<f64> {
        let mut weights = vec![0.0; self.rework.components.len()];
        weights[part] = weight;
        weights
    }
}
