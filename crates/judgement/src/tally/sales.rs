//! How many bikes were sold in any twelve months: what local law asks of a private seller.

use jiff::ToSpan;
use jiff::civil::Date;

/// The twelve months with most sales.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Busiest {
    /// How many.
    pub sold: u32,
    /// The first of them.
    pub first: Date,
    /// The last of them.
    pub last: Date,
}

/// The most sales in any twelve months, and the first such run. Twelve months from a day end before the same day of the next
/// year (28 February after a 29th). `None` without a sale.
#[must_use]
pub fn most_in_twelve_months(days: &[Date]) -> Option<Busiest> {
    let mut days = days.to_vec();
    days.sort_unstable();
    let mut best: Option<Busiest> = None;
    for (at, first) in days.iter().enumerate() {
        // Beyond the calendar's end nothing is sold.
        let end = first.checked_add(1.year()).unwrap_or(Date::MAX);
        let within: Vec<&Date> = days.iter().skip(at).take_while(|day| **day < end).collect();
        let sold = u32::try_from(within.len()).unwrap_or(u32::MAX);
        if let Some(last) = within.last()
            && best.is_none_or(|b| sold > b.sold)
        {
            best = Some(Busiest {
                sold,
                first: *first,
                last: **last,
            });
        }
    }
    best
}

/// Sales in the twelve months that end with this day.
#[must_use]
pub fn sold_in_twelve_months_to(days: &[Date], today: Date) -> u32 {
    let since = today.checked_sub(1.year()).unwrap_or(Date::MIN);
    let n = days.iter().filter(|day| since < **day && **day <= today).count();
    u32::try_from(n).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use proptest::prelude::*;

    #[test]
    fn twelve_months_run_from_any_day_and_not_with_the_calendar() {
        let days = [
            date(2031, 11, 2),
            date(2032, 3, 1),
            date(2032, 10, 30),
            // The same day a year on is the next twelve months.
            date(2032, 11, 2),
        ];
        let busiest = most_in_twelve_months(&days);
        assert_eq!(
            busiest,
            Some(Busiest {
                sold: 3,
                first: days[0],
                last: days[2]
            })
        );
        assert_eq!(sold_in_twelve_months_to(&days, date(2032, 11, 2)), 3);
        assert_eq!(sold_in_twelve_months_to(&days, date(2032, 11, 1)), 3);
        assert_eq!(sold_in_twelve_months_to(&days, date(2033, 11, 2)), 0);
        assert_eq!(most_in_twelve_months(&[]), None);
    }

    #[test]
    fn a_leap_day_and_the_ends_of_the_calendar_do_no_harm() {
        let days = [date(2032, 2, 29), date(2033, 2, 27), date(2033, 2, 28)];
        assert_eq!(most_in_twelve_months(&days).map(|b| b.sold), Some(2));
        assert_eq!(
            most_in_twelve_months(&[Date::MAX, Date::MIN]).map(|b| b.sold),
            Some(1)
        );
        assert_eq!(sold_in_twelve_months_to(&[Date::MIN], Date::MIN), 0);
    }

    proptest! {
        /// Against counting from every day of the calendar.
        #[test]
        fn no_other_twelve_months_have_more(offsets in prop::collection::vec(0..1500_i64, 1..12)) {
            let start = date(2030, 1, 1);
            let days: Vec<Date> = offsets.iter().map(|o| start + o.days()).collect();
            let most = (-366..1600_i64)
                .map(|o| {
                    let from = start + o.days();
                    let to = from + 1.year();
                    days.iter().filter(|d| from <= **d && **d < to).count()
                })
                .max();
            prop_assert_eq!(most_in_twelve_months(&days).map(|b| b.sold as usize), most);
        }
    }
}
