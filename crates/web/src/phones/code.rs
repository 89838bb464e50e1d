//! The one-time code on the machine's screen.

use super::paired::PhonesError;
use std::time::{Duration, Instant};

/// How many digits: with [`GUESSES`] tries at 10⁸ codes, a guesser gets in once in twenty million codes.
const DIGITS: u32 = 8;
/// How long a code may be used. Long enough to fetch the phone; judgement, no source.
const LASTS: Duration = Duration::from_secs(600);
/// Wrong tries after which a code is worth nothing. A new one is made only at the machine.
pub(crate) const GUESSES: u8 = 5;

/// The code that is open, if any. Time is the system's steady clock: setting the date back does not lengthen it.
#[derive(Debug, Default)]
pub(crate) struct Code(Option<Open>);

#[derive(Debug)]
struct Open {
    digits: String,
    since: Instant,
    wrong: u8,
}

/// What came of a try.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tried {
    /// It was the code, which is now spent.
    Right,
    /// It was not.
    Wrong {
        /// Tries left.
        left: u8,
    },
    /// No code is open: spent, lapsed, or guessed at too often.
    NoneOpen,
}

impl Code {
    /// Opens a new code and gives its digits.
    pub(crate) fn fresh(&mut self, now: Instant) -> Result<String, PhonesError> {
        let all = 10_u64.pow(DIGITS);
        // The remainder of 64 random bits is even to one part in 10¹¹.
        let number = getrandom::u64().map_err(|error| PhonesError::NoRandom(error.to_string()))? % all;
        let digits = format!("{number:0width$}", width = DIGITS as usize);
        self.0 = Some(Open {
            digits: digits.clone(),
            since: now,
            wrong: 0,
        });
        Ok(digits)
    }

    /// The open code's digits.
    pub(crate) fn open(&mut self, now: Instant) -> Option<&str> {
        self.0 = self
            .0
            .take()
            .filter(|open| now.saturating_duration_since(open.since) < LASTS);
        self.0.as_ref().map(|open| open.digits.as_str())
    }

    /// Tries a text as the code. Gaps and dashes between the digits do not matter.
    pub(crate) fn attempt(&mut self, text: &str, now: Instant) -> Tried {
        self.open(now);
        let Some(open) = self.0.as_mut() else {
            return Tried::NoneOpen;
        };
        let given: Vec<u8> = text
            .bytes()
            .filter(|b| !matches!(b, b' ' | b'-'))
            .take(DIGITS as usize + 1)
            .collect();
        if same(&given, open.digits.as_bytes()) {
            self.0 = None;
            return Tried::Right;
        }
        open.wrong += 1;
        let left = GUESSES.saturating_sub(open.wrong);
        if left == 0 {
            self.0 = None;
        }
        Tried::Wrong { left }
    }
}

/// Compares in a time that does not tell how far two texts agree.
pub(crate) fn same(a: &[u8], b: &[u8]) -> bool {
    a.len() == b.len() && a.iter().zip(b).fold(0, |differ, (x, y)| differ | (x ^ y)) == 0
}

/// `1234 5678`, as it is read aloud.
pub(crate) fn spaced(digits: &str) -> String {
    let (left, right) = digits.split_at_checked(digits.len() / 2).unwrap_or((digits, ""));
    format!("{left} {right}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn other(code: &str) -> String {
        let last = if code.ends_with('0') { '1' } else { '0' };
        format!("{}{last}", &code[..code.len() - 1])
    }

    #[test]
    fn a_code_is_used_once() {
        let (mut code, now) = (Code::default(), Instant::now());
        let digits = code.fresh(now).unwrap();
        assert!(digits.len() == 8 && digits.bytes().all(|b| b.is_ascii_digit()));
        assert_eq!(code.attempt(&spaced(&digits), now), Tried::Right);
        assert_eq!(code.attempt(&digits, now), Tried::NoneOpen);
    }

    #[test]
    fn wrong_tries_use_it_up() {
        let (mut code, now) = (Code::default(), Instant::now());
        let digits = code.fresh(now).unwrap();
        for left in (0..GUESSES).rev() {
            assert_eq!(code.attempt(&other(&digits), now), Tried::Wrong { left });
        }
        assert_eq!(code.attempt(&digits, now), Tried::NoneOpen);
    }

    #[test]
    fn it_lapses_and_a_new_one_ends_the_old() {
        let (mut code, now) = (Code::default(), Instant::now());
        let first = code.fresh(now).unwrap();
        let late = now + LASTS;
        assert_eq!(code.open(late - Duration::from_secs(1)), Some(first.as_str()));
        assert_eq!(code.attempt(&first, late), Tried::NoneOpen);
        let second = code.fresh(late).unwrap();
        if first != second {
            assert!(matches!(code.attempt(&first, late), Tried::Wrong { .. }));
        }
        assert_eq!(code.attempt(&second, late), Tried::Right);
    }

    #[test]
    fn longer_shorter_and_strange_texts_are_wrong() {
        let (mut code, now) = (Code::default(), Instant::now());
        for text in ["", "1", "123456789", "١٢٣٤٥٦٧٨", "--------", "1234567x"] {
            let digits = code.fresh(now).unwrap();
            assert!(matches!(code.attempt(text, now), Tried::Wrong { .. }), "{text}");
            assert!(matches!(
                code.attempt(&format!("{digits}0"), now),
                Tried::Wrong { .. }
            ));
        }
    }
}
