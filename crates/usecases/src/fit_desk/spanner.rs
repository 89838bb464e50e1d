//! `spanner`: which threads have a head of this size, by standard.

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::fasteners::spanner::threads_with;
use refettle_facts::quantity::{mm, parse_length};
use serde::Serialize;

/// Least and most across flats taken as meant, in millimetres: below and above them no head is in the table.
const ACROSS_FLATS_MM: std::ops::RangeInclusive<f64> = 4.0..=50.0;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SpannerRequest {
    /// Across flats, as measured or as stamped on the spanner.
    pub size: String,
}

/// A thread with such a head.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HeadView {
    /// The thread.
    pub thread: &'static str,
    /// By which standard its head is so large.
    pub standard: &'static str,
    /// Across flats, by that standard.
    pub across_flats_mm: f64,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpannerView {
    /// Threads with such a head; none where no standard has one.
    pub heads: Vec<HeadView>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Threads whose heads take this spanner.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &SpannerRequest) -> Result<SpannerView, Refused> {
    let mut typed = Typed::default();
    let Some(size) = typed.read("size", &request.size, parse_length) else {
        return Err(typed.refused());
    };
    if !ACROSS_FLATS_MM.contains(&mm(size)) {
        return Err(refused(&format!(
            "size: {} mm across flats is outside {} to {} mm of the heads listed; check the figure and its unit",
            number(mm(size), 3),
            ACROSS_FLATS_MM.start(),
            ACROSS_FLATS_MM.end()
        )));
    }
    let found = threads_with(size);
    Ok(SpannerView {
        heads: found
            .iter()
            .map(|(thread, head)| HeadView {
                thread: thread.name,
                standard: head.standard,
                across_flats_mm: exact(mm(head.across_flats)),
            })
            .collect(),
        basis: Basis::of("spanner sizes across flats, by standard")
            .assuming([
                "flats worn by up to 0.25 mm (common practice, no source); fine threads have the head of the coarse one",
            ])
            .from(found.iter().map(|(_, head)| head.source))
            .warning("the head names no thread: measure the thread too before buying or tightening")
            .warning(MAKER_WINS),
    })
}

impl OnScreen for SpannerView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Spanner");
        if self.heads.is_empty() {
            screen.row("threads", "no standard head listed has this size: measure again");
        }
        for head in &self.heads {
            screen.row(
                head.thread,
                format!("{}, {} mm", head.standard, number(head.across_flats_mm, 2)),
            );
        }
        self.basis.show(&mut screen);
        screen
    }
}
