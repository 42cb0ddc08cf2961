//! Weighted least squares, with or without a pull of each coefficient towards
//! a value known beforehand (ridge).

use crate::{NumericError, finite, length, not_negative};

/// A column whose part at right angles to the columns before it is below this
/// share of its length counts as a mixture of them.
pub const SINGULAR_SHARE: f64 = 1e-12;

/// Finds the coefficients `b` that make `Σ wᵢ (yᵢ − xᵢ·b)²` smallest.
///
/// # Inputs
/// - `x`: n × p, row-major, finite. A constant term is a column of ones.
/// - `y`: length n, finite.
/// - `weights`: length n, each ≥ 0.
///
/// # Returns
/// Length p coefficients, in the units of `y` over those of the column.
///
/// # Errors
/// - [`NumericError::Shape`]: lengths disagree.
/// - [`NumericError::Value`]: NaN, infinity or a negative weight.
/// - [`NumericError::Empty`]: no rows or no columns.
/// - [`NumericError::Singular`]: fewer useful rows than columns, or columns that are mixtures.
///
/// # Source
/// Orthogonal reflections on columns scaled to length one, so the products of
/// columns, which would square the error of nearly collinear data, are never
/// formed. Certified estimates in `checks/numeric_strd.tsv`.
///
/// # Example
/// ```
/// use numeric::least_squares::weighted;
/// let x = [1.0, 0.0, 1.0, 1.0, 1.0, 2.0];
/// let b = weighted(&x, &[1.0, 3.0, 5.0], &[1.0, 1.0, 1.0])?;
/// assert!((b[0] - 1.0).abs() < 1e-12 && (b[1] - 2.0).abs() < 1e-12);
/// assert!(weighted(&x, &[1.0, 3.0], &[1.0, 1.0, 1.0]).is_err());
/// # Ok::<(), numeric::NumericError>(())
/// ```
pub fn weighted(x: &[f64], y: &[f64], weights: &[f64]) -> Result<Vec<f64>, NumericError> {
    let columns = columns_of(x, y)?;
    let none = vec![0.0; columns];
    ridge(x, y, weights, &none, &none)
}

/// Finds the coefficients `b` that make
/// `Σ wᵢ (yᵢ − xᵢ·b)² + Σ λⱼ (bⱼ − cⱼ)²` smallest: least squares with each
/// coefficient pulled towards its own centre.
///
/// # Inputs
/// - `x`: n × p, row-major, finite.
/// - `y`: length n, finite.
/// - `weights`: length n, each ≥ 0.
/// - `penalty`: length p, each λ ≥ 0; 0 leaves the coefficient free.
/// - `centre`: length p, finite; where each coefficient is pulled to.
///
/// # Returns
/// Length p coefficients.
///
/// # Errors
/// As [`weighted`]; a column that is a mixture is accepted once it has a penalty.
///
/// # Source
/// The penalty is solved as p further rows, √λⱼ bⱼ = √λⱼ cⱼ. Compared in
/// `checks/numeric_least_squares.tsv`.
///
/// # Example
/// ```
/// use numeric::least_squares::ridge;
/// // One observation of 4 against a pull to 2 that is as strong: half way.
/// let b = ridge(&[1.0], &[4.0], &[1.0], &[1.0], &[2.0])?;
/// assert!((b[0] - 3.0).abs() < 1e-12);
/// assert!(ridge(&[1.0], &[f64::NAN], &[1.0], &[1.0], &[2.0]).is_err());
/// # Ok::<(), numeric::NumericError>(())
/// ```
pub fn ridge(
    x: &[f64],
    y: &[f64],
    weights: &[f64],
    penalty: &[f64],
    centre: &[f64],
) -> Result<Vec<f64>, NumericError> {
    let columns = columns_of(x, y)?;
    length("weights", weights, y.len())?;
    length("penalty", penalty, columns)?;
    length("centre", centre, columns)?;
    finite("x", x)?;
    finite("y", y)?;
    finite("centre", centre)?;
    not_negative("weights", weights)?;
    not_negative("penalty", penalty)?;

    let penalised: Vec<usize> = (0..columns).filter(|&j| penalty[j] > 0.0).collect();
    let rows = y.len() + penalised.len();
    // Column by column, so that a reflection runs along memory.
    let mut matrix = vec![0.0; rows * columns];
    let mut right = vec![0.0; rows];
    for (i, (&value, &weight)) in y.iter().zip(weights).enumerate() {
        let root = weight.sqrt();
        right[i] = root * value;
        for j in 0..columns {
            matrix[j * rows + i] = root * x[i * columns + j];
        }
    }
    for (k, &j) in penalised.iter().enumerate() {
        let root = penalty[j].sqrt();
        matrix[j * rows + y.len() + k] = root;
        right[y.len() + k] = root * centre[j];
    }
    solve(&mut matrix, &mut right, rows, columns)
}

