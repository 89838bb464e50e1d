//! The band in which a tightening figure should lie, from what a sheet says of the fixing.
//!
//! It is the fit desk's sanity band ([`SanityBand`]): from a quarter of what the weakest part bears at little friction
//! to all of it at much. It is to catch a slip of the eye, N·m read for kgf·m or the wrong line, and is never a figure
//! to tighten by; for that reason it is the same for ordinary and for critical fixings.
//!
//! A sheet does not say the class of a screw, how it goes in, or into what. Class 8.8, as delivered, is assumed. The
//! nut of a bolt or an axle is taken as steel; a screw, and a nut on a stud, may hold in a casting, so that both a
//! steel and a cast alloy hole are reckoned. Where the screw is hollow,
//! sealed by a washer, set by feel or held by rubber, or its head is none of the table's, there is no band.

use crate::fit_desk::screen::exact;
use refettle_facts::fasteners::bearing::Head;
use refettle_facts::fasteners::critical::SanityBand;
use refettle_facts::fasteners::friction::{Condition, Friction};
use refettle_facts::fasteners::spanner::{Tool, sizes};
use refettle_facts::fasteners::thread::{self, Thread};
use refettle_facts::fasteners::torque::{Answer, FixingUse, Question, Tapped, answer};
use refettle_facts::fasteners::{material, strength};
use refettle_facts::quantity::{Torque, mm, parse_length, parse_torque};
use refettle_machine::model::Fixing;
use serde::Serialize;

/// Class assumed: the usual one of bolts on motorcycles (common practice, no source).
pub const CLASS: &str = "8.8";

/// Thread assumed to engage in a cast alloy hole, in diameters (common practice, no source).
pub const ENGAGED: f64 = 2.0;

/// Said once with all bands.
pub const ABOUT: &str = "Check only: computed (VDI 2230-1), to catch a slip of the eye, never to tighten by; the \
                         maker's figure wins. Assumed: class 8.8, as delivered, in steel, or in cast alloy with 2 \
                         diameters of thread. It knows the screw, not what the screw holds. Left out for hollow \
                         bolts, sealed or soft joints, and threads or heads not in the table.";

/// Words of fixings for which a solid screw pressing metal on metal is the wrong picture.
const NO_SCREW_JOINT: [&str; 16] = [
    "plug",
    "banjo",
    "union",
    "well nut",
    "rubber",
    "plastic",
    "by feel",
    "hand tight",
    "adjuster",
    "shoulder",
    "terminal",
    "valve",
    "cowl",
    "fairing",
    "panel",
    "cable",
];

/// What may follow the thread in a fixing's kind for it to be a plain screw, bolt or nut.
const PLAIN: [&str; 7] = [
    "",
    "nut",
    "flange nut",
    "self-locking nut",
    "bolt",
    "clamp bolt",
    "screw",
];

/// Between what a figure should lie.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BandView {
    /// Thread reckoned with, as the table names it.
    pub thread: &'static str,
    /// Lower edge.
    pub low_nm: f64,
    /// Upper edge, in a steel nut or hole.
    pub high_nm: f64,
    /// Upper edge in a cast alloy hole; `None` where a bolt or axle goes through to a nut.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub high_in_alloy_nm: Option<f64>,
    /// What the sheet does not say and was assumed.
    pub assumed: String,
}

/// The band of a fixing, `None` where the sheet says too little for an honest one.
///
/// `title` is that of the part or critical fixing: it often says what the thread does not.
#[must_use]
pub fn band(fixing: &Fixing, title: &str) -> Option<BandView> {
    let said = said(fixing, title);
    if NO_SCREW_JOINT.iter().any(|word| said.contains(word)) {
        return None;
    }
    let (thread, kind) = thread_of(&fixing.kind)?;
    let head = head(fixing, &thread, kind)?;
    let steel = sanity(&thread, head, None)?;
    if through(fixing, &said) {
        return Some(BandView {
            thread: thread.name,
            low_nm: exact(steel.low().value),
            high_nm: exact(steel.high().value),
            high_in_alloy_nm: None,
            assumed: format!("class {CLASS}, as delivered, {}, steel nut", head.words()),
        });
    }
    let alloy = Tapped {
        material: material::named("cast-aluminium").ok()?,
        engaged: ENGAGED * thread.major,
    };
    let alloy = sanity(&thread, head, Some(alloy))?;
    Some(BandView {
        thread: thread.name,
        low_nm: exact(alloy.low().value),
        high_nm: exact(steel.high().value),
        high_in_alloy_nm: Some(exact(alloy.high().value)),
        assumed: format!(
            "class {CLASS}, as delivered, {}; the sheet does not say into what: steel, or cast alloy of unknown kind \
             with {ENGAGED} diameters of thread",
            head.words()
        ),
    })
}

