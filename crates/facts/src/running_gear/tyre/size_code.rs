//! The size on the side wall: `180/55ZR17 M/C 73W`, `130/90-16 67H`, `4.00-18 64S`, `MT90-16`.

use super::load_and_speed::{ServiceDescription, ServiceError, load_index, speed_symbol};
use super::width_letter::{LetterWidth, known, width_of};
use crate::plausible::{Bounds, Implausible};
use crate::published::Provenance;
use crate::quantity::{INCH_M, Length, Ratio, from_mm};
use uom::si::{length, ratio};

const WIDTH_MM: Bounds = Bounds {
    what: "section width",
    unit: "mm",
    low: 50.0,
    high: 330.0,
    advice: "the first number of a metric size is the width, such as 120 in 120/70-17",
};
const WIDTH_IN: Bounds = Bounds {
    what: "section width",
    unit: "in",
    low: 1.75,
    high: 6.5,
    advice: "the first number of an inch size is the width, such as 4.00 in 4.00-18",
};
const ASPECT: Bounds = Bounds {
    what: "aspect",
    unit: "%",
    low: 30.0,
    high: 100.0,
    advice: "the number after the stroke is height in per cent of width, such as 70 in 120/70-17",
};
const RIM: Bounds = Bounds {
    what: "rim",
    unit: "in",
    low: 8.0,
    high: 30.0,
    advice: "the last number of the size is the rim diameter in inches, such as 17",
};

/// Why a size was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SizeCodeError {
    /// Not of a form known here.
    #[error(
        "'{text}' is no tyre size known here: write it as on the side wall, such as 120/70-17, 180/55ZR17 73W, 4.00-18 or MT90-16{hint}"
    )]
    Unreadable {
        /// What was given.
        text: String,
        /// Why, or empty.
        hint: &'static str,
    },
    /// A letter without a width.
    #[error(
        "the letter {letter} of '{text}' has no width here (charts disagree on it, or name none); letters with one are {known}; look for the metric size beside it"
    )]
    WidthLetter {
        /// What was given.
        text: String,
        /// The letter.
        letter: char,
        /// Letters that would do.
        known: String,
    },
    /// A number that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// Load index or speed symbol.
    #[error(transparent)]
    Service(#[from] ServiceError),
}

/// How the carcass is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Carcass {
    /// `R`.
    Radial,
    /// `B`.
    BiasBelted,
    /// `-`: cross-ply; on some older tyres nothing more than a dash.
    CrossPly,
}

/// A tyre size.
#[derive(Debug, Clone, PartialEq)]
pub struct TyreSize {
    /// Nominal section width.
    pub width: Length,
    /// Where the width is from, when it is not printed in the size itself but named by a letter.
    pub width_citation: Option<Provenance>,
    /// Height over width; unknown on an inch size, which does not print it.
    pub aspect: Option<Ratio>,
    /// Nominal rim diameter.
    pub rim: Length,
    /// Build.
    pub carcass: Carcass,
    /// `Z` in the size: over 240 km/h.
    pub z_in_size: bool,
    /// Load and speed where they were given.
    pub service: Option<ServiceDescription>,
}

/// Reads a tyre size, with or without `M/C`, `TL`, `TT` and load with speed after it.
///
/// Metric: width in mm, stroke, height in per cent of width, build, rim in inches. Inch: width in inches, dash,
/// rim in inches; the height is not printed and stays unknown. Alphanumeric: M, a letter for the width
/// ([`width_letter`](super::width_letter)), height in per cent of width, build, rim in inches; the charts pair such
/// a size with a metric one of the same width and nearly the same height, which is no leave to swap them.
///
/// ```
/// use refettle_facts::{quantity::mm, running_gear::tyre::size_code::parse};
/// let size = parse("180/55ZR17 M/C 73W").unwrap();
/// assert!((mm(size.width) - 180.0).abs() < 1e-9 && size.z_in_size);
/// assert_eq!(size.service.unwrap().load.index, 73);
/// ```
///
/// # Errors
/// [`SizeCodeError`] naming what was given, the limit and an example.
pub fn parse(text: &str) -> Result<TyreSize, SizeCodeError> {
    let unreadable = |hint| SizeCodeError::Unreadable {
        text: text.trim().chars().take(40).collect(),
        hint,
    };
    if text.len() > 60 {
        return Err(unreadable(""));
    }
    let upper = text.trim().to_ascii_uppercase().replace(',', ".");
    let mut words = upper.split_whitespace();
    let code = words.next().ok_or_else(|| unreadable(""))?;
    let Section {
        width,
        width_citation,
        aspect,
        rest,
    } = if code.starts_with(|c: char| c.is_ascii_alphabetic()) {
        alphanumeric(code, &unreadable)?
    } else {
        metric_or_inch(code, &unreadable)?
    };
    let (carcass, z_in_size, rest) = build(rest).ok_or_else(|| unreadable(""))?;
    let (rim, after) = leading_number(rest).ok_or_else(|| unreadable(""))?;
    RIM.check(rim)?;
    let mut service = None;
    let tail = after.strip_prefix("M/C").unwrap_or(after);
    for word in std::iter::once(tail).chain(words) {
        match word {
            "" | "M/C" | "TL" | "TT" | "REINF" | "REINF." | "RF" => {}
            _ if service.is_none() => service = Some(service_description(word, &unreadable)?),
            _ => return Err(unreadable("")),
        }
    }
    Ok(TyreSize {
        width,
        width_citation,
        aspect,
        rim: Length::new::<length::meter>(rim * INCH_M),
        carcass,
        z_in_size,
        service,
    })
}

