//! `refettle price`

use super::asked::read;
use super::json;
use crate::outcome::Failure;
use clap::Args;
use jiff::civil::Date;
use refettle_papers::price_note;
use refettle_usecases::price_view::{PriceRequest, price};
use std::path::PathBuf;

#[derive(Args)]
pub struct Price {
    /// Table of comparables (CSV)
    #[arg(long, value_name = "FILE")]
    comparables: PathBuf,
    /// Model year of this bike
    #[arg(long, value_name = "YEAR", allow_negative_numbers = true)]
    year: i16,
    /// What it has run, such as 31000km or 19000mi
    #[arg(long, value_name = "DISTANCE", allow_hyphen_values = true)]
    distance: Option<String>,
    /// Its papers: clean (when left out), rebuilt, salvage or missing
    #[arg(long, value_name = "WORD")]
    papers: Option<String>,
    /// The word for its condition, as in the table
    #[arg(long, value_name = "WORD")]
    condition: Option<String>,
    /// Where it is sold, as in the table
    #[arg(long, value_name = "WORD")]
    region: Option<String>,
    /// Findings left open, separated by commas, such as fork-leak,worn-tyres
    #[arg(long, value_name = "A,B", value_delimiter = ',')]
    open: Vec<String>,
    /// Days within which it should be sold
    #[arg(
        long,
        value_name = "DAYS",
        default_value_t = 30,
        allow_negative_numbers = true
    )]
    within: u32,
    /// What a day costs while it stands; 2 when left out
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    a_day: Option<String>,
    /// How much winter counts: hard, usual (when left out) or mild
    #[arg(long, value_name = "WORD")]
    winter: Option<String>,
    /// Month in which most is paid, 1 to 12; 5 when left out, 11 in the south
    #[arg(
        long,
        value_name = "MONTH",
        default_value_t = 5,
        allow_negative_numbers = true
    )]
    best_month: i8,
    /// The day it is priced for, such as 2026-05-15; today when left out
    #[arg(long, value_name = "DATE")]
    on: Option<Date>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Price {
    pub fn run(&self) -> Result<String, Failure> {
        let view = price(&PriceRequest {
            comparables: read(&self.comparables)?.into(),
            year: self.year,
            distance: self.distance.clone(),
            papers: self.papers.clone(),
            condition: self.condition.clone(),
            region: self.region.clone(),
            on: day(self.on),
            winter: self.winter.clone(),
            best_month: self.best_month,
            within_days: self.within,
            open: self
                .open
                .iter()
                .map(|o| o.trim().to_owned())
                .filter(|o| !o.is_empty())
                .collect(),
            a_day: self.a_day.clone(),
        })?;
        if self.json {
            json(&view)
        } else {
            Ok(price_note::text(&view))
        }
    }
}

/// The day typed, or today.
pub fn day(typed: Option<Date>) -> Date {
    typed.unwrap_or_else(|| jiff::ZonedDateTime::now().date())
}
