//! Entries in words: one line each, for "what was recorded meanwhile" and for the log of a bike.

use crate::card_id;
use crate::look::Look;
use crate::money_words::shown as money;
use crate::words;
use refettle_machine::model::Machine;
use refettle_memory::Stored;
use refettle_memory::entry::{About, Action, Answer, Entry, Words};

impl Look {
    /// An entry in words.
    #[must_use]
    pub fn told(&self, stored: &Stored) -> String {
        told(&self.machine, &stored.entry)
    }
}

/// An action's title on this machine.
#[must_use]
pub fn title(machine: &Machine, action: &Action) -> String {
    card_id::act(machine, action)
        .map_or_else(|| card_id::of_action(action), |act| words::title(machine, &act))
}

/// What on the bike is meant, in words.
#[must_use]
pub fn about(machine: &Machine, about: &About) -> String {
    let part = |id: &str| {
        machine
            .part(id)
            .and_then(|p| machine.parts.get(p.0))
            .map(|p| p.title.clone())
    };
    match about {
        About::Bike {} => "the bike".to_owned(),
        About::Region { region } => region.clone(),
        About::Part { part: id } => part(id.as_str()).unwrap_or_else(|| id.to_string()),
        About::Fixing { fixing } => machine
            .critical(fixing.as_str())
            .and_then(|c| machine.criticals.get(c.0))
            .map_or_else(|| fixing.to_string(), |c| c.title.clone()),
        About::Fixings { part: id, .. } => {
            format!(
                "fixings of {}",
                part(id.as_str()).unwrap_or_else(|| id.to_string())
            )
        }
        About::Circuit { circuit } => machine
            .circuit(circuit.as_str())
            .and_then(|c| machine.circuits.get(c.0))
            .map_or_else(|| circuit.to_string(), |c| c.title.clone()),
        About::Step { step } => machine
            .step(step.as_str())
            .and_then(|s| machine.steps.get(s.0))
            .map_or_else(|| step.to_string(), |s| s.title.clone()),
        About::Job { job } => machine
            .job(job.as_str())
            .and_then(|j| machine.jobs.get(j.0))
            .map_or_else(|| job.to_string(), |j| j.title.clone()),
        About::Bag { bag } => format!("bag {bag}"),
        About::Entry { entry } => format!("entry {entry}"),
    }
}

fn noted(line: String, note: Option<&Words>) -> String {
    match note {
        Some(note) => format!("{line} ({note})"),
        None => line,
    }
}

