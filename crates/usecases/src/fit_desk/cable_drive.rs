//! `cable-drive`: a cable-driven instrument, and what is proven good by what still works.

use super::OnScreen;
use super::basis::Basis;
use super::screen::Screen;
use super::typed::{Typed, cut, one_of, refused};
use crate::refused::Refused;
use refettle_facts::running_gear::cable_drive::{DrivePart, Sign, reason};
use serde::Serialize;
use std::collections::BTreeMap;

/// What was typed: signs that were seen, by their words in [`SIGNS`].
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CableDriveRequest {
    /// What works.
    pub works: Vec<String>,
    /// What does not.
    pub fails: Vec<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CableDriveView {
    /// Parts that must be good.
    pub proven_good: Vec<&'static str>,
    /// Parts that must be bad.
    pub proven_bad: Vec<&'static str>,
    /// Parts that may be.
    pub suspects: Vec<&'static str>,
    /// Checks that would tell, the most telling first.
    pub look_next: Vec<LookView>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// A check still open.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LookView {
    /// Its word.
    pub sign: &'static str,
    /// How it is done.
    pub how: &'static str,
}

/// The words for the signs.
pub const SIGNS: [(&str, Sign); 9] = [
    ("odometer", Sign::OdometerCounts),
    ("trip", Sign::TripCounts),
    ("needle", Sign::NeedleMoves),
    ("inner-at-top", Sign::InnerTurnsAtTop),
    ("hub-drive", Sign::DriveTurns),
    ("inner-whole", Sign::CableLooksWhole),
    ("stub-free", Sign::HeadStubTurnsFreely),
    ("needle-from-stub", Sign::NeedleMovesFromStub),
    ("odometer-from-stub", Sign::OdometerCountsFromStub),
];

/// What follows from what was seen.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &CableDriveRequest) -> Result<CableDriveView, Refused> {
    let mut typed = Typed::default();
    let mut seen: BTreeMap<Sign, bool> = BTreeMap::new();
    for (field, words, works) in [("works", &request.works, true), ("fails", &request.fails, false)] {
        for word in words {
            let Some(sign) = typed.read(field, word, |text| one_of(text, &SIGNS)) else {
                continue;
            };
            if seen.insert(sign, works).is_some_and(|before| before != works) {
                typed.refuse(format!("'{}' cannot both work and fail", cut(word)));
            }
        }
    }
    if request.works.is_empty() && request.fails.is_empty() {
        let words: Vec<&str> = SIGNS.iter().map(|(word, _)| *word).collect();
        typed.refuse(format!(
            "works and fails: say what was seen, of {}",
            words.join(", ")
        ));
    }
    if !typed.is_right() {
        return Err(typed.refused());
    }
    let found = reason(&seen).map_err(|e| refused(&e))?;
    let word = |sign: Sign| {
        SIGNS
            .iter()
            .find(|(_, s)| *s == sign)
            .map_or("", |(word, _)| *word)
    };
    let parts =
        |parts: std::collections::BTreeSet<DrivePart>| parts.into_iter().map(DrivePart::words).collect();
    Ok(CableDriveView {
        proven_good: parts(found.proven_good),
        suspects: parts(&found.suspects - &found.proven_bad),
        proven_bad: parts(found.proven_bad),
        look_next: found
            .look_next
            .into_iter()
            .map(|sign| LookView {
                sign: word(sign),
                how: sign.words(),
            })
            .collect(),
        basis: Basis::of(
            "cable-driven instrument: what works proves every part it needs; of what fails, one part is bad",
        )
        .assuming(["a part is good or bad; one that works now and then is outside this"])
        .from(["plain logic, no source needed"])
        .warning("spin the wheel by hand, clear of the ground and the machine held; never with the engine")
        .warning("without a working speedometer the machine may not be lawful on the road"),
    })
}

impl OnScreen for CableDriveView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Cable-driven instrument");
        for (name, parts) in [
            ("good", &self.proven_good),
            ("bad", &self.proven_bad),
            ("may be bad", &self.suspects),
        ] {
            if !parts.is_empty() {
                screen.row(name, parts.join("; "));
            }
        }
        if self.proven_bad.is_empty() && self.suspects.is_empty() {
            screen.row("bad", "nothing seen so far points at a fault");
        }
        let next: Vec<String> = self
            .look_next
            .iter()
            .map(|look| format!("{}: {}", look.sign, look.how))
            .collect();
        screen.points("Look next", &next);
        self.basis.show(&mut screen);
        screen
    }
}
