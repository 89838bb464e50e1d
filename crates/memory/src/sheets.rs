//! Machine sheets by the hash of their text: stored once, never changed, so that a bike stays on the sheet it
//! was brought in on however the layouts shipped later differ.

use crate::error::MemoryError;
use crate::file::Memory;
use rusqlite::OptionalExtension;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fmt;

/// SHA-256 of a sheet's text, as 64 lower-case hexadecimal digits.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct SheetHash(String);

/// A text was no sheet hash.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{text}' is no sheet hash: it has 64 digits from 0-9 and a-f")]
pub struct SheetHashError {
    /// What was given, cut to a printable length.
    pub text: String,
}

impl SheetHash {
    /// The hash of a sheet's text.
    #[must_use]
    pub fn of(text: &str) -> SheetHash {
        SheetHash(
            Sha256::digest(text.as_bytes())
                .iter()
                .map(|byte| format!("{byte:02x}"))
                .collect(),
        )
    }

    /// The hash as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for SheetHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl TryFrom<String> for SheetHash {
    type Error = SheetHashError;
    fn try_from(text: String) -> Result<SheetHash, SheetHashError> {
        let sound = text.len() == 64 && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
        if sound {
            Ok(SheetHash(text))
        } else {
            Err(SheetHashError {
                text: text.chars().take(80).collect(),
            })
        }
    }
}

impl From<SheetHash> for String {
    fn from(hash: SheetHash) -> String {
        hash.0
    }
}

impl Memory {
    /// Stores a sheet's text, unless it is there already.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file and the disk.
    pub fn store_sheet(&mut self, text: &str) -> Result<SheetHash, MemoryError> {
        let hash = SheetHash::of(text);
        let tx = self.begin()?;
        tx.execute(
            "INSERT INTO sheets (hash, text) VALUES (?1, ?2) ON CONFLICT (hash) DO NOTHING",
            [hash.as_str(), text],
        )
        .and_then(|_| tx.commit())
        .map_err(|error| self.sqlite(&error))?;
        Ok(hash)
    }

    /// The text of a stored sheet.
    ///
    /// # Errors
    /// [`MemoryError::UnknownSheet`] when it is not stored; [`MemoryError::Damaged`] when its text no longer has
    /// this hash.
    pub fn sheet(&self, hash: &SheetHash) -> Result<String, MemoryError> {
        let text: Option<String> = self
            .conn
            .query_row(
                "SELECT text FROM sheets WHERE hash = ?1",
                [hash.as_str()],
                |row| row.get(0),
            )
            .optional()
            .map_err(|error| self.sqlite(&error))?;
        let text = text.ok_or_else(|| MemoryError::UnknownSheet {
            sheet: hash.to_string(),
        })?;
        if SheetHash::of(&text) == *hash {
            Ok(text)
        } else {
            Err(MemoryError::Damaged {
                path: self.path.clone(),
                what: format!("the sheet {hash} is not what it was"),
            })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hash_is_sha_256_in_lower_case() {
        // FIPS 180-4 example: the three letters "abc".
        let published = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(SheetHash::of("abc").as_str(), published);
        assert!(SheetHash::try_from(published.to_owned()).is_ok());
        assert!(SheetHash::try_from(published.to_uppercase()).is_err());
        assert!(SheetHash::try_from(published.replace('b', "x")).is_err());
        assert!(SheetHash::try_from(published[1..].to_owned()).is_err());
    }
}
