//! Lower bounds on what a choice of parts can come to.
//!
//! A solved choice gives more than its optimum: its gradient and the prices of its limits make a
//! straight function that lies below the goal at *every* mixture that keeps the limits
//! (convexity, and Lagrange's multipliers of the caps and of the distance). The least of a
//! straight function over shares within bounds takes no solver: fill up from the cheapest.

use super::{Blend, Goal, Mixture};

/// A straight function, `constant + slope · x`.
pub(super) struct Cut {
    constant: f64,
    slope: Vec<f64>,
    /// Parts by slope, the lowest first.
    order: Vec<usize>,
    /// Of a choice that cannot be: where this lies above 0, no mixture keeps the limits.
    pub(super) feasibility: bool,
}

impl Cut {
    /// The function that touches the goal at a solved choice.
    pub(super) fn at(mixture: &Mixture, blend: &Blend, caps: &[f64], cone: &[f64]) -> Self {
        let mut slope = mixture.cost.clone();
        let mut constant = 0.0;
        if mixture.goal == Goal::Nearest {
            let has = mixture.properties_of(blend);
            for ((a, t), h) in mixture.properties.iter().zip(&mixture.targets).zip(has) {
                let miss = h - t;
                slope.iter_mut().zip(a).for_each(|(s, a)| *s += miss * a);
                // ½ miss² at the blend, less what the slope makes of it there.
                constant += miss * (0.5 * miss - h);
            }
        }
        Self::with(mixture, slope, constant, caps, cone, false)
    }

    /// The function that says why a choice cannot be.
    pub(super) fn impossible(mixture: &Mixture, caps: &[f64], cone: &[f64]) -> Self {
        Self::with(mixture, vec![0.0; mixture.len()], 0.0, caps, cone, true)
    }

    fn with(
        mixture: &Mixture,
        mut slope: Vec<f64>,
        mut constant: f64,
        caps: &[f64],
        cone: &[f64],
        feasibility: bool,
    ) -> Self {
        for (cap, price) in mixture.caps.iter().zip(caps) {
            let price = price.max(0.0);
            slope
                .iter_mut()
                .zip(&cap.row)
                .for_each(|(s, r)| *s += price * r);
            constant -= price * cap.at_most;
        }
        if let (Goal::Cheapest { within }, Some((first, rest))) = (mixture.goal, cone.split_first())
        {
            // A hair off the cone and the bound would be none: at least as long as the rest.
            let norm = rest.iter().map(|z| z * z).sum::<f64>().sqrt();
            constant -= first.max(norm) * within;
            for ((a, t), z) in mixture.properties.iter().zip(&mixture.targets).zip(rest) {
                slope.iter_mut().zip(a).for_each(|(s, a)| *s += z * a);
                constant -= z * t;
            }
        }
        let mut order: Vec<usize> = (0..slope.len()).collect();
        order.sort_by(|a, b| slope[*a].total_cmp(&slope[*b]));
        Self {
            constant,
            slope,
            order,
            feasibility,
        }
    }

    /// Its least over mixtures that use all parts of `taken` (a set of bits) and any of `free`.
    pub(super) fn least(&self, mixture: &Mixture, taken: u64, free: u64) -> f64 {
        let mut left = 1.0;
        let mut value = self.constant;
        let mut bits = taken;
        while bits != 0 {
            let p = bits.trailing_zeros() as usize;
            bits &= bits - 1;
            left -= mixture.low[p];
            value += mixture.low[p] * self.slope[p];
        }
        let all = taken | free;
        for &p in &self.order {
            if left <= 0.0 {
                break;
            }
            if all >> p & 1 == 0 {
                continue;
            }
            let held = if taken >> p & 1 == 1 {
                mixture.low[p]
            } else {
                0.0
            };
            let more = (mixture.high[p] - held).min(left);
            value += more * self.slope[p];
            left -= more;
        }
        value
    }
}
