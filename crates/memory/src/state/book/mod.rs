//! A bike's book: what is known of it beside how it stands. Computed from its entries alone; no sheet is needed,
//! so a bike whose sheet cannot be read still has its findings, minutes and money.
//!
//! Entries taken back are passed over. What speaks of an entry that is not in the book changes nothing: the log
//! refuses such entries when they are made.

mod bag;
mod shortcut;
mod time;
mod trouble;

pub use bag::{Bag, BagQuestion};
pub(crate) use shortcut::about as about_action;
pub use shortcut::{Shortcut, ShortcutStands};
pub use time::Timer;
pub use trouble::Trouble;

use crate::entry::{
    About, Amount, AskingPriceSet, BikeDescribed, BikeGone, BikeSold, CatalogueId, CheckAnswered, Day,
    DistanceRead, DueKind, Entry, FindingNoted, FindingSettled, FixingNoted, FixingRechecked,
    MeasurementNoted, MoneyMoved, OfferMade, PaperIssued, PaperKind, PaperSeen, PhotoAdded, PlateKind,
    RoadCheckAnswered, RunsWord, SettingNoted, SheetCorrected, TimeSpent, Undone,
};
use crate::log::Stored;
use crate::personal::PersonalId;
use jiff::Timestamp;
use refettle_facts::ids::{EntryId, FixingId, PartId};
use std::collections::{BTreeMap, BTreeSet};

/// Something recorded, with its entry and moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kept<T> {
    /// The entry.
    pub entry: EntryId,
    /// When.
    pub at: Timestamp,
    /// What.
    pub body: T,
}

impl<T> Kept<T> {
    pub(crate) fn of(stored: &Stored, body: T) -> Kept<T> {
        Kept {
            entry: stored.id.clone(),
            at: stored.at,
            body,
        }
    }
}

/// A finding and what became of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// What was found.
    pub noted: Kept<FindingNoted>,
    /// How it was settled; open when `None`.
    pub settled: Option<Kept<FindingSettled>>,
}

/// What is known of a bike beside how it stands.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Book {
    /// What the person calls it, when that was said after it came in.
    pub title: Option<String>,
    /// Year of make or of first registration.
    pub year: Option<u16>,
    /// The odometer, last reading.
    pub distance: Option<DistanceRead>,
    /// Whether it runs, as said last.
    pub runs: Option<RunsWord>,
    /// How long it has stood, in months, as said last.
    pub stood_months: Option<u32>,
    /// Where the texts of its numbers lie.
    pub numbers: BTreeMap<PlateKind, PersonalId>,
    /// Where the seller's data lie.
    pub seller: Option<PersonalId>,
    /// Papers and registers, last look at each kind.
    pub papers: BTreeMap<PaperKind, Kept<PaperSeen>>,
    /// Days that are set.
    pub due: BTreeMap<DueKind, Day>,
    /// When it arrived, if it had been expected.
    pub arrived: Option<Timestamp>,
    /// Offers.
    pub offers: Vec<Kept<OfferMade>>,
    /// What is asked for it.
    pub asking: Option<Amount>,
    /// How its sheet differs from the one it came in on, in the order of saying; a later one of a path wins.
    pub corrections: Vec<Kept<SheetCorrected>>,
    /// Orders that the person does not wait for.
    pub begun_anyway: BTreeSet<EntryId>,
    /// Findings.
    pub findings: Vec<Finding>,
    /// Checks of likely causes.
    pub checks: Vec<Kept<CheckAnswered>>,
    /// Fixings that were looked at, as said last.
    pub fixings: BTreeMap<About, Kept<FixingNoted>>,
    /// Settings, as noted last.
    pub settings: BTreeMap<(PartId, String), Kept<SettingNoted>>,
    /// Measurements outside the bench cards.
    pub measurements: Vec<Kept<MeasurementNoted>>,
    /// Bags that have something in them.
    pub bags: BTreeMap<u16, Bag>,
    /// What was over or missing when bags were emptied.
    pub bag_questions: Vec<BagQuestion>,
    /// Photos.
    pub photos: Vec<Kept<PhotoAdded>>,
    /// Timers.
    pub timers: Vec<Timer>,
    /// Time that no timer saw.
    pub spent: Vec<Kept<TimeSpent>>,
    /// Money.
    pub money: Vec<Kept<MoneyMoved>>,
    /// Shortcuts.
    pub shortcuts: Vec<Shortcut>,
    /// Surprises.
    pub troubles: Vec<Trouble>,
    /// The road check, last answer to each item.
    pub road_check: BTreeMap<CatalogueId, Kept<RoadCheckAnswered>>,
    /// Critical fixings that had their second look, the last of each.
    pub rechecked: BTreeMap<FixingId, Kept<FixingRechecked>>,
    /// Papers issued.
    pub issued: Vec<Kept<PaperIssued>>,
    /// The sale.
    pub sold: Option<Kept<BikeSold>>,
    /// Its leaving.
    pub gone: Option<Kept<BikeGone>>,
}

