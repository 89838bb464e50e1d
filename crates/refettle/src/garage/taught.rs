//! `refettle taught`

use super::opened::{Place, looked};
use crate::commands::json;
use crate::outcome::Failure;
use anyhow::anyhow;
use clap::Args;
use refettle_papers::taught_list;
use refettle_usecases::learnt::{all, taught};

#[derive(Args)]
pub struct Taught {
    /// The bike, by id or title
    bike: String,
    #[command(flatten)]
    place: Place,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Taught {
    pub fn run(&self) -> Result<String, Failure> {
        let opened = self.place.open()?;
        let bike = opened.bike(&self.bike)?;
        let bikes = all(&opened.memory, opened.at).map_err(looked)?;
        let view = taught(&bikes, &bike, opened.at)
            .ok_or_else(|| anyhow!("the bike {bike} was found and is not in the list; report this"))?;
        if self.json {
            json(&view)
        } else {
            Ok(taught_list::text(&view))
        }
    }
}
