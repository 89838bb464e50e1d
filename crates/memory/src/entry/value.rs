//! Values that entries are made of: checked when they are read, so that no entry holds one that is not sound.

use super::{Number, NumberError};
use jiff::civil::Date;
use refettle_facts::money::Money;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A value in an entry was not sound.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ValueError {
    /// No words, or too many, or with characters that cannot be shown.
    #[error("'{0}' cannot be kept: write 1 to {LONGEST_WORDS} characters of plain text")]
    Words(String),
    /// Not an id of a catalogue.
    #[error("'{0}' is no id of a catalogue: 1 to 100 lower-case letters, digits, '-', '.', '_', ':' or '/'")]
    Catalogue(String),
    /// Not a currency.
    #[error("'{0}' is no currency: write its three capital letters as in ISO 4217, such as EUR")]
    Currency(String),
    /// An amount below zero or out of all proportion.
    #[error("an amount of {0} minor units cannot be kept: it is 0 to {LARGEST_AMOUNT}")]
    Amount(i64),
    /// Not a day.
    #[error("'{0}' is no day: write it as 2031-05-24")]
    Day(String),
    /// Not the hash of a file.
    #[error("'{0}' is no SHA-256: it has 64 digits from 0-9 and a-f")]
    Hash(String),
    /// Not a number.
    #[error(transparent)]
    Number(#[from] NumberError),
}

/// Longest text in an entry, in characters: a page. Judgement, no source.
pub const LONGEST_WORDS: usize = 2000;

/// Largest amount, in minor units: sums of any number of entries a garage can have stay far from overflowing.
pub const LARGEST_AMOUNT: i64 = 1_000_000_000_000;

fn cut(text: &str) -> String {
    text.chars().take(80).collect()
}

macro_rules! text_value {
    ($(#[$meta:meta])* $name:ident, $case:ident, $sound:expr) => {
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub struct $name(String);

        impl $name {
            /// Takes a text, if it is sound.
            ///
            /// # Errors
            /// [`ValueError`] saying what it should be.
            pub fn new(text: &str) -> Result<$name, ValueError> {
                let sound: fn(&str) -> bool = $sound;
                if sound(text) {
                    Ok($name(text.to_owned()))
                } else {
                    Err(ValueError::$case(cut(text)))
                }
            }

            /// As written.
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
            type Error = ValueError;
            fn try_from(text: String) -> Result<$name, ValueError> {
                $name::new(&text)
            }
        }

        impl From<$name> for String {
            fn from(value: $name) -> String {
                value.0
            }
        }

        impl std::str::FromStr for $name {
            type Err = ValueError;
            fn from_str(text: &str) -> Result<$name, ValueError> {
                $name::new(text)
            }
        }
    };
}

text_value!(
    /// What a person wrote: not empty, at most [`LONGEST_WORDS`] characters, nothing that cannot be shown.
    Words,
    Words,
    |text| {
        !text.trim().is_empty()
            && text.chars().count() <= LONGEST_WORDS
            && !text.chars().any(|c| c.is_control() && !matches!(c, '\n' | '\r' | '\t'))
    }
);
text_value!(
    /// The id of something in one of the program's catalogues: a symptom, a check and its outcome, an item of the
    /// road check, what can be done about a surprise. Catalogues grow; what an id meant stays.
    CatalogueId,
    Catalogue,
    |text| {
        (1..=100).contains(&text.len())
            && text.bytes().all(|b| {
                b.is_ascii_lowercase() || b.is_ascii_digit() || matches!(b, b'-' | b'.' | b'_' | b':' | b'/')
            })
    }
);
text_value!(
    /// A currency by the three letters of ISO 4217.
    Currency,
    Currency,
    |text| text.len() == 3 && text.bytes().all(|b| b.is_ascii_uppercase())
);
text_value!(
    /// SHA-256 of a stored file, as 64 lower-case hexadecimal digits.
    FileHash,
    Hash,
    |text| text.len() == 64 && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'))
);

/// A day of the calendar, written `2031-05-24`. Which day it is where the garage is: no time zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Day(pub Date);

impl Day {
    /// Takes a text as a day, if it is one.
    ///
    /// # Errors
    /// [`ValueError::Day`].
    pub fn new(text: &str) -> Result<Day, ValueError> {
        let wrong = || ValueError::Day(cut(text));
        // The library reads more than this one way of writing it.
        let day: Date = text.parse().map_err(|_| wrong())?;
        (day.to_string() == text).then_some(Day(day)).ok_or_else(wrong)
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl TryFrom<String> for Day {
    type Error = ValueError;
    fn try_from(text: String) -> Result<Day, ValueError> {
        Day::new(&text)
    }
}

impl From<Day> for String {
    fn from(day: Day) -> String {
        day.to_string()
    }
}

impl std::str::FromStr for Day {
    type Err = ValueError;
    fn from_str(text: &str) -> Result<Day, ValueError> {
        Day::new(text)
    }
}

/// Money as it changed hands, never below zero: which way it went is said beside it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "AmountText", into = "AmountText")]
pub struct Amount {
    minor: i64,
    currency: Currency,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct AmountText {
    minor: i64,
    currency: Currency,
}

impl Amount {
    /// So many minor units of a currency.
    ///
    /// # Errors
    /// [`ValueError::Amount`] below zero or above [`LARGEST_AMOUNT`].
    pub fn new(minor: i64, currency: Currency) -> Result<Amount, ValueError> {
        if (0..=LARGEST_AMOUNT).contains(&minor) {
            Ok(Amount { minor, currency })
        } else {
            Err(ValueError::Amount(minor))
        }
    }

    /// How much.
    #[must_use]
    pub fn money(&self) -> Money {
        Money(self.minor)
    }

    /// Of what.
    #[must_use]
    pub fn currency(&self) -> &Currency {
        &self.currency
    }
}

impl TryFrom<AmountText> for Amount {
    type Error = ValueError;
    fn try_from(text: AmountText) -> Result<Amount, ValueError> {
        Amount::new(text.minor, text.currency)
    }
}

impl From<Amount> for AmountText {
    fn from(amount: Amount) -> AmountText {
        AmountText {
            minor: amount.minor,
            currency: amount.currency,
        }
    }
}

/// A number read off a gauge, with its unit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// As read, digits and all.
    pub value: Number,
    /// Symbol of its unit; empty for a bare count.
    pub unit: String,
}

/// An enumeration written as words: each with the word used in entries and on the command line.
macro_rules! words {
    ($($(#[$meta:meta])* $name:ident { $($(#[$doc:meta])* $variant:ident = $word:literal),+ $(,)? })+) => {
        $(
            $(#[$meta])*
            #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, ::serde::Serialize, ::serde::Deserialize)]
            pub enum $name {
                $($(#[$doc])* #[serde(rename = $word)] $variant,)+
            }

            impl $name {
                /// All, with their words.
                pub const ALL: &'static [(&'static str, $name)] = &[$(($word, $name::$variant)),+];

                /// Its word.
                #[must_use]
                pub fn word(self) -> &'static str {
                    match self {
                        $($name::$variant => $word,)+
                    }
                }

                /// The one of this word.
                #[must_use]
                pub fn of_word(word: &str) -> Option<$name> {
                    $name::ALL.iter().find(|(w, _)| *w == word).map(|(_, one)| *one)
                }
            }
        )+
    };
}
pub(super) use words;
