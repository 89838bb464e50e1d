//! Amounts as a person writes them: `12.50`, with as many decimals as the currency has.

use refettle_memory::entry::{Amount, Currency};

/// Decimals of a currency's minor unit: two, but for those that ISO 4217 lists with none or three (from memory).
#[must_use]
pub fn decimals(currency: &Currency) -> u32 {
    match currency.as_str() {
        "BIF" | "CLP" | "DJF" | "GNF" | "ISK" | "JPY" | "KMF" | "KRW" | "PYG" | "RWF" | "UGX" | "UYI"
        | "VND" | "VUV" | "XAF" | "XOF" | "XPF" => 0,
        "BHD" | "IQD" | "JOD" | "KWD" | "LYD" | "OMR" | "TND" => 3,
        _ => 2,
    }
}

/// An amount with its currency: `12.50 EUR`.
#[must_use]
pub fn shown(amount: &Amount) -> String {
    let decimals = decimals(amount.currency());
    let minor = amount.money().0;
    if decimals == 0 {
        return format!("{minor} {}", amount.currency());
    }
    let unit = 10_i64.pow(decimals);
    let width = usize::try_from(decimals).unwrap_or(2);
    format!("{}.{:0width$} {}", minor / unit, minor % unit, amount.currency())
}

/// A text was no amount of this currency.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{text}' is no amount of {currency}: write digits, and after a point at most {decimals}, such as {example}"
)]
pub struct NoAmount {
    text: String,
    currency: Currency,
    decimals: u32,
    example: String,
}

/// Reads an amount as typed: digits, perhaps a point or comma and decimals.
///
/// # Errors
/// [`NoAmount`] for anything else, also for more decimals than the currency has.
pub fn read(text: &str, currency: &Currency) -> Result<Amount, NoAmount> {
    let decimals = decimals(currency);
    let wrong = || NoAmount {
        text: text.chars().take(40).collect(),
        currency: currency.clone(),
        decimals,
        example: if decimals == 0 { "12".into() } else { "12.5".into() },
    };
    let plain = text.trim().replace(',', ".");
    let (whole, part) = plain.split_once('.').unwrap_or((&plain, ""));
    let digits = |t: &str| t.bytes().all(|b| b.is_ascii_digit());
    let width = usize::try_from(decimals).unwrap_or(2);
    let trailing_point = plain.contains('.') && part.is_empty();
    if whole.is_empty() || trailing_point || !digits(whole) || !digits(part) || part.len() > width {
        return Err(wrong());
    }
    let minor: i64 = format!("{whole}{part:0<width$}").parse().map_err(|_| wrong())?;
    Amount::new(minor, currency.clone()).map_err(|_| wrong())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shown_reads_back() {
        for (code, minor, text) in [
            ("EUR", 1250, "12.50"),
            ("EUR", 5, "0.05"),
            ("JPY", 12_000, "12000"),
            ("KWD", 1_234, "1.234"),
        ] {
            let currency = Currency::new(code).unwrap();
            let amount = Amount::new(minor, currency.clone()).unwrap();
            assert_eq!(shown(&amount), format!("{text} {code}"));
            assert_eq!(read(text, &currency), Ok(amount));
        }
        let euro = Currency::new("EUR").unwrap();
        assert_eq!(read(" 12,5 ", &euro).unwrap().money().0, 1250);
        for bad in [
            "",
            "-1",
            "1.234",
            "1.",
            ".5",
            "1e3",
            "99999999999999999999",
            "1.2.3",
            "12 EUR",
        ] {
            let said = read(bad, &euro).unwrap_err().to_string();
            assert!(said.contains("no amount of EUR"), "{said}");
        }
    }
}
