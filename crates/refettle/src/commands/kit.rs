//! `refettle kit`

use super::asked::Asked;
use super::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::kit_list;
use refettle_usecases::evening;

#[derive(Args)]
pub struct Kit {
    #[command(flatten)]
    asked: Asked,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Kit {
    pub fn run(&self) -> Result<String, Failure> {
        let evening = evening::plan(&self.asked.request()?).map_err(|refused| Failure::Refused {
            refused,
            json: self.json,
        })?;
        let view = evening.kit();
        if self.json {
            json(&view)
        } else {
            Ok(kit_list::text(&view))
        }
    }
}
