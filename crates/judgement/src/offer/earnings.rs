//! What one would earn at an offer, drawn many times; the most to pay; what moves it; what to check first.
//!
//! **Model.** `V = P Π(1 − Bᵢ cᵢ) − (F R (m₀ + Σ Bᵢ mᵢ) + k₀ + Σ Bᵢ kᵢ)(1 + A) − S R − fees − days × a day`, and the earnings
//! at an offer `o` are `V − o`: what is left after the own hours are paid. `P` is the price of the bike in order (Student's
//! t or normal in the logarithm, held within its middle 99.8 %), `B` whether a fault is there, `c` the share of price
//! it costs, `m` planned hours, `k` parts, `F` how much slower than planned, `R` the own hour, `A` the allowance, `S` the
//! selling hours. All are drawn independently of each other; that faults come together on a bad bike is not in it, so both
//! ends of the spread are somewhat farther out than drawn.
//!
//! The offer does not change `V`, so one set of draws answers every offer: the most to pay for a chance of loss `α` and
//! wanted earnings `w` is the `α` quantile of `V`, less `w`.

use super::costs::{SLOWER, Triangle};
use super::weigh::{Fault, Sum};
use crate::chance::draws::Draws;
use crate::chance::student::student_quantile;
use crate::price::fit::money;
use refettle_facts::money::Money;

/// Draws when nobody said: the error of a one-in-five chance is then 0.3 %.
pub const ROUNDS: usize = 20_000;
/// Normal quantile of a two-sided 95 % span.
const TWO_SIDED_95: f64 = 1.959_963_984_540_054;
/// Bins of a conditional mean; each holds a twentieth of the draws.
const BINS: usize = 20;
/// Fewer draws than this settle no quantile.
const FEWEST: usize = 200;

/// What a draw is made of, beside the faults: in this order.
const PLAIN: [(&str, &str); 8] = [
    ("price", "the price it fetches in order"),
    ("slower", "how much slower than planned the work goes"),
    ("allowance", "what nobody thought of"),
    ("parts", "parts of what is always done"),
    ("selling-hours", "hours of selling"),
    ("papers", "papers, plate, tax, advertisement"),
    ("days", "days until it is sold"),
    ("standing", "what a day costs"),
];

/// All draws of a sum.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// `V` of each draw, in minor units.
    value: Vec<f64>,
    /// For each plain input, its value in each draw.
    plain: Vec<Vec<f64>>,
    /// For each fault, whether it was there.
    there: Vec<Vec<bool>>,
    /// `V`, least first.
    sorted: Vec<f64>,
}

/// Draws a sum. The same seed gives the same draws on every machine.
#[must_use]
#[allow(clippy::cast_precision_loss, reason = "cents, and minutes of a few days")]
pub fn draw(sum: &Sum, rounds: usize, seed: u64) -> Drawn {
    let mut draws = Draws::new(seed);
    let mut drawn = Drawn {
        value: Vec::with_capacity(rounds),
        plain: vec![Vec::with_capacity(rounds); PLAIN.len()],
        there: vec![Vec::with_capacity(rounds); sum.faults.len()],
        sorted: Vec::new(),
    };
    let widest = if sum.price.freedom.is_finite() {
        student_quantile(0.999, sum.price.freedom)
    } else {
        3.090_232_306_167_813_5
    };
    let hour = sum.own_hour.0 as f64;
    for _ in 0..rounds.max(1) {
        let t = student(&mut draws, sum.price.freedom).clamp(-widest, widest);
        let slower = (SLOWER.1 - SLOWER.0).mul_add(draws.uniform(), SLOWER.0);
        let mut triangle = |figures: &Triangle| figures.quantile(draws.uniform());
        let (allowance, base_parts) = (triangle(&sum.allowance), triangle(&sum.base_parts));
        let (selling, papers) = (triangle(&sum.selling_hours), triangle(&sum.papers));
        let (advertisement, days) = (triangle(&sum.advertisement), triangle(&sum.days));
        let standing = triangle(&sum.standing);
        let mut price = sum.price.scale.mul_add(t, sum.price.middle).exp();
        let (mut seconds, mut parts) = (f64::from(sum.base.0), base_parts);
        for (fault, there) in sum.faults.iter().zip(&mut drawn.there) {
            let is_there = draws.uniform() < fault.chance;
            // Drawn whether used or not, so that looking at one thing leaves all other draws as they are.
            let (part, cut) = (
                fault.hidden.parts.quantile(draws.uniform()),
                fault.hidden.price_cut.quantile(draws.uniform()),
            );
            if is_there {
                seconds += f64::from(fault.work.0);
                parts += part * 100.0;
                price *= 1.0 - cut;
            }
            there.push(is_there);
        }
        let work = seconds / 3600.0 * slower * hour;
        let costs = (work + parts) * (1.0 + allowance)
            + selling * hour
            + papers
            + advertisement
            + days * standing
            + sum.transport.0 as f64;
        drawn.value.push(price - costs);
        let inputs = [
            t,
            slower,
            allowance,
            base_parts,
            selling,
            papers + advertisement,
            days,
            standing,
        ];
        for (column, value) in drawn.plain.iter_mut().zip(inputs) {
            column.push(value);
        }
    }
    drawn.sorted = drawn.value.clone();
    drawn.sorted.sort_by(f64::total_cmp);
    drawn
}

