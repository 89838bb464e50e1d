//! How wrong is the speedometer? Its error against true speed at several speeds, and the band of UN R39.
//!
//! UN R39 binds makers of new vehicles, not a machine forty years old: the band is a measure here, no verdict of
//! law. A speedometer that shows too little is the dangerous kind. Start with [`parse_pair`] and [`error()`]; the
//! effect of a change of tyre is in [`super::tyre::circumference`], of sprockets in [`super::gearing`].

mod band;
mod error;
mod pair;

pub use band::{Band, Category, bands};
pub use error::{BandVerdict, PairResult, ReadingUncertainty, SpeedometerResult, StraightLine, error};
pub use pair::{Pair, SpeedometerError, parse_pair};
