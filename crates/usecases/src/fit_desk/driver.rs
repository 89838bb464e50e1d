//! `driver`: which driver for a cross-recess head, why it climbs out, and what to try next.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::fasteners::{recess, thread};
use refettle_facts::quantity::{mm, parse_length};
use serde::Serialize;

/// What was typed: one of the two.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DriverRequest {
    /// Thread of the screw.
    pub thread: Option<String>,
    /// Width of the recess across the wings at the bottom.
    pub width: Option<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DriverView {
    /// Number of the driver.
    pub number: u8,
    /// Shank of the driver, where the thread was given.
    pub shank_mm: Option<f64>,
    /// Forms of recess that look alike, and how to tell them.
    pub forms: Vec<String>,
    /// Why a driver climbs out, and the cure.
    pub climbs_out: Vec<String>,
    /// What to try, gentlest first.
    pub ladder: Vec<String>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// The driver, and the ladder for a screw that stays put.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &DriverRequest) -> Result<DriverView, Refused> {
    let mut typed = Typed::default();
    let thread = typed.read_if("thread", request.thread.as_deref(), thread::named);
    let width = typed.read_if("width", request.width.as_deref(), parse_length);
    if request.thread.is_some() == request.width.is_some() {
        typed.refuse("thread: give the screw's thread such as M5, or width with the recess such as 2.3 mm");
    }
    if !typed.is_right() {
        return Err(typed.refused());
    }
    let by_thread = thread
        .map(|thread| recess::driver_for(&thread))
        .transpose()
        .map_err(|e| refused(&e))?;
    let by_width = width
        .map(recess::number_from_width)
        .transpose()
        .map_err(|e| refused(&e))?;
    let Some(number) = by_thread.map(|driver| driver.number).or(by_width) else {
        return Err(typed.refused());
    };
    let forms: Vec<recess::Form> = recess::forms().collect();
    Ok(DriverView {
        number,
        shank_mm: by_thread.map(|driver| exact(mm(driver.shank))),
        forms: forms
            .iter()
            .map(|form| format!("{}, {}: {}; {}", form.name, form.words, form.tell, form.driver))
            .collect(),
        climbs_out: recess::why_it_climbs_out()
            .map(|why| format!("{}: {}; {} ({})", why.cause, why.sign, why.cure, why.source))
            .collect(),
        ladder: recess::ladder().map(|step| step_words(&step)).collect(),
        basis: Basis::of("cross-recess sizes by thread and by width (JIS B 1111, JIS B 1012)")
            .from(by_thread.map(|driver| driver.source))
            .from(forms.iter().map(|form| form.source))
            .cautioned(&["eyes"]),
    })
}

fn step_words(step: &recess::Step) -> String {
    let caution = if step.caution.is_empty() {
        String::new()
    } else {
        format!("; caution: {}", step.caution)
    };
    format!(
        "{}; stop when: {}{caution} ({})",
        step.action, step.stop_when, step.source
    )
}

impl OnScreen for DriverView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Cross-recess driver");
        screen.row("driver", format!("No. {}", self.number));
        screen.row_if(
            "shank",
            self.shank_mm.map(|shank| format!("{} mm", number(shank, 1))),
        );
        screen.points("Which recess", &self.forms);
        screen.points("Why it climbs out", &self.climbs_out);
        screen.points("When it stays put, gentlest first", &self.ladder);
        self.basis.show(&mut screen);
        screen
    }
}
