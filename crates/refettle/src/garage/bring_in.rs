//! `refettle bring-in`

use super::log::answered;
use super::opened::{Tapped, failed, mistaken};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_facts::ids::BikeId;
use refettle_memory::entry::{BikeDescribed, Day, GARAGE, RunsWord, Words};
use refettle_memory::fresh_bike_id;
use refettle_usecases::bring_in::{self, Coming, NotIn};
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
        // A layout that is none makes no garage.
        layouts::text(&self.layout)?;
        let mut opened = self.tapped.open()?;
        let id = match &self.id {
            Some(id) if id == GARAGE => {
                return Err(mistaken(vec![format!(
                    "'{GARAGE}' is the garage itself; choose another id for the bike"
                )]));
            }
            Some(id) => BikeId::new(id).map_err(|e| mistaken(vec![e.to_string()]))?,
            // A repeat of the same tap is the same bike.
            None => match opened.tap.as_ref() {
                Some(tap) => bring_in::bike_of(tap)?,
                None => fresh_bike_id().map_err(failed)?,
            },
        };
        let coming = Coming {
            title: self.title.clone(),
            layout: self.layout.clone(),
            described: BikeDescribed {
                year: self.year,
                runs: self.runs,
                stood_months: self.stood_months,
                ..BikeDescribed::default()
            },
            arrives: self.arrives,
            answers: Vec::new(),
            state: None,
            papers: Vec::new(),
        };
        let tap = opened.tap.clone();
        let first = bring_in::bring_in(&mut opened.memory, &id, opened.at, tap.as_ref(), &coming).map_err(
            |error| match error {
                NotIn::Refused(refused) => refused.into(),
                NotIn::Memory(error) => failed(error),
            },
        )?;
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
