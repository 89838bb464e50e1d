//! What a bike is and what becomes of it as a thing bought: facts about it, its papers, days, offers, its sheet.

use super::Reading;
use super::value::{Amount, CatalogueId, Day, Words, words};
use crate::personal::PersonalId;
use refettle_facts::ids::EntryId;
use refettle_facts::sourced::Source;
use serde::{Deserialize, Serialize};
use serde_json::Value;

words! {
    /// What is known of how it runs.
    RunsWord {
        /// Runs.
        Runs = "runs",
        /// Nobody knows.
        NotKnown = "not-known",
        /// Does not run.
        Dead = "dead",
    }
    /// A number on the machine.
    PlateKind {
        /// On the frame: the vehicle identification number.
        Frame = "frame",
        /// On the engine.
        Engine = "engine",
        /// On the registration plate.
        Registration = "registration",
        /// On a key.
        Key = "key",
        /// Anything else.
        Other = "other",
    }
    /// A paper, or a question asked of a register.
    PaperKind {
        /// Registration document.
        Registration = "registration",
        /// Proof of the last roadworthiness test.
        Roadworthiness = "roadworthiness",
        /// Bills and service records.
        ServiceRecords = "service-records",
        /// The maker's handbook or manual.
        Manual = "manual",
        /// Whether money is owed on it.
        FinanceCheck = "finance-check",
        /// Whether it is stolen.
        TheftCheck = "theft-check",
        /// Whether a recall is open.
        RecallCheck = "recall-check",
        /// Anything else.
        Other = "other",
    }
    /// What a day is for.
    DueKind {
        /// The bike arrives.
        Arrives = "arrives",
        /// The bike is to be ready.
        Ready = "ready",
        /// The bike is fetched.
        Fetched = "fetched",
    }
    /// Who made an offer.
    OfferBy {
        /// The garage, to the seller.
        Us = "us",
        /// Somebody, to the garage.
        Them = "them",
    }
}

/// A number read off the machine. Its text is personal data and lies elsewhere.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlateNumber {
    /// Which number.
    pub plate: PlateKind,
    /// Where its text lies.
    pub text: PersonalId,
}

/// What the odometer showed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DistanceRead {
    /// As shown, in its unit: `km` or `mi`.
    pub reading: Reading,
    /// On which day.
    pub on: Day,
}

/// Facts about the bike. What is given replaces what was known; what is left out stays.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BikeDescribed {
    /// What the person calls it from now on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<Words>,
    /// Year of make or of first registration.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub year: Option<u16>,
    /// Distance.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub distance: Option<DistanceRead>,
    /// Whether it runs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub runs: Option<RunsWord>,
    /// How long it has stood, in months.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stood_months: Option<u32>,
    /// Numbers off its plates: each replaces the one of its kind.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub numbers: Vec<PlateNumber>,
    /// Who sold it to the garage.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seller: Option<PersonalId>,
}

/// A paper was looked for, or a register asked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaperSeen {
    /// Which.
    pub paper: PaperKind,
    /// It is there, or the register had nothing against the bike.
    pub good: bool,
    /// On which day.
    pub on: Day,
    /// Where it was looked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<Words>,
    /// What was found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// A day was set, or withdrawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DueDateSet {
    /// What for.
    pub due: DueKind,
    /// Which day; none any more when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<Day>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// A bike that was expected is here.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BikeArrived {
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// An offer for the bike.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OfferMade {
    /// Who made it.
    pub by: OfferBy,
    /// How much.
    pub price: Amount,
    /// On which day.
    pub on: Day,
    /// To or by whom.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonalId>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// What is asked for the bike, from here on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AskingPriceSet {
    /// How much.
    pub price: Amount,
}

/// The bike's own sheet differs from the one it came in on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetCorrected {
    /// Where, in the sheet's own names, joined by points, such as `critical.axle-nut.torque`.
    pub path: Words,
    /// What it is there, as the sheet would write it; nothing there any more when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<Value>,
    /// How it is known.
    pub source: Source,
    /// Page, table or instrument.
    pub from: Words,
}

/// A check of a likely cause was made, and came out so.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckAnswered {
    /// The finding it was made for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub finding: Option<EntryId>,
    /// The symptom it was made for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub symptom: Option<CatalogueId>,
    /// Which check.
    pub check: CatalogueId,
    /// How it came out.
    pub outcome: CatalogueId,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}
