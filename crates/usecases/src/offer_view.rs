//! The most to pay, for the surfaces: `refettle-offer/1`.

use crate::offer_sum::{OfferRequest, Settling, settle_offer};
use crate::refused::Refused;
use crate::typed::{percent, said, units};
use refettle_facts::money::Money;
use refettle_judgement::offer::earnings::{Check, Drawn, Mover, ROUNDS, Simulated, draw};
use refettle_judgement::offer::gates::{Answer, GATES};
use refettle_judgement::offer::weigh::lines;
use serde::Serialize;

/// How many steps the picture has.
const STEPS: usize = 40;

/// A figure from draws with the span its own error leaves.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SimulatedView {
    /// The figure.
    pub value: f64,
    /// Lower end of what its own error leaves, 95 times in 100.
    pub low: f64,
    /// Upper end of the same.
    pub high: f64,
}

impl From<Simulated> for SimulatedView {
    fn from(s: Simulated) -> SimulatedView {
        SimulatedView {
            value: units(s.value),
            low: units(s.low),
            high: units(s.high),
        }
    }
}

/// Something that can end the deal.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GateView {
    /// Permanent name.
    pub id: &'static str,
    /// What to find out.
    pub title: &'static str,
    /// `ok`, `bad` or `not looked at`.
    pub answer: &'static str,
    /// It ends the deal when it is not in order.
    pub ends_the_deal: bool,
    /// Where and how to find out; what to do when it is bad.
    pub what_to_do: &'static str,
    /// Where this comes from.
    pub source: &'static str,
}

/// Something that may be wrong.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HiddenView {
    /// Permanent name.
    pub id: &'static str,
    /// What is wrong.
    pub title: &'static str,
    /// How likely, per cent.
    pub chance_pct: f64,
    /// `worked out`, `your own` or `looked at`.
    pub chance_is: &'static str,
    /// Planned work it adds, whole seconds.
    pub work_s: u32,
    /// Where span and money come from.
    pub source: &'static str,
}

/// A line of the sum.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LineView {
    /// Permanent name.
    pub id: &'static str,
    /// As a person reads it.
    pub title: &'static str,
    /// What it is expected to take off.
    pub expected: f64,
    /// Where it comes from.
    pub source: &'static str,
}

/// What moves the earnings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MoverView {
    /// Permanent name.
    pub id: &'static str,
    /// As a person reads it.
    pub title: &'static str,
    /// Share of the variance of earnings it alone accounts for, per cent.
    pub share_pct: f64,
    /// How far expected earnings move when it turns out badly.
    pub when_bad: f64,
    /// How far when it turns out well.
    pub when_good: f64,
}

/// What to check before offering.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckView {
    /// Permanent name of what may be wrong.
    pub id: &'static str,
    /// What may be wrong.
    pub title: &'static str,
    /// How to find out.
    pub how: &'static str,
    /// Minutes that takes.
    pub minutes: u32,
    /// How likely it is wrong, per cent.
    pub chance_pct: f64,
    /// Most to pay when it is in order; `null` when too few draws say.
    pub most_if_right: Option<f64>,
    /// Most to pay when it is wrong.
    pub most_if_wrong: Option<f64>,
    /// What one would pay too much on average by not looking.
    pub saves: f64,
    /// What knowing is worth for buying at this offer or walking away.
    pub worth_for_the_choice: f64,
}

/// A step of the picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StepView {
    /// Where it begins.
    pub from: f64,
    /// Share of all draws in it, per cent.
    pub share_pct: f64,
}