/// A Student's t variable by the polar method (Bailey 1994); a normal one where the degrees are endless.
fn student(draws: &mut Draws, freedom: f64) -> f64 {
    if !freedom.is_finite() {
        return draws.normal();
    }
    loop {
        let (u, v) = (
            draws.uniform().mul_add(2.0, -1.0),
            draws.uniform().mul_add(2.0, -1.0),
        );
        let w = u.mul_add(u, v * v);
        if w > 0.0 && w <= 1.0 {
            return u * (freedom * (w.powf(-2.0 / freedom) - 1.0) / w).sqrt();
        }
    }
}

/// A figure from draws, and the span its own error leaves, 95 times in 100.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Simulated {
    /// The figure.
    pub value: Money,
    /// Lower end.
    pub low: Money,
    /// Upper end.
    pub high: Money,
}

/// A chance from draws, and its standard error `√(p(1 − p)/n)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chance {
    /// The chance.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
}

/// What moves the earnings.
#[derive(Debug, Clone, PartialEq)]
pub struct Mover {
    /// Name, permanent.
    pub id: &'static str,
    /// As a person reads it.
    pub title: &'static str,
    /// Share of the variance of earnings that goes when it is known (first-order index of Sobol'): `Var E[V|x]/Var V`.
    pub share: f64,
    /// Expected earnings when it turns out badly (there, or the worst tenth), less those expected now.
    pub when_bad: Money,
    /// Expected earnings when it turns out well (not there, or the best tenth), less those expected now.
    pub when_good: Money,
}

/// What looking at one thing before offering is worth.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Name of the fault.
    pub id: &'static str,
    /// What may be wrong.
    pub title: &'static str,
    /// How to find out.
    pub how: &'static str,
    /// Minutes that takes.
    pub minutes: u32,
    /// How likely it is there.
    pub chance: f64,
    /// Most to pay when it is not there; `None` when too few draws say.
    pub most_if_right: Option<Money>,
    /// Most to pay when it is there; `None` when too few draws say.
    pub most_if_wrong: Option<Money>,
    /// What one would pay too much on average by not looking: chance × how far the most to pay falls.
    pub saves: Money,
    /// Expected value of knowing, for the plain choice between buying at this offer and walking away:
    /// `E max(0, E[V − o | x]) − max(0, E[V − o])`.
    pub worth_for_the_choice: Money,
}

impl Drawn {
    /// How many draws.
    #[must_use]
    pub fn rounds(&self) -> usize {
        self.value.len()
    }

    /// The most to pay for a chance of earning less than wanted; its error by order statistics.
    #[must_use]
    pub fn most(&self, chance: f64, wanted: Money) -> Simulated {
        let n = to_f64(self.sorted.len());
        let err = TWO_SIDED_95 * (n * chance * (1.0 - chance)).sqrt();
        let at = |rank: f64| money(rank_of(&self.sorted, rank)).0.saturating_sub(wanted.0);
        Simulated {
            value: Money(at(n * chance)),
            low: Money(at(n.mul_add(chance, -err))),
            high: Money(at(n.mul_add(chance, err) + 1.0)),
        }
    }

