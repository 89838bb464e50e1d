//! Amounts as a person types them.

use refettle_facts::money::Money;

/// Largest amount taken, whole units.
const LARGEST: i64 = 1_000_000;

/// Reads an amount in whole units with at most two decimals, such as `1200`, `1200.50`, `1200,50` or `1200 EUR`: the currency is
/// the garage's own, a word beside the number is only for the eye.
///
/// # Errors
/// What is wrong with it, and what to write.
pub fn amount(text: &str) -> Result<Money, String> {
    let refused = || {
        format!("'{text}' is no amount; write whole units with at most two decimals, such as 1200 or 1200.50")
    };
    let number = text
        .trim()
        .trim_end_matches(|c: char| c.is_ascii_alphabetic())
        .trim_end();
    let word = text.trim().len() - number.len();
    if word > 4 {
        return Err(refused());
    }
    let number = number.replace(',', ".");
    let (whole, part) = number.split_once('.').unwrap_or((&number, ""));
    let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty()
        || whole.len() > 12
        || part.len() > 2
        || !digits(whole)
        || !digits(part)
        || number.ends_with('.')
    {
        return Err(refused());
    }
    let whole: i64 = whole.parse().map_err(|_| refused())?;
    let part: i64 = format!("{part:0<2}").parse().map_err(|_| refused())?;
    if whole > LARGEST {
        return Err(format!(
            "'{text}' is more than {LARGEST}, the most that is taken; is it typed in whole units?"
        ));
    }
    Ok(Money(whole * 100 + part))
}

/// An amount as it is shown: `1 234.50`, `-12.00`.
#[must_use]
pub fn shown(amount: Money) -> String {
    let (whole, part) = (amount.0.unsigned_abs() / 100, amount.0.unsigned_abs() % 100);
    let digits = whole.to_string();
    let mut grouped = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            grouped.push(' ');
        }
        grouped.push(digit);
    }
    let sign = if amount.0 < 0 { "-" } else { "" };
    format!("{sign}{grouped}.{part:02}")
}

/// Hours as a person types them, `6`, `6.5` or `6,5`, as whole seconds.
///
/// # Errors
/// What is wrong, and what to write.
pub fn hours(text: &str) -> Result<refettle_facts::time::Seconds, String> {
    let refused = || format!("'{text}' is no number of hours from 0 to 4000; write 6 or 6.5");
    let plain = text.trim().trim_end_matches('h').trim_end().replace(',', ".");
    let value: f64 = plain.parse().map_err(|_| refused())?;
    if !(0.0..=4000.0).contains(&value) {
        return Err(refused());
    }
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "range checked above"
    )]
    Ok(refettle_facts::time::Seconds((value * 3600.0).round() as u32))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_amount_is_whole_units_with_two_decimals_at_most() {
        for (typed, minor) in [
            ("1200", 120_000),
            ("1200.5", 120_050),
            ("3,50", 350),
            ("0.07 EUR", 7),
            (" 12.34usd ", 1234),
        ] {
            assert_eq!(amount(typed), Ok(Money(minor)), "{typed}");
        }
        for typed in [
            "",
            "EUR",
            "-5",
            "1.234",
            "1,200",
            "12.",
            "1e9",
            "1000001",
            "12 euros of",
            "0x10",
            "٣",
        ] {
            assert!(amount(typed).is_err(), "{typed}");
        }
    }

    #[test]
    fn an_amount_is_shown_in_groups_of_three() {
        assert_eq!(shown(Money(123_456_789)), "1 234 567.89");
        assert_eq!(shown(Money(-1205)), "-12.05");
        assert_eq!(shown(Money(0)), "0.00");
    }

    #[test]
    fn hours_are_a_number_in_range() {
        assert_eq!(hours("6,5 h").map(|s| s.0), Ok(23_400));
        for typed in ["", "-1", "NaN", "inf", "4001", "six"] {
            assert!(hours(typed).is_err(), "{typed}");
        }
    }
}
