//! `refettle worth`

use super::asked::{Asked, read};
use super::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::worth_sheet;
use refettle_usecases::worth::{Desk, WorthRequest};
use std::path::PathBuf;

#[derive(Args)]
pub struct Worth {
    #[command(flatten)]
    asked: Asked,
    /// What the bike fetches with everything done: 1800 or 1800.50
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    price: String,
    /// What it fetches now; the price less what all jobs add when left out
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    as_is: Option<String>,
    /// Jobs that must be done, separated by commas
    #[arg(long, value_name = "A,B", value_delimiter = ',')]
    must: Vec<String>,
    /// Jobs not to be done, separated by commas
    #[arg(long, value_name = "A,B", value_delimiter = ',')]
    leave: Vec<String>,
    /// Hands-on hours at most, such as 12.5
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    hours: Option<String>,
    /// Money for parts at most
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    cash: Option<String>,
    /// What an hour of your own is worth
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    rate: Option<String>,
    /// Figures of your own: what jobs add, what parts cost
    #[arg(long, value_name = "FILE")]
    values: Option<PathBuf>,
    /// Plans made at most to better the set and its bound; 12 when left out
    #[arg(long, value_name = "N", value_parser = plans, allow_hyphen_values = true)]
    plans: Option<usize>,
    /// Say what each number rests on
    #[arg(long)]
    why: bool,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Worth {
    pub fn run(&self) -> Result<String, Failure> {
        let names = |typed: &Vec<String>| -> Vec<String> {
            let trimmed = typed.iter().map(|n| n.trim().to_owned());
            trimmed.filter(|n| !n.is_empty()).collect()
        };
        let request = WorthRequest {
            bike: self.asked.request()?,
            must: names(&self.must),
            leave: names(&self.leave),
            price: self.price.clone(),
            as_it_stands: self.as_is.clone(),
            hours: self.hours.clone(),
            cash: self.cash.clone(),
            rate: self.rate.clone(),
            values: self.values.as_deref().map(read).transpose()?,
        };
        let failed = |refused| Failure::Refused {
            refused,
            json: self.json,
        };
        let mut desk = Desk::open(&request).map_err(failed)?;
        let view = desk.answer(self.plans).map_err(failed)?;
        if self.json {
            json(&view)
        } else {
            Ok(worth_sheet::text(&view, self.why))
        }
    }
}

fn plans(text: &str) -> Result<usize, String> {
    text.trim()
        .parse()
        .ok()
        .filter(|n| (1..=1000).contains(n))
        .ok_or_else(|| "write a whole number from 1 to 1000".to_owned())
}
