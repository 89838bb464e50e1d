//! `refettle undo`

use super::log::answered;
use super::opened::{Tapped, failed, mistaken};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_memory::entry::{Entry, Undone};

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
        // A repeat of a tap that took something back must not take back one more.
        if let Some(tap) = &opened.tap
            && let Some(entry) = opened
                .memory
                .entries(&subject)
                .map_err(failed)?
                .into_iter()
                .find(|stored| stored.tap.as_ref() == Some(tap))
        {
            return self.told(&subject, &entry.id, "nothing more: it was taken back before");
        }
        let Some(last) = opened.memory.last_undoable(&subject).map_err(failed)? else {
            return Err(mistaken(vec![format!(
                "nothing of '{}' is left to take back; record how it looks now instead: refettle now",
                self.bike
            )]));
        };
        let entry = Entry::Undone(Undone { entry: last.id });
        let id = opened.append(&subject, &entry)?;
        self.told(&subject, &id, last.entry.kind())
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
