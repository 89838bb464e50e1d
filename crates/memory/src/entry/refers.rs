//! Which earlier entries an entry speaks of: each must be there, of the right kind, and not taken back.

use super::{About, Entry};
use refettle_facts::ids::EntryId;

/// An earlier entry that is spoken of, and what it may be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Reference<'a> {
    /// Its id.
    pub(crate) entry: &'a EntryId,
    /// The kinds it may have; any when empty.
    pub(crate) kinds: &'static [&'static str],
}

const FINDING: &[&str] = &["finding-noted"];
const SETTLED: &[&str] = &["finding-noted", "bag-emptied"];
const TIMER: &[&str] = &["timer-started"];
const SHORTCUT: &[&str] = &["shortcut-taken", "action-answered"];
const TROUBLE: &[&str] = &["trouble-met", "action-answered"];
const ORDER: &[&str] = &["order-placed"];
const COMPARABLE: &[&str] = &["comparable-noted"];
const PAPER: &[&str] = &["paper-issued"];
const ANY: &[&str] = &[];

impl Entry {
    /// Earlier entries it speaks of, other than the one it takes back.
    pub(crate) fn refers_to(&self) -> Option<Reference<'_>> {
        let to = |entry, kinds| Some(Reference { entry, kinds });
        match self {
            Entry::FindingSettled(b) => to(&b.finding, SETTLED),
            Entry::CheckAnswered(b) => b.finding.as_ref().and_then(|f| to(f, FINDING)),
            Entry::TimerStopped(b) => to(&b.timer, TIMER),
            Entry::TimerCorrected(b) => to(&b.timer, TIMER),
            Entry::ShortcutCleared(b) => to(&b.shortcut, SHORTCUT),
            Entry::ShortcutDueLater(b) => to(&b.shortcut, SHORTCUT),
            Entry::TroubleOptionChosen(b) => to(&b.trouble, TROUBLE),
            Entry::TroubleSolved(b) => to(&b.trouble, TROUBLE),
            Entry::OrderArrived(b) => to(&b.order, ORDER),
            Entry::OrderDueChanged(b) => to(&b.order, ORDER),
            Entry::OrderCancelled(b) => to(&b.order, ORDER),
            Entry::BegunAnyway(b) => to(&b.order, ORDER),
            Entry::MoneyMoved(b) => b.order.as_ref().and_then(|o| to(o, ORDER)),
            Entry::ComparableDropped(b) => to(&b.comparable, COMPARABLE),
            Entry::BikeSold(b) => b.paper.as_ref().and_then(|p| to(p, PAPER)),
            Entry::PhotoAdded(b) => of_about(&b.about),
            Entry::TimerStarted(b) => b.about.as_ref().and_then(of_about),
            Entry::FindingNoted(b) => of_about(&b.about),
            Entry::ShortcutTaken(b) => of_about(&b.about),
            Entry::TroubleMet(b) => of_about(&b.about),
            Entry::MeasurementNoted(b) => b.about.as_ref().and_then(of_about),
            _ => None,
        }
    }
}

fn of_about(about: &About) -> Option<Reference<'_>> {
    match about {
        About::Entry { entry } => Some(Reference { entry, kinds: ANY }),
        _ => None,
    }
}