    /// The earnings at an offer below which a share `p` of the draws lies.
    #[must_use]
    pub fn earnings(&self, offer: Money, p: f64) -> Money {
        Money(
            money(rank_of(&self.sorted, to_f64(self.sorted.len()) * p))
                .0
                .saturating_sub(offer.0),
        )
    }

    /// The chance of earning less than wanted at an offer.
    #[must_use]
    #[allow(clippy::cast_precision_loss, reason = "cents")]
    pub fn loss(&self, offer: Money, wanted: Money) -> Chance {
        let line = offer.0.saturating_add(wanted.0) as f64;
        let n = to_f64(self.sorted.len());
        let value = to_f64(self.sorted.partition_point(|v| *v < line)) / n;
        Chance {
            value,
            error: (value * (1.0 - value) / n).sqrt(),
        }
    }

    /// Earnings expected at an offer, and the span its own error leaves.
    #[must_use]
    pub fn expected(&self, offer: Money) -> Simulated {
        let (mean, variance) = (mean(&self.value), variance(&self.value));
        let err = TWO_SIDED_95 * (variance / to_f64(self.value.len())).sqrt();
        let less = |v: f64| Money(money(v).0.saturating_sub(offer.0));
        Simulated {
            value: less(mean),
            low: less(mean - err),
            high: less(mean + err),
        }
    }

    /// What moves the earnings, the most first.
    #[must_use]
    pub fn movers(&self, sum: &Sum) -> Vec<Mover> {
        let (now, all) = (mean(&self.value), variance(&self.value));
        let mut movers = Vec::new();
        if all <= 0.0 {
            return movers;
        }
        for ((id, title), column) in PLAIN.iter().zip(&self.plain) {
            let means = self.binned(column);
            let (Some(first), Some(last)) = (means.get(..2).map(mean), means.get(BINS - 2..).map(mean))
            else {
                continue;
            };
            // What bins of a useless input would show by chance is taken off: (k − 1)/n of the variance.
            let chance = all * to_f64(BINS - 1) / to_f64(self.value.len());
            movers.push(Mover {
                id,
                title,
                share: ((variance(&means) - chance) / all).clamp(0.0, 1.0),
                when_bad: money(first.min(last) - now),
                when_good: money(first.max(last) - now),
            });
        }
        for (fault, there) in sum.faults.iter().zip(&self.there) {
            let Some((with, without)) = self.split_means(there) else {
                continue;
            };
            let p = fault.chance;
            movers.push(Mover {
                id: fault.hidden.id,
                title: fault.hidden.title,
                share: (p * (1.0 - p) * (with - without).powi(2) / all).clamp(0.0, 1.0),
                when_bad: money(with.min(without) - now),
                when_good: money(with.max(without) - now),
            });
        }
        movers.sort_by(|a, b| b.share.total_cmp(&a.share).then(a.id.cmp(b.id)));
        movers
    }

    /// Mean of `V` in each twentieth of an input, from its least to its greatest.
    fn binned(&self, column: &[f64]) -> Vec<f64> {
        let mut order: Vec<(f64, f64)> = column.iter().copied().zip(self.value.iter().copied()).collect();
        order.sort_by(|a, b| a.0.total_cmp(&b.0));
        order
            .chunks(order.len().div_ceil(BINS).max(1))
            .map(|chunk| chunk.iter().map(|(_, v)| v).sum::<f64>() / to_f64(chunk.len()))
            .collect()
    }

    /// Means of `V` with and without a fault; `None` when the draws have too few of either.
    fn split_means(&self, there: &[bool]) -> Option<(f64, f64)> {
        let (with, without) = self.split(there);
        (with.len() >= FEWEST && without.len() >= FEWEST).then(|| (mean(&with), mean(&without)))
    }

