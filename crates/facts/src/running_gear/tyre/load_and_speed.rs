//! Load index and speed symbol: how much one tyre carries and how fast, from published lists.

use crate::plausible::Implausible;
use crate::published::{Provenance, rows};
use crate::quantity::{Mass, Velocity};
use uom::si::{mass, velocity};

const LOADS: &str = include_str!("../../../data/running_gear/tyre_load_index.tsv");
const SPEEDS: &str = include_str!("../../../data/running_gear/tyre_speed_symbol.tsv");

/// Why a load index or speed symbol was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ServiceError {
    /// Outside the list.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// No such letter.
    #[error("'{symbol}' is no speed symbol known here; known are {known}")]
    UnknownSymbol {
        /// What was given.
        symbol: String,
        /// All symbols.
        known: String,
    },
}

/// A load index with the load it stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadIndex {
    /// The number on the side wall.
    pub index: u32,
    /// Most load on one tyre at its rated pressure.
    pub load: Mass,
    /// Where the row is from.
    pub citation: Provenance,
}

/// The load behind an index. The list goes from 30 to 95.
///
/// # Errors
/// [`ServiceError::Implausible`] outside the list; nothing is extrapolated.
pub fn load_index(index: u32) -> Result<LoadIndex, ServiceError> {
    rows(LOADS)
        .find(|row| row.cell("load_index").parse() == Ok(index))
        .and_then(|row| {
            Some(LoadIndex {
                index,
                load: Mass::new::<mass::kilogram>(row.number("max_load_kg")?),
                citation: row.provenance(),
            })
        })
        .ok_or_else(|| {
            ServiceError::Implausible(Implausible {
                what: "load index".into(),
                value: index.to_string(),
                side: "not",
                limit: "in the list of 30 to 95".into(),
                advice: "read the side wall again: the number stands before the speed letter".into(),
            })
        })
}

/// A speed symbol with the speed it stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeedSymbol {
    /// As on the side wall; `(W)` in brackets means over, `Z` stands in the size.
    pub symbol: &'static str,
    /// Most speed; or, where open-ended, the least the tyre is good for.
    pub speed: Velocity,
    /// Whether the symbol says "over" rather than "up to".
    pub open_ended: bool,
    /// Where the row is from.
    pub citation: Provenance,
}

/// All speed symbols, slowest first.
#[must_use]
pub fn speed_symbols() -> Vec<SpeedSymbol> {
    rows(SPEEDS)
        .filter_map(|row| {
            Some(SpeedSymbol {
                symbol: row.cell("symbol"),
                speed: Velocity::new::<velocity::meter_per_second>(row.number("max_speed_kmh")? / 3.6),
                open_ended: row.cell("open_ended") == "yes",
                citation: row.provenance(),
            })
        })
        .collect()
}

/// The speed behind a symbol such as `W` or `(W)`. H lies between U and V, as the lists have it.
///
/// # Errors
/// [`ServiceError::UnknownSymbol`] with the symbols that are known.
pub fn speed_symbol(symbol: &str) -> Result<SpeedSymbol, ServiceError> {
    let wanted = symbol.trim().to_ascii_uppercase();
    let all = speed_symbols();
    all.iter()
        .find(|s| s.symbol == wanted)
        .copied()
        .ok_or_else(|| ServiceError::UnknownSymbol {
            symbol: wanted.chars().take(12).collect(),
            known: all.iter().map(|s| s.symbol).collect::<Vec<_>>().join(", "),
        })
}

/// Load and speed together, as stamped: `73W`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ServiceDescription {
    /// Load.
    pub load: LoadIndex,
    /// Speed.
    pub speed: SpeedSymbol,
}

/// A way in which a fitted tyre falls short of what the machine asks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shortfall {
    /// It carries less.
    Load {
        /// What it carries.
        fitted: Mass,
        /// What is asked.
        asked: Mass,
    },
    /// It is rated slower.
    Speed {
        /// What it is rated for.
        fitted: Velocity,
        /// What is asked.
        asked: Velocity,
    },
}

/// Where a fitted tyre falls short of the machine's papers; empty when it serves.
#[must_use]
pub fn shortfalls(fitted: &ServiceDescription, asked: &ServiceDescription) -> Vec<Shortfall> {
    let mut short = Vec::new();
    if fitted.load.load < asked.load.load {
        short.push(Shortfall::Load {
            fitted: fitted.load.load,
            asked: asked.load.load,
        });
    }
    if fitted.speed.speed < asked.speed.speed {
        short.push(Shortfall::Speed {
            fitted: fitted.speed.speed,
            asked: asked.speed.speed,
        });
    }
    short
}
