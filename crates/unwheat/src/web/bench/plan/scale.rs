//! What the kitchen's scales can show.

use store::Settings;

/// What the kitchen's scales show, in grams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// The bench scale's step.
    pub step: f64,
    /// The fine scale's; 0 where there is none.
    pub fine: f64,
}

/// A weight a scale can show must be known to a tenth of itself.
const ROUGHEST: f64 = 5.0;

impl Scale {
    /// Those of the kitchen.
    pub fn of(settings: &Settings) -> Self {
        Self {
            step: settings.scale_step,
            fine: settings.fine_scale_step,
        }
    }

    /// The step of the scale that such a weight goes on.
    pub fn step_for(self, grams: f64, fine: bool) -> f64 {
        if self.fine > 0.0 && (grams < 10.0 || fine && grams < 100.0) {
            self.fine
        } else {
            self.step
        }
    }

    /// Grams as a scale shows them, and whether they are finer than it does: then they are given
    /// as they are. Never rounded to nothing.
    #[must_use]
    pub fn shows(self, grams: f64, fine: bool) -> (f64, bool) {
        let step = self.step_for(grams, fine);
        if grams <= 0.0 {
            return (0.0, false);
        }
        if grams < ROUGHEST * step {
            let digits = if grams >= 1.0 { 10.0 } else { 100.0 };
            return (((grams * digits).round() / digits).max(0.01), true);
        }
        (clean((grams / step).round() * step), false)
    }

    /// Shares of a weight on the scale that add up to it exactly.
    pub fn shared(self, whole: f64, shares: &[f64]) -> Vec<f64> {
        let sum: f64 = shares.iter().sum();
        let exact: Vec<f64> = shares.iter().map(|s| whole * s / sum).collect();
        let rough = exact.iter().all(|g| *g >= ROUGHEST * self.step);
        let step = match (rough, self.fine > 0.0) {
            (true, _) => self.step,
            (false, true) => self.fine,
            (false, false) => 0.1,
        };
        let mut units: Vec<f64> = exact.iter().map(|g| (g / step).floor()).collect();
        let mut left = (whole / step).round() - units.iter().sum::<f64>();
        let mut order: Vec<usize> = (0..exact.len()).collect();
        order.sort_by(|a, b| {
            let rest = |i: usize| exact[i] / step - units[i];
            rest(*b).total_cmp(&rest(*a))
        });
        for i in order {
            if left >= 0.5 {
                units[i] += 1.0;
                left -= 1.0;
            }
        }
        if units.iter().any(|u| *u <= 0.0) {
            return exact.into_iter().map(|g| g.max(0.01)).collect();
        }
        units.into_iter().map(|u| clean(u * step)).collect()
    }
}

/// Without the last bits of the sum.
pub fn clean(grams: f64) -> f64 {
    (grams * 1000.0).round() / 1000.0
}

#[cfg(test)]
mod tests {
    use super::super::example::SCALE;
    use super::*;

    #[test]
    fn scales_round_by_their_step() {
        for (scale, grams, fine, want) in [
            (SCALE, 312.4, false, (312.0, false)),
            (SCALE, 7.04, true, (7.0, false)),
            (SCALE, 43.26, true, (43.3, false)),
            (SCALE, 0.03, true, (0.03, true)),
            (
                Scale {
                    step: 1.0,
                    fine: 0.0,
                },
                2.04,
                true,
                (2.0, true),
            ),
            (
                Scale {
                    step: 5.0,
                    fine: 0.0,
                },
                312.4,
                false,
                (310.0, false),
            ),
            (SCALE, 0.001, true, (0.01, true)),
        ] {
            assert_eq!(scale.shows(grams, fine), want, "{grams}");
        }
    }
}
