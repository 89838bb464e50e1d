//! What was seen, measured, set aside and photographed.

use super::about::About;
use super::value::{CatalogueId, FileHash, Words, words};
use super::{Measured, Reading};
use refettle_facts::ids::{EntryId, PartId};
use serde::{Deserialize, Serialize};

words! {
    /// How a finding was settled.
    SettledWord {
        /// Put right.
        PutRight = "put-right",
        /// It was not so.
        NotSo = "not-so",
        /// Left as it is, and told to the buyer.
        Left = "left",
    }
    /// How fixings are on this bike.
    FixingWord {
        /// As they should be.
        Right = "right",
        /// Of another kind or length than they should be.
        Odd = "odd",
        /// Not there.
        Missing = "missing",
        /// There, and spoilt.
        Damaged = "damaged",
    }
}

/// Something seen, heard or measured that is not right. Its entry's id is the finding's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FindingNoted {
    /// Where.
    pub about: About,
    /// Which of the catalogue's symptoms, when it is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub symptom: Option<CatalogueId>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
    /// What was measured.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub measured: Vec<Measured>,
}

/// A finding is settled.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FindingSettled {
    /// Which: a finding, or the emptying of a bag with something over or missing.
    pub finding: EntryId,
    /// How.
    pub how: SettledWord,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// How fixings are on this bike; replaces what was said of the same ones.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FixingNoted {
    /// Which: a critical fixing, a group of ordinary ones, or those of a part.
    pub about: About,
    /// How they are.
    pub state: FixingWord,
    /// How many of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u16>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// A setting was noted before it was lost; replaces what was noted of the same one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SettingNoted {
    /// Of which part.
    pub part: PartId,
    /// What, as the sheet names it or in the person's words.
    pub what: Words,
    /// How it was.
    pub value: Words,
}

/// Something was measured outside a bench card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasurementNoted {
    /// What, as the sheet or the desk names it.
    pub what: Words,
    /// The value and its unit.
    pub reading: Reading,
    /// On what.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about: Option<About>,
    /// The limit it stands against, by its id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<CatalogueId>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// So many of something in a bag.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BagLine {
    /// How many.
    pub count: u16,
    /// Of what, such as `M6 x 25`.
    pub what: Words,
}

/// Fixings went into a bag; what was in it before is still in it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BagFilled {
    /// Its number.
    pub bag: u16,
    /// The part they hold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<PartId>,
    /// What went in.
    pub lines: Vec<BagLine>,
    /// Where the bag lies.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Words>,
}

/// A bag was emptied. What was over or missing becomes a question to settle.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BagEmptied {
    /// Its number.
    pub bag: u16,
    /// What was left when all was fitted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub over: Vec<BagLine>,
    /// What was not there to fit.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub missing: Vec<BagLine>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// A photo was added. The picture itself lies beside the database.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhotoAdded {
    /// SHA-256 of the stored file.
    pub photo: FileHash,
    /// What it shows.
    pub about: About,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub caption: Option<Words>,
}

/// A photo was removed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhotoRemoved {
    /// SHA-256 of the stored file.
    pub photo: FileHash,
}