/// The most to pay, and why.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OfferView {
    /// `refettle-offer/1`.
    pub format: &'static str,
    /// Name of the machine sheet.
    pub machine: String,
    /// Names of what was answered badly and ends the deal.
    pub ended_by: Vec<&'static str>,
    /// Names of what can end the deal and was not looked at.
    pub not_looked_at: Vec<&'static str>,
    /// Most to pay; `null` when the deal is ended.
    pub most_to_pay: Option<SimulatedView>,
    /// Chance of loss accepted, per cent.
    pub loss_chance_accepted_pct: f64,
    /// Earnings wanted after own hours.
    pub wanted: f64,
    /// The offer judged.
    pub offer: f64,
    /// Chance of earning less than wanted at it, per cent.
    pub loss_pct: f64,
    /// Standard error of that, percentage points.
    pub loss_error_pct: f64,
    /// Earnings expected at it, own hours paid.
    pub expected: SimulatedView,
    /// One in ten earns less.
    pub earnings_low10: f64,
    /// As likely more as less.
    pub earnings_median: f64,
    /// One in ten earns more.
    pub earnings_high10: f64,
    /// What moves it most, by share of variance.
    pub movers: Vec<MoverView>,
    /// What to check before offering, what saves most first.
    pub checks: Vec<CheckView>,
    /// Papers and identity.
    pub gates: Vec<GateView>,
    /// What may be wrong.
    pub hidden: Vec<HiddenView>,
    /// The sum, line by line.
    pub lines: Vec<LineView>,
    /// Middle price of the bike in order.
    pub price_clean: f64,
    /// Planned work of what is always done and was seen wrong, whole seconds.
    pub base_work_s: u32,
    /// Planned work of everything that may be wrong, one by one, whole seconds; `null` without a plan.
    pub work_apart_s: Option<u32>,
    /// The same in one plan, whole seconds; `null` without one.
    pub work_together_s: Option<u32>,
    /// How many times everything was drawn.
    pub rounds: usize,
    /// Seed of the draws.
    pub seed: u64,
    /// How earnings at the offer lie.
    pub density: Vec<StepView>,
    /// Where the last step ends.
    pub density_end: f64,
    /// What is worth knowing.
    pub remarks: Vec<String>,
}

/// Works out the most to pay.
///
/// # Errors
/// [`Refused::Wrong`] with everything wrong in the request.
pub fn offer(request: &OfferRequest) -> Result<OfferView, Refused> {
    let settling = settle_offer(request)?;
    let drawn = draw(&settling.sum, ROUNDS, request.seed);
    Ok(view(&settling, &drawn, request.seed))
}

fn view(settling: &Settling, drawn: &Drawn, seed: u64) -> OfferView {
    let Settling { sum, wanted, .. } = settling;
    let most = drawn.most(settling.loss_chance, *wanted);
    // Nobody offers less than nothing.
    let at = settling.offer.unwrap_or(Money(most.value.0.max(0)));
    let loss = drawn.loss(at, *wanted);
    let gates = gates(settling);
    let of = |answer: &str| {
        gates
            .iter()
            .filter(|g| g.ends_the_deal && g.answer == answer)
            .map(|g| g.id)
            .collect::<Vec<_>>()
    };
    let (ended_by, not_looked_at) = (of("bad"), of("not looked at"));
    let (density, end) = drawn.density(at, STEPS);
    let mut remarks = settling.remarks.clone();
    if most.value.0 <= 0 {
        remarks.push("with this chance of loss there is no price at which to buy it".to_owned());
    }
    OfferView {
        format: "refettle-offer/1",
        machine: settling.machine.clone(),
        most_to_pay: ended_by.is_empty().then(|| most.into()),
        ended_by,
        not_looked_at,
        loss_chance_accepted_pct: percent(settling.loss_chance),
        wanted: units(*wanted),
        offer: units(at),
        loss_pct: percent(loss.value),
        loss_error_pct: (loss.error * 1e4).round() / 100.0,
        expected: drawn.expected(at).into(),
        earnings_low10: units(drawn.earnings(at, 0.1)),
        earnings_median: units(drawn.earnings(at, 0.5)),
        earnings_high10: units(drawn.earnings(at, 0.9)),
        movers: drawn.movers(sum).iter().map(mover).collect(),
        checks: drawn
            .checks(sum, settling.loss_chance, at, *wanted)
            .iter()
            .map(check)
            .collect(),
        gates,
        hidden: hidden(settling),
        lines: lines(sum)
            .iter()
            .map(|l| LineView {
                id: l.id,
                title: l.title,
                expected: units(l.expected),
                source: l.source,
            })
            .collect(),
        price_clean: (sum.price.middle.exp().round()) / 100.0,
        base_work_s: sum.base.0,
        work_apart_s: settling.shared.map(|(apart, _)| apart.0),
        work_together_s: settling.shared.map(|(_, together)| together.0),
        rounds: drawn.rounds(),
        seed,
        density: density
            .iter()
            .map(|(from, share)| StepView {
                from: units(*from),
                share_pct: (share * 1e4).round() / 100.0,
            })
            .collect(),
        density_end: units(end),
        remarks,
    }
}

fn gates(settling: &Settling) -> Vec<GateView> {
    GATES
        .iter()
        .map(|g| {
            let answer = settling.gates.get(g.id);
            GateView {
                id: g.id,
                title: g.title,
                answer: match answer {
                    Some(Answer::Right) => "ok",
                    Some(Answer::Wrong) => "bad",
                    None => "not looked at",
                },
                ends_the_deal: g.ends_the_deal,
                what_to_do: if answer == Some(&Answer::Wrong) {
                    g.when_wrong
                } else {
                    g.how
                },
                source: g.source,
            }
        })
        .collect()
}

