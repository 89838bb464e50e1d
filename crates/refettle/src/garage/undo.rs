//! `refettle undo`

use super::log::answered;
use super::opened::{Tapped, failed, mistaken};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_usecases::undo::{self, TakenBack};

#[derive(Args)]
pub struct Undo {
    /// The bike, by id or title; or garage
    bike: String,
    #[command(flatten)]
    tapped: Tapped,
}

impl Undo {
    pub fn run(&self) -> Result<String, Failure> {
        let mut opened = self.tapped.open()?;
        let subject = opened.subject(&self.bike)?;
        match undo::take_back(&mut opened.memory, &subject, opened.at, opened.tap.as_ref()).map_err(failed)? {
            TakenBack::Now(id, last) => self.told(&subject, &id, last.entry.kind()),
            TakenBack::Before(id) => self.told(&subject, &id, "nothing more: it was taken back before"),
            TakenBack::Nothing => Err(mistaken(vec![format!(
                "nothing of '{}' is left to take back; record how it looks now instead: refettle now",
                self.bike
            )])),
        }
    }

    fn told(
        &self,
        subject: &refettle_facts::ids::BikeId,
        id: &refettle_facts::ids::EntryId,
        what: &str,
    ) -> Result<String, Failure> {
        if self.tapped.json {
            json(&answered(subject, id))
        } else {
            Ok(format!("Taken back: {what}.\n"))
        }
    }
}
