//! How each kind of part is told.

use super::{PartView, SubstituteView};
use refettle_facts::published::Provenance;
use refettle_facts::quantity::{Length, mm};
use refettle_facts::running_gear::chain::ChainSize;
use refettle_facts::small_parts::bulbs::{self, Bulb};
use refettle_facts::small_parts::chains;
use refettle_facts::small_parts::circlips::{self, Circlip};
use refettle_facts::small_parts::sealing_washers::{self, SealingWasher};
use refettle_facts::small_parts::split_pins::{self, CastleNut, SplitPin};
use refettle_facts::small_parts::substitute::Substitute;
use refettle_facts::small_parts::wheel_bearings::{self, WheelBearing};

fn size(length: Length) -> String {
    crate::fit_desk::screen::number(mm(length), 3)
}

fn part<T>(
    name: String,
    dimensions: String,
    provenance: Provenance,
    substitutes: Vec<Substitute<T>>,
    name_of: impl Fn(&T) -> String,
) -> PartView {
    PartView {
        name,
        dimensions,
        source: provenance.to_string(),
        substitutes: substitutes
            .into_iter()
            .map(|other| SubstituteView {
                name: name_of(&other.part),
                workable: other.workable,
                differs: other.differs,
            })
            .collect(),
    }
}

pub(super) fn washer(washer: &SealingWasher) -> PartView {
    let threads = washer.threads.map(|t| format!(", for {t}")).unwrap_or_default();
    let dimensions = format!(
        "{} x {} x {} mm{threads}",
        size(washer.inside),
        size(washer.outside),
        size(washer.thickness)
    );
    part(
        washer.name(),
        dimensions,
        washer.provenance,
        sealing_washers::substitutes(washer),
        SealingWasher::name,
    )
}

pub(super) fn pin(pin: &SplitPin) -> PartView {
    let dimensions = format!(
        "hole {} mm, body {} mm, {} to {} mm long; suits bolts of {} mm",
        size(pin.nominal),
        size(pin.body),
        size(pin.shortest),
        size(pin.longest),
        pin.suits_bolt_mm
    );
    part(
        pin.name(),
        dimensions,
        pin.provenance,
        split_pins::substitutes(pin),
        SplitPin::name,
    )
}

/// A pin in the length its castle nut wants.
pub(super) fn pin_of(found: &SplitPin, nut: &CastleNut) -> PartView {
    let mut view = pin(found);
    view.name = format!("{}x{}", found.name(), size(nut.pin_length));
    view.source = format!("{}; nut: {}", view.source, nut.provenance);
    view
}

pub(super) fn castle_nut(nut: &CastleNut) -> PartView {
    let dimensions = format!(
        "spanner {} mm, {} mm high, slots from {} mm up, {} to {} mm wide; split pin {} x {} mm",
        size(nut.across_flats),
        size(nut.height),
        size(nut.height_to_slot),
        size(nut.slot.0),
        size(nut.slot.1),
        size(nut.pin),
        size(nut.pin_length)
    );
    // Another thread does not go on, so nothing stands in.
    part(
        format!("DIN 935 {}", nut.thread),
        dimensions,
        nut.provenance,
        Vec::<Substitute<CastleNut>>::new(),
        |other| other.thread.to_owned(),
    )
}

pub(super) fn chain(found: &ChainSize) -> PartView {
    let roller = found.roller.map_or_else(
        || "not listed".to_owned(),
        |roller| format!("{} mm (second-hand)", size(roller)),
    );
    let dimensions = format!(
        "pitch {} mm, {} mm between the inner plates, roller {roller}",
        size(found.pitch),
        size(found.inside_width)
    );
    part(
        found.name.to_owned(),
        dimensions,
        found.citation,
        chains::substitutes(found),
        |other| other.name.to_owned(),
    )
}

pub(super) fn circlip(clip: &Circlip) -> PartView {
    let dimensions = format!(
        "{} mm thick, groove {} mm across and at least {} mm wide, shoulder at least {} mm",
        size(clip.thickness),
        size(clip.groove_diameter),
        size(clip.groove_width),
        size(clip.shoulder)
    );
    part(
        clip.name(),
        dimensions,
        clip.provenance,
        circlips::substitutes(clip),
        Circlip::name,
    )
}

pub(super) fn bearing(bearing: &WheelBearing) -> PartView {
    let dimensions = format!(
        "bore {}, outside {}, width {} mm",
        size(bearing.bore),
        size(bearing.outside),
        size(bearing.width)
    );
    part(
        bearing.designation.to_owned(),
        dimensions,
        bearing.provenance,
        wheel_bearings::substitutes(bearing),
        |other| other.designation.to_owned(),
    )
}

pub(super) fn stamped(stamped: &wheel_bearings::Stamped) -> PartView {
    let mut view = bearing(&stamped.bearing);
    for suffix in &stamped.suffixes {
        view.dimensions.push_str("; ");
        view.dimensions.push_str(suffix);
    }
    view
}

pub(super) fn bulb(bulb: &Bulb) -> PartView {
    let dimensions = format!(
        "cap {}, {} W at 12 V, {} filament(s); {}",
        bulb.cap, bulb.watts, bulb.filaments, bulb.usual_use
    );
    part(
        bulb.category.to_owned(),
        dimensions,
        bulb.provenance,
        bulbs::substitutes(bulb),
        |other| other.category.to_owned(),
    )
}