impl BandView {
    /// `4 to 40 N·m, in alloy to 25`, rounded outward so that no rounding makes it narrower.
    #[must_use]
    pub fn words(&self) -> String {
        let alloy = self
            .high_in_alloy_nm
            .map(|high| format!(", in alloy to {}", above(high)))
            .unwrap_or_default();
        format!("{} to {} N·m{alloy}", below(self.low_nm), above(self.high_nm))
    }

    /// What is odd about the sheet's own figure (`8–12 N·m`, `9 N·m`), if anything; `None` also where it
    /// cannot be read. The figure itself is not repeated: on a critical fixing it must not be shown.
    #[must_use]
    pub fn doubt(&self, typical: &str) -> Option<&'static str> {
        let (low, high) = range(typical)?;
        if high.value < self.low_nm {
            Some("the sheet's figure lies below that: read it again, and the thread")
        } else if low.value > self.high_nm {
            Some("the sheet's figure lies above that: read it again, and the thread")
        } else if self.high_in_alloy_nm.is_some_and(|most| low.value > most) {
            Some("the sheet's figure is over the alloy edge: only in steel or a deeper thread")
        } else {
            None
        }
    }
}

/// Everything the sheet says of a fixing, in lower case.
fn said(fixing: &Fixing, title: &str) -> String {
    let mut said = format!("{title} {}", fixing.kind);
    for more in [&fixing.place, &fixing.locking].into_iter().flatten() {
        said.push(' ');
        said.push_str(more);
    }
    said.to_lowercase()
}

/// Whether bolt or axle goes through to a nut. A nut without a bolt's length sits on a stud, and that in anything.
fn through(fixing: &Fixing, said: &str) -> bool {
    let word = |wanted: &str| {
        said.split(|c: char| !c.is_alphabetic())
            .any(|word| word == wanted)
    };
    // What pinches or holds an axle sits in the casting of the fork leg.
    let in_casting = said.contains("pinch") || said.contains("holder");
    word("nut") && !in_casting && (word("axle") || fixing.length.is_some())
}

/// The thread and what stands behind it; `None` for what is no plain screw, or no thread of the table.
fn thread_of(kind: &str) -> Option<(Thread, &str)> {
    let (name, rest) = kind.trim().split_once(' ').unwrap_or((kind.trim(), ""));
    PLAIN.contains(&rest.trim()).then_some(())?;
    let thread = thread::named(name).ok()?;
    (!thread.series.is_pipe()).then_some((thread, rest.trim()))
}

/// The head, where drive and size are those of a standard one.
fn head(fixing: &Fixing, thread: &Thread, kind: &str) -> Option<Head> {
    let (tool, head) = match fixing.drive.as_deref()? {
        "hex" if kind.starts_with("flange") => (Tool::Spanner, Head::Flange),
        "hex" => (Tool::Spanner, Head::Hex),
        "socket hex" => (Tool::Key, Head::Socket),
        _ => return None,
    };
    let Some(across) = &fixing.across_flats else {
        return Some(head);
    };
    let across = parse_length(across).ok()?;
    let listed = |size: &refettle_facts::fasteners::spanner::SpannerSize| {
        size.tool == tool && (mm(size.across_flats) - mm(across)).abs() < 0.05
    };
    sizes(thread).iter().any(listed).then_some(head)
}

fn sanity(thread: &Thread, head: Head, into: Option<Tapped>) -> Option<SanityBand> {
    let class = strength::named(CLASS, thread).ok()?;
    let mut question = Question::new(*thread, class, Friction::of(Condition::AsReceived).ok()?);
    question.head = head;
    question.into = into;
    question.fixing = FixingUse::Critical;
    match answer(&question).ok()? {
        Answer::SanityBand(band) => Some(band),
        Answer::Figure(_) => None,
    }
}

/// Both ends of `8–12 N·m`, or `9 N·m` twice.
fn range(text: &str) -> Option<(Torque, Torque)> {
    let Some((low, high)) = text.split_once(['–', '-']) else {
        let one = parse_torque(text).ok()?;
        return Some((one, one));
    };
    let unit = high
        .trim_start()
        .trim_start_matches(|c: char| c.is_ascii_digit() || ".,".contains(c));
    let low = parse_torque(&format!("{} {}", low.trim(), unit.trim())).ok()?;
    Some((low, parse_torque(high).ok()?))
}

/// One decimal below ten, none above: nobody reads more off a band.
fn step(value: f64) -> f64 {
    if value < 10.0 { 10.0 } else { 1.0 }
}

fn below(value: f64) -> f64 {
    (value * step(value)).floor() / step(value)
}

fn above(value: f64) -> f64 {
    (value * step(value)).ceil() / step(value)
}
