//! How thin is too thin, how crooked too crooked: pads, linings, discs, rims, bearings, tread, by named scheme.
//!
//! The maker's figure, stamped on the disc or in the manual, comes before all of these. Rows from memory are
//! shown but never counted as a limit; rows for cars and heavy vehicles are shown as what they are. Brakes and
//! tyres decide whether somebody stops: when in doubt, renew. Start with [`judge`] and [`rules_for`].

use crate::nearest::nearest;
use crate::plausible::{Bounds, Implausible};
use crate::published::{Provenance, Row, rows};
use crate::quantity::{Length, mm, parse_length};

const WEAR: &str = include_str!("../../data/running_gear/wear_limits.tsv");
const TREAD: &str = include_str!("../../data/running_gear/tyre_min_tread.tsv");

/// Why a measurement was not judged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WearLimitError {
    /// No such item.
    #[error("'{name}' is nothing with a wear limit here{hint}; known are {known}")]
    UnknownItem {
        /// What was given.
        name: String,
        /// A likely meaning, or empty.
        hint: String,
        /// All items.
        known: String,
    },
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// Neither a printed limit nor the maker's.
    #[error("no general limit for {item} is a number: give the maker's, {hint}")]
    NoLimit {
        /// The item.
        item: &'static str,
        /// Where to find it.
        hint: &'static str,
    },
}

/// Which side of a limit fails.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fails {
    /// Fails below it: a thickness, a depth.
    Below,
    /// Fails above it: a run-out, a bore.
    Above,
    /// Fails at it already.
    AtOrAbove,
    /// Judged by eye and hand; no number.
    ByLook,
}

/// Something with a wear limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Item {
    /// Name in the table, such as `pad` or `rim-run-out-alloy`.
    pub name: &'static str,
    measured_bounds: Believable,
    maker_limit_fails: Fails,
    maker_hint: &'static str,
}

/// Lowest and highest believable reading, whole micrometres so that an item can be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Believable {
    low_um: u32,
    high_um: u32,
}

const fn item(name: &'static str, high_um: u32, maker_limit_fails: Fails, maker_hint: &'static str) -> Item {
    Item {
        name,
        measured_bounds: Believable { low_um: 0, high_um },
        maker_limit_fails,
        maker_hint,
    }
}

const IN_MANUAL: &str = "in the manual";
const ON_DISC: &str = "stamped on the disc or in the manual";
/// Upper bounds are what no motorcycle has (common practice, no source); they catch a wrong unit.
const ITEMS: [Item; 18] = [
    item("pad", 20_000, Fails::Below, "the wear groove or the manual"),
    item(
        "pad-sintered",
        20_000,
        Fails::Below,
        "the wear groove or the manual",
    ),
    item("lining-bonded", 15_000, Fails::Below, IN_MANUAL),
    item("lining-riveted", 15_000, Fails::Below, IN_MANUAL),
    item("disc-thickness", 15_000, Fails::Below, ON_DISC),
    item("disc-run-out", 10_000, Fails::Above, IN_MANUAL),
    item(
        "drum-diameter",
        400_000,
        Fails::Above,
        "cast into the drum or in the manual",
    ),
    item("rim-run-out-steel", 50_000, Fails::Above, IN_MANUAL),
    item("rim-run-out-alloy", 50_000, Fails::Above, IN_MANUAL),
    item("rim-out-of-round", 50_000, Fails::Above, IN_MANUAL),
    item("tread", 25_000, Fails::Below, "the wear bars in the grooves"),
    item("wheel-alignment", 300_000, Fails::Above, IN_MANUAL),
    item("wheel-bearing", 0, Fails::ByLook, IN_MANUAL),
    item("steering-head-bearing", 0, Fails::ByLook, IN_MANUAL),
    item("swinging-arm", 0, Fails::ByLook, IN_MANUAL),
    item("chain-and-sprockets", 0, Fails::ByLook, IN_MANUAL),
    item("brake-cable", 0, Fails::ByLook, IN_MANUAL),
    item("spokes", 0, Fails::ByLook, IN_MANUAL),
];

/// The item of this name.
///
/// # Errors
/// [`WearLimitError::UnknownItem`] with the nearest name.
pub fn item_named(name: &str) -> Result<Item, WearLimitError> {
    let wanted = name.trim();
    ITEMS
        .iter()
        .find(|i| i.name == wanted)
        .copied()
        .ok_or_else(|| WearLimitError::UnknownItem {
            name: wanted.chars().take(40).collect(),
            hint: nearest(wanted, ITEMS.iter().map(|i| i.name))
                .map(|near| format!(", did you mean '{near}'"))
                .unwrap_or_default(),
            known: ITEMS.iter().map(|i| i.name).collect::<Vec<_>>().join(", "),
        })
}

/// All items.
#[must_use]
pub const fn items() -> &'static [Item] {
    &ITEMS
}

/// One scheme's rule on an item.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// Scheme, such as `UK` or `US-NY`.
    pub scheme: &'static str,
    /// What fails, in words.
    pub words: &'static str,
    /// Whether it is a rule for motorcycles at all.
    pub for_motorcycles: bool,
    /// Whether it is advice rather than a rule.
    pub is_advice: bool,
    /// Which side fails.
    pub fails: Fails,
    /// The limit, where it is a number.
    pub limit: Option<Length>,
    /// Where it is from.
    pub citation: Provenance,
}