/// Computes a bike's book from all its entries, in order.
#[must_use]
pub fn book(entries: &[Stored]) -> Book {
    let taken_back = taken_back(entries);
    let mut book = Book::default();
    for stored in entries.iter().filter(|stored| !taken_back.contains(&stored.id)) {
        book.follow(stored);
    }
    book
}

/// Entries that were taken back.
pub(crate) fn taken_back(entries: &[Stored]) -> BTreeSet<&EntryId> {
    entries
        .iter()
        .filter_map(|stored| match &stored.entry {
            Entry::Undone(Undone { entry }) => Some(entry),
            _ => None,
        })
        .collect()
}

/// The entries that were not taken back, in order. Taking back itself is passed over too.
pub fn standing_entries(entries: &[Stored]) -> impl Iterator<Item = &Stored> {
    let taken_back = taken_back(entries);
    entries
        .iter()
        .filter(move |stored| !taken_back.contains(&stored.id) && !matches!(stored.entry, Entry::Undone(_)))
}

impl Book {
    /// It was brought in before it is here: a day of arrival is set and it has not arrived.
    #[must_use]
    pub fn is_expected(&self) -> bool {
        self.due.contains_key(&DueKind::Arrives) && self.arrived.is_none()
    }

    /// Findings not settled.
    pub fn open_findings(&self) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(|finding| finding.settled.is_none())
    }

    /// Shortcuts neither cleared nor left for later.
    pub fn open_shortcuts(&self) -> impl Iterator<Item = &Shortcut> {
        self.shortcuts
            .iter()
            .filter(|shortcut| matches!(shortcut.stands, ShortcutStands::Open))
    }

    pub(super) fn follow(&mut self, stored: &Stored) {
        let at = stored.at;
        match &stored.entry {
            // How the machine stands, or the garage's: not the book's.
            Entry::BikeBroughtIn(_)
            | Entry::StateObserved(_)
            | Entry::JobsChosen(_)
            | Entry::GarageSet(_)
            | Entry::QuestionAnswered(_)
            | Entry::PlanAdopted(_)
            | Entry::Undone(_)
            | Entry::DrawerSet(_)
            | Entry::OrderPlaced(_)
            | Entry::OrderArrived(_)
            | Entry::OrderDueChanged(_)
            | Entry::OrderCancelled(_)
            | Entry::ComparableNoted(_)
            | Entry::ComparableDropped(_)
            | Entry::SettingsSet(_) => {}
            Entry::ActionAnswered(b) => {
                self.shortcut_by_answer(stored, b);
                self.trouble_by_answer(stored, b);
            }
            Entry::BikeDescribed(b) => self.described(b),
            Entry::PaperSeen(b) => {
                self.papers.insert(b.paper, Kept::of(stored, b.clone()));
            }
            Entry::DueDateSet(b) => match b.on {
                Some(on) => {
                    self.due.insert(b.due, on);
                }
                None => {
                    self.due.remove(&b.due);
                }
            },
            Entry::BikeArrived(_) => self.arrived = Some(at),
            Entry::OfferMade(b) => self.offers.push(Kept::of(stored, b.clone())),
            Entry::AskingPriceSet(AskingPriceSet { price }) => self.asking = Some(price.clone()),
            Entry::SheetCorrected(b) => self.corrections.push(Kept::of(stored, b.clone())),
            Entry::BegunAnyway(b) => {
                self.begun_anyway.insert(b.order.clone());
            }
            Entry::FindingNoted(b) => self.findings.push(Finding {
                noted: Kept::of(stored, b.clone()),
                settled: None,
            }),
            Entry::FindingSettled(b) => self.settle(stored, b),
            Entry::CheckAnswered(b) => self.checks.push(Kept::of(stored, b.clone())),
            Entry::FixingNoted(b) => {
                self.fixings.insert(b.about.clone(), Kept::of(stored, b.clone()));
            }
            Entry::SettingNoted(b) => {
                let key = (b.part.clone(), b.what.to_string());
                self.settings.insert(key, Kept::of(stored, b.clone()));
            }
            Entry::MeasurementNoted(b) => self.measurements.push(Kept::of(stored, b.clone())),
            Entry::BagFilled(b) => self.fill(b),
            Entry::BagEmptied(b) => self.empty(stored, b),
            Entry::PhotoAdded(b) => {
                self.photos.retain(|kept| kept.body.photo != b.photo);
                self.photos.push(Kept::of(stored, b.clone()));
            }
            Entry::PhotoRemoved(b) => self.photos.retain(|kept| kept.body.photo != b.photo),
            Entry::TimerStarted(b) => self.timers.push(Timer::started(stored, b)),
            Entry::TimerStopped(b) => self.stop(at, b),
            Entry::TimerCorrected(b) => self.correct(at, b),
            Entry::TimeSpent(b) => self.spent.push(Kept::of(stored, b.clone())),
            Entry::MoneyMoved(b) => self.money.push(Kept::of(stored, b.clone())),
            Entry::ShortcutTaken(b) => self.take_shortcut(stored, b),
            Entry::ShortcutCleared(b) => self.clear_shortcut(stored, b),
            Entry::ShortcutDueLater(b) => self.leave_shortcut(stored, b),
            Entry::TroubleMet(b) => self.meet(stored, b),
            Entry::TroubleOptionChosen(b) => self.choose(stored, b),
            Entry::TroubleSolved(b) => self.solve(stored, b),
            Entry::RoadCheckAnswered(b) => {
                self.road_check
                    .insert(b.item.clone(), Kept::of(stored, b.clone()));
            }
            Entry::FixingRechecked(b) => {
                self.rechecked
                    .insert(b.fixing.clone(), Kept::of(stored, b.clone()));
            }
            Entry::PaperIssued(b) => self.issued.push(Kept::of(stored, b.clone())),
            Entry::BikeSold(b) => self.sold = Some(Kept::of(stored, b.clone())),
            Entry::BikeGone(b) => self.gone = Some(Kept::of(stored, b.clone())),
        }
    }

    fn described(&mut self, body: &BikeDescribed) {
        if let Some(title) = &body.title {
            self.title = Some(title.to_string());
        }
        self.year = body.year.or(self.year);
        self.runs = body.runs.or(self.runs);
        self.stood_months = body.stood_months.or(self.stood_months);
        if let Some(distance) = &body.distance {
            self.distance = Some(distance.clone());
        }
        if let Some(seller) = &body.seller {
            self.seller = Some(seller.clone());
        }
        let numbers = body.numbers.iter().map(|n| (n.plate, n.text.clone()));
        self.numbers.extend(numbers);
    }

    fn settle(&mut self, stored: &Stored, body: &FindingSettled) {
        let kept = || Some(Kept::of(stored, body.clone()));
        for finding in &mut self.findings {
            if finding.noted.entry == body.finding {
                finding.settled = kept();
            }
        }
        for question in &mut self.bag_questions {
            if question.emptied.entry == body.finding {
                question.settled = kept();
            }
        }
    }
}
