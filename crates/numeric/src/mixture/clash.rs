//! Which limits cannot hold together.

use super::solve::Solved;
use super::{Goal, Limit, Mixture};
use crate::NumericError;

/// A limit that holds nothing back.
const LOOSE: f64 = 1e6;

impl Mixture {
    /// A smallest set of limits that no mixture keeps, all parts allowed and only those of
    /// `must` held at their least share: each limit of it can be kept with the others gone.
    ///
    /// # Returns
    /// Empty where the limits can be kept together.
    ///
    /// # Errors
    /// As [`Mixture::of_parts`].
    pub fn clash(&self, must: &[usize]) -> Result<Vec<Limit>, NumericError> {
        self.check()?;
        let n = self.len();
        let mut loose = self.clone();
        loose.cost.fill(0.0);
        if self.goal == Goal::Nearest {
            loose.properties.clear();
            loose.targets.clear();
        }
        for p in (0..n).filter(|p| !must.contains(p)) {
            loose.low[p] = 0.0;
        }
        let all: Vec<usize> = (0..n).collect();
        let clashes = |m: &Self| Ok(matches!(m.solve(&all, true)?, Solved::Impossible { .. }));
        if !clashes(&loose)? {
            return Ok(Vec::new());
        }
        let mut limits: Vec<Limit> = (0..n).map(Limit::High).collect();
        limits.extend(must.iter().map(|p| Limit::Low(*p)));
        limits.extend((0..self.caps.len()).map(Limit::Cap));
        if matches!(self.goal, Goal::Cheapest { .. }) {
            limits.push(Limit::Within);
        }
        let mut needed = Vec::new();
        for limit in limits {
            let mut without = loose.clone();
            match limit {
                Limit::Low(p) => without.low[p] = 0.0,
                Limit::High(p) => without.high[p] = 1.0_f64.max(without.high[p]),
                Limit::Cap(c) => without.caps[c].at_most = LOOSE,
                Limit::Within => without.goal = Goal::Cheapest { within: LOOSE },
            }
            // Where the limits clash without it all the same, it is none of those at fault.
            if clashes(&without)? {
                loose = without;
            } else {
                needed.push(limit);
            }
        }
        Ok(needed)
    }
}