impl Rule {
    /// Whether the row may count as a limit for a motorcycle: opened or second-hand, no advice, no car rule.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.for_motorcycles && !self.is_advice && self.citation.standing().may_be_a_limit()
    }

    /// Whether a measurement passes; `None` where it is judged by look.
    #[must_use]
    pub fn passes(&self, measured: Length) -> Option<bool> {
        let limit = self.limit?;
        // A hundredth of a micrometre, far below any gauge, forgives the rounding of typed decimals.
        let over = mm(measured) - mm(limit);
        match self.fails {
            Fails::Below => Some(over >= -1e-5),
            Fails::Above => Some(over <= 1e-5),
            Fails::AtOrAbove => Some(over < -1e-5),
            Fails::ByLook => None,
        }
    }
}

/// Every rule on an item, in the order of the table.
#[must_use]
pub fn rules_for(item: Item) -> Vec<Rule> {
    rows(WEAR)
        .chain(rows(TREAD))
        .filter(|row| row.cell("item") == item.name)
        .map(|row| rule_of(&row))
        .collect()
}

fn rule_of(row: &Row) -> Rule {
    let limit = parse_length(row.cell("limit")).ok();
    Rule {
        scheme: row.cell("scheme"),
        words: row.cell("words"),
        for_motorcycles: row.cell("motorcycle") == "yes",
        is_advice: row.cell("kind") == "advice",
        fails: match (row.cell("fails"), limit) {
            ("below", Some(_)) => Fails::Below,
            ("above", Some(_)) => Fails::Above,
            ("at-or-above", Some(_)) => Fails::AtOrAbove,
            _ => Fails::ByLook,
        },
        limit,
        citation: row.provenance(),
    }
}

/// A rule and what it says of a measurement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// The rule.
    pub rule: Rule,
    /// Whether the measurement passes; `None` where it is judged by look.
    pub passes: Option<bool>,
}

/// A measurement against every rule.
#[derive(Debug, Clone, PartialEq)]
pub struct WearReport {
    /// What was measured.
    pub item: Item,
    /// The reading.
    pub measured: Length,
    /// Every rule, the maker's own first where it was given.
    pub rules: Vec<Judged>,
    /// The strictest rule that counts; the maker's own always does.
    pub strictest: Option<Judged>,
    /// Whether the measurement passes the strictest rule; `None` where no row may be called a limit.
    pub passes_strictest: Option<bool>,
}

/// Judges a measurement by every scheme. `maker_limit` is what is stamped on the part or printed in the manual.
///
/// The strictest is the highest least thickness, or the smallest most run-out, among rows that count
/// ([`Rule::counts`]) and the maker's own.
///
/// # Errors
/// A reading below zero or beyond what the part can have; an item that is judged by look only, or that has no
/// number without the maker's.
pub fn judge(
    item: Item,
    measured: Length,
    maker_limit: Option<Length>,
) -> Result<WearReport, WearLimitError> {
    if item.maker_limit_fails == Fails::ByLook {
        return Err(WearLimitError::NoLimit {
            item: item.name,
            hint: "or judge by eye and hand as the rules say",
        });
    }
    let bounds = Bounds {
        what: item.name,
        unit: "mm",
        low: f64::from(item.measured_bounds.low_um) / 1e3,
        high: f64::from(item.measured_bounds.high_um) / 1e3,
        advice: "measure again and check the unit",
    };
    bounds.check(mm(measured))?;
    let mut found: Vec<Rule> = Vec::new();
    if let Some(limit) = maker_limit {
        Bounds {
            what: "maker's limit",
            ..bounds
        }
        .check(mm(limit))?;
        found.push(Rule {
            scheme: "maker",
            words: "the maker's own limit, which comes first",
            for_motorcycles: true,
            is_advice: false,
            fails: item.maker_limit_fails,
            limit: Some(limit),
            citation: Provenance {
                source: "stamped on the part or printed in the manual",
                status: "verified",
            },
        });
    }
    found.extend(rules_for(item));
    if found.iter().all(|rule| rule.limit.is_none()) {
        return Err(WearLimitError::NoLimit {
            item: item.name,
            hint: item.maker_hint,
        });
    }
    let rules: Vec<Judged> = found
        .into_iter()
        .map(|rule| Judged {
            rule,
            passes: rule.passes(measured),
        })
        .collect();
    let strictest = strictest(&rules, item.maker_limit_fails);
    Ok(WearReport {
        item,
        measured,
        passes_strictest: strictest.and_then(|j| j.passes),
        strictest,
        rules,
    })
}

fn strictest(rules: &[Judged], fails: Fails) -> Option<Judged> {
    let mut best: Option<Judged> = None;
    for judged in rules.iter().filter(|j| j.rule.counts()) {
        let Some(limit) = judged.rule.limit else { continue };
        let stricter = match best.and_then(|b| b.rule.limit.map(|l| (l, b.rule.fails))) {
            None => true,
            Some((other, _)) if fails == Fails::Below => limit > other,
            // At the same number, failing at it is stricter than failing above it.
            Some((other, other_fails)) => {
                limit < other
                    || ((mm(limit) - mm(other)).abs() < 1e-9
                        && judged.rule.fails == Fails::AtOrAbove
                        && other_fails == Fails::Above)
            }
        };
        if stricter {
            best = Some(*judged);
        }
    }
    best
}

/// Width of the continuous band that must have tread under the UK rule: three quarters of the tread breadth.
/// Source: the rule as described by two pages (second-hand).
///
/// # Errors
/// A breadth outside 20 to 330 mm.
pub fn uk_tread_band(tread_breadth: Length) -> Result<Length, WearLimitError> {
    Bounds {
        what: "tread breadth",
        unit: "mm",
        low: 20.0,
        high: 330.0,
        advice: "measure across the part of the tyre that has a pattern",
    }
    .check(mm(tread_breadth))?;
    Ok(tread_breadth * 0.75)
}