fn hidden(settling: &Settling) -> Vec<HiddenView> {
    settling
        .sum
        .faults
        .iter()
        .map(|f| HiddenView {
            id: f.hidden.id,
            title: f.hidden.title,
            chance_pct: percent(f.chance),
            chance_is: match (f.answer, f.changed) {
                (Some(_), _) => "looked at",
                (None, true) => "your own",
                (None, false) => "worked out",
            },
            work_s: f.work.0,
            source: f.hidden.source,
        })
        .collect()
}

fn mover(m: &Mover) -> MoverView {
    MoverView {
        id: m.id,
        title: m.title,
        share_pct: percent(m.share),
        when_bad: units(m.when_bad),
        when_good: units(m.when_good),
    }
}

fn check(c: &Check) -> CheckView {
    CheckView {
        id: c.id,
        title: c.title,
        how: c.how,
        minutes: c.minutes,
        chance_pct: percent(c.chance),
        most_if_right: c.most_if_right.map(units),
        most_if_wrong: c.most_if_wrong.map(units),
        saves: units(c.saves),
        worth_for_the_choice: units(c.worth_for_the_choice),
    }
}

/// A chance as people say it: `one time in five`, `two times in five`, `hardly ever`.
#[must_use]
pub fn times_said(percent: f64) -> String {
    const NUMBERS: [&str; 11] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    ];
    if percent < 3.5 {
        return "hardly ever".to_owned();
    }
    if percent > 96.5 {
        return "almost always".to_owned();
    }
    let share = percent / 100.0;
    // The nearest fraction of small numbers; of two as near, the plainer.
    let (mut best, mut distance) = ((1usize, 2usize), f64::INFINITY);
    for (of, total) in (2u8..=10).flat_map(|total| (1..total).map(move |of| (of, total))) {
        let away = (share - f64::from(of) / f64::from(total)).abs();
        if away + 0.004 < distance {
            (best, distance) = ((of.into(), total.into()), away);
        }
    }
    // One in twenty and its like lie below a tenth.
    if percent < 7.5 {
        return "one time in twenty".to_owned();
    }
    let word = |n: usize| NUMBERS.get(n).copied().unwrap_or("many");
    let times = if best.0 == 1 { "time" } else { "times" };
    format!("{} {times} in {}", word(best.0), word(best.1))
}

impl OfferView {
    /// What the picture says, in a sentence.
    #[must_use]
    pub fn finding(&self) -> String {
        if !self.ended_by.is_empty() {
            return "Walk away: the papers or the frame are not in order".to_owned();
        }
        let times = times_said(self.loss_pct);
        if self.wanted > 0.0 {
            format!(
                "At {} you would earn less than {} {times}",
                said(self.offer),
                said(self.wanted)
            )
        } else {
            format!("You would lose at this price {times}")
        }
    }

    /// The three things that move it most.
    #[must_use]
    pub fn three_movers(&self) -> &[MoverView] {
        self.movers.get(..3).unwrap_or(&self.movers)
    }

    /// The picture in words, with the same numbers.
    #[must_use]
    pub fn in_words(&self) -> String {
        let mut out = format!(
            "{}. At an offer of {} you would earn {} as likely as not, less than {} one time in ten and more than {} one time in ten. ",
            self.finding(),
            said(self.offer),
            said(self.earnings_median),
            said(self.earnings_low10),
            said(self.earnings_high10)
        );
        if let Some(most) = self.most_to_pay {
            out.push_str(&format!(
                "Most to pay: {}, for a loss {}. ",
                said(most.value),
                times_said(self.loss_chance_accepted_pct)
            ));
        }
        let movers: Vec<String> = self
            .three_movers()
            .iter()
            .map(|m| format!("{} ({:.0} % of the spread)", m.title, m.share_pct))
            .collect();
        out.push_str(&format!("What moves it most: {}.", movers.join("; ")));
        out
    }
}

#[cfg(test)]
mod tests {
    use super::times_said;

    #[test]
    fn chances_are_said_as_people_say_them() {
        for (percent, said) in [
            (20.0, "one time in five"),
            (20.3, "one time in five"),
            (33.0, "one time in three"),
            (40.0, "two times in five"),
            (50.0, "one time in two"),
            (51.8, "one time in two"),
            (66.0, "two times in three"),
            (10.0, "one time in ten"),
            (5.0, "one time in twenty"),
            (1.0, "hardly ever"),
            (90.0, "nine times in ten"),
            (99.0, "almost always"),
        ] {
            assert_eq!(times_said(percent), said, "{percent}");
        }
    }
}
