//! A blend weighed out, flour by flour.

use super::Blend;
use crate::household::{Scale, clean};
use larder::FoodId;

/// A flour must be known to a tenth of itself: else the blend is shared on the fine scale.
const ROUGHEST: f64 = 5.0;

/// A flour of a blend, weighed out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Portion {
    /// The flour.
    pub food: FoodId,
    /// Its share of the blend, percent.
    pub percent: f64,
    /// Grams on the scale.
    pub grams: f64,
}

impl Blend {
    /// Its flours on the scale: what every page shows of them. Together they are the blend's
    /// weight exactly.
    ///
    /// # Inputs
    /// - `whole`: grams of the blend, as the scale shows them.
    #[must_use]
    pub fn weighed_out(&self, scale: &Scale, whole: f64) -> Vec<Portion> {
        let shares: Vec<f64> = self.parts.iter().map(|p| p.1).collect();
        let grams = shared(scale, whole, &shares);
        let portion = |(&(food, percent), grams)| Portion {
            food,
            percent,
            grams,
        };
        self.parts.iter().zip(grams).map(portion).collect()
    }
}

/// Shares of a weight on the scale that add up to it exactly.
///
/// # Inputs
/// - `whole`: grams, as the scale shows them.
/// - `shares`: above zero, in any unit.
fn shared(scale: &Scale, whole: f64, shares: &[f64]) -> Vec<f64> {
    let sum: f64 = shares.iter().sum();
    let exact: Vec<f64> = shares.iter().map(|s| whole * s / sum).collect();
    // Half a gram of the whole is found in no whole grams of its parts.
    let even = ((whole / scale.step).round() * scale.step - whole).abs() < 1e-6;
    let rough = exact.iter().all(|g| *g >= ROUGHEST * scale.step);
    let step = if even && rough {
        scale.step
    } else {
        scale.fine.unwrap_or(0.1)
    };
    // A share that is nothing on the scale is told on the first finer one that shows it.
    let finer = FINER.into_iter().filter(|f| *f < step);
    let mut tried = std::iter::once(step)
        .chain(finer)
        .map(|step| (step, units(&exact, whole, step)));
    let shown = |units: &[f64]| units.iter().all(|u| *u > 0.0);
    let (step, units) = tried
        .find(|(_, units)| shown(units))
        .unwrap_or_else(|| (FINEST, none_left_out(units(&exact, whole, FINEST))));
    units.into_iter().map(|u| clean(u * step)).collect()
}

/// The finest step that weights are told in, grams.
const FINEST: f64 = 0.001;
/// Steps of finer scales, grams.
const FINER: [f64; 3] = [0.1, 0.01, FINEST];

/// One step of what is less than half of one, out of the largest share: no flour of a blend is told as none.
fn none_left_out(mut units: Vec<f64>) -> Vec<f64> {
    for i in 0..units.len() {
        if units[i] <= 0.0 {
            units[i] = 1.0;
            if let Some(most) = units.iter_mut().max_by(|a, b| a.total_cmp(b)) {
                *most = (*most - 1.0).max(1.0);
            }
        }
    }
    units
}

/// Shares in whole steps that add up to the whole: what is missing after rounding down goes to those
/// that lost most.
fn units(exact: &[f64], whole: f64, step: f64) -> Vec<f64> {
    let mut units: Vec<f64> = exact.iter().map(|g| (g / step).floor()).collect();
    let left = (whole / step).round() - units.iter().sum::<f64>();
    let mut order: Vec<usize> = (0..exact.len()).collect();
    order.sort_by(|a, b| {
        let rest = |i: usize| exact[i] / step - units[i];
        rest(*b).total_cmp(&rest(*a))
    });
    for i in order.into_iter().take(left.max(0.0) as usize) {
        units[i] += 1.0;
    }
    units
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: what is missing after rounding down goes to those that lost most.
    #[test]
    fn the_flours_of_a_blend_add_up_to_it() {
        let scale = Scale::default();
        for (whole, shares, want) in [
            (
                333.0,
                vec![35.0, 20.0, 20.0, 15.0, 10.0],
                vec![116.0, 67.0, 67.0, 50.0, 33.0],
            ),
            (33.5, vec![40.0, 30.0, 30.0], vec![13.4, 10.1, 10.0]),
            (7.5, vec![50.0, 50.0], vec![3.8, 3.7]),
            (35.0, vec![60.0, 39.0, 1.0], vec![21.0, 13.7, 0.3]),
            (4.0, vec![60.0, 39.0, 1.0], vec![2.4, 1.56, 0.04]),
            // Less than the finest step is no nothing.
            (4.0, vec![99.99, 0.005, 0.005], vec![3.998, 0.001, 0.001]),
        ] {
            let got = shared(&scale, whole, &shares);
            assert_eq!(got, want, "{whole}");
            assert_eq!(clean(got.iter().sum()), whole);
        }
    }

    /// On half grams ½ % of 35 g is nothing: it is told on tenths, and so are the others.
    #[test]
    fn a_share_below_the_scale_leaves_the_sum_whole() {
        let scale = Scale {
            fine: Some(0.5),
            ..Scale::default()
        };
        assert_eq!(shared(&scale, 35.0, &[60.0, 39.5, 0.5]), [21.0, 13.8, 0.2]);
        for shares in [[60.0, 39.0, 1.0], [97.0, 2.0, 1.0], [33.3, 33.4, 33.3]] {
            for tenths in 5..600 {
                let whole = clean(f64::from(tenths) / 10.0);
                for fine in [0.1, 0.5, 1.0] {
                    // Only what the scale shows is shared.
                    let shown = (whole / fine).round() * fine;
                    if (shown - whole).abs() > 1e-6 {
                        continue;
                    }
                    let scale = Scale {
                        fine: Some(fine),
                        ..Scale::default()
                    };
                    let got = shared(&scale, whole, &shares);
                    let sum: f64 = got.iter().sum();
                    assert!((sum - whole).abs() < 1e-6, "{whole} {fine}: {got:?}");
                    assert!(got.iter().all(|g| *g > 0.0), "{whole} {fine}: {got:?}");
                }
            }
        }
    }
}
