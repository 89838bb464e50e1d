//! The bands of UN R39 by vehicle category.

use super::pair::{Pair, SpeedometerError, from_kmh, kmh};
use crate::published::{Provenance, rows};
use crate::quantity::{Ratio, Velocity};
use crate::shown::number;
use std::fmt;
use uom::si::ratio;

const BANDS: &str = include_str!("../../../data/running_gear/speedometer_bands.tsv");

/// Vehicle category of the UN agreement, as far as the band depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Category {
    /// Two-wheeled moped.
    L1,
    /// Three-wheeled moped.
    L2,
    /// Motorcycle.
    L3,
    /// Motorcycle with sidecar.
    L4,
    /// Motor tricycle.
    L5,
    /// Passenger vehicles.
    M,
    /// Goods vehicles.
    N,
}

impl Category {
    const ALL: [Category; 7] = [
        Category::L1,
        Category::L2,
        Category::L3,
        Category::L4,
        Category::L5,
        Category::M,
        Category::N,
    ];

    /// As written in the regulation.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Category::L1 => "L1",
            Category::L2 => "L2",
            Category::L3 => "L3",
            Category::L4 => "L4",
            Category::L5 => "L5",
            Category::M => "M",
            Category::N => "N",
        }
    }

    /// Reads `L3` or `L3e`.
    ///
    /// # Errors
    /// [`SpeedometerError::UnknownCategory`]; for L6 and L7 no production band was found.
    pub fn parse(text: &str) -> Result<Category, SpeedometerError> {
        let upper = text.trim().to_ascii_uppercase();
        let bare = upper.strip_suffix('E').unwrap_or(&upper);
        Category::ALL
            .into_iter()
            .find(|c| c.word() == bare)
            .ok_or_else(|| SpeedometerError::UnknownCategory {
                name: text.trim().chars().take(20).collect(),
            })
    }
}

/// A band 0 ≤ V₁ − V₂ ≤ s · V₂ + k: V₁ shown, V₂ true.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// `type-approval` or `production`.
    pub rule: &'static str,
    /// s.
    pub share_of_true: Ratio,
    /// k.
    pub plus: Velocity,
    /// Where it is from.
    pub citation: Provenance,
}

impl Band {
    /// The most that may be shown at a true speed: V₂ + s · V₂ + k. The least is the true speed.
    #[must_use]
    pub fn most_shown(&self, truth: Velocity) -> Velocity {
        truth + truth * self.share_of_true + self.plus
    }

    /// Whether a pair lies in it, its readings taken as exact.
    #[must_use]
    pub fn holds(&self, pair: &Pair) -> bool {
        // A part in 10⁹ forgives the rounding of typed decimals at the very edge.
        let slack = 1e-9 * pair.truth().value;
        pair.shown().value >= pair.truth().value - slack
            && pair.shown().value <= self.most_shown(pair.truth()).value + slack
    }
}

impl fmt::Display for Band {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}: shown between the true speed and {} % over it plus {} km/h; {}",
            self.rule,
            number(self.share_of_true.value * 100.0),
            number(kmh(self.plus)),
            self.citation
        )
    }
}

/// The bands that apply, the one to judge by first: production of the category where it is named (a machine on
/// the road is one that was produced), then type approval, which is the same for all.
#[must_use]
pub fn bands(category: Option<Category>) -> Vec<Band> {
    let mut found: Vec<Band> = rows(BANDS)
        .filter(|row| {
            row.cell("rule") == "type-approval"
                || category.is_some_and(|c| row.cell("applies_to").split(' ').any(|word| word == c.word()))
        })
        .filter_map(|row| {
            Some(Band {
                rule: row.cell("rule"),
                share_of_true: Ratio::new::<ratio::ratio>(row.number("share_of_true")?),
                plus: from_kmh(row.number("plus_kmh")?),
                citation: row.provenance(),
            })
        })
        .collect();
    found.sort_by_key(|band| band.rule != "production");
    found
}
