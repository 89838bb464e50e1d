//! Proof, papers and the sale.

use super::Reading;
use super::value::{Amount, CatalogueId, Day, FileHash, Words, words};
use crate::personal::PersonalId;
use refettle_facts::ids::{EntryId, FixingId};
use serde::{Deserialize, Serialize};
use serde_json::Value;

words! {
    /// A paper for the buyer or the bench.
    PaperIssuedKind {
        /// History folder.
        HistoryFolder = "history-folder",
        /// Sale paper.
        SalePaper = "sale-paper",
        /// Advertisement.
        Advertisement = "advertisement",
        /// Bench sheet.
        BenchSheet = "bench-sheet",
        /// Kit checklist.
        KitChecklist = "kit-checklist",
        /// Anything else.
        Other = "other",
    }
    /// How a sold bike leaves.
    LeavesWord {
        /// Ridden by the buyer.
        Ridden = "ridden",
        /// On a trailer or in a van.
        Trailer = "trailer",
    }
    /// Why a bike is no longer in the garage.
    GoneWhy {
        /// Sold and fetched.
        Sold = "sold",
        /// Broken for its parts.
        Broken = "broken",
        /// Scrapped.
        Scrapped = "scrapped",
        /// Given back, or never bought.
        Returned = "returned",
        /// Kept.
        Kept = "kept",
    }
}

/// An item of the road check was answered; replaces the answer given to it before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoadCheckAnswered {
    /// Which item.
    pub item: CatalogueId,
    /// At which stage.
    pub stage: CatalogueId,
    /// The number, where the item has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<Reading>,
    /// The maker's own limit, stamped on the part or printed in the manual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<Reading>,
    /// What was seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen: Option<Words>,
    /// Whether it passes, as the person says. Where there is a number and a limit, those decide.
    pub passes: bool,
}

/// A critical fixing had its second look.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FixingRechecked {
    /// Which.
    pub fixing: FixingId,
    /// It moved when it was tried: it had not been tight.
    pub moved: bool,
    /// The torque it was tried with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub torque: Option<Reading>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// A paper was issued, and is frozen as it was.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaperIssued {
    /// Which kind.
    pub paper: PaperIssuedKind,
    /// What it was made from, without personal data.
    pub data: Value,
    /// SHA-256 of the file handed over.
    pub sha256: FileHash,
}

/// The bike was sold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BikeSold {
    /// For how much.
    pub price: Amount,
    /// On which day.
    pub on: Day,
    /// As roadworthy.
    pub roadworthy: bool,
    /// How it leaves.
    pub leaves: LeavesWord,
    /// To whom.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub buyer: Option<PersonalId>,
    /// The sale paper handed over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paper: Option<EntryId>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// The bike is no longer in the garage.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BikeGone {
    /// Why.
    pub why: GoneWhy,
    /// On which day.
    pub on: Day,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// The person wants to begin although a part is still to come.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BegunAnyway {
    /// The order that is waited for.
    pub order: EntryId,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}
