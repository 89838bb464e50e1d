//! `vin`: what a frame number says of itself.

use super::basis::Basis;
use super::screen::Screen;
use super::typed::{Typed, one_of};
use super::{OnScreen, Today};
use crate::refused::Refused;
use refettle_facts::identity::frame_number::{self, FrameNumber};
use refettle_facts::identity::model_year::VehicleKind;
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct VinRequest {
    /// The number as stamped.
    pub text: String,
    /// `motorcycle`, `car` or `unknown`, the default.
    pub vehicle: Option<String>,
    /// The day, whose year tells codes thirty years apart.
    pub today: Today,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct VinView {
    /// The number, tidied.
    pub number: String,
    /// Whether position 9 is what the others call for.
    pub check_digit_ok: bool,
    /// What position 9 would have to be.
    pub wanted_check_digit: String,
    /// What that is worth.
    pub check_digit_verdict: &'static str,
    /// Region of the maker.
    pub region: &'static str,
    /// Model year, where one can be named.
    pub model_year: Option<u16>,
    /// Every year the code may mean.
    pub possible_model_years: Vec<u16>,
    /// Why that year, or none.
    pub model_year_basis: &'static str,
    /// Whether the year is more than a guess.
    pub model_year_certain: bool,
    /// Numbers one look-alike or one swap away that agree.
    pub near_readings: Vec<String>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

const VEHICLES: [(&str, VehicleKind); 3] = [
    ("motorcycle", VehicleKind::Motorcycle),
    ("car", VehicleKind::CarOrLightTruck),
    ("unknown", VehicleKind::Unknown),
];

/// Check digit, region and model year.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &VinRequest) -> Result<VinView, Refused> {
    let mut typed = Typed::default();
    let vehicle = typed.read(
        "vehicle",
        request.vehicle.as_deref().unwrap_or("unknown"),
        |text| one_of(text, &VEHICLES),
    );
    let read = typed.read("frame number", &request.text, |text| {
        frame_number::read(text, vehicle.unwrap_or(VehicleKind::Unknown), request.today.year)
    });
    let (Some(read), true) = (read, typed.is_right()) else {
        return Err(typed.refused());
    };
    let sources = read.region_citation.iter().chain(read.model_year.citation.iter());
    Ok(VinView {
        number: read.number.to_string(),
        check_digit_ok: read.check_digit_ok,
        wanted_check_digit: read.wanted_check_digit.to_string(),
        check_digit_verdict: read.verdict.words(),
        region: read.region,
        model_year: read.model_year.year,
        possible_model_years: read.model_year.candidates.clone(),
        model_year_basis: read.model_year.basis.words(),
        model_year_certain: read.model_year.basis.is_certain(),
        near_readings: read.near_readings.iter().map(FrameNumber::to_string).collect(),
        basis: Basis::of("check digit and model-year code of 49 CFR 565.15, form of ISO 3779")
            .assuming(["a check digit and a year code are required on machines for North America only"])
            .from(sources.map(ToString::to_string))
            .warning("a number that passes proves nothing about theft: compare frame, engine and papers, look at the stamping, and ask the register of the place"),
    })
}

impl OnScreen for VinView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled(format!("Frame number {}", self.number));
        screen.row("check digit", self.check_digit_verdict);
        if !self.check_digit_ok {
            screen.row("it would have to be", &self.wanted_check_digit);
        }
        screen.row("maker's region", self.region);
        let year = self
            .model_year
            .map_or_else(|| "not told".to_owned(), |year| year.to_string());
        screen.row("model year", format!("{year}: {}", self.model_year_basis));
        if self.possible_model_years.len() > 1 {
            let years: Vec<String> = self
                .possible_model_years
                .iter()
                .map(ToString::to_string)
                .collect();
            screen.row("may be", years.join(" or "));
        }
        screen.points("Look again: these would agree", &self.near_readings);
        self.basis.show(&mut screen);
        screen
    }
}
