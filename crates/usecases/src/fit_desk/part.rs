//! `part`: small parts by name or by dimension, and what might stand in for them.
//!
//! Sealing washers, split pins, circlips, wheel bearings and bulbs. One part is found by its name; several may be
//! found by what was measured, nearest first.

use super::OnScreen;
use super::basis::Basis;
use super::screen::Screen;
use super::typed::{Typed, one_of, refused};
use crate::refused::Refused;
use refettle_facts::published::Provenance;
use refettle_facts::quantity::{Length, mm, parse_length};
use refettle_facts::small_parts::circlips::{self, Circlip, On};
use refettle_facts::small_parts::sealing_washers::{self, SealingWasher};
use refettle_facts::small_parts::split_pins::{self, SplitPin};
use refettle_facts::small_parts::substitute::Substitute;
use refettle_facts::small_parts::wheel_bearings::{self, WheelBearing};
use refettle_facts::small_parts::{SmallPartError, bulbs, bulbs::Bulb};
use serde::Serialize;

/// What was typed. Which fields serve depends on the kind; see [`answer`].
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PartRequest {
    /// `washer`, `split-pin`, `circlip-shaft`, `circlip-bore`, `bearing`, `bulb`.
    pub kind: String,
    /// Its name: `14x20x1.5`, `3.2`, `6302-2RS`, `P21/5W`.
    pub name: Option<String>,
    /// Inside diameter or bore.
    pub inside: Option<String>,
    /// Outside diameter.
    pub outside: Option<String>,
    /// Thickness or width.
    pub thickness: Option<String>,
    /// Hole, shaft or bore it is for; of a split pin, the hole through the bolt.
    pub diameter: Option<String>,
    /// Groove floor of a circlip.
    pub groove: Option<String>,
    /// Cap of a bulb.
    pub cap: Option<String>,
    /// Watts of a bulb.
    pub watts: Option<String>,
}

/// One part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartView {
    /// As one asks for it.
    pub name: String,
    /// Its dimensions in words.
    pub dimensions: String,
    /// Where the row is from.
    pub source: String,
    /// What might stand in, and what differs.
    pub substitutes: Vec<SubstituteView>,
}

/// A part that might stand in.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SubstituteView {
    /// As one asks for it.
    pub name: String,
    /// Whether it may be used at all.
    pub workable: bool,
    /// What differs, and what that means.
    pub differs: Vec<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartsView {
    /// Kind, tidied.
    pub kind: &'static str,
    /// What was found, nearest first; none where no listed part fits.
    pub found: Vec<PartView>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Washer,
    SplitPin,
    Circlip(On),
    Bearing,
    Bulb,
}

const KINDS: [(&str, Kind); 6] = [
    ("washer", Kind::Washer),
    ("split-pin", Kind::SplitPin),
    ("circlip-shaft", Kind::Circlip(On::Shaft)),
    ("circlip-bore", Kind::Circlip(On::Bore)),
    ("bearing", Kind::Bearing),
    ("bulb", Kind::Bulb),
];

/// The lengths that were typed.
struct Sizes {
    inside: Option<Length>,
    outside: Option<Length>,
    thickness: Option<Length>,
    diameter: Option<Length>,
    groove: Option<Length>,
}

/// Parts of this kind: by `name`; a washer or bearing by `inside` and `outside`; a split pin by `diameter` of the
/// hole or `outside` of an old pin; a circlip by `diameter` of shaft or bore, or by `groove`; a bulb by `cap`.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &PartRequest) -> Result<PartsView, Refused> {
    let mut typed = Typed::default();
    let kind = typed.read("kind", &request.kind, |text| one_of(text, &KINDS));
    let mut length = |field, text: &Option<String>| typed.read_if(field, text.as_deref(), parse_length);
    let sizes = Sizes {
        inside: length("inside", &request.inside),
        outside: length("outside", &request.outside),
        thickness: length("thickness", &request.thickness),
        diameter: length("diameter", &request.diameter),
        groove: length("groove", &request.groove),
    };
    let (Some(kind), true) = (kind, typed.is_right()) else {
        return Err(typed.refused());
    };
    let found = found(kind, request, &sizes)?;
    let mut basis = Basis::of("standard sizes of small parts, by name and by dimension")
        .from(found.iter().map(|part| part.source.clone()))
        .warning("measure with a caliper before buying; the maker's parts list wins");
    basis = match kind {
        Kind::Circlip(_) => basis.cautioned(&circlips::CAUTIONS),
        Kind::SplitPin => basis.warning("a split pin is never used twice"),
        Kind::Washer => sealing_washers::reuse().fold(basis, |basis, rule| {
            basis.warning(format!("{}: {} ({})", rule.kind, rule.rule, rule.provenance))
        }),
        Kind::Bulb => basis.warning(
            "whether a lamp may be used on the road is local law; the category is stamped on the old bulb",
        ),
        Kind::Bearing => basis,
    };
    let word = KINDS
        .iter()
        .find(|(_, k)| *k == kind)
        .map_or("", |(word, _)| *word);
    Ok(PartsView {
        kind: word,
        found,
        basis,
    })
}

