//! Gluten of a finished food in parts per million, as bounds.

use quantity::{Mass, Ratio, Spread};

/// An ingredient's share in the sum: grams and a range of ppm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Portion {
    /// Grams.
    pub grams: Spread<Mass>,
    /// Lowest ppm it can have.
    pub low: f64,
    /// Highest; `None` where nothing bounds it.
    pub high: Option<f64>,
}

/// Bounds on the gluten of a finished food, mg/kg.
///
/// `P = Σ(mᵢ·pᵢ) / (M·(1 − L))`: what is weighed in, over what is left after the oven took its
/// water. Heat does not destroy gluten, so a dry bake holds more of it per gram than its dough.
/// Both bounds are the true extremes over every weight inside its range: what holds more than
/// the mean counts at its heaviest, what holds less at its lightest.
///
/// # Arguments
/// * `portions` — in-formula ingredients and whatever else sticks to the food.
/// * `loss` — part of the raw weight lost in baking; `None` leaves the raw figure.
///
/// # Returns
/// Low and high; high is `None` where an ingredient has no bound or the loss is not below 1.
///
/// # Source
/// Arithmetic of mass; gluten in flour and thresholds as in the checks of this crate's tests.
#[must_use]
pub fn finished_ppm(portions: &[Portion], loss: Option<Spread<Ratio>>) -> (f64, Option<f64>) {
    let (dry_low, dry_high) =
        loss.map_or((1.0, 1.0), |l| (1.0 - l.low().get(), 1.0 - l.high().get()));
    let known: Option<Vec<(Spread<Mass>, f64)>> = portions
        .iter()
        .filter(|p| p.grams.high().as_grams() > 0.0)
        .map(|p| p.high.map(|h| (p.grams, h)))
        .collect();
    let low = -extreme(portions.iter().map(|p| (p.grams, -p.low)).collect());
    let low = if dry_low > 0.0 { low / dry_low } else { low };
    let high = known
        .filter(|_| dry_high > 0.0)
        .map(|k| extreme(k) / dry_high);
    (if low > 0.0 { low } else { 0.0 }, high)
}

/// The greatest weighted mean of the values, each weight free inside its range.
fn extreme(mut parts: Vec<(Spread<Mass>, f64)>) -> f64 {
    parts.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut best: Option<f64> = None;
    for heavy in 0..=parts.len() {
        let (mut sum, mut mass) = (0.0, 0.0);
        for (i, (grams, value)) in parts.iter().enumerate() {
            let g = if i < heavy { grams.high() } else { grams.low() }
                .as_grams()
                .max(0.0);
            sum += g * value;
            mass += g;
        }
        if mass > 0.0 {
            best = Some(best.map_or(sum / mass, |b| b.max(sum / mass)));
        }
    }
    best.unwrap_or(0.0)
}
