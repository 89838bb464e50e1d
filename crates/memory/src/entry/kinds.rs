//! Every kind of entry there has ever been, in one table. A kind is never removed.

use super::raise::{Kind, Raise, typed};
use super::{
    ActionAnswered, AskingPriceSet, BagEmptied, BagFilled, BegunAnyway, BikeArrived, BikeBroughtIn,
    BikeDescribed, BikeGone, BikeSold, CheckAnswered, ComparableDropped, ComparableNoted, DrawerSet,
    DueDateSet, FindingNoted, FindingSettled, FixingNoted, FixingRechecked, GarageSet, JobsChosen,
    MeasurementNoted, MoneyMoved, OfferMade, OrderArrived, OrderCancelled, OrderDueChanged, OrderPlaced,
    PaperIssued, PaperSeen, PhotoAdded, PhotoRemoved, PlanAdopted, QuestionAnswered, RoadCheckAnswered,
    SettingNoted, SettingsSet, SheetCorrected, ShortcutCleared, ShortcutDueLater, ShortcutTaken,
    StateObserved, TimeSpent, TimerCorrected, TimerStarted, TimerStopped, TroubleMet, TroubleOptionChosen,
    TroubleSolved, Undone,
};
use serde_json::Value;

/// What an entry can be about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// One bike.
    Bike,
    /// The garage and no bike of it.
    Garage,
    /// Either.
    Either,
}

/// Bodies that were ever written otherwise are raised by these, oldest first.
const NEVER_CHANGED: &[Raise] = &[];

