//! `tyre`: what a tyre's side says: size, load, speed, age, and what another size does to the speedometer.

use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use super::{OnScreen, Today};
use crate::refused::Refused;
use refettle_facts::quantity::mm;
use refettle_facts::running_gear::tyre::circumference::{circumference, reading_after_change};
use refettle_facts::running_gear::tyre::date_code::{self, CalendarWeek, MadeIn};
use refettle_facts::running_gear::tyre::load_and_speed::{Shortfall, shortfalls};
use refettle_facts::running_gear::tyre::size_code::{Carcass, TyreSize, parse};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct TyreRequest {
    /// Size as moulded: `180/55ZR17M/C 73W`.
    pub size: String,
    /// Date code, or the DOT number that ends in it.
    pub date: Option<String>,
    /// The size the machine's papers name.
    pub instead_of: Option<String>,
    /// The day, for the age.
    pub today: Today,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TyreView {
    /// Width.
    pub width_mm: f64,
    /// Height over width.
    pub aspect_pct: Option<f64>,
    /// Rim.
    pub rim_in: f64,
    /// Build.
    pub carcass: &'static str,
    /// Load by its index.
    pub load_kg: Option<f64>,
    /// Speed by its symbol.
    pub speed_kmh: Option<f64>,
    /// Outside diameter, nominal.
    pub outside_diameter_mm: Option<f64>,
    /// Rolling circumference, an estimate.
    pub rolling_mm: Option<f64>,
    /// Weeks it may have been made in, latest first, as `2003-W36`.
    pub made: Vec<String>,
    /// Whole years it is at least old.
    pub at_least_years: Option<u32>,
    /// What the age says.
    pub age_advice: Option<&'static str>,
    /// By how much a speedometer driven by this wheel reads higher than with the size in the papers.
    pub reading_change_pct: Option<f64>,
    /// Where it falls short of the size in the papers.
    pub falls_short: Vec<String>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Reads a tyre's side.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &TyreRequest) -> Result<TyreView, Refused> {
    let mut typed = Typed::default();
    let today = CalendarWeek::of_date(request.today.year, request.today.month, request.today.day);
    let size = typed.read("size", &request.size, parse);
    let old = typed.read_if("instead-of", request.instead_of.as_deref(), parse);
    let made = typed.read_if("date", request.date.as_deref(), |text| {
        let today = today.ok_or_else(|| "today's date is none; check the computer's clock".to_owned())?;
        date_code::read(text, today).map_err(|e| e.to_string())
    });
    let (Some(size), true) = (size, typed.is_right()) else {
        return Err(typed.refused());
    };
    let change = old
        .as_ref()
        .map(|old| reading_after_change(old, &size))
        .transpose()
        .map_err(|e| refused(&e))?;
    Ok(view(
        &size,
        old.as_ref(),
        made.as_ref(),
        change.map(|ratio| exact((ratio.value - 1.0) * 100.0)),
    ))
}

fn view(size: &TyreSize, old: Option<&TyreSize>, made: Option<&MadeIn>, change: Option<f64>) -> TyreView {
    let around = circumference(size).ok();
    let service = size.service.as_ref();
    let asked = old.and_then(|old| old.service.as_ref());
    let short: Vec<String> = service
        .zip(asked)
        .map(|(fitted, asked)| shortfalls(fitted, asked).iter().map(shortfall).collect())
        .unwrap_or_default();
    TyreView {
        width_mm: exact(mm(size.width)),
        aspect_pct: size.aspect.map(|aspect| exact(aspect.value * 100.0)),
        rim_in: exact(size.rim.value / refettle_facts::quantity::INCH_M),
        carcass: match size.carcass {
            Carcass::Radial => "radial",
            Carcass::BiasBelted => "bias-belted",
            Carcass::CrossPly => "cross-ply",
        },
        load_kg: service.map(|s| exact(s.load.load.value)),
        speed_kmh: service.map(|s| exact(s.speed.speed.value * 3.6)),
        outside_diameter_mm: around.as_ref().map(|a| exact(mm(a.outside_diameter))),
        rolling_mm: around.as_ref().map(|a| exact(mm(a.rolling))),
        made: made.map(weeks).unwrap_or_default(),
        at_least_years: made.map(MadeIn::at_least_years),
        age_advice: made.map(MadeIn::advice),
        reading_change_pct: change,
        falls_short: short,
        basis: Basis::of("tyre size code, load index, speed symbol, date code; D = rim + 2 width aspect")
            .assuming(["nominal sizes; a tyre in use is a little smaller, and by how much is the tyre's own"])
            .assuming(size.width_citation.map(|_| {
                "an old letter size: the metric size of the same width is near, not the same tyre"
            }))
            .from(around.as_ref().map(|a| a.rolling_citation.to_string()))
            .from(size.width_citation.map(|citation| format!("width of its letter: {citation}")))
            .from(service.map(|s| s.load.citation.to_string()))
            .from(service.map(|s| s.speed.citation.to_string()))
            .warning("the machine's papers and the maker's list of tyres win; another size may be against local law")
            .cautioned(&["tyre-bead"]),
    }
}

fn weeks(made: &MadeIn) -> Vec<String> {
    made.candidates
        .iter()
        .map(|week| format!("{}-W{:02}", week.year, week.week))
        .collect()
}

fn shortfall(short: &Shortfall) -> String {
    match short {
        Shortfall::Load { fitted, asked } => format!(
            "carries {} kg where {} kg is asked",
            number(fitted.value, 1),
            number(asked.value, 1)
        ),
        Shortfall::Speed { fitted, asked } => format!(
            "rated to {} km/h where {} km/h is asked",
            number(fitted.value * 3.6, 0),
            number(asked.value * 3.6, 0)
        ),
    }
}

impl OnScreen for TyreView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Tyre");
        screen.row(
            "size",
            format!(
                "{} mm wide, {}rim {} in, {}",
                number(self.width_mm, 1),
                self.aspect_pct
                    .map(|aspect| format!("height {} % of it, ", number(aspect, 0)))
                    .unwrap_or_default(),
                number(self.rim_in, 1),
                self.carcass
            ),
        );
        if let (Some(load), Some(speed)) = (self.load_kg, self.speed_kmh) {
            screen.row(
                "load and speed",
                format!("{} kg, {} km/h", number(load, 1), number(speed, 0)),
            );
        }
        if let (Some(diameter), Some(rolling)) = (self.outside_diameter_mm, self.rolling_mm) {
            screen.row("outside diameter", format!("{} mm", number(diameter, 1)));
            screen.row(
                "rolling",
                format!("{} mm a turn, an estimate", number(rolling, 0)),
            );
        }
        screen.row_if(
            "speedometer",
            self.reading_change_pct.map(|pct| {
                let way = if pct < 0.0 { "lower" } else { "higher" };
                format!(
                    "reads {} % {way} than with the size in the papers",
                    number(pct.abs(), 1)
                )
            }),
        );
        if !self.made.is_empty() {
            screen.row("made", self.made.join(" or "));
        }
        screen.row_if(
            "at least",
            self.at_least_years.map(|years| format!("{years} years old")),
        );
        screen.row_if("age", self.age_advice);
        screen.points("Falls short of the papers", &self.falls_short);
        self.basis.show(&mut screen);
        screen
    }
}
