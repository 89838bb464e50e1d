//! One line of each file of an export.

use serde::{Deserialize, Serialize};
use serde_json::Value;

/// An entry, as it lies in the file. The order of lines is the order of recording.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct EntryLine {
    pub(crate) seq: i64,
    pub(crate) id: String,
    pub(crate) bike: String,
    pub(crate) at: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) tap: Option<String>,
    pub(crate) kind: String,
    pub(crate) version: i64,
    pub(crate) body: Value,
}

impl EntryLine {
    /// Whether this is the same entry. Its number is the file's own.
    pub(crate) fn same_as(&self, other: &EntryLine) -> bool {
        EntryLine {
            seq: 0,
            ..self.clone()
        } == EntryLine {
            seq: 0,
            ..other.clone()
        }
    }
}

/// A machine sheet.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SheetLine {
    pub(crate) hash: String,
    pub(crate) text: String,
}

/// A piece of personal data.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PersonalLine {
    pub(crate) id: String,
    pub(crate) what: String,
    pub(crate) text: String,
}