macro_rules! kinds {
    ($($(#[$doc:meta])* $Kind:ident = $name:literal, $subject:ident, undone $undone:literal, $raises:ident;)+) => {
        /// One thing that happened.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Entry {
            $($(#[$doc])* $Kind($Kind),)+
        }

        impl Entry {
            /// The name of its kind in the file.
            #[must_use]
            pub fn kind(&self) -> &'static str {
                match self {
                    $(Entry::$Kind(_) => $name,)+
                }
            }

            /// What it can be about.
            #[must_use]
            pub fn subject(&self) -> Subject {
                match self {
                    $(Entry::$Kind(_) => Subject::$subject,)+
                }
            }

            /// Its body as JSON.
            ///
            /// # Errors
            /// Text saying what cannot be written as JSON.
            pub(crate) fn body(&self) -> Result<Value, String> {
                match self {
                    $(Entry::$Kind(body) => serde_json::to_value(body),)+
                }
                .map_err(|error| error.to_string())
            }

            /// Whether taking back the last thing recorded can mean this. Bringing in is undone by nothing; an
            /// adopted plan and an issued paper are history, another one replaces it.
            #[must_use]
            pub fn can_be_undone(&self) -> bool {
                match self {
                    $(Entry::$Kind(_) => $undone,)+
                }
            }
        }

        /// Every kind, with how its older bodies are raised.
        pub(super) const KINDS: &[Kind] = &[
            $(Kind {
                name: $name,
                raises: $raises,
                typed: |body| typed(body, Entry::$Kind),
            },)+
        ];
    };
}

kinds! {
    /// A bike came in.
    BikeBroughtIn = "bike-brought-in", Bike, undone false, NEVER_CHANGED;
    /// "It looks like this now."
    StateObserved = "state-observed", Bike, undone true, NEVER_CHANGED;
    /// The jobs wanted from here on; replaces earlier ones.
    JobsChosen = "jobs-chosen", Bike, undone true, NEVER_CHANGED;
    /// What this garage can do for this bike; replaces what was set earlier.
    GarageSet = "garage-set", Bike, undone true, NEVER_CHANGED;
    /// A question of the sheet was answered.
    QuestionAnswered = "question-answered", Bike, undone true, NEVER_CHANGED;
    /// A plan was adopted, and is frozen as it was.
    PlanAdopted = "plan-adopted", Bike, undone false, NEVER_CHANGED;
    /// A bench card was answered.
    ActionAnswered = "action-answered", Bike, undone true, NEVER_CHANGED;
    /// An entry was taken back.
    Undone = "undone", Either, undone false, NEVER_CHANGED;

    /// Facts about the bike.
    BikeDescribed = "bike-described", Bike, undone true, NEVER_CHANGED;
    /// A paper was looked for, or a register asked.
    PaperSeen = "paper-seen", Bike, undone true, NEVER_CHANGED;
    /// A day was set, or withdrawn.
    DueDateSet = "due-date-set", Bike, undone true, NEVER_CHANGED;
    /// A bike that was expected is here.
    BikeArrived = "bike-arrived", Bike, undone true, NEVER_CHANGED;
    /// An offer for the bike.
    OfferMade = "offer-made", Bike, undone true, NEVER_CHANGED;
    /// What is asked for the bike.
    AskingPriceSet = "asking-price-set", Bike, undone true, NEVER_CHANGED;
    /// The bike's own sheet differs from the one it came in on.
    SheetCorrected = "sheet-corrected", Bike, undone true, NEVER_CHANGED;
    /// The person wants to begin although a part is still to come.
    BegunAnyway = "begun-anyway", Bike, undone true, NEVER_CHANGED;

    /// Something that is not right.
    FindingNoted = "finding-noted", Bike, undone true, NEVER_CHANGED;
    /// A finding is settled.
    FindingSettled = "finding-settled", Bike, undone true, NEVER_CHANGED;
    /// A check of a likely cause was made.
    CheckAnswered = "check-answered", Bike, undone true, NEVER_CHANGED;
    /// How fixings are on this bike.
    FixingNoted = "fixing-noted", Bike, undone true, NEVER_CHANGED;
    /// A setting was noted before it was lost.
    SettingNoted = "setting-noted", Bike, undone true, NEVER_CHANGED;
    /// Something was measured outside a bench card.
    MeasurementNoted = "measurement-noted", Bike, undone true, NEVER_CHANGED;
    /// Fixings went into a bag.
    BagFilled = "bag-filled", Bike, undone true, NEVER_CHANGED;
    /// A bag was emptied.
    BagEmptied = "bag-emptied", Bike, undone true, NEVER_CHANGED;
    /// A photo was added.
    PhotoAdded = "photo-added", Bike, undone true, NEVER_CHANGED;
    /// A photo was removed.
    PhotoRemoved = "photo-removed", Bike, undone true, NEVER_CHANGED;

    /// A timer was started.
    TimerStarted = "timer-started", Bike, undone true, NEVER_CHANGED;
    /// A timer was stopped.
    TimerStopped = "timer-stopped", Bike, undone true, NEVER_CHANGED;
    /// What a timer should have shown.
    TimerCorrected = "timer-corrected", Bike, undone true, NEVER_CHANGED;
    /// Time was spent that no timer saw.
    TimeSpent = "time-spent", Either, undone true, NEVER_CHANGED;
    /// Money moved.
    MoneyMoved = "money-moved", Either, undone true, NEVER_CHANGED;

    /// A shortcut was taken.
    ShortcutTaken = "shortcut-taken", Bike, undone true, NEVER_CHANGED;
    /// A shortcut passed its closing test.
    ShortcutCleared = "shortcut-cleared", Bike, undone true, NEVER_CHANGED;
    /// A shortcut is left for later, and told to the buyer.
    ShortcutDueLater = "shortcut-due-later", Bike, undone true, NEVER_CHANGED;
    /// A surprise was met.
    TroubleMet = "trouble-met", Bike, undone true, NEVER_CHANGED;
    /// What is to be done about a surprise.
    TroubleOptionChosen = "trouble-option-chosen", Bike, undone true, NEVER_CHANGED;
    /// A surprise is over.
    TroubleSolved = "trouble-solved", Bike, undone true, NEVER_CHANGED;

    /// An item of the road check was answered.
    RoadCheckAnswered = "road-check-answered", Bike, undone true, NEVER_CHANGED;
    /// A critical fixing had its second look.
    FixingRechecked = "fixing-rechecked", Bike, undone true, NEVER_CHANGED;
    /// A paper was issued, and is frozen as it was.
    PaperIssued = "paper-issued", Bike, undone false, NEVER_CHANGED;
    /// The bike was sold.
    BikeSold = "bike-sold", Bike, undone true, NEVER_CHANGED;
    /// The bike is no longer in the garage.
    BikeGone = "bike-gone", Bike, undone true, NEVER_CHANGED;

    /// How much of something the drawer holds.
    DrawerSet = "drawer-set", Garage, undone true, NEVER_CHANGED;
    /// An order was placed.
    OrderPlaced = "order-placed", Garage, undone true, NEVER_CHANGED;
    /// An order, or some lines of it, arrived.
    OrderArrived = "order-arrived", Garage, undone true, NEVER_CHANGED;
    /// An order is due on another day.
    OrderDueChanged = "order-due-changed", Garage, undone true, NEVER_CHANGED;
    /// An order was cancelled.
    OrderCancelled = "order-cancelled", Garage, undone true, NEVER_CHANGED;
    /// The price of a bike like one of ours.
    ComparableNoted = "comparable-noted", Garage, undone true, NEVER_CHANGED;
    /// A comparable counts no more.
    ComparableDropped = "comparable-dropped", Garage, undone true, NEVER_CHANGED;
    /// The garage's own settings.
    SettingsSet = "settings-set", Garage, undone true, NEVER_CHANGED;
}
