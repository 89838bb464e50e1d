//! The numbers of each layout, from memory, for drawing only.
//!
//! They live here and not on the sheets: a sheet holds what plans and checks rest on, each figure with its source, and
//! its reader refuses what it does not know. A sheet of one's own that says nothing of its shape is drawn as the layout
//! it shares most parts with.

mod cruiser;
mod dual_sport;
mod faired_four;
mod faired_twin;
mod naked_single;
mod scooter;
mod tiny_trainer;

use super::drawing::Drawing;
use refettle_machine::model::Machine;

type Drawn = fn() -> Drawing;

/// Every drawing, by the name of its layout.
pub(crate) const ALL: [(&str, Drawn); 7] = [
    ("small-faired-twin", faired_twin::drawing),
    ("naked-single", naked_single::drawing),
    ("cruiser-twin", cruiser::drawing),
    ("dual-sport-single", dual_sport::drawing),
    ("faired-four", faired_four::drawing),
    ("scooter", scooter::drawing),
    ("tiny-trainer", tiny_trainer::drawing),
];

/// The drawing of a machine: its own layout's, else that of the layout it shares most parts with.
pub(crate) fn of(machine: &Machine) -> Drawing {
    if let Some((_, drawing)) = ALL.iter().find(|(name, _)| *name == machine.name) {
        return drawing();
    }
    let shared = |drawing: &Drawing| {
        let known = |name: &str| drawing.forms.iter().any(|f| f.part == Some(name));
        machine.parts.iter().filter(|p| known(&p.name)).count()
    };
    ALL.iter()
        .map(|(_, drawing)| drawing())
        .rev()
        .max_by_key(shared)
        .unwrap_or_else(naked_single::drawing)
}
