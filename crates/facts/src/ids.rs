//! Opaque permanent ids. A name may change; an id never does, so entries keep pointing at the right thing.

use serde::{Deserialize, Serialize};
use std::fmt;

/// An id was empty, too long, or held something else than lower-case letters, digits, `-` and `.`.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{text}' is no id: an id is 1 to 64 lower-case letters, digits, '-' or '.', and starts with a letter or digit"
)]
pub struct IdError {
    /// What was given, cut to a printable length.
    pub text: String,
}

/// Longest id, in characters. Long enough for any name a person types, short enough for one line of a log.
pub const LONGEST_ID: usize = 64;

fn checked(text: &str) -> Result<String, IdError> {
    let sound = !text.is_empty()
        && text.len() <= LONGEST_ID
        && text
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-' || b == b'.')
        && text.bytes().next().is_some_and(|b| b.is_ascii_alphanumeric());
    if sound {
        Ok(text.to_owned())
    } else {
        Err(IdError {
            text: text.chars().take(80).collect(),
        })
    }
}

macro_rules! id_type {
    ($(#[$meta:meta])* $name:ident) => {
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub struct $name(String);

        impl $name {
            /// Takes a text as an id, if it is one.
            ///
            /// # Errors
            /// [`IdError`] when the text is empty, longer than [`LONGEST_ID`] or holds a character no id has.
            pub fn new(text: &str) -> Result<Self, IdError> {
                checked(text).map(Self)
            }

            /// The id as written.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }

        impl TryFrom<String> for $name {
            type Error = IdError;
            fn try_from(text: String) -> Result<Self, IdError> {
                Self::new(&text)
            }
        }

        impl From<$name> for String {
            fn from(id: $name) -> String {
                id.0
            }
        }
    };
}

id_type!(
    /// A part of a machine sheet.
    ///
    /// Ids of different things do not mix:
    /// ```compile_fail
    /// use refettle_facts::ids::{PartId, StepId};
    /// let part: PartId = StepId::new("drain-oil").unwrap();
    /// ```
    PartId
);
id_type!(
    /// A way of holding the bike.
    StanceId
);
id_type!(
    /// A piece of work shared by jobs.
    StepId
);
id_type!(
    /// Something that is true of the machine or not.
    FactId
);
id_type!(
    /// A fluid circuit.
    CircuitId
);
id_type!(
    /// A critical fixing.
    FixingId
);
id_type!(
    /// A job a person asks for.
    JobId
);
id_type!(
    /// "Needed on some models only".
    QuestionId
);
id_type!(
    /// Something consumed: a small part, a fluid, a spare.
    ItemId
);
id_type!(
    /// A tool.
    ToolId
);
id_type!(
    /// One bike in the garage.
    BikeId
);
id_type!(
    /// One entry of the garage's memory.
    EntryId
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_accept_names_and_refuse_the_rest() {
        for good in ["tank", "side-cover-l", "sump.seen-dry", "2nd"] {
            assert!(PartId::new(good).is_ok(), "{good}");
        }
        for bad in [
            "",
            "Tank",
            "side cover",
            "-tank",
            "tänk",
            "a/b",
            "..",
            &"x".repeat(65),
        ] {
            assert!(PartId::new(bad).is_err(), "{bad}");
        }
    }
}
