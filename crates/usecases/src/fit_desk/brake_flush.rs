//! `brake-flush`: how much fresh fluid must leave the nipple.

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::{Screen, exact, number};
use super::typed::{Typed, one_of, refused};
use crate::refused::Refused;
use refettle_facts::fluids::brake_flush::{
    BrakeVolumes, CAUTIONS, ReservoirFirst, flush_volume, line_volume, strokes,
};
use refettle_facts::quantity::{Volume, litres, parse_length, parse_share, parse_volume};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BrakeFlushRequest {
    /// Reservoir up to its mark.
    pub reservoir: String,
    /// All lines.
    pub line: Option<String>,
    /// Instead: inside diameter of the line.
    pub line_bore: Option<String>,
    /// And its length.
    pub line_length: Option<String>,
    /// All calipers.
    pub caliper: String,
    /// Share of new fluid wanted.
    pub target: String,
    /// `emptied` (the default) or `left-full`.
    pub first: Option<String>,
    /// Bore of the master cylinder, to count strokes.
    pub master_bore: Option<String>,
    /// Its stroke.
    pub stroke: Option<String>,
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
    /// Line volume, as given or reckoned.
    pub line_ml: f64,
    /// Strokes of the master cylinder for the least and for the most.
    pub strokes: Option<[u32; 2]>,
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
    let line = line(request, &mut typed);
    let caliper = typed.read("caliper", &request.caliper, parse_volume);
    let target = typed.read("target", &request.target, parse_share);
    let first = typed.read("first", request.first.as_deref().unwrap_or("emptied"), |text| {
        one_of(text, &FIRST)
    });
    let master_bore = typed.read_if("master-bore", request.master_bore.as_deref(), parse_length);
    let stroke = typed.read_if("stroke", request.stroke.as_deref(), parse_length);
    if request.master_bore.is_some() != request.stroke.is_some() {
        typed.refuse("master-bore and stroke: give both, such as 14 mm and 15 mm");
    }
    let (Some(reservoir), Some(line), Some(caliper), Some(target), Some(first), true) =
        (reservoir, line, caliper, target, first, typed.is_right())
    else {
        return Err(typed.refused());
    };
    let volumes = BrakeVolumes {
        reservoir,
        line,
        caliper,
    };
    let flush = flush_volume(&volumes, first, target).map_err(|e| refused(&e))?;
    let counted = match master_bore.zip(stroke) {
        Some((bore, stroke)) => {
            let of = |through| strokes(through, bore, stroke).map_err(|e| refused(&e));
            Some([of(flush.plug_flow)?, of(flush.full_mixing)?])
        }
        None => None,
    };
    let ml = |volume: Volume| exact(litres(volume) * 1e3);
    Ok(BrakeFlushView {
        swept_ml: ml(flush.swept),
        plug_flow_ml: ml(flush.plug_flow),
        full_mixing_ml: ml(flush.full_mixing),
        at_hand_ml: ml(flush.at_hand),
        line_ml: ml(line),
        strokes: counted,
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

/// Volume of the line: as given, or of its bore and length.
fn line(request: &BrakeFlushRequest, typed: &mut Typed) -> Option<Volume> {
    let given = typed.read_if("line", request.line.as_deref(), parse_volume);
    let bore = typed.read_if("line-bore", request.line_bore.as_deref(), parse_length);
    let length = typed.read_if("line-length", request.line_length.as_deref(), parse_length);
    match (&request.line, &request.line_bore, &request.line_length) {
        (Some(_), None, None) => given,
        (None, Some(_), Some(_)) => {
            let (bore, length) = bore.zip(length)?;
            line_volume(bore, length)
                .map_err(|problem| typed.refuse(format!("line: {problem}")))
                .ok()
        }
        _ => {
            typed.refuse(
                "line: give its volume such as 15 mL, or line-bore and line-length such as 3.2 mm and 1.4 m",
            );
            None
        }
    }
}

impl OnScreen for BrakeFlushView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Brake flush");
        let ml = |value: f64| number(value, 0);
        screen.row(
            "out of the nipple",
            format!("{} to {} mL", ml(self.plug_flow_ml), ml(self.full_mixing_ml)),
        );
        screen.row("have at hand", format!("{} mL", ml(self.at_hand_ml)));
        screen.row("old fluid to move", format!("{} mL", ml(self.swept_ml)));
        screen.row_if(
            "full strokes",
            self.strokes.map(|[least, most]| format!("{least} to {most}")),
        );
        self.basis.show(&mut screen);
        screen
    }
}
