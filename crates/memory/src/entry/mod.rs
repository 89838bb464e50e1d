//! What can be recorded: typed kinds, each with a version of its own, kept as JSON.
//!
//! A kind's body never changes its meaning. When one must change, its version goes up and a function beside
//! `kinds.rs` turns the older text into the newer; the golden log in `tests/golden` is read for ever.
//! A kind or version this program does not know is an error, never skipped.
//!
//! Most entries are about one bike. What is about the garage and no bike of it (drawer, orders, comparables,
//! settings) is recorded of the reserved subject [`garage_subject`], in the same log and with the same rules.

mod about;
mod action;
mod arrival;
mod body;
mod garage_wide;
mod kinds;
mod leaving;
mod noted;
mod observed;
pub(crate) mod places;
mod raise;
mod refers;
mod surprise;
mod tally;
mod value;

pub use about::About;
pub use action::{Action, Answer, Measured, Number, NumberError};
pub use arrival::{
    AskingPriceSet, BikeArrived, BikeDescribed, CheckAnswered, DistanceRead, DueDateSet, DueKind, OfferBy,
    OfferMade, PaperKind, PaperSeen, PlateKind, PlateNumber, RunsWord, SheetCorrected,
};
pub use body::{
    ActionAnswered, BikeBroughtIn, GarageSet, JobsChosen, PlanAdopted, QuestionAnswered, StateObserved,
    Undone,
};
pub use garage_wide::{
    ComparableDropped, ComparableNoted, ComparablePapers, DrawerSet, LevelHeld, OrderArrived, OrderCancelled,
    OrderDueChanged, OrderLine, OrderPlaced, PriceKind, SettingsSet, Thing, UnitsWord,
};
pub use kinds::{Entry, Subject};
pub use leaving::{
    BegunAnyway, BikeGone, BikeSold, FixingRechecked, GoneWhy, LeavesWord, PaperIssued, PaperIssuedKind,
    RoadCheckAnswered,
};
pub use noted::{
    BagEmptied, BagFilled, BagLine, FindingNoted, FindingSettled, FixingNoted, FixingWord, MeasurementNoted,
    PhotoAdded, PhotoRemoved, SettingNoted, SettledWord,
};
pub use observed::{EngineWord, HeatWord, LevelWord, StateById, UnknownId};
pub(crate) use raise::{NotRead, read};
pub(crate) use refers::Reference;
pub use surprise::{
    ShortcutCleared, ShortcutDueLater, ShortcutKind, ShortcutTaken, TroubleKind, TroubleMet,
    TroubleOptionChosen, TroubleSolved,
};
pub use tally::{
    MoneyKind, MoneyMoved, MoneyWay, TimeKind, TimeSpent, TimerCorrected, TimerStarted, TimerStopped,
};
pub use value::{
    Amount, CatalogueId, Currency, Day, FileHash, LARGEST_AMOUNT, LONGEST_WORDS, Reading, ValueError, Words,
};

use refettle_facts::ids::{BikeId, IdError};

/// The subject of entries that are about the garage and no bike of it. No bike has this id.
pub const GARAGE: &str = "garage";

/// [`GARAGE`] as an id.
///
/// # Errors
/// [`IdError`] if it were no id, which a test excludes.
pub fn garage_subject() -> Result<BikeId, IdError> {
    BikeId::new(GARAGE)
}

impl Entry {
    /// Every kind with the version that is written today.
    #[must_use]
    pub fn kinds() -> Vec<(&'static str, i64)> {
        kinds::KINDS.iter().map(|k| (k.name, k.version())).collect()
    }

    /// An entry from its kind and its body as JSON of today's version.
    ///
    /// # Errors
    /// Text saying that there is no such kind, or what is wrong with the body.
    pub fn from_json(kind: &str, body: &str) -> Result<Entry, String> {
        let version = raise::kind(kind).map_or(1, raise::Kind::version);
        read(kind, version, body).map_err(|why| why.reason())
    }

    /// The version its body is written in.
    #[must_use]
    pub fn version(&self) -> i64 {
        raise::kind(self.kind()).map_or(1, raise::Kind::version)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_garage_has_an_id() {
        assert_eq!(garage_subject().unwrap().as_str(), GARAGE);
    }
}