/// Width and height of a size, and what follows them.
struct Section<'t> {
    width: Length,
    width_citation: Option<Provenance>,
    aspect: Option<Ratio>,
    rest: &'t str,
}

fn metric_or_inch<'t>(
    code: &'t str,
    unreadable: &impl Fn(&'static str) -> SizeCodeError,
) -> Result<Section<'t>, SizeCodeError> {
    if let Some((width, rest)) = code.split_once('/') {
        let (aspect, rest) = leading_number(rest).ok_or_else(|| unreadable(""))?;
        let width: f64 = width.parse().map_err(|_| unreadable(""))?;
        WIDTH_MM.check(width)?;
        ASPECT.check(aspect)?;
        return Ok(Section {
            width: from_mm(width),
            width_citation: None,
            aspect: Some(Ratio::new::<ratio::ratio>(aspect / 100.0)),
            rest,
        });
    }
    let (width, rest) = leading_number(code).ok_or_else(|| unreadable(""))?;
    WIDTH_IN.check(width)?;
    Ok(Section {
        width: Length::new::<length::meter>(width * INCH_M),
        width_citation: None,
        aspect: None,
        rest,
    })
}

/// `MT90` of `MT90-16`.
fn alphanumeric<'t>(
    code: &'t str,
    unreadable: &impl Fn(&'static str) -> SizeCodeError,
) -> Result<Section<'t>, SizeCodeError> {
    const HINT: &str =
        "; an old alphanumeric size is written such as MT90-16 or MU85B16, without a speed letter";
    let letter = code
        .strip_prefix('M')
        .and_then(|rest| rest.chars().next())
        .filter(char::is_ascii_alphabetic)
        .ok_or_else(|| unreadable(HINT))?;
    let (aspect, rest) = code
        .get(2..)
        .and_then(leading_number)
        .ok_or_else(|| unreadable(HINT))?;
    if build(rest).is_none() {
        return Err(unreadable(HINT));
    }
    ASPECT.check(aspect)?;
    let LetterWidth { width, citation } = width_of(letter).ok_or_else(|| SizeCodeError::WidthLetter {
        text: code.chars().take(40).collect(),
        letter,
        known: known(),
    })?;
    Ok(Section {
        width,
        width_citation: Some(citation),
        aspect: Some(Ratio::new::<ratio::ratio>(aspect / 100.0)),
        rest,
    })
}

/// Reads load and speed as stamped, such as `73W` or `(75W)`.
fn service_description(
    word: &str,
    unreadable: &impl Fn(&'static str) -> SizeCodeError,
) -> Result<ServiceDescription, SizeCodeError> {
    let (open, inner) = match word.strip_prefix('(').and_then(|w| w.strip_suffix(')')) {
        Some(inner) => (true, inner),
        None => (false, word),
    };
    let digits: String = inner.chars().take_while(char::is_ascii_digit).collect();
    let index: u32 = digits.parse().map_err(|_| unreadable(""))?;
    let letter = inner.get(digits.len()..).unwrap_or("");
    let symbol = if open {
        format!("({letter})")
    } else {
        letter.to_owned()
    };
    Ok(ServiceDescription {
        load: load_index(index)?,
        speed: speed_symbol(&symbol)?,
    })
}

fn build(rest: &str) -> Option<(Carcass, bool, &str)> {
    let (z, rest) = match rest.strip_prefix('Z') {
        Some(after) => (true, after),
        None => (false, rest),
    };
    let (carcass, rest) = if let Some(after) = rest.strip_prefix('R') {
        (Carcass::Radial, after)
    } else if let Some(after) = rest.strip_prefix('B') {
        (Carcass::BiasBelted, after)
    } else if rest.starts_with('-') {
        (Carcass::CrossPly, rest)
    } else {
        return None;
    };
    // `180/55R-17` and `130/90B-16` are seen too.
    Some((carcass, z, rest.strip_prefix('-').unwrap_or(rest)))
}

fn leading_number(text: &str) -> Option<(f64, &str)> {
    let end = text
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(text.len());
    let (number, rest) = text.split_at_checked(end)?;
    number
        .parse()
        .ok()
        .filter(|n: &f64| n.is_finite())
        .map(|n| (n, rest))
}
