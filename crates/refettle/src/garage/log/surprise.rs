//! Shortcuts and surprises.

use super::super::opened::Tapped;
use super::super::typed::{AboutArgs, entry_id, measured, word};
use super::says;
use clap::Args;
use refettle_facts::ids::EntryId;
use refettle_memory::entry::{
    About, CatalogueId, Day, Entry, Measured, ShortcutCleared, ShortcutDueLater, ShortcutKind, ShortcutTaken,
    TroubleKind, TroubleMet, TroubleOptionChosen, TroubleSolved, Words,
};

#[derive(Args)]
pub struct Shortcut {
    /// The bike, by id or title
    bike: String,
    /// What kind
    #[arg(value_parser = word(ShortcutKind::ALL))]
    shortcut: ShortcutKind,
    #[command(flatten)]
    about: AboutArgs,
    /// The card it was taken at
    #[arg(long)]
    card: Option<String>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Shortcut, |this, telling| {
    let about = telling.named(|names, mistakes| this.about.read(names, mistakes));
    Some(Entry::ShortcutTaken(ShortcutTaken {
        shortcut: this.shortcut,
        about: about.unwrap_or(About::Bike {}),
        card: this.card.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Cleared {
    /// The bike, by id or title
    bike: String,
    /// The shortcut, or the card done another way
    #[arg(value_parser = entry_id)]
    shortcut: EntryId,
    /// How it is known
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    /// What was measured; may be repeated
    #[arg(long, value_name = "WHAT=VALUE", value_parser = measured)]
    measured: Vec<Measured>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Cleared, |this, _telling| {
    Some(Entry::ShortcutCleared(ShortcutCleared {
        shortcut: this.shortcut.clone(),
        note: this.note.clone(),
        measured: this.measured.clone(),
    }))
});

#[derive(Args)]
pub struct DueLater {
    /// The bike, by id or title
    bike: String,
    /// The shortcut, or the card done another way
    #[arg(value_parser = entry_id)]
    shortcut: EntryId,
    /// When it is to be looked at, in words for the buyer
    when: Words,
    /// By which day
    #[arg(long, value_name = "DAY")]
    on: Option<Day>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(DueLater, |this, _telling| {
    Some(Entry::ShortcutDueLater(ShortcutDueLater {
        shortcut: this.shortcut.clone(),
        when: this.when.clone(),
        on: this.on,
    }))
});

#[derive(Args)]
pub struct Trouble {
    /// The bike, by id or title
    bike: String,
    /// What kind
    #[arg(value_parser = word(TroubleKind::ALL))]
    trouble: TroubleKind,
    #[command(flatten)]
    about: AboutArgs,
    /// The card it was met at
    #[arg(long)]
    card: Option<String>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Trouble, |this, telling| {
    let about = telling.named(|names, mistakes| this.about.read(names, mistakes));
    Some(Entry::TroubleMet(TroubleMet {
        trouble: this.trouble,
        about: about.unwrap_or(About::Bike {}),
        card: this.card.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct WayOut {
    /// The bike, by id or title
    bike: String,
    /// The surprise
    #[arg(value_parser = entry_id)]
    trouble: EntryId,
    /// What is to be done
    option: CatalogueId,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(WayOut, |this, _telling| {
    Some(Entry::TroubleOptionChosen(TroubleOptionChosen {
        trouble: this.trouble.clone(),
        option: this.option.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Solved {
    /// The bike, by id or title
    bike: String,
    /// The surprise
    #[arg(value_parser = entry_id)]
    trouble: EntryId,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Solved, |this, _telling| {
    Some(Entry::TroubleSolved(TroubleSolved {
        trouble: this.trouble.clone(),
        note: this.note.clone(),
    }))
});
