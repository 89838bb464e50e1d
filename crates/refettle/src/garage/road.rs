//! `refettle road`

use super::opened::{Opened, Tapped, mistaken};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_facts::ids::BikeId;
use refettle_judgement::road::{Item, items};
use refettle_memory::Tap;
use refettle_memory::entry::{Day, Entry};
use refettle_papers::road_list;
use refettle_usecases::look::Read;
use refettle_usecases::road;
use std::collections::BTreeSet;

#[derive(Args)]
pub struct Road {
    /// The bike, by id or title
    bike: String,
    /// Limits by this scheme; the strictest that counts when left out
    #[arg(long, value_name = "SCHEME")]
    scheme: Option<String>,
    /// The day it is shown or sold: brakes, tyres, axles, lights again on it
    #[arg(long, value_name = "DATE")]
    sale_day: Option<Day>,
    /// Answer an item: a reading, ok, wrong: WHY, or not-there; may be repeated
    #[arg(long, value_name = "ITEM=TEXT")]
    answer: Vec<String>,
    /// The maker's own limit for an item answered here; may be repeated
    #[arg(long, value_name = "ITEM=LIMIT")]
    maker: Vec<String>,
    /// A critical fixing gone over again, with the torque set or as felt
    #[arg(long, value_name = "FIXING=TORQUE")]
    recheck: Vec<String>,
    /// A critical fixing gone over that moved: it had not been tight
    #[arg(long, value_name = "FIXING=TORQUE")]
    moved: Vec<String>,
    #[command(flatten)]
    tapped: Tapped,
}

impl Road {
    pub fn run(&self) -> Result<String, Failure> {
        let mut opened = self.tapped.open()?;
        let bike = opened.bike(&self.bike)?;
        let read = opened.read(&bike)?;
        let mut mistakes = Vec::new();
        self.check_scheme(&mut mistakes);
        let entries = self.entries(&read, &mut mistakes);
        if !mistakes.is_empty() {
            return Err(mistaken(mistakes));
        }
        let read = if entries.is_empty() {
            read
        } else {
            keep(&mut opened, &bike, &entries)?;
            opened.read(&bike)?
        };
        let check = road::road(
            read.machine(),
            read.entries(),
            read.now(),
            self.scheme.as_deref(),
            self.sale_day.map(|day| day.0),
        );
        let view = road::view(bike.as_str(), &check, self.scheme.as_deref());
        if self.tapped.json {
            json(&view)
        } else {
            Ok(road_list::text(&view))
        }
    }

    fn check_scheme(&self, mistakes: &mut Vec<String>) {
        let Some(scheme) = self.scheme.as_deref() else {
            return;
        };
        let known: BTreeSet<&str> = items().iter().flat_map(Item::schemes).collect();
        if !known.contains(scheme) {
            let known: Vec<&str> = known.into_iter().collect();
            mistakes.push(format!(
                "'{scheme}' is no scheme known here; there are {}",
                known.join(", ")
            ));
        }
    }

    fn entries(&self, read: &Read, mistakes: &mut Vec<String>) -> Vec<Entry> {
        let mut entries = Vec::new();
        let makers: Vec<(&str, &str)> = self
            .maker
            .iter()
            .filter_map(|text| pair("maker", text, mistakes))
            .collect();
        let mut answered = BTreeSet::new();
        for text in &self.answer {
            let Some((item, said)) = pair("answer", text, mistakes) else {
                continue;
            };
            answered.insert(item);
            let maker = makers.iter().find(|(of, _)| *of == item).map(|(_, limit)| *limit);
            match road::answer(read.machine(), item, said, maker, self.scheme.as_deref()) {
                Ok((body, _)) => entries.push(Entry::RoadCheckAnswered(body)),
                Err(error) => mistakes.push(error.to_string()),
            }
        }
        for (item, _) in makers.iter().filter(|(item, _)| !answered.contains(item)) {
            mistakes.push(format!(
                "--maker {item}=… stands alone; a limit is kept with a reading: add --answer {item}=READING"
            ));
        }
        let rechecks = self.recheck.iter().map(|text| (text, false));
        for (text, moved) in rechecks.chain(self.moved.iter().map(|text| (text, true))) {
            let (fixing, torque) = match text.split_once('=') {
                Some((fixing, torque)) => (fixing.trim(), Some(torque.trim())),
                None => (text.trim(), None),
            };
            match road::recheck(read.machine(), fixing, torque, moved) {
                Ok(body) => entries.push(Entry::FixingRechecked(body)),
                Err(error) => mistakes.push(error.to_string()),
            }
        }
        entries
    }
}

fn pair<'a>(option: &str, text: &'a str, mistakes: &mut Vec<String>) -> Option<(&'a str, &'a str)> {
    let pair = text
        .split_once('=')
        .map(|(item, said)| (item.trim(), said.trim()));
    if pair.is_none() {
        mistakes.push(format!(
            "--{option} '{}' has no '='; write ITEM=TEXT",
            text.chars().take(40).collect::<String>()
        ));
    }
    pair
}

/// One key for the command; each of its entries has its own made from it.
fn keep(opened: &mut Opened, bike: &BikeId, entries: &[Entry]) -> Result<(), Failure> {
    let key = opened.tap.clone();
    for (n, entry) in entries.iter().enumerate() {
        opened.tap = match (&key, n) {
            (Some(tap), 1..) => {
                let stem: String = tap.as_str().chars().take(58).collect();
                Some(Tap::new(&format!("{stem}-{n}")).map_err(|e| mistaken(vec![e.to_string()]))?)
            }
            (tap, _) => tap.clone(),
        };
        opened.append(bike, entry)?;
    }
    Ok(())
}
