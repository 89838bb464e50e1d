//! `thread`: what thread is this, by outside diameter and pitch.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, one_of, refused, threads_per_inch};
use crate::refused::Refused;
use refettle_facts::fasteners::identify::{Candidate, Measured, Origin, Pitch, check_named, identify};
use refettle_facts::fasteners::spanner::Tool;
use refettle_facts::fasteners::{recess, thread};
use refettle_facts::quantity::{mm, parse_length};
use serde::Serialize;

/// What was typed: outside diameter, and either pitch or threads in an inch.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ThreadRequest {
    /// Outside diameter over the crests.
    pub od: String,
    /// Pitch as a length.
    pub pitch: Option<String>,
    /// Threads in an inch.
    pub tpi: Option<String>,
    /// Spread of the caliper reading.
    pub od_error: Option<String>,
    /// Wear at most on the diameter.
    pub wear: Option<String>,
    /// Plating at most on the diameter.
    pub plating: Option<String>,
    /// `metric`, `inch` or `unknown`.
    pub origin: Option<String>,
    /// A thread it is said to be, to be checked against the reading.
    pub named: Option<String>,
}

/// Spanner or key for a head.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpannerView {
    /// By which standard.
    pub standard: &'static str,
    /// `spanner` or `key`.
    pub tool: &'static str,
    /// Across flats.
    pub across_flats_mm: f64,
}

/// A thread it may be taken for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LookAlikeView {
    /// The other thread.
    pub name: &'static str,
    /// How to tell.
    pub tell: String,
    /// What the mix-up does.
    pub harm: &'static str,
}

/// One thread it may be.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CandidateView {
    /// Its name.
    pub name: &'static str,
    /// How likely, 0 to 1.
    pub probability: f64,
    /// Which series, in words.
    pub series: &'static str,
    /// Least and most outside of a sound screw.
    pub outside_mm: [f64; 2],
    /// Pitch.
    pub pitch_mm: f64,
    /// Drill before tapping, as sold.
    pub tap_drill: Option<&'static str>,
    /// The same in millimetres.
    pub tap_drill_mm: Option<f64>,
    /// Spanners and keys by standard.
    pub spanners: Vec<SpannerView>,
    /// Number of the cross-recess driver, where such heads exist.
    pub cross_recess: Option<u8>,
    /// Threads it may be taken for.
    pub look_alikes: Vec<LookAlikeView>,
    /// What to ask for at the counter.
    pub to_buy: Vec<String>,
    /// Source of the thread's row.
    pub source: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ThreadView {
    /// Likeliest first.
    pub candidates: Vec<CandidateView>,
    /// How likely it is none of the table, 0 to 1.
    pub none_of_these: f64,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

const ORIGINS: [(&str, Origin); 3] = [
    ("metric", Origin::Metric),
    ("inch", Origin::Inch),
    ("unknown", Origin::Unknown),
];

/// Candidates with their probabilities.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &ThreadRequest) -> Result<ThreadView, Refused> {
    let mut typed = Typed::default();
    let outside = typed.read("od", &request.od, parse_length);
    let pitch = typed.read_if("pitch", request.pitch.as_deref(), parse_length);
    let count = typed.read_if("tpi", request.tpi.as_deref(), threads_per_inch);
    let error = typed.read_if("od-error", request.od_error.as_deref(), parse_length);
    let wear = typed.read_if("wear", request.wear.as_deref(), parse_length);
    let plating = typed.read_if("plating", request.plating.as_deref(), parse_length);
    let origin = typed.read_if("origin", request.origin.as_deref(), |text| one_of(text, &ORIGINS));
    let named = typed.read_if("named", request.named.as_deref(), thread::named);
    match (&request.pitch, &request.tpi) {
        (Some(_), Some(_)) => {
            typed.refuse("pitch and tpi: give one, a length such as 1.25 mm or a count such as 24");
        }
        (None, None) => {
            typed.refuse("pitch: give a pitch such as 1.25 mm, or tpi with threads in an inch such as 24");
        }
        _ => {}
    }
    let pitch = pitch.map(Pitch::Length).or(count.map(Pitch::PerInch));
    let (Some(outside), Some(pitch), true) = (outside, pitch, typed.is_right()) else {
        return Err(typed.refused());
    };
    if let Some(named) = named {
        check_named(&named, outside).map_err(|e| refused(&e))?;
    }
    let mut measured = Measured::new(outside, pitch);
    measured.outside_error = error.unwrap_or(measured.outside_error);
    measured.wear = wear.unwrap_or(measured.wear);
    measured.plating = plating.unwrap_or(measured.plating);
    measured.origin = origin.unwrap_or(Origin::Unknown);
    let found = identify(&measured).map_err(|e| refused(&e))?;
    let basis = Basis::of("likelihood of each standard thread for the reading (Bayes)")
        .assuming(found.assumptions)
        .from(found.candidates.iter().map(source))
        .warning("fit a known good nut by hand over its full length before trusting any of them");
    Ok(ThreadView {
        candidates: found.candidates.iter().map(candidate).collect(),
        none_of_these: exact(found.none_of_these.value),
        basis,
    })
}

