//! What was seen, measured and set aside.

use super::super::opened::Tapped;
use super::super::typed::{AboutArgs, bag_line, entry_id, measured, reading, word};
use super::says;
use clap::Args;
use refettle_facts::ids::EntryId;
use refettle_memory::entry::{
    About, BagEmptied, BagFilled, BagLine, CatalogueId, CheckAnswered, Entry, FindingNoted, FindingSettled,
    FixingNoted, FixingWord, Measured, MeasurementNoted, Reading, SettingNoted, SettledWord, Words,
};

#[derive(Args)]
pub struct Finding {
    /// The bike, by id or title
    bike: String,
    #[command(flatten)]
    about: AboutArgs,
    /// A symptom of the catalogue
    #[arg(long, value_name = "ID")]
    symptom: Option<CatalogueId>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    /// What was measured; may be repeated
    #[arg(long, value_name = "WHAT=VALUE", value_parser = measured)]
    measured: Vec<Measured>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Finding, |this, telling| {
    let about = telling.named(|names, mistakes| this.about.read(names, mistakes));
    if about.is_none() && this.symptom.is_none() && this.note.is_none() && telling.mistakes.is_empty() {
        telling
            .mistakes
            .push("say what is not right: --region, --part, --symptom or --note".to_owned());
    }
    Some(Entry::FindingNoted(FindingNoted {
        about: about.unwrap_or(About::Bike {}),
        symptom: this.symptom.clone(),
        note: this.note.clone(),
        measured: this.measured.clone(),
    }))
});

#[derive(Args)]
pub struct Settled {
    /// The bike, by id or title
    bike: String,
    /// The finding, or the emptied bag with something over or missing
    #[arg(value_parser = entry_id)]
    finding: EntryId,
    /// How
    #[arg(value_parser = word(SettledWord::ALL))]
    how: SettledWord,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Settled, |this, _telling| {
    Some(Entry::FindingSettled(FindingSettled {
        finding: this.finding.clone(),
        how: this.how,
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Check {
    /// The bike, by id or title
    bike: String,
    /// Which check
    check: CatalogueId,
    /// How it came out
    outcome: CatalogueId,
    /// The finding it was made for
    #[arg(long, value_name = "ENTRY", value_parser = entry_id)]
    finding: Option<EntryId>,
    /// The symptom it was made for
    #[arg(long, value_name = "ID")]
    symptom: Option<CatalogueId>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Check, |this, _telling| {
    Some(Entry::CheckAnswered(CheckAnswered {
        finding: this.finding.clone(),
        symptom: this.symptom.clone(),
        check: this.check.clone(),
        outcome: this.outcome.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Fixing {
    /// The bike, by id or title
    bike: String,
    /// How they are
    #[arg(value_parser = word(FixingWord::ALL))]
    state: FixingWord,
    #[command(flatten)]
    about: AboutArgs,
    /// How many of them
    #[arg(long, value_name = "N")]
    count: Option<u16>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Fixing, |this, telling| {
    let about = telling.named(|names, mistakes| this.about.read(names, mistakes));
    if about.is_none() && telling.mistakes.is_empty() {
        telling
            .mistakes
            .push("say which fixings: --fixing NAME, --fixings PART=N or --part NAME".to_owned());
    }
    Some(Entry::FixingNoted(FixingNoted {
        about: about?,
        state: this.state,
        count: this.count,
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Setting {
    /// The bike, by id or title
    bike: String,
    /// The part
    part: String,
    /// What
    what: Words,
    /// How it was
    value: Words,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Setting, |this, telling| {
    let part = telling.named(|names, mistakes| names.part(&this.part, mistakes))?;
    Some(Entry::SettingNoted(SettingNoted {
        part,
        what: this.what.clone(),
        value: this.value.clone(),
    }))
});

#[derive(Args)]
pub struct Measurement {
    /// The bike, by id or title
    bike: String,
    /// What
    what: Words,
    /// The value with its unit
    #[arg(value_parser = reading, allow_hyphen_values = true)]
    reading: Reading,
    #[command(flatten)]
    about: AboutArgs,
    /// The limit it stands against
    #[arg(long, value_name = "ID")]
    limit: Option<CatalogueId>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Measurement, |this, telling| {
    let about = telling.named(|names, mistakes| this.about.read(names, mistakes));
    Some(Entry::MeasurementNoted(MeasurementNoted {
        what: this.what.clone(),
        reading: this.reading.clone(),
        about,
        limit: this.limit.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct BagIn {
    /// The bike, by id or title
    bike: String,
    /// The bag's number
    bag: u16,
    /// What goes in: how many x what; may be repeated
    #[arg(required = true, value_parser = bag_line)]
    lines: Vec<BagLine>,
    /// The part they hold
    #[arg(long)]
    part: Option<String>,
    /// Where the bag lies
    #[arg(long)]
    place: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(BagIn, |this, telling| {
    let part = this
        .part
        .as_ref()
        .and_then(|part| telling.named(|names, mistakes| names.part(part, mistakes)));
    Some(Entry::BagFilled(BagFilled {
        bag: this.bag,
        part,
        lines: this.lines.clone(),
        place: this.place.clone(),
    }))
});

#[derive(Args)]
pub struct BagOut {
    /// The bike, by id or title
    bike: String,
    /// The bag's number
    bag: u16,
    /// What was over: how many x what; may be repeated
    #[arg(long, value_parser = bag_line)]
    over: Vec<BagLine>,
    /// What was missing: how many x what; may be repeated
    #[arg(long, value_parser = bag_line)]
    missing: Vec<BagLine>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(BagOut, |this, _telling| {
    Some(Entry::BagEmptied(BagEmptied {
        bag: this.bag,
        over: this.over.clone(),
        missing: this.missing.clone(),
        note: this.note.clone(),
    }))
});
