//! Whether a small part of the kit is of a standard size, and what is nearest when it is not.
//!
//! A nearest size is one to measure the old part against, not a leave to fit it: a thinner split pin, another bearing
//! or another circlip is never a stand-in.

use super::rubber;
use refettle_facts::published::{Provenance, Standing};
use refettle_facts::quantity::{Length, from_mm, mm};
use refettle_facts::seals::material::SealedFluid;
use refettle_facts::seals::sizes::{self, StandardSize, cross_sections};
use refettle_facts::small_part::SmallPart;
use refettle_facts::small_parts::circlips::{self, On};
use refettle_facts::small_parts::{sealing_washers, split_pins, wheel_bearings};
use serde::Serialize;

/// Nearest sizes named at most.
const NEAREST: usize = 2;

/// Two lengths are the same when no caliper tells them apart (common practice, no source).
const SAME_MM: f64 = 0.05;

/// What the lists of standard sizes say of a part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SizeView {
    /// The part, as the sheet has it.
    pub of: String,
    /// Its name in the list; `None` when it is no standard size.
    pub standard: Option<String>,
    /// Where that row of the list is from, and how far it was opened.
    pub source: Option<String>,
    /// The nearest standard sizes when it is none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub nearest: Vec<String>,
    /// What else a buyer should know.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// How its rubber stands up to the fluid it meets.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rubber: Option<String>,
}

/// Standard or not, and the nearest; the caution that a nearest size of this kind needs.
struct Found {
    standard: Option<(String, Provenance)>,
    nearest: Vec<String>,
    note: Option<String>,
}

/// What is known of this part's size; `None` for kinds without a list, and for parts without their dimensions.
#[must_use]
pub fn size(part: &SmallPart, meets: Option<SealedFluid>) -> Option<SizeView> {
    let found = match part.kind.as_str() {
        "sealing-washer" => washer(part),
        "split-pin" => pin(part),
        "o-ring" => ring(part),
        "circlip-shaft" => circlip(part, On::Shaft),
        "circlip-bore" => circlip(part, On::Bore),
        "wheel-bearing" | "bearing" => bearing(part),
        _ => None,
    }?;
    let (standard, provenance) = found.standard.unzip();
    Some(SizeView {
        of: part.to_string(),
        source: provenance.map(|p| p.to_string()),
        nearest: if standard.is_some() {
            Vec::new()
        } else {
            found.nearest
        },
        standard,
        note: found.note,
        rubber: meets.and_then(|fluid| rubber::words(part, fluid)),
    })
}

impl SizeView {
    /// `standard size DIN 7603 A 10x14x1 (second-hand)`, or `no standard size; nearest …`; then the note.
    #[must_use]
    pub fn words(&self) -> String {
        let mut said = match (&self.standard, self.nearest.is_empty()) {
            (Some(name), _) => format!("standard size {name}"),
            (None, false) => format!("no standard size; nearest {}", self.nearest.join(" or ")),
            (None, true) => "no standard size, and none near it in the list".to_owned(),
        };
        if let Some(note) = &self.note {
            said.push_str("; ");
            said.push_str(note);
        }
        said
    }
}

fn dimension(part: &SmallPart, name: &str) -> Option<Length> {
    part.dimensions.get(name).map(|um| from_mm(f64::from(um.0) / 1e3))
}

fn off(a: Length, b: Length) -> f64 {
    (mm(a) - mm(b)).abs()
}

/// A name and, where the row was not read in its source, how it came to be known.
fn named(name: &str, provenance: &Provenance) -> (String, Provenance) {
    let known = match provenance.standing() {
        Standing::FromMemory if provenance.words().starts_with("partly") => " (partly from memory)",
        Standing::FromMemory => " (from memory)",
        Standing::Secondary => " (second-hand)",
        Standing::Verified | Standing::Computed => "",
    };
    (format!("{name}{known}"), *provenance)
}

fn washer(part: &SmallPart) -> Option<Found> {
    let (inside, outside) = (dimension(part, "inside")?, dimension(part, "outside")?);
    let thickness = dimension(part, "thickness");
    let near = sealing_washers::by_dimensions(inside, outside, thickness).ok()?;
    let standard = near
        .first()
        .filter(|found| mm(found.off_by) <= SAME_MM)
        .map(|found| named(&found.washer.name(), &found.washer.provenance));
    let mut nearest: Vec<String> = near.iter().map(|found| found.washer.name()).collect();
    if nearest.is_empty() {
        let mut same_bore: Vec<_> = sealing_washers::all()
            .filter(|w| off(w.inside, inside) <= SAME_MM)
            .collect();
        same_bore.sort_by(|a, b| off(a.outside, outside).total_cmp(&off(b.outside, outside)));
        nearest = same_bore
            .iter()
            .map(sealing_washers::SealingWasher::name)
            .collect();
    }
    nearest.truncate(NEAREST);
    Some(Found {
        standard,
        nearest,
        note: None,
    })
}

