//! What a finding left open takes off the price, against the same bike in order.

use super::fit::money;
use refettle_facts::money::Money;

/// What one finding takes off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Discount {
    /// Name, permanent.
    pub id: &'static str,
    /// As a person reads it.
    pub title: &'static str,
    /// Share taken off, most, as 0.12 for 12 %.
    pub most: f64,
    /// Share taken off, middle case.
    pub middle: f64,
    /// Share taken off, least.
    pub least: f64,
    /// Where the shares come from.
    pub source: &'static str,
}

const PRACTICE: &str = "common practice, no source";

const fn discount(id: &'static str, title: &'static str, shares: [f64; 3], source: &'static str) -> Discount {
    let [most, middle, least] = shares;
    Discount {
        id,
        title,
        most,
        middle,
        least,
        source,
    }
}

/// Every finding with a known share.
pub const DISCOUNTS: [Discount; 16] = [
    discount(
        "not-running",
        "Does not run, cause unknown",
        [0.60, 0.45, 0.30],
        PRACTICE,
    ),
    discount(
        "hard-start",
        "Runs, but starts badly: carburettors",
        [0.30, 0.20, 0.12],
        PRACTICE,
    ),
    discount(
        "worn-tyres",
        "Both tyres worn or old",
        [0.12, 0.08, 0.05],
        "common practice; one published rule of thumb",
    ),
    discount("fork-leak", "Fork leaks", [0.08, 0.05, 0.03], PRACTICE),
    discount("brakes", "Brakes drag or are soft", [0.12, 0.07, 0.04], PRACTICE),
    discount("speedometer", "Speedometer dead", [0.10, 0.06, 0.03], PRACTICE),
    discount(
        "distance-doubted",
        "Distance not the true one",
        [0.30, 0.20, 0.10],
        PRACTICE,
    ),
    discount(
        "chain",
        "Chain and sprockets worn out",
        [0.06, 0.04, 0.02],
        PRACTICE,
    ),
    discount("battery", "Battery flat when shown", [0.15, 0.10, 0.05], PRACTICE),
    discount(
        "fairing",
        "Main fairing cracked or missing, each side",
        [0.15, 0.09, 0.04],
        PRACTICE,
    ),
    discount(
        "tank",
        "Tank dented, or rusty inside",
        [0.12, 0.07, 0.03],
        PRACTICE,
    ),
    discount("seat", "Seat torn", [0.04, 0.02, 0.01], PRACTICE),
    discount(
        "tip-over",
        "Marks of a fall at walking pace",
        [0.06, 0.04, 0.02],
        PRACTICE,
    ),
    discount(
        "lights",
        "A light or indicator dead",
        [0.05, 0.035, 0.02],
        "what mending it adds, as common practice has it, no source",
    ),
    discount(
        "not-original",
        "Parts not the maker's, the originals gone",
        [0.08, 0.02, 0.0],
        "a published page, weak",
    ),
    discount(
        "no-records",
        "No record of work and parts",
        [0.07, 0.04, 0.02],
        "what records add, as common practice has it, no source",
    ),
];

/// What a finding costs at a price.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cost {
    /// The finding.
    pub discount: Discount,
    /// Least it takes off.
    pub least: Money,
    /// Middle case.
    pub middle: Money,
    /// Most.
    pub most: Money,
}

/// The finding of a name.
#[must_use]
pub fn discount_of(id: &str) -> Option<Discount> {
    DISCOUNTS.iter().find(|d| d.id == id).copied()
}

/// What each finding takes off, and the share of the price left with all of them open: shares are multiplied, the second
/// being of what the first left.
#[must_use]
#[allow(clippy::cast_precision_loss, reason = "prices are far below 2^53 cents")]
pub fn costs(open: &[Discount], in_order: Money) -> (Vec<Cost>, f64) {
    let of = |share: f64| money(in_order.0 as f64 * share);
    let each = open
        .iter()
        .map(|d| Cost {
            discount: *d,
            least: of(d.least),
            middle: of(d.middle),
            most: of(d.most),
        })
        .collect();
    (each, open.iter().map(|d| 1.0 - d.middle).product())
}
