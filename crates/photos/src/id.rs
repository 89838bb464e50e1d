//! What a photo is called.

use refettle_memory::hash_of;
use std::fmt;

/// SHA-256 of a kept photo's bytes, as 64 lower-case hexadecimal digits.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PhotoId(String);

/// A text was no photo's id.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{text}' is no photo's id: it has 64 digits from 0-9 and a-f")]
pub struct PhotoIdError {
    /// What was given, cut to a printable length.
    pub text: String,
}

impl PhotoId {
    /// The id of these bytes.
    #[must_use]
    pub fn of(bytes: &[u8]) -> PhotoId {
        PhotoId(hash_of(bytes))
    }

    /// Takes a text as an id, if it is one.
    ///
    /// # Errors
    /// [`PhotoIdError`] for anything but 64 digits from 0-9 and a-f.
    pub fn new(text: &str) -> Result<PhotoId, PhotoIdError> {
        let sound = text.len() == 64 && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
        if sound {
            Ok(PhotoId(text.to_owned()))
        } else {
            Err(PhotoIdError {
                text: text.chars().take(80).collect(),
            })
        }
    }

    /// The id as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for PhotoId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// In which size a photo is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// As large as it is kept.
    Whole,
    /// For a strip of many.
    Small,
}
