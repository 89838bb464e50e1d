//! Minutes and money.

use super::about::About;
use super::value::{Amount, Day, Words, words};
use refettle_facts::ids::EntryId;
use serde::{Deserialize, Serialize};

words! {
    /// What time went into.
    TimeKind {
        /// Work on the bike that no timer saw.
        Bench = "bench",
        /// Fetching or bringing the bike, or parts.
        Driving = "driving",
        /// Looking for parts and figures.
        Searching = "searching",
        /// Photos and advertisement.
        Advertising = "advertising",
        /// Showing it to people.
        Showing = "showing",
        /// Papers, tests, offices.
        Paperwork = "paperwork",
        /// Anything else.
        Other = "other",
    }
    /// Which way money went.
    MoneyWay {
        /// Out of the garage.
        Out = "out",
        /// Into the garage.
        In = "in",
    }
    /// What money went for.
    MoneyKind {
        /// The bike itself, bought or sold.
        Bike = "bike",
        /// Parts.
        Parts = "parts",
        /// Fluids and workshop consumables.
        Consumables = "consumables",
        /// Tools bought for this bike, or their hire.
        Tools = "tools",
        /// Work done by others.
        Work = "work",
        /// Fetching and bringing.
        Transport = "transport",
        /// Tests, registration, taxes.
        Fees = "fees",
        /// Advertising.
        Advertising = "advertising",
        /// Parts of it sold on their own.
        PartsSold = "parts-sold",
        /// Anything else.
        Other = "other",
    }
}

/// A timer was started. Its entry's id is the timer's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TimerStarted {
    /// What is worked on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about: Option<About>,
    /// The bench card that is up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub card: Option<String>,
}

/// A timer was stopped, at the moment of this entry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TimerStopped {
    /// Which.
    pub timer: EntryId,
}

/// A timer ran on over dinner: what it should have shown. It is stopped by this if it was not.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TimerCorrected {
    /// Which.
    pub timer: EntryId,
    /// What it should show.
    pub minutes: u32,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// Time was spent that no timer saw.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TimeSpent {
    /// What with.
    pub on: TimeKind,
    /// How long.
    pub minutes: u32,
    /// On which day, when not on the day of this entry.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<Day>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// Money moved.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MoneyMoved {
    /// Which way.
    pub way: MoneyWay,
    /// What for.
    pub of: MoneyKind,
    /// How much.
    pub amount: Amount,
    /// On which day, when not on the day of this entry.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<Day>,
    /// The order it paid.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub order: Option<EntryId>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}
