//! Out and back: the whole memory as plain text anyone can read, and as one file that is a backup.
//!
//! An [export](Memory::export) is lines of JSON, one entry each, and lists as CSV; an [import](Memory::import) takes
//! them into this or another memory, each entry once. A [backup](Memory::backup) is one SQLite file with the photos
//! in it, consistent however much is recorded meanwhile; [restoring](restore) it copies what is there aside first.

mod backup;
mod csv;
mod error;
mod export;
mod import;
mod line;
mod restore;

pub use backup::BackupFile;
pub use csv::cell;
pub use error::OutError;
pub use export::{EXPORT_FORMAT, Exported};
pub use import::Imported;
pub use restore::{Restored, restore};

/// Name of the file that says what an export is. It is written last: without it an export is not whole.
pub(crate) const MANIFEST: &str = "refettle-export.json";
pub(crate) const ENTRIES: &str = "entries.jsonl";
pub(crate) const SHEETS: &str = "sheets.jsonl";
pub(crate) const PERSONAL: &str = "personal.jsonl";
pub(crate) const YARD: &str = "yard.csv";

#[cfg(doc)]
use crate::Memory;
