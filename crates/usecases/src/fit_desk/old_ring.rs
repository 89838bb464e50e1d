//! `old-ring`: what size was this flat old O-ring.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::quantity::{mm, parse_length};
use refettle_facts::seals::old_ring::{OldRing, was_probably};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OldRingRequest {
    /// Inside diameter, lying free.
    pub id: String,
    /// Section where it is thinnest.
    pub thin: String,
    /// Section across that.
    pub wide: Option<String>,
}

/// A size it may have been.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WasView {
    /// As one asks for it.
    pub name: String,
    /// How likely, 0 to 1.
    pub probability: f64,
    /// Inside diameter when new.
    pub id_mm: f64,
    /// Section when new.
    pub section_mm: f64,
    /// Where the size is from.
    pub source: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OldRingView {
    /// Likeliest first.
    pub candidates: Vec<WasView>,
    /// How likely it was none of the lists, 0 to 1.
    pub none_of_these: f64,
    /// Section it had when round.
    pub round_section_mm: f64,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Sizes it probably was.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &OldRingRequest) -> Result<OldRingView, Refused> {
    let mut typed = Typed::default();
    let inside = typed.read("id", &request.id, parse_length);
    let thin = typed.read("thin", &request.thin, parse_length);
    let wide = typed.read_if("wide", request.wide.as_deref(), parse_length);
    let (Some(inside), Some(thin), true) = (inside, thin, typed.is_right()) else {
        return Err(typed.refused());
    };
    let found = was_probably(&OldRing { inside, thin, wide }).map_err(|e| refused(&e))?;
    Ok(OldRingView {
        candidates: found
            .candidates
            .iter()
            .map(|was| WasView {
                name: was.size.name(),
                probability: exact(was.probability.value),
                id_mm: exact(mm(was.size.inside.nominal)),
                section_mm: exact(mm(was.size.section.nominal)),
                source: was.size.provenance.to_string(),
            })
            .collect(),
        none_of_these: exact(found.none_of_these.value),
        round_section_mm: exact(mm(found.round_section)),
        basis: Basis::of("section when round W = sqrt(thin wide); likelihood of each standard size (Bayes)")
            .assuming(found.caveats)
            .from(found.candidates.iter().map(|was| was.size.provenance.to_string()))
            .warning("measure the groove and ask `ring` before fitting; the maker's part number wins"),
    })
}

impl OnScreen for OldRingView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Old O-ring: what it probably was");
        for was in &self.candidates {
            screen.row(
                &was.name,
                format!(
                    "{} %, {} x {} mm",
                    number(was.probability * 100.0, 0),
                    number(was.id_mm, 2),
                    number(was.section_mm, 2)
                ),
            );
        }
        screen.row(
            "none of the lists",
            format!("{} %", number(self.none_of_these * 100.0, 0)),
        );
        screen.row(
            "round section",
            format!("{} mm", number(self.round_section_mm, 2)),
        );
        self.basis.show(&mut screen);
        screen
    }
}