/// The number of columns, once `x` and `y` agree.
fn columns_of(x: &[f64], y: &[f64]) -> Result<usize, NumericError> {
    if y.is_empty() {
        return Err(NumericError::Empty { what: "y" });
    }
    if x.is_empty() {
        return Err(NumericError::Empty { what: "x" });
    }
    let columns = x.len() / y.len();
    length("x", x, columns.max(1) * y.len())?;
    Ok(columns)
}

/// Solves by Householder reflections; `matrix` is column-major and used up.
fn solve(
    matrix: &mut [f64],
    right: &mut [f64],
    rows: usize,
    columns: usize,
) -> Result<Vec<f64>, NumericError> {
    let mut scale = vec![1.0; columns];
    for (j, column) in matrix.chunks_exact_mut(rows).enumerate() {
        let size = norm(column);
        if size == 0.0 {
            return Err(NumericError::Singular { column: j });
        }
        scale[j] = size;
        column.iter_mut().for_each(|v| *v /= size);
    }
    let mut diagonal = vec![0.0; columns];
    for j in 0..columns {
        if j >= rows {
            return Err(NumericError::Singular { column: j });
        }
        let (before, after) = matrix.split_at_mut((j + 1) * rows);
        let pivot = &mut before[j * rows..];
        let size = norm(&pivot[j..]);
        if size < SINGULAR_SHARE {
            return Err(NumericError::Singular { column: j });
        }
        let head = if pivot[j] > 0.0 { -size } else { size };
        pivot[j] -= head;
        diagonal[j] = head;
        let reflector = &pivot[j..];
        let square = dot(reflector, reflector);
        for column in after.chunks_exact_mut(rows) {
            reflect(reflector, square, &mut column[j..]);
        }
        reflect(reflector, square, &mut right[j..]);
    }
    let mut solution = vec![0.0; columns];
    for j in (0..columns).rev() {
        let known: f64 = (j + 1..columns)
            .map(|k| matrix[k * rows + j] * solution[k])
            .sum();
        solution[j] = (right[j] - known) / diagonal[j];
    }
    for (value, size) in solution.iter_mut().zip(&scale) {
        *value /= size;
    }
    Ok(solution)
}

/// Reflects `target` in the plane at right angles to `reflector`.
fn reflect(reflector: &[f64], square: f64, target: &mut [f64]) {
    let share = 2.0 * dot(reflector, target) / square;
    for (t, r) in target.iter_mut().zip(reflector) {
        *t -= share * r;
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// Length of a vector, scaled so that squares cannot overflow.
fn norm(v: &[f64]) -> f64 {
    let largest = v.iter().fold(0.0_f64, |m, x| m.max(x.abs()));
    if largest == 0.0 {
        return 0.0;
    }
    largest
        * v.iter()
            .map(|x| (x / largest) * (x / largest))
            .sum::<f64>()
            .sqrt()
}

#[cfg(test)]
mod tests {
    use super::{ridge, weighted};
    use crate::NumericError;

    #[test]
    fn names_the_column_that_adds_nothing() {
        // The third column is the sum of the first two.
        let x = [1.0, 0.0, 1.0, 1.0, 1.0, 2.0, 1.0, 2.0, 3.0, 1.0, 3.0, 4.0];
        let y = [1.0, 2.0, 3.0, 4.0];
        assert_eq!(
            weighted(&x, &y, &[1.0; 4]),
            Err(NumericError::Singular { column: 2 })
        );
        assert!(ridge(&x, &y, &[1.0; 4], &[0.0, 0.0, 1.0], &[0.0; 3]).is_ok());
    }

    #[test]
    fn refuses_what_is_not_a_number_and_says_where() {
        let found = weighted(&[1.0, 1.0], &[1.0, 2.0], &[1.0, -1.0]);
        assert_eq!(
            found,
            Err(NumericError::Value {
                what: "weights",
                index: 1,
                found: -1.0
            })
        );
        assert!(weighted(&[1.0, f64::INFINITY], &[1.0, 2.0], &[1.0, 1.0]).is_err());
        assert_eq!(
            weighted(&[], &[], &[]),
            Err(NumericError::Empty { what: "y" })
        );
    }

    #[test]
    fn a_row_of_weight_two_counts_as_two_rows() -> Result<(), NumericError> {
        let once = weighted(
            &[1.0, 1.0, 1.0, 2.0, 1.0, 4.0],
            &[1.0, 3.0, 4.0],
            &[1.0, 2.0, 1.0],
        )?;
        let twice = weighted(
            &[1.0, 1.0, 1.0, 2.0, 1.0, 2.0, 1.0, 4.0],
            &[1.0, 3.0, 3.0, 4.0],
            &[1.0; 4],
        )?;
        assert!(once.iter().zip(&twice).all(|(a, b)| (a - b).abs() < 1e-12));
        Ok(())
    }
}
