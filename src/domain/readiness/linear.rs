//! Small dense symmetric matrices, row by row in one slice: what the belief's arithmetic needs and no more.

/// The lower Cholesky factor of a symmetric positive definite matrix of `n` rows; none where it is not one.
pub(super) fn cholesky(matrix: &[f64], n: usize) -> Option<Vec<f64>> {
    let mut factor = vec![0.0; n * n];
    for row in 0..n {
        for column in 0..=row {
            let (a, b) = (&factor[row * n..row * n + column], &factor[column * n..column * n + column]);
            let mut rest = matrix[row * n + column];
            for at in 0..column {
                rest -= a[at] * b[at];
            }
            factor[row * n + column] = if row == column {
                if rest.is_nan() || rest <= 0.0 {
                    return None;
                }
                rest.sqrt()
            } else {
                rest / factor[column * n + column]
            };
        }
    }
    Some(factor)
}

/// The logarithm of a matrix's determinant, from its Cholesky factor.
pub(super) fn ln_determinant(factor: &[f64], n: usize) -> f64 {
    (0..n).map(|at| 2.0 * factor[at * n + at].ln()).sum()
}

/// The inverse of a matrix, from its Cholesky factor.
pub(super) fn inverse(factor: &[f64], n: usize) -> Vec<f64> {
    // The inverse of the factor, which is lower as well.
    let mut lower = vec![0.0; n * n];
    for column in 0..n {
        lower[column * n + column] = 1.0 / factor[column * n + column];
        for row in column + 1..n {
            let sum: f64 = (column..row).map(|at| factor[row * n + at] * lower[at * n + column]).sum();
            lower[row * n + column] = -sum / factor[row * n + row];
        }
    }
    let mut whole = vec![0.0; n * n];
    for row in 0..n {
        for column in 0..=row {
            let sum: f64 = (row..n).map(|at| lower[at * n + row] * lower[at * n + column]).sum();
            (whole[row * n + column], whole[column * n + row]) = (sum, sum);
        }
    }
    whole
}

/// A matrix times a vector.
pub(super) fn times(matrix: &[f64], vector: &[f64]) -> Vec<f64> {
    let n = vector.len();
    matrix.chunks(n.max(1)).map(|row| row.iter().zip(vector).map(|(a, b)| a * b).sum()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against numpy 2.4.6 `linalg.cholesky`, `linalg.inv` and `linalg.slogdet`: the factor of this matrix is a textbook
    /// one ([[2,0,0],[6,1,0],[-8,5,3]]), its determinant 36.
    #[test]
    fn a_textbook_matrix_is_factored_and_inverted() {
        let matrix = [4.0, 12.0, -16.0, 12.0, 37.0, -43.0, -16.0, -43.0, 98.0];
        let factor = cholesky(&matrix, 3).expect("it is positive definite");
        assert_eq!(factor, [2.0, 0.0, 0.0, 6.0, 1.0, 0.0, -8.0, 5.0, 3.0]);
        assert!((ln_determinant(&factor, 3) - 36f64.ln()).abs() < 1e-12);
        let inverse = inverse(&factor, 3);
        for row in 0..3 {
            let unit = times(&matrix, &inverse[row * 3..row * 3 + 3]);
            for (column, value) in unit.iter().enumerate() {
                assert!((value - f64::from(u8::from(row == column))).abs() < 1e-9, "{row} {column} {value}");
            }
        }
        assert!(cholesky(&[1.0, 2.0, 2.0, 1.0], 2).is_none(), "not positive definite");
    }
}
