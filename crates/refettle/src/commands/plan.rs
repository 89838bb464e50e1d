//! `refettle plan`

use super::asked::{Asked, Evening};
use super::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::running_order;
use refettle_usecases::asked;

#[derive(Args)]
pub struct Plan {
    #[command(flatten)]
    asked: Asked,
    #[command(flatten)]
    evening: Evening,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Plan {
    pub fn run(&self) -> Result<String, Failure> {
        let request = self.evening.added(self.asked.request()?)?;
        let evening = asked::answer(&request).map_err(|refused| Failure::Refused {
            refused,
            json: self.json,
        })?;
        let view = evening.view();
        if self.json {
            json(&view)
        } else {
            Ok(running_order::text(&view))
        }
    }
}
