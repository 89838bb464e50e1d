//! What thread is this? Candidates with probability from the outside diameter and the pitch.
//!
//! Entry: [`identify`]. The model, for each thread of the table:
//! - a sound screw's outside diameter lies anywhere between its limits of size (6g, 2A); wear takes up to
//!   `wear` off, plating adds up to `plating`; the caliper errs with a standard deviation `od_error`;
//! - the pitch reads with a standard deviation `pitch_error`;
//! - before measuring all are equally likely, but for the origin of the machine where it is known;
//! - one more hypothesis, "none of these", is spread evenly over all sizes.
//!
//! The probabilities of the candidates and of "none of these" sum to one. They are about the reading, not about
//! safety: fit a known good nut by hand over its full length before trusting any of them.

use super::likelihood::{NONE_DENSITY, Reading};
use super::look_alike::{self, LookAlike};
use super::spanner::{self, SpannerSize};
use super::thread::{self, TapDrill, Thread};
use crate::quantity::{Length, Ratio, from_mm};
use crate::shown::said_mm;
use uom::si::ratio::ratio;

/// Spread of a caliper reading, in mm: the graduation of a vernier caliper (from memory of DIN 862, unverified).
pub const CALIPER_MM: f64 = 0.05;
/// Wear of the crests, in mm on the diameter, at most (common practice, no source).
pub const WEAR_MM: f64 = 0.10;
/// Plating, in mm on the diameter, at most: 8 µm of zinc a side (common practice, no source).
pub const PLATING_MM: f64 = 0.016;
/// Spread of a pitch read with a leaf gauge, as a share of the pitch (common practice, no source).
pub const PITCH_SHARE: f64 = 0.02;
/// Spread of a count of threads over an inch, in threads (common practice, no source).
pub const COUNT_SPREAD: f64 = 0.4;
/// Candidates less likely than this are left out.
pub const LEAST_SHOWN: f64 = 0.001;
/// The pitch as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pitch {
    /// A length, from a leaf gauge or a rule over several turns.
    Length(Length),
    /// A count of threads in one inch.
    PerInch(f64),
}

/// Where the machine was made, as far as its threads go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Not known, or a mixture.
    Unknown,
    /// A metric machine; pipe threads on fittings are at home on both.
    Metric,
    /// A machine with UNC and UNF.
    Inch,
}

/// What was measured, and how well.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Outside diameter over the crests.
    pub outside: Length,
    /// Spread of that reading.
    pub outside_error: Length,
    /// Pitch.
    pub pitch: Pitch,
    /// Spread of the pitch reading; `None` for that of a leaf gauge or a count.
    pub pitch_error: Option<Length>,
    /// Wear at most, on the diameter.
    pub wear: Length,
    /// Plating at most, on the diameter.
    pub plating: Length,
    /// Where the machine is from.
    pub origin: Origin,
}

impl Measured {
    /// A caliper and a leaf gauge on a used, plated screw of a machine of unknown origin.
    #[must_use]
    pub fn new(outside: Length, pitch: Pitch) -> Measured {
        Measured {
            outside,
            outside_error: from_mm(CALIPER_MM),
            pitch,
            pitch_error: None,
            wear: from_mm(WEAR_MM),
            plating: from_mm(PLATING_MM),
            origin: Origin::Unknown,
        }
    }
}

/// What to ask for at the counter.
#[derive(Debug, Clone, PartialEq)]
pub struct ToBuy {
    /// Screw or fitting.
    pub screw: String,
    /// Nut, or how the hole is made.
    pub nut: String,
    /// Tap to clean the hole.
    pub tap: String,
    /// Where heads of this thread differ by standard: the new screw may want another spanner than the old.
    pub head: Option<String>,
}

/// One thread it may be.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The thread.
    pub thread: Thread,
    /// How likely.
    pub probability: Ratio,
    /// Outside range of a sound screw.
    pub outside_range: (Length, Length),
    /// Drill for a new hole of this thread.
    pub tap_drill: Option<TapDrill>,
    /// Spanners and keys, by standard.
    pub spanners: Vec<SpannerSize>,
    /// Threads it may be taken for.
    pub look_alikes: Vec<LookAlike>,
    /// What to ask for.
    pub to_buy: ToBuy,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Identification {
    /// Candidates, likeliest first.
    pub candidates: Vec<Candidate>,
    /// How likely it is none of the table.
    pub none_of_these: Ratio,
    /// What the answer rests on.
    pub assumptions: Vec<String>,
}

/// Why a thread was not identified.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum IdentifyError {
    /// Outside diameter out of the table.
    #[error(
        "an outside diameter of {mm} mm; the table goes from {least_mm} to {most_mm} mm (M3 to M24): measure again, or it is no thread of ours"
    )]
    OutsideRange {
        /// What was measured.
        mm: String,
        /// Smallest.
        least_mm: String,
        /// Largest.
        most_mm: String,
    },
    /// Pitch out of the table.
    #[error(
        "a pitch of {mm} mm ({per_inch} threads per inch); the table goes from 0.4 to 3.5 mm (64 to 7 per inch): measure again"
    )]
    PitchRange {
        /// Pitch.
        mm: String,
        /// The same as a count.
        per_inch: String,
    },
    /// An error, wear or plating that cannot be meant.
    #[error("{what} of {mm} mm; between {least} and {most} mm is taken")]
    Allowance {
        /// Which one.
        what: &'static str,
        /// What was given.
        mm: String,
        /// Least taken.
        least: &'static str,
        /// Most taken.
        most: &'static str,
    },
    /// Nothing in the table fits.
    #[error(
        "no thread of the table has {reading}; nearest is {nearest}, {its_sizes}: measure again; an old British thread is not in the table"
    )]
    NothingFits {
        /// What was measured.
        reading: String,
        /// Nearest thread.
        nearest: &'static str,
        /// Its outside range and pitch.
        its_sizes: String,
    },
    /// A named thread that the measurement contradicts.
    #[error(
        "{measured_mm} mm outside diameter on {article} {thread}? a sound {thread} measures {least_mm} to {most_mm} mm; measure again or name another thread"
    )]
    NotThatThread {
        /// Measured outside.
        measured_mm: String,
        /// "a" or "an".
        article: &'static str,
        /// Thread named.
        thread: &'static str,
        /// Its smallest outside.
        least_mm: String,
        /// Its largest outside.
        most_mm: String,
    },
}

