//! Proof, papers and the sale.

use super::super::opened::Tapped;
use super::super::typed::{entry_id, reading, word};
use super::says;
use crate::commands::read_text;
use clap::Args;
use refettle_facts::ids::EntryId;
use refettle_memory::entry::{
    BikeGone, BikeSold, CatalogueId, Currency, Day, Entry, FileHash, FixingRechecked, GoneWhy, LeavesWord,
    PaperIssued, PaperIssuedKind, Reading, RoadCheckAnswered, Words,
};
use std::path::PathBuf;

#[derive(Args)]
pub struct RoadCheck {
    /// The bike, by id or title
    bike: String,
    /// Which item
    item: CatalogueId,
    /// At which stage
    stage: CatalogueId,
    /// The number, with its unit
    #[arg(long, value_name = "VALUE", value_parser = reading)]
    measured: Option<Reading>,
    /// The maker's own limit, stamped or printed, with its unit
    #[arg(long, value_name = "VALUE", value_parser = reading)]
    limit: Option<Reading>,
    /// What was seen
    #[arg(long, value_name = "WORDS")]
    seen: Option<Words>,
    /// It passes, you say
    #[arg(long)]
    passes: bool,
    #[command(flatten)]
    tapped: Tapped,
}

says!(RoadCheck, |this, _telling| {
    Some(Entry::RoadCheckAnswered(RoadCheckAnswered {
        item: this.item.clone(),
        stage: this.stage.clone(),
        measured: this.measured.clone(),
        limit: this.limit.clone(),
        seen: this.seen.clone(),
        passes: this.passes,
    }))
});

#[derive(Args)]
pub struct Recheck {
    /// The bike, by id or title
    bike: String,
    /// The critical fixing
    fixing: String,
    /// It moved: it had not been tight
    #[arg(long)]
    moved: bool,
    /// The torque it was tried with, with its unit
    #[arg(long, value_name = "VALUE", value_parser = reading)]
    torque: Option<Reading>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Recheck, |this, telling| {
    let fixing = telling.named(|names, mistakes| names.fixing(&this.fixing, mistakes))?;
    Some(Entry::FixingRechecked(FixingRechecked {
        fixing,
        moved: this.moved,
        torque: this.torque.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Issued {
    /// The bike, by id or title
    bike: String,
    /// Which kind
    #[arg(value_parser = word(PaperIssuedKind::ALL))]
    paper: PaperIssuedKind,
    /// What it was made from (JSON, without personal data)
    #[arg(value_name = "DATA")]
    made_from: PathBuf,
    /// SHA-256 of the file handed over
    #[arg(long, value_name = "HASH")]
    sha256: FileHash,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Issued, |this, telling| {
    let text = read_text(&this.made_from)
        .map_err(|e| telling.mistakes.push(e.to_string()))
        .ok()?;
    let data = serde_json::from_str(&text)
        .map_err(|e| {
            telling
                .mistakes
                .push(format!("{} is no JSON: {e}", this.made_from.display()));
        })
        .ok()?;
    Some(Entry::PaperIssued(PaperIssued {
        paper: this.paper,
        data,
        sha256: this.sha256.clone(),
    }))
});

#[derive(Args)]
pub struct Sold {
    /// The bike, by id or title
    bike: String,
    /// For how much
    price: String,
    /// Its currency; the garage's when left out
    #[arg(long)]
    currency: Option<Currency>,
    /// The day; today when left out
    #[arg(long, value_name = "DAY")]
    on: Option<Day>,
    /// As not roadworthy
    #[arg(long)]
    not_roadworthy: bool,
    /// How it leaves
    #[arg(long, value_parser = word(LeavesWord::ALL))]
    leaves: LeavesWord,
    /// To whom (kept apart, erasable)
    #[arg(long)]
    buyer: Option<String>,
    /// The entry that issued the sale paper
    #[arg(long, value_name = "ENTRY", value_parser = entry_id)]
    paper: Option<EntryId>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Sold, |this, telling| {
    let price = telling.amount(&this.price, this.currency.as_ref());
    if this.not_roadworthy && this.leaves == LeavesWord::Ridden {
        telling.mistakes.push(
            "a bike that is not roadworthy is not ridden away: it leaves on a trailer or in a van (--leaves trailer)"
                .to_owned(),
        );
    }
    let buyer = telling.personal("buyer", this.buyer.as_ref());
    Some(Entry::BikeSold(BikeSold {
        price: price?,
        on: this.on.unwrap_or(telling.today()),
        roadworthy: !this.not_roadworthy,
        leaves: this.leaves,
        buyer,
        paper: this.paper.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Gone {
    /// The bike, by id or title
    bike: String,
    /// Why
    #[arg(value_parser = word(GoneWhy::ALL))]
    why: GoneWhy,
    /// The day; today when left out
    #[arg(long, value_name = "DAY")]
    on: Option<Day>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Gone, |this, telling| {
    Some(Entry::BikeGone(BikeGone {
        why: this.why,
        on: this.on.unwrap_or(telling.today()),
        note: this.note.clone(),
    }))
});
