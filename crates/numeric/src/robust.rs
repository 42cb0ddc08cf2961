//! Fits in which a far-off value pulls no harder than a moderately distant one
//! (Huber's loss).

use crate::least_squares::weighted;
use crate::quantile::median;
use crate::{NumericError, finite, length};

/// Where Huber's loss turns from a square to a straight line, in scales.
/// Keeps 95 % of the efficiency of least squares when nothing is amiss.
pub const HUBER_TURN: f64 = 1.345;
/// The median distance from the centre of a normal sample, in standard deviations.
pub const MEDIAN_DISTANCE: f64 = 0.6745;
/// The mean distance from the centre of a normal sample, in standard deviations.
pub const MEAN_DISTANCE: f64 = 0.798;

/// Rounds after which a fit that still moves is given up.
const ROUNDS: usize = 500;

/// The weight of a residual in Huber's loss.
///
/// # Inputs
/// - `residual`: observed less fitted, finite.
/// - `scale`: the usual size of a residual, > 0, same unit.
///
/// # Returns
/// 1 up to [`HUBER_TURN`] scales, then falling as one over the distance.
///
/// # Example
/// ```
/// use numeric::robust::huber_weight;
/// assert_eq!(huber_weight(0.5, 1.0), 1.0);
/// assert_eq!(huber_weight(-2.69, 1.0), 0.5);
/// ```
#[must_use]
pub fn huber_weight(residual: f64, scale: f64) -> f64 {
    let far = residual.abs();
    let turn = HUBER_TURN * scale;
    if far <= turn { 1.0 } else { turn / far }
}

/// The usual size of residuals: their median distance from zero, as the
/// standard deviation of a normal sample.
///
/// # Inputs
/// - `residuals`: at least one, finite.
///
/// # Returns
/// A scale ≥ 0 in the same unit.
///
/// # Errors
/// - [`NumericError::Empty`], [`NumericError::Value`]: as [`median`].
///
/// # Example
/// ```
/// use numeric::robust::median_scale;
/// assert!((median_scale(&[-0.6745, 0.1, 0.6745])? - 1.0).abs() < 1e-12);
/// assert!(median_scale(&[]).is_err());
/// # Ok::<(), numeric::NumericError>(())
/// ```
pub fn median_scale(residuals: &[f64]) -> Result<f64, NumericError> {
    let distances: Vec<f64> = residuals.iter().map(|r| r.abs()).collect();
    Ok(median(&distances)? / MEDIAN_DISTANCE)
}

/// Linear fit by Huber's loss at a given scale, by repeated reweighting.
///
/// # Inputs
/// - `x`: n × p, row-major, finite.
/// - `y`: length n, finite.
/// - `scale`: the usual size of a residual, > 0, in the unit of `y`.
///
/// # Returns
/// Length p coefficients; one more round would move no fitted value by more
/// than 1e-10 of the scale.
///
/// # Errors
/// - As [`weighted`], and [`NumericError::Value`] for a scale that is not above zero.
/// - [`NumericError::NotSettled`]: still moving after 500 rounds.
///
/// # Source
/// Huber 1964, Annals of Mathematical Statistics 35 (from memory). Compared
/// with a minimiser that does not reweight in `checks/numeric_least_squares.tsv`.
///
/// # Example
/// ```
/// use numeric::robust::huber;
/// // Four values near 2 and one wild one: the mean would be 21.6.
/// let b = huber(&[1.0; 5], &[1.9, 2.0, 2.0, 2.1, 100.0], 0.1)?;
/// assert!((b[0] - 2.0).abs() < 0.1);
/// assert!(huber(&[1.0; 5], &[1.9, 2.0, 2.0, 2.1, 100.0], 0.0).is_err());
/// # Ok::<(), numeric::NumericError>(())
/// ```
pub fn huber(x: &[f64], y: &[f64], scale: f64) -> Result<Vec<f64>, NumericError> {
    if !(scale.is_finite() && scale > 0.0) {
        return Err(NumericError::Value {
            what: "scale",
            index: 0,
            found: scale,
        });
    }
    let mut fit = weighted(x, y, &vec![1.0; y.len()])?;
    for _ in 0..ROUNDS {
        let fitted = apply(x, &fit)?;
        let weights: Vec<f64> = y
            .iter()
            .zip(&fitted)
            .map(|(v, f)| huber_weight(v - f, scale))
            .collect();
        fit = weighted(x, y, &weights)?;
        let moved = apply(x, &fit)?;
        let step = moved
            .iter()
            .zip(&fitted)
            .fold(0.0_f64, |m, (a, b)| m.max((a - b).abs()));
        if step <= 1e-10 * scale {
            return Ok(fit);
        }
    }
    Err(NumericError::NotSettled { rounds: ROUNDS })
}

/// The fitted values `x·b`.
///
/// # Inputs
/// - `x`: n × p, row-major, finite.
/// - `coefficients`: length p, finite.
///
/// # Returns
/// Length n.
///
/// # Errors
/// - [`NumericError::Empty`]: no coefficients.
/// - [`NumericError::Shape`]: `x` is no whole number of rows.
/// - [`NumericError::Value`]: NaN or infinity.
///
/// # Example
/// ```
/// use numeric::robust::apply;
/// assert_eq!(apply(&[1.0, 2.0, 1.0, 3.0], &[10.0, 1.0])?, vec![12.0, 13.0]);
/// assert!(apply(&[1.0, 2.0, 3.0], &[10.0, 1.0]).is_err());
/// # Ok::<(), numeric::NumericError>(())
/// ```
pub fn apply(x: &[f64], coefficients: &[f64]) -> Result<Vec<f64>, NumericError> {
    let columns = coefficients.len();
    if columns == 0 {
        return Err(NumericError::Empty {
            what: "coefficients",
        });
    }
    length("x", x, x.len() / columns * columns)?;
    finite("x", x)?;
    finite("coefficients", coefficients)?;
    Ok(x.chunks_exact(columns)
        .map(|row| row.iter().zip(coefficients).map(|(a, b)| a * b).sum())
        .collect())
}

#[cfg(test)]
mod tests {
    use super::{HUBER_TURN, huber_weight};

    #[test]
    fn weight_is_even_and_meets_one_at_the_turn() {
        for r in [0.0, 0.3, HUBER_TURN, 2.0, 50.0] {
            assert_eq!(huber_weight(r, 1.0), huber_weight(-r, 1.0));
        }
        assert_eq!(huber_weight(HUBER_TURN, 1.0), 1.0);
        assert!(huber_weight(HUBER_TURN + 1e-9, 1.0) < 1.0);
    }
}
