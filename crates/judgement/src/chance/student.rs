//! Student's t distribution.
//!
//! The distribution function is the regularised incomplete beta function, by its continued fraction (Abramowitz and
//! Stegun 26.5.8 and 26.7.1, evaluated by Lentz's method); the quantile is found by halving.

use std::f64::consts::PI;

/// Chance that a t variable of `freedom` degrees of freedom is at most `t`.
///
/// `P(T ≤ t) = 1 − ½ I(ν/(ν+t²); ν/2, ½)` for `t ≥ 0`. Valid for `freedom > 0`; not a number otherwise.
#[must_use]
pub fn student_cdf(t: f64, freedom: f64) -> f64 {
    if freedom.is_nan() || freedom <= 0.0 || t.is_nan() {
        return f64::NAN;
    }
    if t.is_infinite() {
        return if t > 0.0 { 1.0 } else { 0.0 };
    }
    let tail = 0.5 * incomplete_beta(freedom / t.mul_add(t, freedom), 0.5 * freedom, 0.5);
    if t >= 0.0 { 1.0 - tail } else { tail }
}

/// The `t` below which a share `p` of a t variable lies; not a number outside `0 < p < 1`.
#[must_use]
pub fn student_quantile(p: f64, freedom: f64) -> f64 {
    if !(p > 0.0 && p < 1.0 && freedom > 0.0) {
        return f64::NAN;
    }
    if p < 0.5 {
        return -student_quantile(1.0 - p, freedom);
    }
    let (mut low, mut high) = (0.0, 1.0);
    while student_cdf(high, freedom) < p && high < 1e150 {
        high *= 2.0;
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if student_cdf(middle, freedom) < p {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Regularised incomplete beta function `I(x; a, b)`.
fn incomplete_beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    // The fraction converges fast below the mean; above it the symmetry turns it round.
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - incomplete_beta(1.0 - x, b, a);
    }
    let front = (ln_gamma(a + b) - ln_gamma(a) - ln_gamma(b) + a * x.ln() + b * (-x).ln_1p()).exp();
    front * fraction(x, a, b) / a
}

/// The continued fraction of the incomplete beta function, by Lentz's method.
fn fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let kept = |v: f64| if v.abs() < TINY { TINY } else { v };
    let mut c = 1.0;
    let mut d = 1.0 / kept(1.0 - (a + b) * x / (a + 1.0));
    let mut h = d;
    for m in 1..400 {
        let m = f64::from(m);
        for numerator in [
            m * (b - m) * x / ((2.0f64.mul_add(m, a) - 1.0) * 2.0f64.mul_add(m, a)),
            -(a + m) * (a + b + m) * x / (2.0f64.mul_add(m, a) * (2.0f64.mul_add(m, a) + 1.0)),
        ] {
            d = 1.0 / kept(numerator.mul_add(d, 1.0));
            c = kept(1.0 + numerator / c);
            h *= d * c;
        }
        if (d * c - 1.0).abs() < 1e-16 {
            break;
        }
    }
    h
}

/// Natural logarithm of the gamma function for positive arguments (Lanczos 1964, g = 7 and nine terms).
fn ln_gamma(x: f64) -> f64 {
    const TERMS: [f64; 8] = [
        676.520_368_121_885_1,
        -1_259.139_216_722_402_8,
        771.323_428_777_653_1,
        -176.615_029_162_140_6,
        12.507_343_278_686_905,
        -0.138_571_095_265_720_12,
        9.984_369_578_019_572e-6,
        1.505_632_735_149_311_6e-7,
    ];
    if x < 0.5 {
        return (PI / (PI * x).sin()).ln() - ln_gamma(1.0 - x);
    }
    let x = x - 1.0;
    let mut sum = 0.999_999_999_999_809_9;
    let mut at = x;
    for term in TERMS {
        at += 1.0;
        sum += term / at;
    }
    let t = x + 7.5;
    0.5 * (2.0 * PI).ln() + (x + 0.5) * t.ln() - t + sum.ln()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One and two degrees have closed forms: ½ + atan(t)/π, and ½ + t / (2 √(2 + t²)).
    #[test]
    fn one_and_two_degrees_are_their_closed_forms() {
        for t in [-30.0, -2.5, -0.1, 0.0, 0.7, 1.0, 5.0, 1e4] {
            let one = 0.5 + f64::atan(t) / PI;
            let two = 0.5 + t / (2.0 * f64::sqrt(2.0 + t * t));
            assert!((student_cdf(t, 1.0) - one).abs() < 1e-12, "{t}");
            assert!((student_cdf(t, 2.0) - two).abs() < 1e-12, "{t}");
        }
    }

    proptest::proptest! {
        #[test]
        fn the_quantile_undoes_the_distribution(p in 0.001f64..0.999, freedom in 0.5f64..300.0) {
            let t = student_quantile(p, freedom);
            proptest::prop_assert!((student_cdf(t, freedom) - p).abs() < 1e-11);
        }
    }

    #[test]
    fn what_makes_no_sense_is_not_a_number() {
        assert!(student_cdf(1.0, 0.0).is_nan() && student_quantile(1.5, 3.0).is_nan());
        assert!((student_cdf(f64::INFINITY, 3.0) - 1.0).abs() < 1e-15);
    }
}
