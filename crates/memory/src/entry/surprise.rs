//! Shortcuts taken and surprises met.

use super::Measured;
use super::about::About;
use super::value::{CatalogueId, Day, Words, words};
use refettle_facts::ids::EntryId;
use serde::{Deserialize, Serialize};

words! {
    /// What was done another way than it should be.
    ShortcutKind {
        /// A seal, washer or pin was used again.
        SealReused = "seal-reused",
        /// Tightened without a figure or without the tool for it.
        TorqueByFeel = "torque-by-feel",
        /// Something else was fitted than what belongs there.
        SubstituteFitted = "substitute-fitted",
        /// Something was left out.
        StepSkipped = "step-skipped",
        /// Anything else.
        Other = "other",
    }
    /// What kind of surprise.
    TroubleKind {
        /// Will not move.
        Seized = "seized",
        /// Broke off.
        Snapped = "snapped",
        /// Its thread is gone.
        Stripped = "stripped",
        /// Its head is gone.
        Rounded = "rounded",
        /// Not there.
        Missing = "missing",
        /// A part that does not belong, or does not fit.
        WrongPart = "wrong-part",
        /// Worn beyond its limit.
        WornBeyondLimit = "worn-beyond-limit",
        /// Anything else.
        Other = "other",
    }
}

/// A shortcut was taken. Its entry's id is the shortcut's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShortcutTaken {
    /// What kind.
    pub shortcut: ShortcutKind,
    /// Where.
    pub about: About,
    /// The bench card it was taken at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub card: Option<String>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// A shortcut passed its closing test, or the work was done again as it should be.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShortcutCleared {
    /// Which: a shortcut taken, or a bench card done another way.
    pub shortcut: EntryId,
    /// How it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
    /// What was measured.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub measured: Vec<Measured>,
}

/// A shortcut is left for later: told to the buyer, and not in the way of the sale.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShortcutDueLater {
    /// Which: a shortcut taken, or a bench card done another way.
    pub shortcut: EntryId,
    /// When it is to be looked at again, in words the buyer understands.
    pub when: Words,
    /// By which day, if it is a day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<Day>,
}

/// A surprise was met. Its entry's id is the trouble's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TroubleMet {
    /// What kind.
    pub trouble: TroubleKind,
    /// Where.
    pub about: About,
    /// The bench card it was met at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub card: Option<String>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// What is to be done about a surprise; replaces what was chosen for it before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TroubleOptionChosen {
    /// Which surprise.
    pub trouble: EntryId,
    /// Which of the catalogue's options.
    pub option: CatalogueId,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// A surprise is over.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TroubleSolved {
    /// Which.
    pub trouble: EntryId,
    /// How, in the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}
