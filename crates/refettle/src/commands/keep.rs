//! `refettle keep`

use super::asked::read;
use super::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::keep_list;
use refettle_usecases::keep::{KeepRequest, keep};
use std::path::PathBuf;

#[derive(Args)]
pub struct Keep {
    /// Bikes expected in the period, layout=number, separated by commas
    #[arg(long, value_name = "LAYOUT=N,…", value_delimiter = ',', required = true)]
    bikes: Vec<String>,
    /// Money for small parts; 60 when left out
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    budget: Option<String>,
    /// What is in the drawer, part=number, separated by commas
    #[arg(long, value_name = "PART=N,…", value_delimiter = ',')]
    have: Vec<String>,
    /// Own history: part, uses and bikes, with tabs between
    #[arg(long, value_name = "FILE")]
    history: Option<PathBuf>,
    /// What one held-up job costs
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    held_up: Option<String>,
    /// Figures of your own: what parts cost
    #[arg(long, value_name = "FILE")]
    values: Option<PathBuf>,
    /// Say what each number rests on
    #[arg(long)]
    why: bool,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Keep {
    pub fn run(&self) -> Result<String, Failure> {
        let request = KeepRequest {
            bikes: self.bikes.clone(),
            budget: self.budget.clone(),
            have: self.have.clone(),
            history: self.history.as_deref().map(read).transpose()?,
            held_up: self.held_up.clone(),
            values: self.values.as_deref().map(read).transpose()?,
        };
        let view = keep(&request)?;
        if self.json {
            json(&view)
        } else {
            Ok(keep_list::text(&view, self.why))
        }
    }
}
