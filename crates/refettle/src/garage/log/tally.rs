//! Minutes and money.

use super::super::opened::{Tapped, failed};
use super::super::typed::{entry_id, word};
use super::{Telling, says};
use clap::Args;
use refettle_facts::ids::EntryId;
use refettle_memory::entry::{
    Currency, Day, Entry, MoneyKind, MoneyMoved, MoneyWay, TimeKind, TimeSpent, TimerCorrected, TimerStarted,
    TimerStopped, Words,
};
use refettle_memory::state::{Timer as Running, book};

#[derive(Debug, Clone, Copy)]
enum Turn {
    Start,
    Stop,
    Correct,
}

const TURNS: &[(&str, Turn)] = &[
    ("start", Turn::Start),
    ("stop", Turn::Stop),
    ("correct", Turn::Correct),
];

#[derive(Args)]
pub struct Timer {
    /// The bike, by id or title
    bike: String,
    /// start, stop or correct
    #[arg(value_parser = word(TURNS))]
    turn: Turn,
    /// The card that is up, when starting
    #[arg(long)]
    card: Option<String>,
    /// What it should show, when correcting
    #[arg(long, value_name = "N")]
    minutes: Option<u32>,
    /// Which timer; the last one when left out
    #[arg(long, value_name = "ENTRY", value_parser = entry_id)]
    timer: Option<EntryId>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Timer, |this, telling| match this.turn {
    Turn::Start => Some(Entry::TimerStarted(TimerStarted {
        about: None,
        card: this.card.clone(),
    })),
    Turn::Stop => {
        let timer = this.timer(telling, |timer| timer.stopped.is_none())?;
        Some(Entry::TimerStopped(TimerStopped { timer }))
    }
    Turn::Correct => {
        let Some(minutes) = this.minutes else {
            telling
                .mistakes
                .push("say what it should show: --minutes N".to_owned());
            return None;
        };
        let timer = this.timer(telling, |_| true)?;
        Some(Entry::TimerCorrected(TimerCorrected {
            timer,
            minutes,
            note: this.note.clone(),
        }))
    }
});

impl Timer {
    /// The timer named, or the last that fits.
    fn timer(&self, telling: &mut Telling<'_>, fits: impl Fn(&Running) -> bool) -> Option<EntryId> {
        if self.timer.is_some() {
            return self.timer.clone();
        }
        let entries = telling.opened.memory.entries(telling.subject).map_err(failed);
        // With a tap that counted already, whatever it stopped then is meant.
        let before = entries.as_ref().ok().and_then(|entries| {
            let tap = telling.opened.tap.as_ref()?;
            entries.iter().find_map(|stored| match &stored.entry {
                Entry::TimerStopped(body) if stored.tap.as_ref() == Some(tap) => Some(body.timer.clone()),
                Entry::TimerCorrected(body) if stored.tap.as_ref() == Some(tap) => Some(body.timer.clone()),
                _ => None,
            })
        });
        if before.is_some() {
            return before;
        }
        let found = entries
            .ok()
            .and_then(|entries| book(&entries).timers.into_iter().rev().find(|timer| fits(timer)));
        if found.is_none() {
            telling
                .mistakes
                .push("no timer of this bike fits; start one: refettle log timer BIKE start".to_owned());
        }
        found.map(|timer| timer.entry)
    }
}

#[derive(Args)]
pub struct Time {
    /// The bike, by id or title; or garage
    bike: String,
    /// What with
    #[arg(value_parser = word(TimeKind::ALL))]
    on: TimeKind,
    /// How many minutes
    minutes: u32,
    /// The day; today when left out
    #[arg(long, value_name = "DAY")]
    day: Option<Day>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Time, |this, _telling| {
    Some(Entry::TimeSpent(TimeSpent {
        on: this.on,
        minutes: this.minutes,
        day: this.day,
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Money {
    /// The bike, by id or title; or garage
    bike: String,
    /// Out or in
    #[arg(value_parser = word(MoneyWay::ALL))]
    way: MoneyWay,
    /// What for
    #[arg(value_parser = word(MoneyKind::ALL))]
    of: MoneyKind,
    /// How much
    amount: String,
    /// Its currency; the garage's when left out
    #[arg(long)]
    currency: Option<Currency>,
    /// The day; today when left out
    #[arg(long, value_name = "DAY")]
    day: Option<Day>,
    /// The order it paid
    #[arg(long, value_name = "ENTRY", value_parser = entry_id)]
    order: Option<EntryId>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Money, |this, telling| {
    let amount = telling.amount(&this.amount, this.currency.as_ref())?;
    Some(Entry::MoneyMoved(MoneyMoved {
        way: this.way,
        of: this.of,
        amount,
        day: this.day,
        order: this.order.clone(),
        note: this.note.clone(),
    }))
});
