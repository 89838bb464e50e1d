//! Actions of a plan and the four answers to a bench card.

use super::observed::HeatWord;
use refettle_facts::ids::{FixingId, PartId, StanceId, StepId};
use serde::{Deserialize, Serialize};
use std::fmt;

/// What a bench card asks for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Action {
    /// Take a part off.
    TakeOff {
        /// Which.
        part: PartId,
        /// By which way in: its place among the part's ways on the bike's sheet, counted from 0.
        way: u16,
    },
    /// Put a part back.
    PutOn {
        /// Which.
        part: PartId,
        /// By which way in, counted from 0.
        way: u16,
    },
    /// Slacken a critical fixing.
    Loosen {
        /// Which.
        fixing: FixingId,
    },
    /// Tighten a critical fixing for good.
    Tighten {
        /// Which.
        fixing: FixingId,
    },
    /// Hold the bike another way.
    Stance {
        /// How.
        stance: StanceId,
    },
    /// Do a step of the sheet.
    Step {
        /// Which.
        step: StepId,
    },
    /// Wait for the engine to cool.
    Cool {
        /// Until it is no warmer than this.
        to: HeatWord,
    },
}

/// What the person said to a bench card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "AnswerText", into = "AnswerText")]
pub enum Answer {
    /// Done as asked.
    Done,
    /// Something is wrong; nothing was changed on the bike.
    SomethingWrong {
        /// What, in the person's words.
        note: String,
    },
    /// Done, but not as it should be: a shortcut to come back to.
    DoneAnotherWay {
        /// How, in the person's words.
        note: String,
    },
    /// Not now; nothing was changed on the bike.
    NotNow,
}

/// An answer as written. A tagged enum would let a note beside "done" pass unseen.
#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct AnswerText {
    is: AnswerWord,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    note: Option<String>,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum AnswerWord {
    Done,
    SomethingWrong,
    DoneAnotherWay,
    NotNow,
}

impl TryFrom<AnswerText> for Answer {
    type Error = &'static str;
    fn try_from(text: AnswerText) -> Result<Answer, &'static str> {
        match (text.is, text.note) {
            (AnswerWord::Done, None) => Ok(Answer::Done),
            (AnswerWord::NotNow, None) => Ok(Answer::NotNow),
            (AnswerWord::SomethingWrong, Some(note)) => Ok(Answer::SomethingWrong { note }),
            (AnswerWord::DoneAnotherWay, Some(note)) => Ok(Answer::DoneAnotherWay { note }),
            (AnswerWord::Done | AnswerWord::NotNow, Some(_)) => Err("this answer has no note"),
            (AnswerWord::SomethingWrong | AnswerWord::DoneAnotherWay, None) => {
                Err("this answer needs a note")
            }
        }
    }
}

impl From<Answer> for AnswerText {
    fn from(answer: Answer) -> AnswerText {
        let (is, note) = match answer {
            Answer::Done => (AnswerWord::Done, None),
            Answer::NotNow => (AnswerWord::NotNow, None),
            Answer::SomethingWrong { note } => (AnswerWord::SomethingWrong, Some(note)),
            Answer::DoneAnotherWay { note } => (AnswerWord::DoneAnotherWay, Some(note)),
        };
        AnswerText { is, note }
    }
}

impl Answer {
    /// Whether the work was done, one way or another.
    #[must_use]
    pub fn is_done(&self) -> bool {
        match self {
            Answer::Done | Answer::DoneAnotherWay { .. } => true,
            Answer::SomethingWrong { .. } | Answer::NotNow => false,
        }
    }
}

/// One value measured with an action.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measured {
    /// What was measured, as the sheet names it.
    pub what: String,
    /// The value as the person read it, digits and all: "0.10" says more than 0.1.
    pub value: Number,
    /// Symbol of its unit.
    pub unit: String,
}

/// A decimal number as it was written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Number(String);

/// A text was no decimal number.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{text}' is no number: write up to {LONGEST_NUMBER} digits with at most one point, such as 0.10 or -3"
)]
pub struct NumberError {
    /// What was given, cut to a printable length.
    pub text: String,
}

/// Longest number kept, in characters: more digits than any gauge shows.
const LONGEST_NUMBER: usize = 20;

impl Number {
    /// Takes a text as a number, if it is one.
    ///
    /// # Errors
    /// [`NumberError`] when the text is not an optional `-`, digits, and perhaps a point and digits.
    pub fn new(text: &str) -> Result<Number, NumberError> {
        let (whole, part) = text
            .strip_prefix('-')
            .unwrap_or(text)
            .split_once('.')
            .map_or((text.strip_prefix('-').unwrap_or(text), None), |(w, p)| {
                (w, Some(p))
            });
        let digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
        if text.len() <= LONGEST_NUMBER && digits(whole) && part.is_none_or(digits) {
            Ok(Number(text.to_owned()))
        } else {
            Err(NumberError {
                text: text.chars().take(40).collect(),
            })
        }
    }

    /// The number as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl TryFrom<String> for Number {
    type Error = NumberError;
    fn try_from(text: String) -> Result<Number, NumberError> {
        Number::new(&text)
    }
}

impl std::str::FromStr for Number {
    type Err = NumberError;
    fn from_str(text: &str) -> Result<Number, NumberError> {
        Number::new(text)
    }
}

impl From<Number> for String {
    fn from(number: Number) -> String {
        number.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_digits_and_other_texts_are_refused() {
        for good in ["0", "0.10", "-3", "12345.678", "-0.05"] {
            assert_eq!(Number::new(good).unwrap().as_str(), good);
        }
        for bad in [
            "",
            "-",
            ".5",
            "5.",
            "1.2.3",
            "1e3",
            "NaN",
            "inf",
            "--1",
            "+1",
            "1,5",
            " 1",
            &"9".repeat(21),
        ] {
            assert!(Number::new(bad).is_err(), "{bad}");
        }
    }
}