fn source(found: &Candidate) -> String {
    format!("{} ({})", found.thread.source, found.thread.status)
}

fn candidate(found: &Candidate) -> CandidateView {
    let thread = &found.thread;
    CandidateView {
        name: thread.name,
        probability: exact(found.probability.value),
        series: thread.series.words(),
        outside_mm: [exact(mm(found.outside_range.0)), exact(mm(found.outside_range.1))],
        pitch_mm: exact(mm(thread.pitch)),
        tap_drill: found.tap_drill.map(|drill| drill.name),
        tap_drill_mm: found.tap_drill.map(|drill| exact(mm(drill.diameter))),
        spanners: found
            .spanners
            .iter()
            .map(|size| SpannerView {
                standard: size.standard,
                tool: match size.tool {
                    Tool::Spanner => "spanner",
                    Tool::Key => "key",
                },
                across_flats_mm: exact(mm(size.across_flats)),
            })
            .collect(),
        cross_recess: recess::driver_for(thread).ok().map(|driver| driver.number),
        look_alikes: found
            .look_alikes
            .iter()
            .map(|other| LookAlikeView {
                name: other.other.name,
                tell: other.tell.clone(),
                harm: other.harm,
            })
            .collect(),
        to_buy: [&found.to_buy.screw, &found.to_buy.nut, &found.to_buy.tap]
            .into_iter()
            .chain(&found.to_buy.head)
            .cloned()
            .collect(),
        source: source(found),
    }
}

impl OnScreen for ThreadView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Thread: what it may be");
        for found in &self.candidates {
            screen.row(
                found.name,
                format!(
                    "{} %, {}; outside {} to {} mm, pitch {} mm",
                    number(found.probability * 100.0, 1),
                    found.series,
                    number(found.outside_mm[0], 3),
                    number(found.outside_mm[1], 3),
                    number(found.pitch_mm, 4)
                ),
            );
        }
        screen.row(
            "none of the table",
            format!("{} %", number(self.none_of_these * 100.0, 1)),
        );
        if let Some(first) = self.candidates.first() {
            first.show(&mut screen);
        }
        self.basis.show(&mut screen);
        screen
    }
}

impl CandidateView {
    fn show(&self, screen: &mut Screen) {
        screen.row_if(
            "tap drill",
            self.tap_drill_mm.map(|drill| {
                let size = format!("{} mm", number(drill, 2));
                match self.tap_drill.filter(|name| !name.is_empty()) {
                    Some(name) => format!("{name} ({size})"),
                    None => size,
                }
            }),
        );
        let spanners: Vec<String> = self
            .spanners
            .iter()
            .map(|size| {
                format!(
                    "{} {} mm ({})",
                    size.tool,
                    number(size.across_flats_mm, 2),
                    size.standard
                )
            })
            .collect();
        if !spanners.is_empty() {
            screen.row("heads", spanners.join("; "));
        }
        screen.row_if(
            "cross-recess driver",
            self.cross_recess.map(|n| format!("No. {n}")),
        );
        screen.points(&format!("To buy, if it is {}", self.name), &self.to_buy);
        let look_alikes: Vec<String> = self
            .look_alikes
            .iter()
            .map(|other| {
                format!(
                    "{}: {}; {}",
                    other.name,
                    other.tell.trim_end_matches('.'),
                    other.harm
                )
            })
            .collect();
        screen.points("May be taken for", &look_alikes);
    }
}
