//! `refettle tally`

use super::opened::{Place, looked};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::tally_list;
use refettle_usecases::tally::{csv, view};

#[derive(Args)]
pub struct Tally {
    /// Only this bike, by id or title
    bike: Option<String>,
    /// Only this year
    #[arg(long, value_name = "YEAR", value_parser = clap::value_parser!(i16).range(1900..=9999))]
    year: Option<i16>,
    /// Print every line as a table of comma-separated values
    #[arg(long, conflicts_with = "json")]
    csv: bool,
    #[command(flatten)]
    place: Place,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Tally {
    pub fn run(&self) -> Result<String, Failure> {
        let opened = self.place.open()?;
        let bike = self.bike.as_ref().map(|named| opened.bike(named)).transpose()?;
        if self.csv {
            return csv(&opened.memory, bike.as_ref(), self.year).map_err(looked);
        }
        let view = view(&opened.memory, opened.at, bike.as_ref(), self.year).map_err(looked)?;
        if self.json {
            json(&view)
        } else {
            Ok(tally_list::text(&view))
        }
    }
}