fn found(kind: Kind, request: &PartRequest, sizes: &Sizes) -> Result<Vec<PartView>, Refused> {
    let name = request.name.as_deref();
    let taken: Result<Vec<PartView>, SmallPartError> = match (kind, name) {
        (Kind::Washer, Some(name)) => sealing_washers::named(name).map(|w| vec![washer(&w)]),
        (Kind::SplitPin, Some(name)) => split_pins::named(name).map(|p| vec![pin(&p)]),
        (Kind::Bearing, Some(name)) => wheel_bearings::named(name).map(|b| vec![stamped(&b)]),
        (Kind::Bulb, Some(name)) => bulbs::named(name).map(|b| vec![bulb(&b)]),
        (Kind::Washer, None) => {
            let (inside, outside) = both(sizes)?;
            sealing_washers::by_dimensions(inside, outside, sizes.thickness)
                .map(|all| all.iter().map(|m| washer(&m.washer)).collect())
        }
        (Kind::Bearing, None) => {
            let (bore, outside) = both(sizes)?;
            wheel_bearings::by_dimensions(bore, outside, sizes.thickness)
                .map(|all| all.iter().map(bearing).collect())
        }
        (Kind::SplitPin, None) => match (sizes.diameter, sizes.outside) {
            (Some(hole), _) => split_pins::for_hole(hole).map(|one| one.iter().map(pin).collect()),
            (None, Some(body)) => split_pins::by_body(body).map(|all| all.iter().map(pin).collect()),
            (None, None) => {
                return Err(refused(
                    &"split pin: give its name such as 3.2, the diameter of its hole such as 3.2 mm, or the outside of an old one",
                ));
            }
        },
        (Kind::Circlip(on), _) => match (sizes.diameter, sizes.groove) {
            (Some(diameter), _) => {
                circlips::for_diameter(on, diameter).map(|one| one.iter().map(circlip).collect())
            }
            (None, Some(floor)) => {
                circlips::for_groove(on, floor, sizes.thickness).map(|all| all.iter().map(circlip).collect())
            }
            (None, None) => {
                return Err(refused(
                    &"circlip: give the diameter of its shaft or bore such as 20 mm, or the floor of its groove",
                ));
            }
        },
        (Kind::Bulb, None) => match request.cap.as_deref() {
            Some(cap) => Ok(bulbs::by_cap(cap, request.watts.as_deref())
                .iter()
                .map(bulb)
                .collect()),
            None => {
                return Err(refused(
                    &"bulb: give the category stamped on it such as P21/5W, or its cap such as BAY15d",
                ));
            }
        },
    };
    taken.map_err(|problem| refused(&problem))
}

fn both(sizes: &Sizes) -> Result<(Length, Length), Refused> {
    sizes
        .inside
        .zip(sizes.outside)
        .ok_or_else(|| refused(&"give its name, or inside and outside such as 14 mm and 20 mm"))
}

fn size(length: Length) -> String {
    super::screen::number(mm(length), 3)
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

fn washer(washer: &SealingWasher) -> PartView {
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

fn pin(pin: &SplitPin) -> PartView {
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

fn circlip(clip: &Circlip) -> PartView {
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

fn bearing(bearing: &WheelBearing) -> PartView {
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

fn stamped(stamped: &wheel_bearings::Stamped) -> PartView {
    let mut view = bearing(&stamped.bearing);
    for suffix in &stamped.suffixes {
        view.dimensions.push_str("; ");
        view.dimensions.push_str(suffix);
    }
    view
}

fn bulb(bulb: &Bulb) -> PartView {
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

impl OnScreen for PartsView {
    fn text(&self) -> String {
        let mut screen = Screen::titled(format!("Small part: {}", self.kind));
        if self.found.is_empty() {
            screen.row(
                "found",
                "none listed of these dimensions: measure again, it may be no standard size",
            );
        }
        for part in &self.found {
            screen.row(&part.name, format!("{}; {}", part.dimensions, part.source));
        }
        if let [only] = self.found.as_slice() {
            let words: Vec<String> = only.substitutes.iter().map(SubstituteView::words).collect();
            screen.points("Might stand in", &words);
        }
        self.basis.show(&mut screen);
        screen.finished()
    }
}

impl SubstituteView {
    fn words(&self) -> String {
        let workable = if self.workable {
            "workable"
        } else {
            "not to be used"
        };
        format!("{}: {workable}; {}", self.name, self.differs.join("; "))
    }
}
