//! One machine's drawing: its forms, the box it is seen in, and where a thumb finds each region.

use super::form::{Form, Shown, sign};
use super::machines;
use crate::geometry::Bounds;
use refettle_machine::ix::PartIx;
use refettle_machine::model::Machine;

/// Forms and boxes of one machine.
#[derive(Debug, Clone)]
pub(crate) struct Drawing {
    pub view: Bounds,
    /// By region: where it is tapped. None overlaps another.
    pub zones: Vec<(&'static str, Bounds)>,
    pub forms: Vec<Form>,
}

/// A form of a machine's drawing and the part it is.
#[derive(Debug, Clone)]
pub(crate) struct Placed {
    pub form: Form,
    pub part: Option<PartIx>,
    pub bounds: Bounds,
}

impl Drawing {
    /// The zone of a region; of the whole machine where the drawing has none by that name.
    pub(crate) fn zone(&self, region: &str) -> Bounds {
        self.zones
            .iter()
            .find(|(name, _)| *name == region)
            .map_or(self.view, |(_, zone)| *zone)
    }

    /// The forms of a machine, lowest layer first. A part the drawing does not know gets a sign in its region.
    pub(crate) fn placed(&self, machine: &Machine) -> Vec<Placed> {
        let mut out: Vec<Placed> = Vec::new();
        for form in &self.forms {
            let part = match form.part {
                Some(name) => match machine.part(name) {
                    Some(part) => Some(part),
                    None => continue,
                },
                None => None,
            };
            if let Some(bounds) = form.bounds() {
                out.push(Placed {
                    form: form.clone(),
                    part,
                    bounds,
                });
            }
        }
        let mut spares: std::collections::BTreeMap<&str, i32> = std::collections::BTreeMap::new();
        for (at, part) in machine.parts.iter().enumerate() {
            if out.iter().any(|p| p.part == Some(PartIx(at))) {
                continue;
            }
            let place = spares.entry(part.region.as_str()).or_insert(0);
            let form = spare_sign(self.zone(&part.region), *place);
            *place += 1;
            if let Some(bounds) = form.bounds() {
                out.push(Placed {
                    form,
                    part: Some(PartIx(at)),
                    bounds,
                });
            }
        }
        out.sort_by_key(|p| p.form.layer);
        out
    }
}

/// A sign in a zone, row by row from its upper corner.
fn spare_sign(zone: Bounds, place: i32) -> Form {
    let pitch = 44.0;
    #[allow(
        clippy::cast_possible_truncation,
        reason = "a zone is a few hundred millimetres wide"
    )]
    let across = ((zone.width() / pitch) as i32 - 1).max(1);
    let (row, column) = (place / across, place % across);
    let x = zone.left + pitch * f64::from(column + 1);
    let y = (zone.top - pitch * f64::from(row + 1)).max(zone.bottom + 20.0);
    #[allow(clippy::cast_possible_truncation, reason = "millimetres of a machine")]
    sign("", 62, x as i32, y as i32)
}

impl Placed {
    /// Whether it is seen from this side.
    pub(crate) fn seen_from(&self, side: super::Side) -> bool {
        match self.form.shown {
            Shown::Both => true,
            Shown::Right => side == super::Side::Right,
            Shown::Left => side == super::Side::Left,
        }
    }
}

/// The drawing of a machine.
pub(crate) fn of(machine: &Machine) -> Drawing {
    machines::of(machine)
}
