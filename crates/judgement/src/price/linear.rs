//! The little linear algebra the regressions need: symmetric positive matrices of a dozen rows at most.

/// A square matrix, row by row.
pub(crate) type Matrix = Vec<Vec<f64>>;

/// `Σ wᵢ xᵢ xᵢᵀ`.
pub(crate) fn weighted_square(rows: &[Vec<f64>], weights: &[f64], size: usize) -> Matrix {
    let mut out = vec![vec![0.0; size]; size];
    for (row, w) in rows.iter().zip(weights) {
        for (line, a) in out.iter_mut().zip(row) {
            for (cell, b) in line.iter_mut().zip(row) {
                *cell += w * a * b;
            }
        }
    }
    out
}

/// `Σ wᵢ yᵢ xᵢ`.
pub(crate) fn weighted_sum(rows: &[Vec<f64>], weights: &[f64], y: &[f64], size: usize) -> Vec<f64> {
    let mut out = vec![0.0; size];
    for ((row, w), y) in rows.iter().zip(weights).zip(y) {
        for (cell, a) in out.iter_mut().zip(row) {
            *cell += w * y * a;
        }
    }
    out
}

/// `Σ xⱼ bⱼ`.
pub(crate) fn dot(x: &[f64], b: &[f64]) -> f64 {
    x.iter().zip(b).map(|(x, b)| x * b).sum()
}

/// The inverse of a symmetric positive matrix, by Gauss and Jordan with the largest pivot; `None` when it has none to
/// the precision of the arithmetic.
pub(crate) fn inverse(matrix: &Matrix) -> Option<Matrix> {
    let size = matrix.len();
    // Scaled to a diagonal of ones, so that kilometres and years weigh alike in what counts as singular.
    let mut scales = Vec::with_capacity(size);
    for (i, row) in matrix.iter().enumerate() {
        let d = *row.get(i)?;
        if !(d > 0.0 && d.is_finite()) {
            return None;
        }
        scales.push(d.sqrt());
    }
    let mut left: Matrix = matrix
        .iter()
        .zip(&scales)
        .map(|(row, s)| row.iter().zip(&scales).map(|(v, t)| v / (s * t)).collect())
        .collect();
    let mut right: Matrix = (0..size)
        .map(|i| (0..size).map(|j| if i == j { 1.0 } else { 0.0 }).collect())
        .collect();
    for column in 0..size {
        let size_at = |r: usize| {
            left.get(r)
                .and_then(|row| row.get(column))
                .map_or(0.0, |v| v.abs())
        };
        let pivot = (column..size).max_by(|a, b| size_at(*a).total_cmp(&size_at(*b)))?;
        if size_at(pivot) < 1e-13 {
            return None;
        }
        left.swap(column, pivot);
        right.swap(column, pivot);
        let divisor = *left.get(column)?.get(column)?;
        for v in left.get_mut(column)?.iter_mut().chain(right.get_mut(column)?) {
            *v /= divisor;
        }
        let (top, inverse_top) = (left.get(column)?.clone(), right.get(column)?.clone());
        for (row, inverse_row) in left
            .iter_mut()
            .zip(right.iter_mut())
            .enumerate()
            .filter_map(|(r, pair)| (r != column).then_some(pair))
        {
            let factor = *row.get(column)?;
            for (v, t) in row.iter_mut().zip(&top) {
                *v -= factor * t;
            }
            for (v, t) in inverse_row.iter_mut().zip(&inverse_top) {
                *v -= factor * t;
            }
        }
    }
    Some(
        right
            .iter()
            .zip(&scales)
            .map(|(row, s)| row.iter().zip(&scales).map(|(v, t)| v / (s * t)).collect())
            .collect(),
    )
}

/// Matrix times vector.
pub(crate) fn times(matrix: &Matrix, vector: &[f64]) -> Vec<f64> {
    matrix.iter().map(|row| dot(row, vector)).collect()
}

/// The middle value; the mean of the two middle ones of an even number; `None` of none.
pub(crate) fn median(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let half = sorted.len() / 2;
    let upper = *sorted.get(half)?;
    if sorted.len() % 2 == 1 {
        Some(upper)
    } else {
        sorted
            .get(half.checked_sub(1)?)
            .map(|lower| 0.5 * (lower + upper))
    }
}
