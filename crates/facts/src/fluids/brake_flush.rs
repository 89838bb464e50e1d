//! How much fresh brake fluid must go through before the old is out.
//!
//! Two bounds. *Plug flow*: the new pushes the old before it and nothing mixes. *Full mixing*: all fluid in the
//! system is stirred all the time and leaves mixed. A real brake lies between, nearer plug flow in the line and
//! nearer mixing in reservoir and caliper; corners above the nipple that no fluid passes through are in neither.
//! A flush replaces fluid, it does not find air or leaks: the lever must end hard, and the road check proves it.

use super::FluidError;
use super::error::volume;
use crate::quantity::{Length, Ratio, Volume, litres, mm};
use uom::si::volume::liter;

/// Cautions that stand beside a flush, by their names in [`caution`](crate::caution).
pub const CAUTIONS: [&str; 2] = ["brake-fluid", "eyes"];

/// Volumes of one brake circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BrakeVolumes {
    /// Reservoir up to its mark.
    pub reservoir: Volume,
    /// All lines together; see [`line_volume`].
    pub line: Volume,
    /// All calipers together, pistons where they are.
    pub caliper: Volume,
}

/// What is done with the reservoir first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReservoirFirst {
    /// Drawn off, wiped and filled with new fluid before the nipple is opened: the usual way.
    Emptied,
    /// Left full of old fluid and topped up as it sinks.
    LeftFull,
}

/// Fresh fluid for a flush.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlushVolume {
    /// Old fluid the flush has to move.
    pub swept: Volume,
    /// Out of the nipple, if nothing mixes: the least.
    pub plug_flow: Volume,
    /// Out of the nipple, if everything mixes: the most.
    pub full_mixing: Volume,
    /// To have at hand: the most, and the filling of the reservoir.
    pub at_hand: Volume,
}

/// Volume of a line: `(π/4) d² l` with inside diameter `d` and length `l`.
///
/// # Errors
/// [`FluidError::Line`] for a bore outside 0.5 to 10 mm or a length outside 10 mm to 5 m.
pub fn line_volume(inside_diameter: Length, length: Length) -> Result<Volume, FluidError> {
    let bore = line("line bore", inside_diameter, 0.5, 10.0)?;
    let long = line("line length", length, 10.0, 5000.0)?;
    Ok(Volume::new::<liter>(
        std::f64::consts::FRAC_PI_4 * bore * bore * long / 1e6,
    ))
}

/// Fresh fluid that must leave the nipple until the share `target` of the fluid inside is new.
///
/// With `V` the swept volume (line and caliper, and the reservoir unless emptied first) and `s` the target:
/// plug flow `s V`; full mixing `-V ln(1 - s)`, from `ds/dv = (1 - s)/V`. Conservation of volume, no source needed.
/// At 50 % the bounds are 0.5 and 0.69 V; at 99 %, 0.99 and 4.6 V.
///
/// # Errors
/// [`FluidError::Volume`] for a part outside 0.1 mL to 1 L; [`FluidError::Share`] for a target outside 1 to 99.9 %:
/// mixing never reaches all.
pub fn flush_volume(
    brake: &BrakeVolumes,
    first: ReservoirFirst,
    target: Ratio,
) -> Result<FlushVolume, FluidError> {
    let reservoir = volume("reservoir", brake.reservoir, 1e-4, 1.0)?;
    let line = volume("line", brake.line, 1e-4, 1.0)?;
    let caliper = volume("caliper", brake.caliper, 1e-4, 1.0)?;
    let share = target.value;
    if !(0.01..=0.999).contains(&share) {
        return Err(FluidError::Share {
            name: "target of new fluid",
            pct: share * 100.0,
            least: 1.0,
            most: 99.9,
            why: "with mixing no volume replaces all of it",
        });
    }
    let (swept, filling) = match first {
        ReservoirFirst::Emptied => (line + caliper, reservoir),
        ReservoirFirst::LeftFull => (reservoir + line + caliper, 0.0),
    };
    let full_mixing = -swept * (-share).ln_1p();
    Ok(FlushVolume {
        swept: Volume::new::<liter>(swept),
        plug_flow: Volume::new::<liter>(share * swept),
        full_mixing: Volume::new::<liter>(full_mixing),
        at_hand: Volume::new::<liter>(full_mixing + filling),
    })
}

/// Share of new fluid once `through` has left the nipple: least (full mixing, `1 - e^(-v/V)`) and most (plug flow,
/// `v/V`, and no more than all).
///
/// # Errors
/// [`FluidError::Volume`] for `swept` outside 0.1 mL to 3 L or `through` outside 0 to 20 L.
pub fn new_share(swept: Volume, through: Volume) -> Result<(Ratio, Ratio), FluidError> {
    let swept = volume("swept volume", swept, 1e-4, 3.0)?;
    let through = volume("fluid through the nipple", through, 0.0, 20.0)?;
    let turns = through / swept;
    let share = Ratio::new::<uom::si::ratio::ratio>;
    // Once the old is out, plug flow has nothing left to replace.
    Ok((
        share(-(-turns).exp_m1()),
        share(if turns < 1.0 { turns } else { 1.0 }),
    ))
}

/// Strokes of a master cylinder that move a volume: `v / ((π/4) d² stroke)`, rounded up.
///
/// # Errors
/// [`FluidError::Line`] for a bore outside 5 to 30 mm or a stroke outside 1 to 50 mm; [`FluidError::Volume`] for a
/// volume outside 0 to 20 L.
pub fn strokes(through: Volume, master_bore: Length, stroke: Length) -> Result<u32, FluidError> {
    volume("fluid through the nipple", through, 0.0, 20.0)?;
    let bore = line("master cylinder bore", master_bore, 5.0, 30.0)?;
    let stroke = line("stroke", stroke, 1.0, 50.0)?;
    let one_litres = std::f64::consts::FRAC_PI_4 * bore * bore * stroke / 1e6;
    let wanted = (litres(through) / one_litres).ceil();
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "0 to 20 L over at least 0.02 mL is below 1.1 million"
    )]
    Ok(wanted as u32)
}

fn line(name: &'static str, value: Length, least: f64, most: f64) -> Result<f64, FluidError> {
    let value = mm(value);
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(FluidError::Line {
            name,
            mm: value,
            least,
            most,
        })
    }
}
