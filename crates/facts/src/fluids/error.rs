//! What was wrong with a fluid figure as given.

use crate::shown::number;

/// Why a fluid question was not answered.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FluidError {
    /// A volume that is not finite, not above zero, or beyond any motorcycle.
    #[error("{name} of {} L is outside {} L to {} L; check the figure and its unit", number(*litres), number(*least), number(*most))]
    Volume {
        /// Which volume.
        name: &'static str,
        /// What was given.
        litres: f64,
        /// Least taken.
        least: f64,
        /// Most taken.
        most: f64,
    },
    /// A length that cannot be a brake line's.
    #[error("{name} of {} mm is outside {} mm to {} mm; check the figure and its unit", number(*mm), number(*least), number(*most))]
    Line {
        /// Which length.
        name: &'static str,
        /// What was given.
        mm: f64,
        /// Least taken.
        least: f64,
        /// Most taken.
        most: f64,
    },
    /// A share outside what the question allows.
    #[error("{name} of {} % is outside {} % to {} %: {why}", number(*pct), number(*least), number(*most))]
    Share {
        /// Which share.
        name: &'static str,
        /// What was given, in per cent.
        pct: f64,
        /// Least taken.
        least: f64,
        /// Most taken.
        most: f64,
        /// What the limit is about, or what to do.
        why: &'static str,
    },
    /// More was poured in than the engine holds dry.
    #[error(
        "refill of {} L is more than the dry engine holds, {} L; are the two figures the wrong way round?", number(*refill), number(*dry))]
    RefillAboveDry {
        /// Refill.
        refill: f64,
        /// Dry fill.
        dry: f64,
    },
    /// A share of glycol without saying of what.
    #[error("'{text}' does not say by what: write 50%vol (a tester, a bottle's label) or 50%mass (a scale)")]
    VolumeOrMass {
        /// What was typed.
        text: String,
    },
    /// No share at all.
    #[error("{0}")]
    NotAShare(#[from] crate::quantity::QuantityError),
    /// A freezing point outside the table.
    #[error(
        "freezing point of {} °C is outside {} °C to {} °C, what {basis} of glycol can give", number(*celsius), number(*least), number(*most))]
    FreezingPoint {
        /// What was wanted.
        celsius: f64,
        /// Coldest in the table.
        least: f64,
        /// Warmest in the table.
        most: f64,
        /// Volume or mass.
        basis: &'static str,
    },
    /// A table without its rows.
    #[error("the table of {table} has no usable rows; the program's data is incomplete")]
    NoTable {
        /// Which table.
        table: &'static str,
    },
    /// A fluid of no known name.
    #[error(
        "'{text}' is no brake fluid known here{hint}; write one of DOT 3, DOT 4, DOT 5, DOT 5.1, mineral oil"
    )]
    UnknownFluid {
        /// What was typed.
        text: String,
        /// `", did you mean …"`, or empty.
        hint: String,
    },
}

/// Refuses what cannot be a volume on a motorcycle.
pub(crate) fn volume(
    name: &'static str,
    value: crate::quantity::Volume,
    least: f64,
    most: f64,
) -> Result<f64, FluidError> {
    let litres = crate::quantity::litres(value);
    if (least..=most).contains(&litres) {
        Ok(litres)
    } else {
        Err(FluidError::Volume {
            name,
            litres,
            least,
            most,
        })
    }
}
