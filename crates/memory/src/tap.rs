//! The key a client makes for each tap, so that a repeated tap counts once.

use std::fmt;

/// A client-made key, new for each tap and sent again with each repeat of it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tap(String);

/// A text was no tap key.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{text}' is no tap key: a key is 8 to 64 letters, digits, '-' or '_'")]
pub struct TapError {
    /// What was given, cut to a printable length.
    pub text: String,
}

impl Tap {
    /// Takes a text as a key, if it is one.
    ///
    /// # Errors
    /// [`TapError`] when it is shorter than 8 or longer than 64 characters, or holds another character than
    /// letters, digits, `-` and `_`.
    pub fn new(text: &str) -> Result<Tap, TapError> {
        let sound = (8..=64).contains(&text.len())
            && text
                .bytes()
                .all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_');
        if sound {
            Ok(Tap(text.to_owned()))
        } else {
            Err(TapError {
                text: text.chars().take(80).collect(),
            })
        }
    }

    /// The key as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Tap {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
