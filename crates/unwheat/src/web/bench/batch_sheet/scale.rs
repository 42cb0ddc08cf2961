//! A blend shared out on the kitchen's scales.

use recipe::household::Scale;

/// A flour must be known to a tenth of itself: else the blend is shared on the fine scale.
const ROUGHEST: f64 = 5.0;

/// Shares of a weight on the scale that add up to it exactly.
pub fn shared(scale: Scale, whole: f64, shares: &[f64]) -> Vec<f64> {
    let sum: f64 = shares.iter().sum();
    let exact: Vec<f64> = shares.iter().map(|s| whole * s / sum).collect();
    let rough = exact.iter().all(|g| *g >= ROUGHEST * scale.step);
    let step = if rough {
        scale.step
    } else {
        scale.fine.unwrap_or(0.1)
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

/// Without the last bits of the sum.
pub fn clean(grams: f64) -> f64 {
    (grams * 1000.0).round() / 1000.0
}