    fn split(&self, there: &[bool]) -> (Vec<f64>, Vec<f64>) {
        let side = |wanted: bool| {
            self.value
                .iter()
                .zip(there)
                .filter(|(_, t)| **t == wanted)
                .map(|(v, _)| *v)
                .collect()
        };
        (side(true), side(false))
    }

    /// What to check before offering, what saves most first. Faults already looked at are not in it.
    #[must_use]
    #[allow(clippy::cast_precision_loss, reason = "cents")]
    pub fn checks(&self, sum: &Sum, chance: f64, offer: Money, wanted: Money) -> Vec<Check> {
        let most = self.most(chance, wanted).value;
        let now = mean(&self.value) - offer.0 as f64;
        let open = |f: &&(&Fault, &Vec<bool>)| f.0.answer.is_none() && f.0.chance > 0.0;
        let pairs: Vec<(&Fault, &Vec<bool>)> = sum.faults.iter().zip(&self.there).collect();
        let mut checks: Vec<Check> = pairs
            .iter()
            .filter(open)
            .map(|(fault, there)| {
                let (with, without) = self.split(there);
                let most_of = |side: &[f64]| {
                    let mut sorted = side.to_vec();
                    sorted.sort_by(f64::total_cmp);
                    (sorted.len() >= FEWEST).then(|| {
                        Money(
                            money(rank_of(&sorted, to_f64(sorted.len()) * chance))
                                .0
                                .saturating_sub(wanted.0),
                        )
                    })
                };
                let (most_if_wrong, most_if_right) = (most_of(&with), most_of(&without));
                let falls = most_if_wrong.map_or(0, |m| most.0.saturating_sub(m.0).max(0)) as f64;
                let knowing = self.split_means(there).map_or(0.0, |(bad, good)| {
                    let part = |v: f64| (v - offer.0 as f64).max(0.0);
                    fault.chance * part(bad) + (1.0 - fault.chance) * part(good) - now.max(0.0)
                });
                Check {
                    id: fault.hidden.id,
                    title: fault.hidden.title,
                    how: fault.hidden.check,
                    minutes: fault.hidden.check_minutes,
                    chance: fault.chance,
                    most_if_right,
                    most_if_wrong,
                    saves: money(fault.chance * falls),
                    worth_for_the_choice: money(knowing.max(0.0)),
                }
            })
            .collect();
        checks.sort_by_key(|c| (std::cmp::Reverse(c.saves), c.id));
        checks
    }

    /// How the earnings at an offer lie: for each of `bars` equal steps from the 0.5 % to the 99.5 % quantile, where it begins
    /// and the share of all draws in it; then where the last ends.
    #[must_use]
    pub fn density(&self, offer: Money, bars: usize) -> (Vec<(Money, f64)>, Money) {
        let n = to_f64(self.sorted.len());
        let (low, high) = (rank_of(&self.sorted, 0.005 * n), rank_of(&self.sorted, 0.995 * n));
        let step = (high - low) / to_f64(bars.max(1));
        let less = |v: f64| Money(money(v).0.saturating_sub(offer.0));
        let below = |v: f64| to_f64(self.sorted.partition_point(|s| *s < v));
        let steps = (0..bars.max(1))
            .map(|i| {
                let from = step.mul_add(to_f64(i), low);
                (less(from), (below(from + step) - below(from)) / n)
            })
            .collect();
        (steps, less(high))
    }
}

#[allow(clippy::cast_precision_loss, reason = "numbers of draws")]
fn to_f64(n: usize) -> f64 {
    n as f64
}

/// The value of a rank counted from 1, the nearest there is.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a rank within the list"
)]
fn rank_of(sorted: &[f64], rank: f64) -> f64 {
    let at = (rank.ceil().max(1.0) as usize)
        .min(sorted.len())
        .saturating_sub(1);
    sorted.get(at).copied().unwrap_or(0.0)
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / to_f64(values.len().max(1))
}

fn variance(values: &[f64]) -> f64 {
    let m = mean(values);
    values.iter().map(|v| (v - m).powi(2)).sum::<f64>() / to_f64(values.len().max(1))
}