fn pin(part: &SmallPart) -> Option<Found> {
    let diameter = dimension(part, "diameter")?;
    let found = split_pins::of_size(diameter);
    let length = dimension(part, "length");
    let too_long_or_short = found.zip(length).filter(|(pin, length)| {
        mm(*length) < mm(pin.shortest) - SAME_MM || mm(*length) > mm(pin.longest) + SAME_MM
    });
    let mut near: Vec<_> = split_pins::all().collect();
    near.sort_by(|a, b| off(a.nominal, diameter).total_cmp(&off(b.nominal, diameter)));
    Some(Found {
        // Of these rows only the bolts a pin suits are from memory, and those are not told here.
        standard: found.map(|pin| (pin.name(), pin.provenance)),
        nearest: near
            .iter()
            .take(NEAREST)
            .map(split_pins::SplitPin::name)
            .collect(),
        note: match (too_long_or_short, found) {
            (Some((pin, _)), _) => Some(format!(
                "made {} to {} mm long",
                mm(pin.shortest),
                mm(pin.longest)
            )),
            (None, None) => {
                Some("the hole names the pin: measure the hole; a thinner one is loose".to_owned())
            }
            (None, Some(_)) => None,
        },
    })
}

fn ring(part: &SmallPart) -> Option<Found> {
    let (inside, section) = (dimension(part, "inside")?, dimension(part, "section")?);
    let standard = sizes::matching(inside, section).map(|size| named(&size.name(), &size.provenance));
    // Another section is another squeeze: only sizes of nearly the same section, and no more than a seal may be
    // stretched from the wanted inside (5 %, seal makers' design pages).
    let mut near: Vec<StandardSize> = sizes::all()
        .filter(|size| {
            off(size.section.nominal, section) <= 0.1 && off(size.inside.nominal, inside) <= 0.05 * mm(inside)
        })
        .collect();
    let apart =
        |size: &StandardSize| off(size.inside.nominal, inside).hypot(off(size.section.nominal, section));
    near.sort_by(|a, b| apart(a).total_cmp(&apart(b)));
    let metric = cross_sections()
        .any(|listed| !listed.series.starts_with("inch") && off(listed.section.nominal, section) < 0.005);
    let note = (standard.is_none() && metric).then(|| "metric section, sold by dimensions".to_owned());
    Some(Found {
        standard,
        nearest: near.iter().take(NEAREST).map(dimensioned).collect(),
        note,
    })
}

/// `JIS S38 (37.5 × 2 mm)`: the name alone says no size.
fn dimensioned(size: &StandardSize) -> String {
    let (inside, section) = (mm(size.inside.nominal), mm(size.section.nominal));
    let cut = |value: f64| crate::fit_desk::screen::number(value, 2);
    format!("{} ({} × {} mm)", size.name(), cut(inside), cut(section))
}

fn circlip(part: &SmallPart, on: On) -> Option<Found> {
    let diameter = dimension(part, "diameter")?;
    let thickness = dimension(part, "thickness");
    let same_ring =
        |clip: &circlips::Circlip| thickness.is_none_or(|thick| off(clip.thickness, thick) <= SAME_MM);
    let found = circlips::for_diameter(on, diameter).ok()?.filter(same_ring);
    let mut near: Vec<_> = circlips::all().filter(|clip| clip.on == on).collect();
    near.sort_by(|a, b| off(a.nominal, diameter).total_cmp(&off(b.nominal, diameter)));
    Some(Found {
        note: found
            .is_none()
            .then(|| "the shaft or bore names the clip: measure its groove".to_owned()),
        standard: found.map(|clip| named(&clip.name(), &clip.provenance)),
        nearest: near.iter().take(NEAREST).map(circlips::Circlip::name).collect(),
    })
}

fn bearing(part: &SmallPart) -> Option<Found> {
    let (bore, outside) = (dimension(part, "inside")?, dimension(part, "outside")?);
    let width = dimension(part, "thickness").or_else(|| dimension(part, "width"))?;
    let found = wheel_bearings::by_dimensions(bore, outside, Some(width)).ok()?;
    let mut near: Vec<_> = wheel_bearings::all()
        .filter(|b| off(b.bore, bore) <= SAME_MM)
        .collect();
    let apart = |b: &wheel_bearings::WheelBearing| off(b.outside, outside).hypot(off(b.width, width));
    near.sort_by(|a, b| apart(a).total_cmp(&apart(b)));
    Some(Found {
        standard: found.first().map(|b| named(b.designation, &b.provenance)),
        nearest: near
            .iter()
            .take(NEAREST)
            .map(|b| {
                format!(
                    "{} ({} × {} × {} mm)",
                    b.designation,
                    mm(b.bore),
                    mm(b.outside),
                    mm(b.width)
                )
            })
            .collect(),
        note: found
            .is_empty()
            .then(|| "read what is stamped on the old one; none other stands in".to_owned()),
    })
}
