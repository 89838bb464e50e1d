//! Is this chain done? Roller chain sizes and wear as elongation, judged by named rules.
//!
//! A chain wears in its pins and bushes and so grows longer; the side plates do not stretch. Wear is uneven:
//! measure several places, light tension, and judge the worst. Start with [`size_named`] and [`wear`].

use crate::nearest::nearest;
use crate::plausible::{Bounds, Implausible};
use crate::published::{Provenance, Row, rows};
use crate::quantity::{Force, Length, Ratio, from_mm, mm};
use crate::shown::number;
use uom::si::{force, ratio};

const SIZES: &str = include_str!("../../data/running_gear/chain_sizes.tsv");
const RULES: &str = include_str!("../../data/running_gear/chain_wear_rules.tsv");

/// How far a careful reading of pin distance over many links is out, by caliper or rule: ±0.5 mm.
/// Common practice, no source.
const READING_ERROR_MM: f64 = 0.5;

const PITCHES: Bounds = Bounds {
    what: "count",
    unit: "pitches",
    low: 6.0,
    high: 200.0,
    // A chain maker's answers page asks for 6 to 10 links at the least.
    advice: "measure over 6 pitches or more, 20 is usual (21 pins)",
};
/// New chain is made to nominal length or a little over; what reads shorter, the reading error counted, is another size or
/// another count.
/// Above 4.5 % a miscounted pitch (5 % in 20) is likelier than wear. Common practice, no source.
const ELONGATION: Bounds = Bounds {
    what: "elongation",
    unit: "%",
    low: -0.5,
    high: 4.5,
    advice: "check the chain's size and count the pitches again (20 pitches are 21 pins, centre to centre)",
};
const TEETH: Bounds = Bounds {
    what: "large sprocket",
    unit: "teeth",
    low: 20.0,
    high: 110.0,
    advice: "count the teeth of the large sprocket",
};
const OWN_LIMIT: Bounds = Bounds {
    what: "the manual's limit",
    unit: "%",
    low: 0.2,
    high: 3.5,
    advice: "give the manual's wear limit as a share of the new length",
};

/// Why a chain could not be judged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ChainError {
    /// No such size.
    #[error("'{name}' is no chain size known here{hint}; known are {known}")]
    UnknownSize {
        /// What was asked for.
        name: String,
        /// A likely meaning, or empty.
        hint: String,
        /// All sizes.
        known: String,
    },
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
}

/// A standard chain size.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainSize {
    /// Trade name, such as `520`.
    pub name: &'static str,
    /// Pin centre to pin centre when new.
    pub pitch: Length,
    /// Between the inner plates: the widest sprocket that fits.
    pub inside_width: Length,
    /// Roller outside diameter, second-hand figures: the table's `roller_source`.
    pub roller: Option<Length>,
    /// Least breaking load; from memory, so a hint and no limit.
    pub tensile_from_memory: Option<Force>,
    /// Source and standing of pitch and width.
    pub citation: Provenance,
}

/// All sizes, in the order of the table.
#[must_use]
pub fn sizes() -> Vec<ChainSize> {
    rows(SIZES).filter_map(|row| size_of(&row)).collect()
}

fn size_of(row: &Row) -> Option<ChainSize> {
    Some(ChainSize {
        name: row.cell("chain"),
        pitch: from_mm(row.number("pitch_mm")?),
        inside_width: from_mm(row.number("inside_width_mm")?),
        roller: row.number("roller_mm").map(from_mm),
        tensile_from_memory: row
            .number("tensile_kn")
            .map(|kn| Force::new::<force::newton>(kn * 1e3)),
        citation: Provenance {
            source: row.cell("source"),
            status: row.cell("pitch_status"),
        },
    })
}

/// The size of this name. A maker's letters after the three digits (heavy, sealed) leave pitch and width alone
/// and are passed over; common practice, no source.
///
/// # Errors
/// [`ChainError::UnknownSize`] with the nearest known name.
pub fn size_named(name: &str) -> Result<ChainSize, ChainError> {
    let asked = name.trim();
    let bare = asked.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let all = sizes();
    all.iter()
        .find(|size| size.name == bare)
        .cloned()
        .ok_or_else(|| ChainError::UnknownSize {
            name: asked.chars().take(30).collect(),
            hint: nearest(bare, all.iter().map(|s| s.name))
                .map(|near| format!(", did you mean '{near}'"))
                .unwrap_or_default(),
            known: all.iter().map(|s| s.name).collect::<Vec<_>>().join(", "),
        })
}

/// Pin distance from the two readings a caliper can take: L = (L₁ + L₂) / 2, L₁ inside and L₂ outside the end
/// rollers, so that the roller diameter falls out. Source: a chain maker's instruction.
///
/// ```
/// use refettle_facts::{quantity::{from_mm, mm}, running_gear::chain::pin_distance};
/// assert!((mm(pin_distance(from_mm(312.8), from_mm(333.2))) - 323.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn pin_distance(inside_end_rollers: Length, outside_end_rollers: Length) -> Length {
    (inside_end_rollers + outside_end_rollers) / 2.0
}

/// One rule's word on a chain.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleVerdict {
    /// The rule's name.
    pub rule: &'static str,
    /// What it governs.
    pub governs: &'static str,
    /// The most elongation it allows.
    pub limit: Ratio,
    /// Length over the measured pitches at that limit.
    pub limit_length: Length,
    /// Whether the elongation is within it.
    pub within: bool,
    /// Where the rule is from.
    pub citation: Provenance,
}

