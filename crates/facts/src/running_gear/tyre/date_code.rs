//! When a tyre was made: the last digits of the DOT number.
//!
//! Since mid-2000 four digits, week and year; before that three, and the decade is not said (64 FR 36807, 49 CFR
//! 574.5). No law here names an age limit for motorcycle tyres; rubber hardens all the same. Looking from five
//! years on and renewing at ten whatever the tread is common practice, no source.

/// Why a date code was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DateCodeError {
    /// Not three or four digits.
    #[error(
        "'{text}' is no date code: it is the last three or four digits of the DOT number, such as 3603 for week 36 of 2003"
    )]
    Unreadable {
        /// What was given.
        text: String,
    },
    /// A week no year has.
    #[error(
        "'{text}' names week {week}; weeks go from 1 to 53: read the other side wall, the full number is on one side only"
    )]
    NoSuchWeek {
        /// What was given.
        text: String,
        /// The week in it.
        week: u8,
    },
    /// Later than today.
    #[error("'{text}' is week {week} of {year}, later than week {today_week} of {today_year}: read it again")]
    InTheFuture {
        /// What was given.
        text: String,
        /// The week in it.
        week: u8,
        /// The year in it.
        year: u16,
        /// Today's week.
        today_week: u8,
        /// Today's year.
        today_year: u16,
    },
}

/// A week of a year. Week 1 is the first full week, from Sunday to Saturday.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct CalendarWeek {
    /// Year.
    pub year: u16,
    /// Week, 1 to 53.
    pub week: u8,
}

impl CalendarWeek {
    /// The week a date falls in; days before the first Sunday belong to the last week of the year before.
    /// `None` for a date that does not exist or lies outside 1900 to 2199. (Weeks from Sunday to Saturday: 49
    /// CFR 574.5, from memory; the first full week: vehicle handbook wording.)
    #[must_use]
    pub fn of_date(year: u16, month: u8, day: u8) -> Option<CalendarWeek> {
        if !(1900..2200).contains(&year) || day == 0 || u16::from(day) > month_length(year, month)? {
            return None;
        }
        let before: u16 = (1..month).filter_map(|m| month_length(year, m)).sum();
        let day_of_year = before + u16::from(day);
        let first = first_sunday(year);
        if day_of_year < first {
            let last = if leap(year - 1) { 366 } else { 365 };
            return Some(CalendarWeek {
                year: year - 1,
                week: week_number(last, first_sunday(year - 1)),
            });
        }
        Some(CalendarWeek {
            year,
            week: week_number(day_of_year, first),
        })
    }

    fn count(self) -> i32 {
        // A year is 365.2425 / 7 = 52.1775 weeks.
        (f64::from(self.year) * 52.1775).round() as i32 + i32::from(self.week)
    }
}

fn week_number(day_of_year: u16, first_sunday: u16) -> u8 {
    u8::try_from((day_of_year - first_sunday) / 7 + 1).unwrap_or(53)
}

fn leap(year: u16) -> bool {
    year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
}

fn month_length(year: u16, month: u8) -> Option<u16> {
    match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => Some(31),
        4 | 6 | 9 | 11 => Some(30),
        2 => Some(if leap(year) { 29 } else { 28 }),
        _ => None,
    }
}

/// Day of the year of the first Sunday, 1 to 7.
fn first_sunday(year: u16) -> u16 {
    // Days from Monday, 1 January 1900, in whole years.
    let mut days: u32 = 0;
    for y in 1900..year {
        days += if leap(y) { 366 } else { 365 };
    }
    // 0 is Monday, so Sunday is 6.
    let weekday = u16::try_from(days % 7).unwrap_or(0);
    7 - weekday
}

/// When a tyre may have been made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MadeIn {
    /// The weeks it may be, latest first; one for a four-digit code.
    pub candidates: Vec<CalendarWeek>,
    /// Whole weeks from the latest candidate to today: the tyre is at least this old.
    pub at_least_weeks: u32,
}

impl MadeIn {
    /// Whole years, at least.
    #[must_use]
    pub fn at_least_years(&self) -> u32 {
        // 52.1775 weeks a year; half a week either way is all a date code can say.
        (f64::from(self.at_least_weeks) / 52.1775) as u32
    }

    /// What the age says, in words.
    #[must_use]
    pub fn advice(&self) -> &'static str {
        if self.candidates.len() > 1 {
            "a three-digit code is from before July 2000: renew the tyre whatever its tread"
        } else if self.at_least_years() >= 10 {
            "ten years or more: renew the tyre whatever its tread (common practice, no source)"
        } else if self.at_least_years() >= 5 {
            "five years or more: look for cracks and hardening each year (common practice, no source)"
        } else {
            "young enough; wear, cracks and cuts still count"
        }
    }
}

/// Reads a date code, or a whole DOT number of which it is the end.
///
/// Four digits are week and year from 2000; three digits are week and the last digit of a year of the seventies
/// to 2000, of which every possible decade is given (three digits were used until mid-2000).
///
/// ```
/// use refettle_facts::running_gear::tyre::date_code::{CalendarWeek, read};
/// let made = read("3603", CalendarWeek { year: 2024, week: 10 }).unwrap();
/// assert_eq!(made.candidates, [CalendarWeek { year: 2003, week: 36 }]);
/// assert_eq!(made.at_least_years(), 20);
/// ```
///
/// # Errors
/// [`DateCodeError`] when it is no code, names no week, or lies in the future.
pub fn read(text: &str, today: CalendarWeek) -> Result<MadeIn, DateCodeError> {
    let shown = || text.trim().chars().take(40).collect::<String>();
    let code = text.split_whitespace().next_back().unwrap_or("");
    let digits = code.get(code.len().saturating_sub(4)..).unwrap_or("");
    let whole_number = code.len() > 4;
    let all_digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    let digits = match digits.len() {
        4 if all_digits(digits) => digits,
        // A run-together old number ends in three digits after a letter.
        4 if whole_number => digits.get(1..).unwrap_or(""),
        _ => digits,
    };
    if !(3..=4).contains(&digits.len()) || !all_digits(digits) {
        return Err(DateCodeError::Unreadable { text: shown() });
    }
    let number = |t: Option<&str>| t.and_then(|t| t.parse::<u8>().ok()).unwrap_or(0);
    let week = number(digits.get(..2));
    if !(1..=53).contains(&week) {
        return Err(DateCodeError::NoSuchWeek { text: shown(), week });
    }
    let year = u16::from(number(digits.get(2..)));
    let candidates: Vec<CalendarWeek> = if digits.len() == 4 {
        vec![CalendarWeek {
            year: 2000 + year,
            week,
        }]
    } else {
        [2000, 1990, 1980, 1970]
            .into_iter()
            .map(|decade| CalendarWeek {
                year: decade + year,
                week,
            })
            // Three digits ended in July 2000, week 26; they began in 1971.
            .filter(|made| *made <= CalendarWeek { year: 2000, week: 26 } && made.year >= 1971)
            .collect()
    };
    let latest = candidates.first().copied().unwrap_or(today);
    if latest > today {
        return Err(DateCodeError::InTheFuture {
            text: shown(),
            week,
            year: latest.year,
            today_week: today.week,
            today_year: today.year,
        });
    }
    Ok(MadeIn {
        candidates,
        at_least_weeks: u32::try_from(today.count() - latest.count()).unwrap_or(0),
    })
}
