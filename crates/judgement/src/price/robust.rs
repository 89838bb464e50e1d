//! Robust linear regression by M-estimation: iteratively reweighted least squares, the scale by the median of the
//! absolute residuals.
//!
//! Huber and Ronchetti, *Robust Statistics* (2nd ed. 2009), sections 7.3 and 7.8. From the least-squares fit on, each
//! row weighs `w = ψ(r/s)/(r/s)` with `s = median |r| / 0.6745`, until no coefficient moves. The standard errors are
//! the first of the three Huber gives for designs like these (his H1):
//!
//! `K² · [Σψ²·s²/(n−p)] / [Σψ′/n]² · (XᵀX)⁻¹`, `K = 1 + p/n · var ψ′ / (mean ψ′)²`.

use super::linear::{dot, inverse, median, times, weighted_square, weighted_sum};
use super::shape::NORMAL_MAD;
pub use super::shape::{HUBER, Shape, TUKEY};

/// A robust fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Robust {
    /// A coefficient for each column.
    pub coefficients: Vec<f64>,
    /// Their standard errors (H1).
    pub standard_errors: Vec<f64>,
    /// Standard deviation of the errors as the bulk of them has it.
    pub scale: f64,
    /// What each row counts, 0 to 1.
    pub weights: Vec<f64>,
    /// The coefficients stood still before the rounds ran out.
    pub settled: bool,
}

/// Why there is no fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoFit {
    /// No row more than columns.
    #[error("{rows} rows cannot settle {columns} coefficients; note more rows than that")]
    TooFew {
        /// Rows given.
        rows: usize,
        /// Coefficients asked for.
        columns: usize,
    },
    /// Two columns say the same, or rows differ in length.
    #[error("the columns are not independent of each other; leave one out")]
    Dependent,
}

/// Rounds of reweighting at most.
const ROUNDS: usize = 500;

/// Fits `y = X b`. `rows` are the rows of X, with a column of ones where an intercept is wanted.
///
/// Where more than half of the residuals are nothing the scale is nothing: the fit through those rows is then the
/// answer, their neighbours' weights those of the round before.
///
/// # Errors
/// [`NoFit`] when the rows are too few or the columns depend on each other.
pub fn regress(rows: &[Vec<f64>], y: &[f64], shape: Shape) -> Result<Robust, NoFit> {
    let (n, p) = (rows.len(), rows.first().map_or(0, Vec::len));
    if n <= p || p == 0 || y.len() != n {
        return Err(NoFit::TooFew { rows: n, columns: p });
    }
    if rows.iter().any(|row| row.len() != p) {
        return Err(NoFit::Dependent);
    }
    let mut weights = vec![1.0; n];
    let plain = inverse(&weighted_square(rows, &weights, p)).ok_or(NoFit::Dependent)?;
    let mut b = times(&plain, &weighted_sum(rows, &weights, y, p));
    let size = y.iter().fold(1.0f64, |m, v| m.max(v.abs()));
    let (mut scale, mut settled) = (0.0, false);
    for _ in 0..ROUNDS {
        let r = residuals(rows, y, &b);
        scale = median(&r.iter().map(|r| r.abs()).collect::<Vec<_>>()).unwrap_or(0.0) / NORMAL_MAD;
        if settled || scale <= f64::EPSILON * size {
            settled = true;
            break;
        }
        weights = r.iter().map(|r| shape.weight(r / scale)).collect();
        let Some(turned) = inverse(&weighted_square(rows, &weights, p)) else {
            return Err(NoFit::Dependent);
        };
        let next = times(&turned, &weighted_sum(rows, &weights, y, p));
        settled = next
            .iter()
            .zip(&b)
            .all(|(a, b)| (a - b).abs() <= 1e-13 * a.abs().max(1e-3));
        b = next;
    }
    let standard_errors = errors(rows, y, &b, scale, shape, &plain);
    Ok(Robust {
        coefficients: b,
        standard_errors,
        scale,
        weights,
        settled,
    })
}

fn residuals(rows: &[Vec<f64>], y: &[f64], b: &[f64]) -> Vec<f64> {
    rows.iter().zip(y).map(|(row, y)| y - dot(row, b)).collect()
}

#[allow(clippy::cast_precision_loss, reason = "rows of a table")]
fn errors(rows: &[Vec<f64>], y: &[f64], b: &[f64], scale: f64, shape: Shape, plain: &[Vec<f64>]) -> Vec<f64> {
    if scale <= 0.0 {
        return vec![0.0; b.len()];
    }
    let (n, p) = (rows.len() as f64, b.len() as f64);
    let z: Vec<f64> = residuals(rows, y, b).iter().map(|r| r / scale).collect();
    let slopes: Vec<f64> = z.iter().map(|z| shape.slope(*z)).collect();
    let mean = slopes.iter().sum::<f64>() / n;
    let spread = slopes.iter().map(|s| (s - mean).powi(2)).sum::<f64>() / n;
    let k = 1.0 + p / n * spread / (mean * mean);
    let pulls: f64 = z.iter().map(|z| shape.pull(*z).powi(2)).sum();
    let factor = k * k * pulls * scale * scale / (n - p) / (mean * mean);
    plain
        .iter()
        .enumerate()
        .map(|(i, row)| row.get(i).map_or(f64::NAN, |v| (factor * v).sqrt()))
        .collect()
}
