//! Quantiles of a sample, by one stated definition.

use crate::{NumericError, finite};

/// The value below which the share `q` of a sample lies.
///
/// With the n values in order, x₀ … xₙ₋₁, it is read at place q·(n − 1), on
/// the straight line between the two neighbours (type 7 of Hyndman and Fan).
/// For a small n it lies well inside the range: other definitions reach
/// further out, so name this one when you print it.
///
/// # Inputs
/// - `values`: at least one, finite, any order.
/// - `q`: from 0 (the least) to 1 (the greatest).
///
/// # Returns
/// A value in the units of `values`.
///
/// # Errors
/// - [`NumericError::Empty`]: no values.
/// - [`NumericError::Value`]: NaN or infinity, or `q` outside 0 to 1.
///
/// # Source
/// Hyndman and Fan 1996, The American Statistician 50 (type 7; from memory).
/// Compared in `checks/numeric_quantile.tsv`.
///
/// # Example
/// ```
/// use numeric::quantile::quantile;
/// assert_eq!(quantile(&[4.0, 1.0, 2.0], 0.25)?, 1.5);
/// assert!(quantile(&[4.0], 1.5).is_err());
/// # Ok::<(), numeric::NumericError>(())
/// ```
pub fn quantile(values: &[f64], q: f64) -> Result<f64, NumericError> {
    finite("values", values)?;
    if !(0.0..=1.0).contains(&q) {
        return Err(NumericError::Value {
            what: "q",
            index: 0,
            found: q,
        });
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let last = sorted
        .len()
        .checked_sub(1)
        .ok_or(NumericError::Empty { what: "values" })?;
    let place = q * last as f64;
    let below = place.floor() as usize;
    let above = (below + 1).min(last);
    let share = place - below as f64;
    Ok(sorted[below] + share * (sorted[above] - sorted[below]))
}

/// The middle value: [`quantile`] at one half.
///
/// # Inputs
/// - `values`: at least one, finite.
///
/// # Returns
/// The middle value, or the mean of the two middle ones.
///
/// # Errors
/// As [`quantile`].
///
/// # Example
/// ```
/// use numeric::quantile::median;
/// assert_eq!(median(&[9.0, 1.0, 2.0, 4.0])?, 3.0);
/// assert!(median(&[]).is_err());
/// # Ok::<(), numeric::NumericError>(())
/// ```
pub fn median(values: &[f64]) -> Result<f64, NumericError> {
    quantile(values, 0.5)
}

#[cfg(test)]
mod tests {
    use super::quantile;

    #[test]
    fn order_does_not_matter_and_ends_are_the_range() {
        let a = [5.0, -1.0, 3.0];
        let b = [3.0, 5.0, -1.0];
        for q in [0.0, 0.1, 0.5, 0.77, 1.0] {
            assert_eq!(quantile(&a, q), quantile(&b, q));
        }
        assert_eq!(quantile(&a, 0.0), Ok(-1.0));
        assert_eq!(quantile(&a, 1.0), Ok(5.0));
    }
}
