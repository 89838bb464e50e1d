//! Lines of the tally and their sums.

use refettle_facts::money::Money;
use std::collections::BTreeMap;

/// Which way money went.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Way {
    /// Into the garage.
    In,
    /// Out of it.
    Out,
}

/// What one entry counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Counted {
    /// Whole minutes at the bench.
    Bench(u32),
    /// Whole minutes elsewhere: driving, searching, showing, papers.
    Elsewhere(u32),
    /// Money.
    Money {
        /// Which way.
        way: Way,
        /// ISO 4217 code of its currency.
        currency: String,
        /// How much, from 0.
        amount: Money,
    },
}

/// One line: from one entry, of one kind.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The word of its kind.
    pub kind: String,
    /// What it counts.
    pub counted: Counted,
}

/// Money of one currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Flow {
    /// Into the garage, minor units.
    pub into: i128,
    /// Out of it.
    pub out: i128,
}

impl Flow {
    /// What is left: in less out.
    #[must_use]
    pub fn net(self) -> i128 {
        self.into - self.out
    }
}

/// Lines added up.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sum {
    /// Minutes at the bench.
    pub bench: u64,
    /// Minutes elsewhere.
    pub elsewhere: u64,
    /// Money by currency.
    pub money: BTreeMap<String, Flow>,
}

impl Sum {
    /// Adds lines up. Sums are wider than any line, so nothing is ever cut off.
    pub fn of<'a>(lines: impl IntoIterator<Item = &'a Line>) -> Sum {
        let mut sum = Sum::default();
        for line in lines {
            sum.add(line);
        }
        sum
    }

    /// Adds lines up apart, by a key of each.
    pub fn by<'a, K: Ord>(
        lines: impl IntoIterator<Item = &'a Line>,
        key: impl Fn(&'a Line) -> K,
    ) -> BTreeMap<K, Sum> {
        let mut sums: BTreeMap<K, Sum> = BTreeMap::new();
        for line in lines {
            sums.entry(key(line)).or_default().add(line);
        }
        sums
    }

    fn add(&mut self, line: &Line) {
        match &line.counted {
            Counted::Bench(minutes) => self.bench += u64::from(*minutes),
            Counted::Elsewhere(minutes) => self.elsewhere += u64::from(*minutes),
            Counted::Money {
                way,
                currency,
                amount,
            } => {
                let flow = self.money.entry(currency.clone()).or_default();
                let to = match way {
                    Way::In => &mut flow.into,
                    Way::Out => &mut flow.out,
                };
                *to += i128::from(amount.0);
            }
        }
    }

    /// Minutes, wherever.
    #[must_use]
    pub fn minutes(&self) -> u64 {
        self.bench + self.elsewhere
    }

    /// What an hour earned in a currency, all minutes counted: `net · 60 / minutes`, minor units, to the nearest, halves
    /// away from zero. `None` without a minute, or where it would not fit.
    #[must_use]
    pub fn per_hour(&self, currency: &str) -> Option<Money> {
        let net = self.money.get(currency)?.net();
        let minutes = i128::from(self.minutes());
        if minutes == 0 {
            return None;
        }
        let sixty = net.checked_mul(60)?;
        let away = if sixty < 0 { -minutes } else { minutes };
        i64::try_from((2 * sixty + away) / (2 * minutes)).ok().map(Money)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn money(way: Way, currency: &str, minor: i64) -> Line {
        Line {
            kind: "parts".into(),
            counted: Counted::Money {
                way,
                currency: currency.into(),
                amount: Money(minor),
            },
        }
    }

    fn minutes(counted: Counted) -> Line {
        Line {
            kind: "bench".into(),
            counted,
        }
    }

    #[test]
    fn worked_by_hand() {
        // Bought 450.00, parts 12.50, sold 1250.00: 787.50 in 95 + 130 minutes is 210.00 an hour.
        let lines = [
            money(Way::Out, "EUR", 45_000),
            money(Way::Out, "EUR", 1_250),
            money(Way::In, "EUR", 125_000),
            money(Way::Out, "GBP", 700),
            minutes(Counted::Bench(95)),
            minutes(Counted::Elsewhere(130)),
        ];
        let sum = Sum::of(&lines);
        assert_eq!((sum.bench, sum.elsewhere, sum.minutes()), (95, 130, 225));
        assert_eq!(sum.money["EUR"].net(), 78_750);
        assert_eq!(sum.money["GBP"].net(), -700);
        assert_eq!(sum.per_hour("EUR"), Some(Money(21_000)));
        assert_eq!(sum.per_hour("USD"), None);
    }

    #[test]
    fn earnings_per_hour_round_to_the_nearest_and_need_a_minute() {
        let per_hour = |net: i64, min: u32| {
            let way = if net < 0 { Way::Out } else { Way::In };
            let lines = [money(way, "EUR", net.abs()), minutes(Counted::Bench(min))];
            Sum::of(&lines).per_hour("EUR")
        };
        assert_eq!(per_hour(100, 0), None);
        // 1 · 60 / 120 = ½ goes up, −½ down, 1 · 60 / 121 to nothing.
        assert_eq!(per_hour(1, 120), Some(Money(1)));
        assert_eq!(per_hour(-1, 120), Some(Money(-1)));
        assert_eq!(per_hour(1, 121), Some(Money(0)));
        assert_eq!(per_hour(-7, 60), Some(Money(-7)));
    }

    fn any_line() -> impl Strategy<Value = Line> {
        let counted = prop_oneof![
            any::<u32>().prop_map(Counted::Bench),
            any::<u32>().prop_map(Counted::Elsewhere),
            (any::<bool>(), 0..3_usize, 0..=i64::MAX).prop_map(|(into, currency, minor)| Counted::Money {
                way: if into { Way::In } else { Way::Out },
                currency: ["EUR", "USD", "JPY"][currency].to_owned(),
                amount: Money(minor),
            }),
        ];
        (0..4_usize, counted).prop_map(|(kind, counted)| Line {
            kind: format!("k{kind}"),
            counted,
        })
    }

    proptest! {
        /// However lines are parted, the parts add up to the whole, to the last minor unit.
        #[test]
        fn parts_add_up_to_the_whole(lines in prop::collection::vec(any_line(), 0..40)) {
            let whole = Sum::of(&lines);
            let parts = Sum::by(&lines, |line| line.kind.clone());
            prop_assert_eq!(parts.values().map(|s| s.bench).sum::<u64>(), whole.bench);
            prop_assert_eq!(parts.values().map(|s| s.elsewhere).sum::<u64>(), whole.elsewhere);
            for (currency, flow) in &whole.money {
                let of = |pick: fn(&Flow) -> i128| parts.values().filter_map(|s| s.money.get(currency)).map(pick).sum::<i128>();
                prop_assert_eq!(of(|f| f.into), flow.into);
                prop_assert_eq!(of(|f| f.out), flow.out);
                // The same, line by line and without the sum's own code.
                let mut net = 0_i128;
                for line in &lines {
                    if let Counted::Money { way, currency: c, amount } = &line.counted
                        && c == currency
                    {
                        net += if *way == Way::In { i128::from(amount.0) } else { -i128::from(amount.0) };
                    }
                }
                prop_assert_eq!(net, flow.net());
            }
        }
    }
}
