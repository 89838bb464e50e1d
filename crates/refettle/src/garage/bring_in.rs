//! `refettle bring-in`

use super::log::answered;
use super::opened::{Tapped, failed, mistaken};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_facts::ids::BikeId;
use refettle_memory::entry::{
    BikeBroughtIn, BikeDescribed, Day, DueDateSet, DueKind, Entry, GARAGE, RunsWord, Words,
};
use refettle_memory::{Tap, fresh_bike_id};
use refettle_usecases::layouts;

#[derive(Args)]
pub struct BringIn {
    /// What you call it
    title: Words,
    /// The layout it starts from (see: refettle layouts)
    #[arg(long, value_name = "NAME")]
    layout: String,
    /// A short id of your own for it; a random one when left out
    #[arg(long, value_name = "ID")]
    id: Option<String>,
    /// Whether it runs
    #[arg(long, value_name = "WORD", value_parser = super::typed::word(RunsWord::ALL))]
    runs: Option<RunsWord>,
    /// How long it has stood, in months
    #[arg(long, value_name = "N")]
    stood_months: Option<u32>,
    /// The year it was made
    #[arg(long, value_name = "YEAR")]
    year: Option<u16>,
    /// It is not here yet: the day it arrives
    #[arg(long, value_name = "DAY")]
    arrives: Option<Day>,
    #[command(flatten)]
    tapped: Tapped,
}

impl BringIn {
    pub fn run(&self) -> Result<String, Failure> {
        let id = match &self.id {
            Some(id) if id == GARAGE => {
                return Err(mistaken(vec![format!(
                    "'{GARAGE}' is the garage itself; choose another id for the bike"
                )]));
            }
            Some(id) => BikeId::new(id).map_err(|e| mistaken(vec![e.to_string()]))?,
            // A repeat of the same tap is the same bike.
            None => match self.tapped.tap_key() {
                Some(tap) => BikeId::new(&format!("b-{}", tap.to_lowercase().replace('_', "-")))
                    .map_err(|e| mistaken(vec![e.to_string()]))?,
                None => fresh_bike_id().map_err(failed)?,
            },
        };
        let sheet = layouts::written_out(&self.layout)?;
        let mut opened = self.tapped.open()?;
        let sheet = opened.memory.store_sheet(&sheet).map_err(failed)?;
        let mut entries = vec![Entry::BikeBroughtIn(BikeBroughtIn {
            title: self.title.to_string(),
            layout: self.layout.clone(),
            sheet,
        })];
        let described = BikeDescribed {
            year: self.year,
            runs: self.runs,
            stood_months: self.stood_months,
            ..BikeDescribed::default()
        };
        if described != BikeDescribed::default() {
            entries.push(Entry::BikeDescribed(described));
        }
        if self.arrives.is_some() {
            entries.push(Entry::DueDateSet(DueDateSet {
                due: DueKind::Arrives,
                on: self.arrives,
                note: None,
            }));
        }
        let key = opened.tap.clone();
        let mut first = None;
        for (n, entry) in entries.iter().enumerate() {
            // One key for the command; each of its entries has its own made from it.
            opened.tap = match (&key, n) {
                (Some(tap), 1..) => Tap::new(&format!(
                    "{}-{n}",
                    tap.as_str().chars().take(60).collect::<String>()
                ))
                .ok(),
                (tap, _) => tap.clone(),
            };
            let entry = opened.append(&id, entry)?;
            first.get_or_insert(entry);
        }
        let Some(first) = first else {
            return Ok(String::new());
        };
        if self.tapped.json {
            json(&answered(&id, &first))
        } else {
            Ok(format!(
                "Brought in: {} ({id}).\nNext:\n  refettle log finding {id} --region engine --note \"what is not right\"\n  refettle log jobs {id} --jobs A,B\n  refettle bench {id}\n",
                self.title
            ))
        }
    }
}
