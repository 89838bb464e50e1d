//! `brake-flush`: how much fresh fluid must leave the nipple.

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::{Screen, exact, number};
use super::typed::{Typed, one_of, refused};
use crate::refused::Refused;
use refettle_facts::fluids::brake_flush::{BrakeVolumes, CAUTIONS, ReservoirFirst, flush_volume};
use refettle_facts::quantity::{Volume, litres, parse_share, parse_volume};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BrakeFlushRequest {
    /// Reservoir up to its mark.
    pub reservoir: String,
    /// All lines.
    pub line: String,
    /// All calipers.
    pub caliper: String,
    /// Share of new fluid wanted.
    pub target: String,
    /// `emptied` (the default) or `left-full`.
    pub first: Option<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BrakeFlushView {
    /// Old fluid to move.
    pub swept_ml: f64,
    /// Out of the nipple at least, if nothing mixes.
    pub plug_flow_ml: f64,
    /// Out of the nipple at most, if everything mixes.
    pub full_mixing_ml: f64,
    /// To have at hand.
    pub at_hand_ml: f64,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

const FIRST: [(&str, ReservoirFirst); 2] = [
    ("emptied", ReservoirFirst::Emptied),
    ("left-full", ReservoirFirst::LeftFull),
];

/// Bounds of the flush volume.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &BrakeFlushRequest) -> Result<BrakeFlushView, Refused> {
    let mut typed = Typed::default();
    let reservoir = typed.read("reservoir", &request.reservoir, parse_volume);
    let line = typed.read("line", &request.line, parse_volume);
    let caliper = typed.read("caliper", &request.caliper, parse_volume);
    let target = typed.read("target", &request.target, parse_share);
    let first = typed.read("first", request.first.as_deref().unwrap_or("emptied"), |text| {
        one_of(text, &FIRST)
    });
    let (Some(reservoir), Some(line), Some(caliper), Some(target), Some(first)) =
        (reservoir, line, caliper, target, first)
    else {
        return Err(typed.refused());
    };
    let volumes = BrakeVolumes {
        reservoir,
        line,
        caliper,
    };
    let flush = flush_volume(&volumes, first, target).map_err(|e| refused(&e))?;
    let ml = |volume: Volume| exact(litres(volume) * 1e3);
    Ok(BrakeFlushView {
        swept_ml: ml(flush.swept),
        plug_flow_ml: ml(flush.plug_flow),
        full_mixing_ml: ml(flush.full_mixing),
        at_hand_ml: ml(flush.at_hand),
        basis: Basis::of("plug flow s V at least, full mixing -V ln(1 - s) at most")
            .assuming([
                "the truth lies between: bleed until it comes clear and free of bubbles, then a little more",
            ])
            .from(["conservation of volume, no source needed"])
            .warning(MAKER_WINS)
            .cautioned(&CAUTIONS)
            .cautioned(&["licensed-work"]),
    })
}

impl OnScreen for BrakeFlushView {
    fn text(&self) -> String {
        let mut screen = Screen::titled("Brake flush");
        let ml = |value: f64| number(value, 0);
        screen.row(
            "out of the nipple",
            format!("{} to {} mL", ml(self.plug_flow_ml), ml(self.full_mixing_ml)),
        );
        screen.row("have at hand", format!("{} mL", ml(self.at_hand_ml)));
        screen.row("old fluid to move", format!("{} mL", ml(self.swept_ml)));
        self.basis.show(&mut screen);
        screen.finished()
    }
}
