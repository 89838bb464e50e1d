//! The two shapes of robustness: how far a residual pulls.

/// Median of the absolute value of a standard normal variable; divides a median absolute deviation to make it a
/// standard deviation.
pub(crate) const NORMAL_MAD: f64 = 0.674_489_750_196_081_7;
/// Huber's constant for 95 % efficiency when errors are normal (Huber 1964; Holland and Welsch 1977).
pub const HUBER: f64 = 1.345;
/// Tukey's constant for the same (Beaton and Tukey 1974; Holland and Welsch 1977).
pub const TUKEY: f64 = 4.685;

/// How the pull of a residual is bounded. `z` is a residual over the scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Pull grows to the constant and stays: `ψ(z) = max(−k, min(k, z))`.
    Huber(f64),
    /// Pull grows, falls and is nothing beyond the constant: `ψ(z) = z (1 − (z/c)²)²`.
    Tukey(f64),
}

impl Shape {
    /// `ψ(z)`.
    #[must_use]
    pub fn pull(self, z: f64) -> f64 {
        z * self.weight(z)
    }

    /// `ψ(z)/z`, 1 at nought.
    #[must_use]
    pub fn weight(self, z: f64) -> f64 {
        match self {
            Shape::Huber(k) if z.abs() <= k => 1.0,
            Shape::Huber(k) => k / z.abs(),
            Shape::Tukey(c) if z.abs() <= c => (1.0 - (z / c).powi(2)).powi(2),
            Shape::Tukey(_) => 0.0,
        }
    }

    /// `ψ′(z)`.
    #[must_use]
    pub fn slope(self, z: f64) -> f64 {
        match self {
            Shape::Huber(k) => f64::from(u8::from(z.abs() <= k)),
            Shape::Tukey(c) if z.abs() <= c => {
                let u = (z / c).powi(2);
                (1.0 - u) * 5.0f64.mul_add(-u, 1.0)
            }
            Shape::Tukey(_) => 0.0,
        }
    }
}
