//! `chain`: is this chain done.

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::{Screen, exact, number};
use super::typed::{Typed, count, refused};
use crate::refused::Refused;
use refettle_facts::quantity::{Length, mm, parse_length, parse_share};
use refettle_facts::running_gear::chain::{ChainSetting, pin_distance, size_named, wear};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ChainRequest {
    /// Size: `520`.
    pub size: String,
    /// Pitches measured over; one less than the pins.
    pub pitches: String,
    /// Pin centre to pin centre over them, under light tension.
    pub length: Option<String>,
    /// Inside the end rollers, instead of the length; with `outside`.
    pub inside: Option<String>,
    /// Outside the end rollers.
    pub outside: Option<String>,
    /// Teeth of the large sprocket.
    pub teeth: Option<String>,
    /// The manual's own limit, as a share: `2 %`.
    pub limit: Option<String>,
}

/// One rule's word.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RuleView {
    /// Its name.
    pub rule: &'static str,
    /// What it governs.
    pub governs: &'static str,
    /// Most elongation it allows.
    pub limit_pct: f64,
    /// Length at that limit.
    pub limit_mm: f64,
    /// Within it?
    pub within: bool,
    /// Who says so.
    pub source: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChainView {
    /// Size, tidied.
    pub size: &'static str,
    /// Growth over the new length.
    pub elongation_pct: f64,
    /// How far that is out when the reading is out by half a millimetre.
    pub reading_error_pct: f64,
    /// Length when new.
    pub new_length_mm: f64,
    /// What to do.
    pub verdict: &'static str,
    /// Every rule.
    pub rules: Vec<RuleView>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Elongation against every rule.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &ChainRequest) -> Result<ChainView, Refused> {
    let mut typed = Typed::default();
    let size = typed.read("size", &request.size, size_named);
    let pitches = typed.read("pitches", &request.pitches, count);
    let length = length(request, &mut typed);
    let teeth = typed.read_if("teeth", request.teeth.as_deref(), count);
    let limit = typed.read_if("limit", request.limit.as_deref(), parse_share);
    let (Some(size), Some(pitches), Some(length), true) = (size, pitches, length, typed.is_right()) else {
        return Err(typed.refused());
    };
    let setting = ChainSetting {
        large_sprocket_teeth: teeth,
        manual_limit: limit,
    };
    let worn = wear(&size, pitches, length, setting).map_err(|e| refused(&e))?;
    Ok(ChainView {
        size: size.name,
        elongation_pct: exact(worn.elongation.value * 100.0),
        reading_error_pct: exact(worn.reading_error.value * 100.0),
        new_length_mm: exact(mm(worn.new_length)),
        verdict: worn.verdict.words(),
        rules: worn
            .rules
            .iter()
            .map(|rule| RuleView {
                rule: rule.rule,
                governs: rule.governs,
                limit_pct: exact(rule.limit.value * 100.0),
                limit_mm: exact(mm(rule.limit_length)),
                within: rule.within,
                source: rule.citation.to_string(),
            })
            .collect(),
        basis: Basis::of("chain elongation (L - n p) / (n p)")
            .assuming(["pin centre to pin centre under light tension, the worst of several places"])
            .from([format!("pitch of {}: {}", size.name, size.citation)])
            .from(worn.rules.iter().map(|rule| rule.citation.to_string()))
            .warning(MAKER_WINS)
            .cautioned(&["chain"]),
    })
}

/// The pin distance: read as such, or from inside and outside the end rollers.
fn length(request: &ChainRequest, typed: &mut Typed) -> Option<Length> {
    let length = typed.read_if("length", request.length.as_deref(), parse_length);
    let inside = typed.read_if("inside", request.inside.as_deref(), parse_length);
    let outside = typed.read_if("outside", request.outside.as_deref(), parse_length);
    match (&request.length, &request.inside, &request.outside) {
        (Some(_), None, None) => length,
        (None, Some(_), Some(_)) => {
            let (inside, outside) = inside.zip(outside)?;
            if inside >= outside {
                typed.refuse(format!(
                    "inside: {} mm inside the end rollers is not under {} mm outside them; the wrong way round?",
                    number(mm(inside), 2),
                    number(mm(outside), 2)
                ));
                return None;
            }
            Some(pin_distance(inside, outside))
        }
        _ => {
            typed.refuse(
                "length: give pin centre to pin centre such as 323 mm, or both inside and outside of the end rollers",
            );
            None
        }
    }
}

impl OnScreen for ChainView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled(format!("Chain {}", self.size));
        screen.row("verdict", self.verdict);
        screen.row(
            "elongation",
            format!(
                "{} %, give or take {} % of reading; new it was {} mm",
                number(self.elongation_pct, 2),
                number(self.reading_error_pct, 2),
                number(self.new_length_mm, 2)
            ),
        );
        for rule in &self.rules {
            screen.row(
                rule.rule,
                format!(
                    "{} {} % ({} mm); {}",
                    if rule.within { "within" } else { "over" },
                    number(rule.limit_pct, 2),
                    number(rule.limit_mm, 1),
                    rule.governs
                ),
            );
        }
        self.basis.show(&mut screen);
        screen
    }
}