/// What to do with the chain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChainVerdict {
    /// Within every rule that may be called a limit.
    Good,
    /// Over the smooth-running figure, under the sprocket's; or too near to a limit for the reading.
    NearingItsEnd,
    /// Over the manual's figure, or over what the sprockets can follow, whatever the manual allows.
    Done,
}

impl ChainVerdict {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            ChainVerdict::Good => "within the general limits; the machine's own figure wins",
            ChainVerdict::NearingItsEnd => {
                "nearing its end: over the limit for smooth running, or too near a limit to tell; \
                 look up the machine's own figure"
            }
            ChainVerdict::Done => "done: renew chain and sprockets together",
        }
    }
}

/// Wear of a chain.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainWear {
    /// Length of so many new pitches.
    pub new_length: Length,
    /// Growth over that, as a share of it; may be a little below zero on a new chain.
    pub elongation: Ratio,
    /// How far the share is out when the reading is out by 0.5 mm.
    pub reading_error: Ratio,
    /// Every rule, in the order of the table, the manual's own first where it was given.
    pub rules: Vec<RuleVerdict>,
    /// Taken together.
    pub verdict: ChainVerdict,
}

/// What is known of the machine that narrows the rules.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ChainSetting {
    /// Teeth of the large sprocket, for the rule of 200 / teeth.
    pub large_sprocket_teeth: Option<u32>,
    /// The manual's own limit. It wins over the general figures, except that nothing widens what sprockets follow.
    pub manual_limit: Option<Ratio>,
}

/// Chain elongation e = (L − n·p) / (n·p): L pin centre to pin centre over n pitches under light tension, p the
/// new pitch. The definition; rules and their sources are in the table beside each.
///
/// Valid for 6 to 200 pitches and −0.5 % (less the reading error) to 4.5 %; outside it is refused, since a wrong size or a miscounted
/// pitch is likelier.
///
/// ```
/// use refettle_facts::{quantity::from_mm, running_gear::chain};
/// let size = chain::size_named("520").unwrap();
/// let worn = chain::wear(&size, 20, from_mm(323.0), chain::ChainSetting::default()).unwrap();
/// assert!((worn.elongation.value - 0.017323).abs() < 1e-6);
/// assert_eq!(worn.verdict, chain::ChainVerdict::NearingItsEnd);
/// ```
///
/// # Errors
/// [`ChainError::Implausible`] naming the value and the limit.
pub fn wear(
    size: &ChainSize,
    pitches: u32,
    length: Length,
    setting: ChainSetting,
) -> Result<ChainWear, ChainError> {
    PITCHES.check(f64::from(pitches))?;
    let new_mm = f64::from(pitches) * mm(size.pitch);
    let elongation = (mm(length) - new_mm) / new_mm;
    let reading_error = READING_ERROR_MM / new_mm;
    let bounds = Bounds {
        low: ELONGATION.low - reading_error * 100.0,
        ..ELONGATION
    };
    bounds.check(elongation * 100.0).map_err(|mut refusal| {
        refusal.what = format!(
            "{} mm over {pitches} pitches of {} ({} mm new): elongation",
            number(mm(length)),
            size.name,
            number(new_mm)
        );
        refusal
    })?;
    let limits = limits(setting)?;
    let rules: Vec<RuleVerdict> = limits
        .into_iter()
        .map(|(rule, governs, limit, citation)| RuleVerdict {
            rule,
            governs,
            limit: Ratio::new::<ratio::ratio>(limit),
            limit_length: from_mm(new_mm * (1.0 + limit)),
            within: elongation <= limit,
            citation,
        })
        .collect();
    Ok(ChainWear {
        new_length: from_mm(new_mm),
        elongation: Ratio::new::<ratio::ratio>(elongation),
        reading_error: Ratio::new::<ratio::ratio>(reading_error),
        verdict: judge(&rules, elongation, reading_error),
        rules,
    })
}

type Limit = (&'static str, &'static str, f64, Provenance);

fn limits(setting: ChainSetting) -> Result<Vec<Limit>, ChainError> {
    let mut found: Vec<Limit> = Vec::new();
    if let Some(own) = setting.manual_limit {
        OWN_LIMIT.check(own.value * 100.0)?;
        let citation = Provenance {
            source: "the machine's own manual",
            status: "verified",
        };
        found.push(("manual", "this machine", own.value, citation));
    }
    for row in rows(RULES) {
        let limit = match (row.number("limit_pct"), setting.large_sprocket_teeth) {
            (Some(percent), _) => percent,
            (None, Some(teeth)) => {
                TEETH.check(f64::from(teeth))?;
                200.0 / f64::from(teeth)
            }
            (None, None) => continue,
        };
        found.push((
            row.cell("rule"),
            row.cell("governs"),
            limit / 100.0,
            row.provenance(),
        ));
    }
    Ok(found)
}

fn judge(rules: &[RuleVerdict], elongation: f64, reading_error: f64) -> ChainVerdict {
    let ends = |rule: &&RuleVerdict| matches!(rule.rule, "manual" | "sprocket-geometry" | "large-sprocket");
    if rules.iter().filter(ends).any(|r| !r.within) {
        return ChainVerdict::Done;
    }
    // The manual's figure stands in for every general one below it.
    let by_manual = rules.iter().any(|r| r.rule == "manual");
    let near = rules
        .iter()
        .filter(|r| r.citation.standing().may_be_a_limit())
        .filter(|r| !by_manual || ends(r))
        .any(|r| elongation + reading_error > r.limit.value);
    if near {
        ChainVerdict::NearingItsEnd
    } else {
        ChainVerdict::Good
    }
}
