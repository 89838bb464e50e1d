//! Engine oil: how much goes in, and how much of the old stays behind.

use super::FluidError;
use super::error::volume;
use crate::quantity::{Ratio, Volume};
use uom::si::ratio::ratio;

/// Cautions that stand beside an oil change, by their names in [`caution`](crate::caution).
pub const CAUTIONS: [&str; 1] = ["hot-oil"];

/// What a change leaves in the engine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residue {
    /// Old oil that draining does not reach: dry fill less refill.
    pub stays_behind: Volume,
    /// Its share of the oil after the change.
    pub old_share: Ratio,
}

/// Old oil left by a change: `dry - refill`, and `r = (dry - refill) / dry` of the fill.
///
/// `dry` is the maker's quantity for a rebuilt engine, `refill` that after draining (with the filter or without, as
/// the change is done). Formula: conservation of volume, no source needed. Both from the manual of the machine; a
/// refill equal to the dry fill leaves nothing.
///
/// Pouring the dry quantity into a drained engine overfills it by exactly what stayed behind: go by the sight glass
/// or the dipstick, bike upright, after a minute's idle and a rest.
///
/// # Errors
/// [`FluidError::Volume`] outside 0.1 to 10 L; [`FluidError::RefillAboveDry`] when more goes in than fits.
///
/// ```
/// use refettle_facts::{fluids::oil::residue, quantity::{litres, parse_volume}};
/// let left = residue(parse_volume("3.2 L").unwrap(), parse_volume("2.4 L").unwrap()).unwrap();
/// assert!((litres(left.stays_behind) - 0.8).abs() < 1e-9 && (left.old_share.value - 0.25).abs() < 1e-9);
/// ```
pub fn residue(dry: Volume, refill: Volume) -> Result<Residue, FluidError> {
    let dry_l = volume("dry fill", dry, 0.1, 10.0)?;
    let refill_l = volume("refill", refill, 0.1, 10.0)?;
    if refill_l > dry_l {
        return Err(FluidError::RefillAboveDry {
            refill: refill_l,
            dry: dry_l,
        });
    }
    Ok(Residue {
        stays_behind: dry - refill,
        old_share: Ratio::new::<ratio>((dry_l - refill_l) / dry_l),
    })
}

/// Share of the first oil left after `changes` changes one upon another: `rⁿ`, the oil being mixed by running in
/// between. No change leaves all of it.
///
/// # Errors
/// [`FluidError::Share`] when the residue is no share.
pub fn old_share_after(changes: u32, one_change: Ratio) -> Result<Ratio, FluidError> {
    let left = share(
        "old share left by a change",
        one_change,
        0.0,
        100.0,
        "it is a share of the fill",
    )?;
    Ok(Ratio::new::<ratio>(left.powf(f64::from(changes))))
}

/// Changes needed until at most `at_most` of the first oil is left: the least `n` with `rⁿ ≤ at_most`.
///
/// # Errors
/// [`FluidError::Share`] when a change leaves everything (no number of changes helps), or a share is none.
pub fn changes_needed(one_change: Ratio, at_most: Ratio) -> Result<u32, FluidError> {
    let left = share(
        "old share left by a change",
        one_change,
        0.0,
        95.0,
        "when nearly all stays behind, changing again will not get it out",
    )?;
    let wanted = share(
        "old oil to be left",
        at_most,
        0.1,
        100.0,
        "no number of changes leaves nothing",
    )?;
    // At most 135 changes: 0.95^135 is under 0.1 %.
    Ok((0..=135)
        .find(|n| left.powi(*n) <= wanted + 1e-12)
        .map_or(135, i32::unsigned_abs))
}

fn share(
    name: &'static str,
    value: Ratio,
    least: f64,
    most: f64,
    why: &'static str,
) -> Result<f64, FluidError> {
    let pct = value.value * 100.0;
    if (least..=most).contains(&pct) {
        Ok(value.value)
    } else {
        Err(FluidError::Share {
            name,
            pct,
            least,
            most,
            why,
        })
    }
}
