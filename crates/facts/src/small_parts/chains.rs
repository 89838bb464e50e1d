//! Roller chains by dimension, and why no other size stands in.
//!
//! Sizes and their sources are those of [`running_gear::chain`](crate::running_gear::chain); wear is there too.
//! Pitch, width and roller all have to be those of the sprockets, so a chain of another size is never workable.

use super::error::{SmallPartError, dimension};
use super::substitute::{Substitute, difference};
use crate::quantity::{Length, mm};
use crate::running_gear::chain::{ChainSize, sizes};

const KIND: &str = "chain";
/// A caliper on a pitch, plate gap or roller of a used chain is good to this; common practice, no source.
const READING_MM: f64 = 0.3;

/// Which sizes a chain of this pitch and inside width may be, nearest first; the roller tells those apart that share
/// both. Each reading may be 0.3 mm off.
///
/// # Errors
/// [`SmallPartError::Dimension`] for a pitch outside 6 to 40 mm, a width outside 2 to 30 mm or a roller outside 3
/// to 25 mm.
pub fn by_dimensions(
    pitch: Length,
    inside_width: Length,
    roller: Option<Length>,
) -> Result<Vec<ChainSize>, SmallPartError> {
    let pitch = dimension(KIND, "pitch", pitch, 6.0, 40.0)?;
    let width = dimension(KIND, "width between the inner plates", inside_width, 2.0, 30.0)?;
    let roller = roller
        .map(|roller| dimension(KIND, "roller diameter", roller, 3.0, 25.0))
        .transpose()?;
    let off = |size: &ChainSize| {
        let by_roller = roller
            .zip(size.roller)
            .map_or(0.0, |(read, listed)| (mm(listed) - read).abs());
        (mm(size.pitch) - pitch)
            .abs()
            .max((mm(size.inside_width) - width).abs())
            .max(by_roller)
    };
    let mut near: Vec<ChainSize> = sizes()
        .into_iter()
        .filter(|size| off(size) <= READING_MM)
        .collect();
    // A size whose roller is not listed has nothing against it and nothing for it: after those that match.
    let unproven = |size: &ChainSize| roller.is_some() && size.roller.is_none();
    near.sort_by(|a, b| unproven(a).cmp(&unproven(b)).then(off(a).total_cmp(&off(b))));
    Ok(near)
}

/// The sizes of the same pitch, none of them workable, and why.
#[must_use]
pub fn substitutes(wanted: &ChainSize) -> Vec<Substitute<ChainSize>> {
    sizes()
        .into_iter()
        .filter(|other| other.name != wanted.name && (mm(other.pitch) - mm(wanted.pitch)).abs() < 0.01)
        .map(|part| {
            let mut differs: Vec<String> = difference(
                "inside width",
                mm(wanted.inside_width),
                mm(part.inside_width),
                "wider: wanders on the narrow sprocket and wears it to one side",
                "narrower: does not go over the teeth",
            )
            .into_iter()
            .collect();
            match wanted.roller.zip(part.roller) {
                Some((wanted, offered)) => differs.extend(difference(
                    "roller",
                    mm(wanted),
                    mm(offered),
                    "larger: does not seat between the teeth",
                    "smaller: sits low between the teeth and climbs",
                )),
                None => differs.push("roller of one of them not listed: compare both chains".to_owned()),
            }
            differs.push("chain and both sprockets change together or not at all".to_owned());
            Substitute {
                part,
                differs,
                workable: false,
            }
        })
        .collect()
}
