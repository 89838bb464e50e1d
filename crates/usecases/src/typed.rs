//! What a person types of a bike to be priced: read, or noted as wrong with the others.

use refettle_facts::money::Money;
use refettle_facts::nearest::nearest;
use refettle_facts::quantity::{Length, parse_length};
use refettle_judgement::price::comparable::Winter;
use refettle_judgement::price::read::amount;

/// Farthest any bike is believed to have run. Judgement, no source.
pub(crate) const FARTHEST_KM: f64 = 1_500_000.0;
/// Earliest model year that is believed: no motorcycle was sold before.
pub(crate) const EARLIEST: i16 = 1894;

/// What is wrong so far.
pub(crate) type Mistakes = Vec<String>;

pub(crate) fn year(year: i16, on: jiff::civil::Date, mistakes: &mut Mistakes) -> i16 {
    let latest = on.year().saturating_add(1);
    if !(EARLIEST..=latest).contains(&year) {
        mistakes.push(format!(
            "--year {year} is no model year; write one from {EARLIEST} to {latest}"
        ));
    }
    year
}

pub(crate) fn distance(text: &str, mistakes: &mut Mistakes) -> Option<Length> {
    match parse_length(text) {
        Ok(length) if (0.0..=FARTHEST_KM * 1e3).contains(&length.value) => Some(length),
        Ok(_) => {
            mistakes.push(format!(
                "--distance {text} cannot be; write one from 0 km to {FARTHEST_KM:.0} km"
            ));
            None
        }
        Err(error) => {
            mistakes.push(format!("--distance: {error}, such as 31000km or 19000mi"));
            None
        }
    }
}

pub(crate) fn money(option: &str, text: &str, mistakes: &mut Mistakes) -> Option<Money> {
    amount(text)
        .map_err(|why| mistakes.push(format!("{option} {why}")))
        .ok()
}

/// A share, `20%` or `0.2`, from `least` to `most`.
pub(crate) fn share(option: &str, text: &str, least: f64, most: f64, mistakes: &mut Mistakes) -> Option<f64> {
    let typed = text.trim();
    let value = match typed.strip_suffix('%') {
        Some(percent) => percent.trim().parse::<f64>().map(|v| v / 100.0),
        None => typed.parse::<f64>(),
    };
    match value {
        Ok(value) if (least..=most).contains(&value) => Some(value),
        _ => {
            let shown: String = typed.chars().take(40).collect();
            mistakes.push(format!(
                "{option} '{shown}' is no chance from {}% to {}%; write it as 20%",
                least * 100.0,
                most * 100.0
            ));
            None
        }
    }
}

pub(crate) fn winter(text: Option<&str>, mistakes: &mut Mistakes) -> Winter {
    match text {
        None | Some("usual") => Winter::Usual,
        Some("hard") => Winter::Hard,
        Some("mild") => Winter::Mild,
        Some(other) => {
            mistakes.push(format!("--winter '{other}' is none; write hard, usual or mild"));
            Winter::Usual
        }
    }
}

pub(crate) fn month(month: i8, mistakes: &mut Mistakes) -> i8 {
    if !(1..=12).contains(&month) {
        mistakes.push(format!("--best-month {month} is no month; write 1 to 12"));
    }
    month.clamp(1, 12)
}

/// "there is no finding 'x'; did you mean 'y'?"
pub(crate) fn no_such<'a>(what: &str, name: &str, names: impl Iterator<Item = &'a str> + Clone) -> String {
    let shown: String = name.chars().take(60).collect();
    let hint = match nearest(name, names.clone()) {
        Some(near) => format!("did you mean '{near}'?"),
        None => format!("there are: {}", names.collect::<Vec<_>>().join(", ")),
    };
    format!("there is no {what} '{shown}'; {hint}")
}

/// Money as a number in whole units, to the cent, for JSON.
#[allow(clippy::cast_precision_loss, reason = "prices are far below 2^53 cents")]
pub(crate) fn units(money: Money) -> f64 {
    money.0 as f64 / 100.0
}

/// A chance or share in per cent, to a tenth.
pub(crate) fn percent(share: f64) -> f64 {
    (share * 1000.0).round() / 10.0
}

/// Money as people say a price: whole units, thousands apart.
#[must_use]
pub fn said(units: f64) -> String {
    let digits = format!("{:.0}", units.abs());
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at) % 3 == 0 {
            out.push(',');
        }
        out.push(digit);
    }
    if units <= -0.5 { format!("−{out}") } else { out }
}
