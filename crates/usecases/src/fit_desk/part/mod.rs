//! `part`: small parts by name or by dimension, and what might stand in for them.
//!
//! Sealing washers, split pins, castle nuts, circlips, wheel bearings, bulbs and chains. One part is found by its
//! name; several may be found by what was measured, nearest first.

mod find;
mod views;

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::Screen;
use super::typed::{Typed, count, one_of};
use crate::refused::Refused;
use refettle_facts::quantity::{Length, parse_length};
use refettle_facts::small_parts::circlips::{self, On};
use refettle_facts::small_parts::sealing_washers;
use serde::Serialize;

/// What was typed. Which fields serve depends on the kind; see [`answer`].
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PartRequest {
    /// `washer`, `split-pin`, `castle-nut`, `circlip-shaft`, `circlip-bore`, `bearing`, `bulb`, `chain`.
    pub kind: String,
    /// Its name: `14x20x1.5`, `3.2`, `M12`, `6302-2RS`, `P21/5W`, `520`.
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
    /// Free diameter of a loose circlip: inside for a shaft, outside for a bore.
    pub free: Option<String>,
    /// Pitch of a chain.
    pub pitch: Option<String>,
    /// Roller diameter of a chain.
    pub roller: Option<String>,
    /// Thread a washer seals, or that of a castle nut: `M12`.
    pub thread: Option<String>,
    /// Hose eyes on one banjo bolt.
    pub eyes: Option<String>,
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
    /// Sealing washers on a banjo bolt with so many hose eyes, where they were given.
    pub washers_needed: Option<u32>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Washer,
    SplitPin,
    CastleNut,
    Circlip(On),
    Bearing,
    Bulb,
    Chain,
}

const KINDS: [(&str, Kind); 8] = [
    ("washer", Kind::Washer),
    ("split-pin", Kind::SplitPin),
    ("castle-nut", Kind::CastleNut),
    ("circlip-shaft", Kind::Circlip(On::Shaft)),
    ("circlip-bore", Kind::Circlip(On::Bore)),
    ("bearing", Kind::Bearing),
    ("bulb", Kind::Bulb),
    ("chain", Kind::Chain),
];

/// Every kind, by its word.
pub fn kinds() -> impl Iterator<Item = &'static str> {
    KINDS.iter().map(|(word, _)| *word)
}

/// The lengths that were typed.
struct Sizes {
    inside: Option<Length>,
    outside: Option<Length>,
    thickness: Option<Length>,
    diameter: Option<Length>,
    groove: Option<Length>,
    free: Option<Length>,
    pitch: Option<Length>,
    roller: Option<Length>,
}

impl Sizes {
    fn read(request: &PartRequest, typed: &mut Typed) -> Sizes {
        let mut length = |field, text: &Option<String>| typed.read_if(field, text.as_deref(), parse_length);
        Sizes {
            inside: length("inside", &request.inside),
            outside: length("outside", &request.outside),
            thickness: length("thickness", &request.thickness),
            diameter: length("diameter", &request.diameter),
            groove: length("groove", &request.groove),
            free: length("free", &request.free),
            pitch: length("pitch", &request.pitch),
            roller: length("roller", &request.roller),
        }
    }
}

/// Parts of this kind: by `name`; a washer or bearing by `inside` and `outside`, a washer also by `thread`; a split
/// pin by `diameter` of the hole, `outside` of an old pin or `thread` of its castle nut; a castle nut by `thread`; a
/// circlip by `diameter` of shaft or bore, by `groove`, or loose by `free` and `thickness`; a bulb by `cap`; a chain
/// by `pitch` and `inside` width.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &PartRequest) -> Result<PartsView, Refused> {
    let mut typed = Typed::default();
    let kind = typed.read("kind", &request.kind, |text| one_of(text, &KINDS));
    let sizes = Sizes::read(request, &mut typed);
    let washers_needed = typed.read_if("eyes", request.eyes.as_deref(), |text| {
        count(text).and_then(|eyes| sealing_washers::for_banjo(eyes).map_err(|e| e.to_string()))
    });
    if request.eyes.is_some() && kind.is_some_and(|kind| kind != Kind::Washer) {
        typed.refuse("eyes: hose eyes are counted for washers only");
    }
    let (Some(kind), true) = (kind, typed.is_right()) else {
        return Err(typed.refused());
    };
    let found = find::found(kind, request, &sizes)?;
    let mut basis = Basis::of("standard sizes of small parts, by name and by dimension")
        .from(found.iter().map(|part| part.source.clone()))
        .warning("measure with a caliper before buying; the maker's parts list wins");
    if washers_needed.is_some() {
        basis = basis.assuming([
            "one washer under the head, one under the last eye, one between each two (plain geometry, from memory)",
        ]);
    }
    let word = KINDS
        .iter()
        .find(|(_, k)| *k == kind)
        .map_or("", |(word, _)| *word);
    Ok(PartsView {
        kind: word,
        found,
        washers_needed,
        basis: cautioned(kind, basis),
    })
}

fn cautioned(kind: Kind, basis: Basis) -> Basis {
    match kind {
        Kind::Circlip(_) => basis.cautioned(&circlips::CAUTIONS),
        Kind::SplitPin => basis.warning("a split pin is never used twice"),
        Kind::CastleNut => basis
            .warning(
                "tighten to the maker's torque, then on to the next slot only where the manual says so; never back \
                 off to a slot on an axle unless it says that",
            )
            .warning("a split pin is never used twice")
            .cautioned(&["licensed-work"]),
        Kind::Washer => basis.warnings(sealing_washers::reuse().map(|rule| {
            let kind = rule.kind.replace('_', " ");
            format!("{kind}: {} ({})", rule.rule, rule.provenance)
        })),
        Kind::Bulb => basis.warning(
            "whether a lamp may be used on the road is local law; the category is stamped on the old bulb",
        ),
        Kind::Chain => basis.warning(MAKER_WINS).cautioned(&["chain"]),
        Kind::Bearing => basis,
    }
}

impl OnScreen for PartsView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled(format!("Small part: {}", self.kind));
        if self.found.is_empty() && self.washers_needed.is_none() {
            screen.row(
                "found",
                "none listed of these dimensions: measure again, it may be no standard size",
            );
        }
        for part in &self.found {
            screen.row(&part.name, format!("{}; {}", part.dimensions, part.source));
        }
        screen.row_if("washers on the bolt", self.washers_needed);
        if let [only] = self.found.as_slice() {
            let words: Vec<String> = only.substitutes.iter().map(SubstituteView::words).collect();
            screen.points("Might stand in", &words);
        }
        self.basis.show(&mut screen);
        screen
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
