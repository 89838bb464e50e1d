//! Numbers as people read them in an error: no float dust, no needless zeros.

/// Up to three decimals, trailing zeros cut; very large and very small ones as `1e9`.
pub(crate) fn number(value: f64) -> String {
    if !value.is_finite() || value.abs() >= 1e6 || (value != 0.0 && value.abs() < 5e-4) {
        return format!("{value:e}");
    }
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::number;

    #[test]
    fn float_dust_is_not_shown() {
        assert_eq!(number(0.29 * 100.0), "29");
        assert_eq!(number(24.99), "24.99");
        assert_eq!(number(-0.0001), "-1e-4");
        assert_eq!(number(0.0), "0");
        assert_eq!(number(1e300), "1e300");
        assert_eq!(number(f64::NAN), "NaN");
        assert_eq!(number(600.0), "600");
    }
}