/// Candidates for what was measured, likeliest first.
///
/// `P(thread | reading) ∝ weight · mean over the outside range of N(outside; od_error) · N(pitch; pitch_error)`.
///
/// ```
/// use refettle_facts::fasteners::identify::{Measured, Pitch, identify};
/// use refettle_facts::quantity::parse_length;
/// let outside = parse_length("7.9 mm").unwrap();
/// let found = identify(&Measured::new(outside, Pitch::PerInch(24.0))).unwrap();
/// assert_eq!(found.candidates[0].thread.name, "5/16-24");
/// ```
///
/// # Errors
/// [`IdentifyError`] for readings outside the table, allowances that cannot be meant, and when "none of these" is
/// likelier than nine in ten, with the nearest thread named.
pub fn identify(measured: &Measured) -> Result<Identification, IdentifyError> {
    let reading = Reading::of(measured)?;
    let weighed: Vec<(Thread, f64)> = thread::all().map(|t| (t, reading.weight(&t))).collect();
    let none = NONE_DENSITY;
    let total = none + weighed.iter().map(|(_, w)| w).sum::<f64>();
    if none / total > 0.9 {
        return Err(reading.nothing_fits());
    }
    let mut candidates: Vec<Candidate> = weighed
        .into_iter()
        .filter(|(_, weight)| weight / total >= LEAST_SHOWN)
        .map(|(thread, weight)| candidate(thread, weight / total))
        .collect();
    candidates.sort_by(|a, b| b.probability.value.total_cmp(&a.probability.value));
    Ok(Identification {
        candidates,
        none_of_these: Ratio::new::<ratio>(none / total),
        assumptions: reading.assumptions(measured),
    })
}

/// Whether an outside diameter can be that of a named thread, worn and plated as usual.
///
/// # Errors
/// [`IdentifyError::NotThatThread`] outside the limits of size less 0.2 mm of wear and error, plus 0.12 mm of
/// plating and error.
pub fn check_named(thread: &Thread, outside: Length) -> Result<(), IdentifyError> {
    let (least, most) = thread.outside_range();
    let low = least - from_mm(WEAR_MM + 2.0 * CALIPER_MM);
    let high = most + from_mm(PLATING_MM + 2.0 * CALIPER_MM);
    if outside >= low && outside <= high {
        Ok(())
    } else {
        Err(IdentifyError::NotThatThread {
            measured_mm: said_mm(outside),
            article: if thread.name.starts_with(['M', 'R']) {
                "an"
            } else {
                "a"
            },
            thread: thread.name,
            least_mm: said_mm(least),
            most_mm: said_mm(most),
        })
    }
}

fn candidate(thread: Thread, probability: f64) -> Candidate {
    Candidate {
        probability: Ratio::new::<ratio>(probability),
        outside_range: thread.outside_range(),
        tap_drill: thread.tap_drill,
        spanners: spanner::sizes(&thread),
        look_alikes: look_alike::of(&thread),
        to_buy: to_buy(&thread),
        thread,
    }
}

fn to_buy(thread: &Thread) -> ToBuy {
    let full = match thread.series {
        thread::Series::MetricCoarse | thread::Series::MetricFine => {
            format!("M{} × {}", said_mm(thread.major), said_mm(thread.pitch))
        }
        thread::Series::UnifiedCoarse | thread::Series::UnifiedFine => {
            format!("{} {}", thread.name, thread.series.words())
        }
        _ => thread.name.to_owned(),
    };
    if thread.series.is_pipe() {
        return ToBuy {
            screw: format!("fitting or plug {full} ({})", thread.series.words()),
            nut: "seals by washer on G, on the thread on R and NPT: never mix them".to_owned(),
            tap: format!("tap {full}"),
            head: None,
        };
    }
    ToBuy {
        screw: format!("screw {full}, of the class marked on the old head, same length and head"),
        nut: format!("nut {full}, class to match (8 for 8.8, 10 for 10.9)"),
        tap: format!("tap {full} to clean the hole, die or thread file for the screw"),
        head: head_warning(thread),
    }
}

/// Said where a Japanese head of this thread takes another spanner than the ISO one sold over the counter.
fn head_warning(thread: &Thread) -> Option<String> {
    let across = |standard: &str| {
        spanner::sizes(thread)
            .into_iter()
            .find(|s| s.standard.starts_with(standard))
            .map(|s| s.across_flats)
    };
    let (iso, small) = (across("ISO 4014")?, across("JIS small hexagon")?);
    Some(format!(
        "a screw from the shop has the ISO head, {} mm across flats; a Japanese machine may have the small head, {} mm: buy the head that fits where a socket must go in",
        said_mm(iso),
        said_mm(small)
    ))
}
