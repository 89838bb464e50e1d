//! Which options to take: values, costs, shared work, caps. The problem alone, without any machine.
//!
//! With `x_j` for "option `j` is taken" and `y_i` for "shared work `i` is done", both 0 or 1, the gain to make greatest is
//!
//! `Σ_j x_j (value_j − parts_j) − Σ_i y_i cash_i − rate (Σ_j x_j t_j + Σ_i y_i t_i)`
//!
//! with `x_j ≤ y_i` where option `j` needs shared work `i`, `x_j ≤ x_k` where `j` requires `k`, `x_j + x_k ≤ 1` where the
//! two make no sense together, and caps on the sum of the times and on the sum of the cash. Money is in minor units, the
//! rate in minor units an hour, times in whole seconds; the gain is kept in 1/3600 of a minor unit, so that it is a
//! whole number and equal gains are equal.

use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use std::collections::BTreeSet;
use std::fmt;

/// Units of [`Gain`] in one minor unit of money.
pub const GAIN_UNITS: i64 = 3600;
/// Largest amount of money an option or a piece of shared work may have, minor units: sums must fit.
pub const LARGEST_MONEY: i64 = 1 << 27;
/// Longest time an option or a piece of shared work may take: sums must fit.
pub const LONGEST: u32 = 1 << 24;
/// Most options and pieces of shared work together: sums must fit.
pub const MOST: usize = 1000;

/// A gain, in 1/3600 of a minor unit of money.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Gain(pub i64);

impl Gain {
    /// To the nearest minor unit, halves away from zero.
    #[must_use]
    pub const fn money(self) -> Money {
        let half = if self.0 < 0 {
            -GAIN_UNITS / 2
        } else {
            GAIN_UNITS / 2
        };
        Money((self.0 + half) / GAIN_UNITS)
    }
}

/// Whether an option is open to choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Stand {
    /// To be chosen or left.
    #[default]
    Open,
    /// Taken whatever it costs.
    Must,
    /// Not taken.
    Left,
}

/// Something that can be taken or left.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Choice {
    /// What it adds.
    pub value: Money,
    /// What it costs in money.
    pub parts: Money,
    /// Time of its own.
    pub hands_on: Seconds,
    /// Shared work it needs: places in [`Selection::shared`].
    pub needs: Vec<usize>,
    /// Other options it makes no sense without: places in [`Selection::options`].
    pub requires: Vec<usize>,
    /// Whether it is open to choice.
    pub stand: Stand,
}

/// Work counted once, however many options need it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Shared {
    /// Time.
    pub hands_on: Seconds,
    /// What it uses up, in money.
    pub cash: Money,
}

/// Limits; `None` where there is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Caps {
    /// On the sum of the times.
    pub hands_on: Option<Seconds>,
    /// On the sum of the money.
    pub cash: Option<Money>,
}

/// The whole problem.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Selection {
    /// Options.
    pub options: Vec<Choice>,
    /// Shared work.
    pub shared: Vec<Shared>,
    /// Pairs of options that exclude each other.
    pub not_together: Vec<(usize, usize)>,
    /// What an hour of one's own is worth, minor units.
    pub rate: Money,
    /// Limits.
    pub caps: Caps,
}

/// What a set of options comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Totals {
    /// Sum of the values.
    pub value: Money,
    /// Sum of the money spent.
    pub cash: Money,
    /// Sum of the times, shared work once.
    pub hands_on: Seconds,
    /// Value less money less time at the rate.
    pub gain: Gain,
}

/// What is wrong with a problem.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Flaw {
    /// An option names a place that is not there.
    Place {
        /// The option, or the first of a pair.
        option: usize,
        /// The place named.
        place: usize,
    },
    /// An amount is negative where it must not be, or too large.
    Amount {
        /// The amount.
        amount: i64,
    },
    /// Too many options and pieces of shared work.
    Many(usize),
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Flaw::Place { option, place } => {
                write!(
                    f,
                    "option {option} names place {place}, which is not there; name one that is"
                )
            }
            Flaw::Amount { amount } => write!(
                f,
                "an amount of {amount} is outside 0 to {LARGEST_MONEY} (money) or {LONGEST} s (time); write a smaller one"
            ),
            Flaw::Many(n) => write!(
                f,
                "{n} options and shared pieces are more than {MOST}; leave some out"
            ),
        }
    }
}

