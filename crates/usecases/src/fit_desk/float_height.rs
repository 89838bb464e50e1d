//! `float-height`: are the floats of a set as high as each other, and as the manual says.

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::engine::spread::{WantedHeight, float_heights};
use refettle_facts::quantity::{mm, parse_length};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct FloatHeightRequest {
    /// Heights, carburettor by carburettor.
    pub heights: Vec<String>,
    /// The manual's height.
    pub wanted: Option<String>,
    /// What it allows either way.
    pub tolerance: Option<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FloatHeightView {
    /// Highest less lowest.
    pub spread_mm: f64,
    /// The most it may be.
    pub limit_mm: f64,
    /// Within it?
    pub within: bool,
    /// Carburettors, from 1, off the manual's height by more than its tolerance.
    pub off_the_manual: Vec<usize>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Spread of the heights, and each against the manual.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &FloatHeightRequest) -> Result<FloatHeightView, Refused> {
    let mut typed = Typed::default();
    let heights: Vec<_> = request
        .heights
        .iter()
        .filter_map(|text| typed.read("height", text, parse_length))
        .collect();
    let wanted = typed.read_if("wanted", request.wanted.as_deref(), parse_length);
    let tolerance = typed.read_if("tolerance", request.tolerance.as_deref(), parse_length);
    if request.wanted.is_some() != request.tolerance.is_some() {
        typed.refuse("wanted and tolerance: give both, such as 22 mm and 0.5 mm");
    }
    if !typed.is_right() {
        return Err(typed.refused());
    }
    let manual = wanted
        .zip(tolerance)
        .map(|(height, tolerance)| WantedHeight { height, tolerance });
    let found = float_heights(&heights, manual).map_err(|e| refused(&e))?;
    Ok(FloatHeightView {
        spread_mm: exact(mm(found.spread.spread)),
        limit_mm: exact(mm(found.spread.limit)),
        within: found.spread.within,
        off_the_manual: found.off_the_manual,
        basis: Basis::of("float height spread h_max - h_min, and each height against the manual's")
            .assuming(["gasket face to the far side of the float, gasket off, tongue just touching the needle unsprung"])
            .from([found.spread.citation.to_string()])
            .warning(MAKER_WINS)
            .warning("a fuel level too high floods the engine: smell the oil for petrol before starting")
            .cautioned(&["petrol-vapour"]),
    })
}

impl OnScreen for FloatHeightView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Float heights");
        screen.row(
            "apart",
            format!(
                "{} mm, at most {} mm: {}",
                number(self.spread_mm, 2),
                number(self.limit_mm, 2),
                if self.within { "within" } else { "set them alike" }
            ),
        );
        for carburettor in &self.off_the_manual {
            screen.row("off the manual", format!("carburettor {carburettor}"));
        }
        self.basis.show(&mut screen);
        screen
    }
}