/// An entry in words.
#[must_use]
pub fn told(machine: &Machine, entry: &Entry) -> String {
    let place = |what: &About| about(machine, what);
    match entry {
        Entry::BikeBroughtIn(b) => format!("Brought in: {}", b.title),
        Entry::StateObserved(_) => "Seen: it looks otherwise now".to_owned(),
        Entry::JobsChosen(_) => "Other jobs were chosen".to_owned(),
        Entry::GarageSet(_) => "What the garage can do was set".to_owned(),
        Entry::QuestionAnswered(b) => format!("Question answered: {}", b.answer),
        Entry::PlanAdopted(_) => "A plan was adopted".to_owned(),
        Entry::Undone(_) => "The last answer was taken back".to_owned(),
        Entry::ActionAnswered(b) => {
            let what = title(machine, &b.action);
            match &b.answer {
                Answer::Done => format!("Done: {what}"),
                Answer::DoneAnotherWay { note } => format!("Done another way: {what} ({note})"),
                Answer::SomethingWrong { note } => format!("Something's wrong: {what} ({note})"),
                Answer::NotNow => format!("Not now: {what}"),
            }
        }
        Entry::BikeDescribed(_) => "Facts about the bike were noted".to_owned(),
        Entry::PaperSeen(b) => noted(
            format!(
                "Paper {}: {}",
                b.paper.word(),
                if b.good { "good" } else { "not good" }
            ),
            b.note.as_ref(),
        ),
        Entry::DueDateSet(b) => match b.on {
            Some(on) => noted(format!("Day set: {} {on}", b.due.word()), b.note.as_ref()),
            None => noted(format!("Day withdrawn: {}", b.due.word()), b.note.as_ref()),
        },
        Entry::BikeArrived(b) => noted("It arrived".to_owned(), b.note.as_ref()),
        Entry::OfferMade(b) => noted(
            format!("Offer by {}: {}", b.by.word(), money(&b.price)),
            b.note.as_ref(),
        ),
        Entry::AskingPriceSet(b) => format!("Asked for it: {}", money(&b.price)),
        Entry::SheetCorrected(b) => format!("Sheet corrected: {}", b.path),
        Entry::BegunAnyway(b) => noted("Not waiting for an order".to_owned(), b.note.as_ref()),
        Entry::FindingNoted(b) => noted(format!("Finding: {}", place(&b.about)), b.note.as_ref()),
        Entry::FindingSettled(b) => noted(format!("Finding settled: {}", b.how.word()), b.note.as_ref()),
        Entry::CheckAnswered(b) => noted(format!("Check {}: {}", b.check, b.outcome), b.note.as_ref()),
        Entry::FixingNoted(b) => noted(
            format!("Fixing {}: {}", b.state.word(), place(&b.about)),
            b.note.as_ref(),
        ),
        Entry::SettingNoted(b) => format!("Setting noted: {} {}", b.what, b.value),
        Entry::MeasurementNoted(b) => noted(
            format!("Measured: {} {} {}", b.what, b.reading.value, b.reading.unit),
            b.note.as_ref(),
        ),
        Entry::BagFilled(b) => format!("Bag {} filled", b.bag),
        Entry::BagEmptied(b) => noted(format!("Bag {} emptied", b.bag), b.note.as_ref()),
        Entry::PhotoAdded(b) => noted(format!("Photo: {}", place(&b.about)), b.caption.as_ref()),
        Entry::PhotoRemoved(_) => "A photo was removed".to_owned(),
        Entry::TimerStarted(_) => "Timer started".to_owned(),
        Entry::TimerStopped(_) => "Timer stopped".to_owned(),
        Entry::TimerCorrected(b) => noted(format!("Timer corrected to {} min", b.minutes), b.note.as_ref()),
        Entry::TimeSpent(b) => noted(format!("{} min {}", b.minutes, b.on.word()), b.note.as_ref()),
        Entry::MoneyMoved(b) => noted(
            format!("Money {}: {} {}", b.way.word(), money(&b.amount), b.of.word()),
            b.note.as_ref(),
        ),
        Entry::ShortcutTaken(b) => noted(
            format!("Shortcut, {}: {}", b.shortcut.word(), place(&b.about)),
            b.note.as_ref(),
        ),
        Entry::ShortcutCleared(b) => noted("A shortcut was cleared".to_owned(), b.note.as_ref()),
        Entry::ShortcutDueLater(b) => format!("A shortcut is left for later: {}", b.when),
        Entry::TroubleMet(b) => noted(
            format!("Trouble, {}: {}", b.trouble.word(), place(&b.about)),
            b.note.as_ref(),
        ),
        Entry::TroubleOptionChosen(b) => noted(format!("Way out chosen: {}", b.option), b.note.as_ref()),
        Entry::TroubleSolved(b) => noted("A trouble is over".to_owned(), b.note.as_ref()),
        Entry::RoadCheckAnswered(b) => format!(
            "Road check, {}: {}",
            b.item,
            if b.passes { "passes" } else { "does not pass" }
        ),
        Entry::FixingRechecked(b) => noted(
            format!(
                "Second look: {}, {}",
                place(&About::Fixing {
                    fixing: b.fixing.clone()
                }),
                if b.moved { "it moved" } else { "tight" }
            ),
            b.note.as_ref(),
        ),
        Entry::PaperIssued(b) => format!("Paper issued: {}", b.paper.word()),
        Entry::BikeSold(b) => noted(format!("Sold for {}", money(&b.price)), b.note.as_ref()),
        Entry::BikeGone(b) => noted(format!("Gone: {}", b.why.word()), b.note.as_ref()),
        Entry::DrawerSet(_)
        | Entry::OrderPlaced(_)
        | Entry::OrderArrived(_)
        | Entry::OrderDueChanged(_)
        | Entry::OrderCancelled(_)
        | Entry::ComparableNoted(_)
        | Entry::ComparableDropped(_)
        | Entry::SettingsSet(_) => told_of_garage(entry),
    }
}

/// An entry of the garage in words; of another, its kind.
#[must_use]
pub fn told_of_garage(entry: &Entry) -> String {
    match entry {
        Entry::DrawerSet(b) => noted(
            format!("Drawer: {}, {}", b.thing, b.level.word()),
            b.note.as_ref(),
        ),
        Entry::OrderPlaced(b) => noted(format!("Ordered: {} lines", b.lines.len()), b.note.as_ref()),
        Entry::OrderArrived(b) => noted("An order arrived".to_owned(), b.note.as_ref()),
        Entry::OrderDueChanged(b) => match b.due {
            Some(due) => format!("An order is due on {due}"),
            None => "Nobody knows when an order is due".to_owned(),
        },
        Entry::OrderCancelled(b) => noted("An order was cancelled".to_owned(), b.note.as_ref()),
        Entry::ComparableNoted(b) => noted(
            format!(
                "Comparable, {}: {} {}",
                b.price_is.word(),
                b.title,
                money(&b.price)
            ),
            b.note.as_ref(),
        ),
        Entry::ComparableDropped(b) => noted("A comparable counts no more".to_owned(), b.note.as_ref()),
        Entry::SettingsSet(_) => "Settings were changed".to_owned(),
        Entry::TimeSpent(b) => noted(format!("{} min {}", b.minutes, b.on.word()), b.note.as_ref()),
        Entry::MoneyMoved(b) => noted(
            format!("Money {}: {} {}", b.way.word(), money(&b.amount), b.of.word()),
            b.note.as_ref(),
        ),
        other => other.kind().to_owned(),
    }
}