impl Selection {
    /// Everything that is wrong with the problem.
    #[must_use]
    pub fn flaws(&self) -> Vec<Flaw> {
        let mut flaws = Vec::new();
        let (options, shared) = (self.options.len(), self.shared.len());
        if options + shared > MOST {
            flaws.push(Flaw::Many(options + shared));
        }
        let mut money = |amount: Money, least: i64| {
            if !(least..=LARGEST_MONEY).contains(&amount.0) {
                flaws.push(Flaw::Amount { amount: amount.0 });
            }
        };
        money(self.rate, 0);
        for choice in &self.options {
            // A job may lower what the bike fetches.
            money(choice.value, -LARGEST_MONEY);
            money(choice.parts, 0);
        }
        for shared in &self.shared {
            money(shared.cash, 0);
        }
        money(self.caps.cash.unwrap_or_default(), 0);
        let times = self.options.iter().map(|o| o.hands_on);
        for time in times.chain(self.shared.iter().map(|s| s.hands_on)) {
            if time.0 > LONGEST {
                flaws.push(Flaw::Amount {
                    amount: i64::from(time.0),
                });
            }
        }
        for (option, choice) in self.options.iter().enumerate() {
            let needs = choice.needs.iter().filter(|i| **i >= shared);
            let requires = choice.requires.iter().filter(|k| **k >= options);
            flaws.extend(needs.chain(requires).map(|place| Flaw::Place {
                option,
                place: *place,
            }));
        }
        for (a, b) in &self.not_together {
            for place in [a, b] {
                if *place >= options {
                    flaws.push(Flaw::Place {
                        option: *a,
                        place: *place,
                    });
                }
            }
        }
        flaws
    }

    /// What a set comes to, worked out from the beginning. Options without a place in `chosen` count as left.
    #[must_use]
    pub fn totals(&self, chosen: &[bool]) -> Totals {
        let mut done = BTreeSet::new();
        let (mut value, mut cash, mut seconds) = (0i64, 0i64, 0i64);
        for (choice, _) in self.options.iter().zip(chosen).filter(|(_, taken)| **taken) {
            value += choice.value.0;
            cash += choice.parts.0;
            seconds += i64::from(choice.hands_on.0);
            done.extend(choice.needs.iter().copied());
        }
        for shared in done.iter().filter_map(|i| self.shared.get(*i)) {
            cash += shared.cash.0;
            seconds += i64::from(shared.hands_on.0);
        }
        Totals {
            value: Money(value),
            cash: Money(cash),
            hands_on: Seconds(u32::try_from(seconds).unwrap_or(u32::MAX)),
            gain: Gain((value - cash) * GAIN_UNITS - self.rate.0 * seconds),
        }
    }

    /// Whether a set takes every must, leaves what is left, has what it requires, and holds no two that exclude each
    /// other. Caps are looked at by [`Self::within_caps`].
    #[must_use]
    pub fn makes_sense(&self, chosen: &[bool]) -> bool {
        let taken = |k: usize| chosen.get(k).copied().unwrap_or(false);
        let each = self
            .options
            .iter()
            .enumerate()
            .all(|(j, choice)| match choice.stand {
                Stand::Must if !taken(j) => false,
                Stand::Left if taken(j) => false,
                _ => !taken(j) || choice.requires.iter().all(|k| taken(*k)),
            });
        each && !self
            .not_together
            .iter()
            .any(|(a, b)| a != b && taken(*a) && taken(*b))
    }

    /// Whether totals keep within the caps.
    #[must_use]
    pub fn within_caps(&self, totals: &Totals) -> bool {
        self.caps.hands_on.is_none_or(|cap| totals.hands_on <= cap)
            && self.caps.cash.is_none_or(|cap| totals.cash <= cap)
    }
}
