//! Which jobs pay on this bike, as it stands now.
//!
//! [`Desk::open`] asks the planner for each job alone, once; after that a tap is answered from what is known
//! ([`Desk::toggled`]), and [`Desk::answer`] has the planner look at the chosen set and its neighbours.

use crate::amount::{amount, hours, shown};
use crate::evening::no_plan;
use crate::refused::{Refused, wrong};
use crate::request::{Document, Request, Settled, settle, told};
use crate::worth_view::{JobLine, SetAside, SetView, WayOut, WorthView};
use crate::worth_why as why;
use refettle_facts::money::Money;
use refettle_facts::nearest::nearest;
use refettle_facts::time::Seconds;
use refettle_judgement::worth::branch::{NoSelection, USUAL_CUTS, best};
use refettle_judgement::worth::model::{Model, Terms};
use refettle_judgement::worth::priced::Prices;
use refettle_judgement::worth::refine::{Refined, USUAL_PLANS, refine};
use refettle_judgement::worth::selection::{Caps, Gain, LARGEST_MONEY, Stand, Totals};
use refettle_judgement::worth::values::Values;
use refettle_machine::ix::JobIx;
use refettle_plan::ask::Ask;

/// What a person typed.
#[derive(Debug, Clone, Default)]
pub struct WorthRequest {
    /// The machine, how it stands, what the garage can do; its jobs are those on offer, all when there are none.
    pub bike: Request,
    /// Jobs that must be done.
    pub must: Vec<String>,
    /// Jobs not to be done.
    pub leave: Vec<String>,
    /// What it fetches with everything done.
    pub price: String,
    /// What it would fetch now, closed up; worked out from the clean price when `None`.
    pub as_it_stands: Option<String>,
    /// Cap on hands-on hours.
    pub hours: Option<String>,
    /// Cap on money.
    pub cash: Option<String>,
    /// What an hour of one's own is worth.
    pub rate: Option<String>,
    /// Figures of one's own.
    pub values: Option<Document>,
}

/// A bike whose jobs have been priced.
#[derive(Debug, Clone)]
pub struct Desk {
    pub(crate) settled: Settled,
    pub(crate) values: Values,
    pub(crate) model: Model,
    pub(crate) stands: Vec<Stand>,
    pub(crate) as_it_stands: Money,
    prices: Prices,
    doubts: Vec<String>,
    /// Typed, and not worked out.
    pub(crate) as_typed: bool,
    pub(crate) rate_typed: bool,
}

impl Desk {
    /// Settles a request and prices each job alone.
    ///
    /// # Errors
    /// [`Refused`] with everything that is wrong, or when closing up has no plan.
    pub fn open(request: &WorthRequest) -> Result<Desk, Refused> {
        let offered_all = request.bike.jobs.is_empty();
        let mut mistakes = Vec::new();
        let mut keep = |outcome: Result<Settled, Refused>| match outcome {
            Ok(settled) => Ok(Some(settled)),
            Err(Refused::Wrong(lines)) => {
                mistakes.extend(lines);
                Ok(None)
            }
            Err(other) => Err(other),
        };
        // On offer there may be jobs that exclude each other, so each is settled as if alone.
        let alone = |jobs: Vec<String>| {
            settle(&Request {
                jobs,
                ..request.bike.clone()
            })
        };
        let settled = keep(alone(Vec::new()))?;
        let musts = keep(alone(request.must.clone()))?;
        let mut named = Vec::new();
        for name in request.bike.jobs.iter().chain(&request.leave) {
            // What is wrong with the bike itself has been said.
            if settled.is_some() {
                named.push(keep(alone(vec![name.clone()]))?);
            }
        }
        let mut values = Values::shipped();
        if let Some(document) = &request.values
            && let Err(lines) = values.read(&document.text)
        {
            mistakes.push(told(document, &lines.join("\n")));
        }
        let mut take = |what: &str, typed: Option<&String>| match typed.map(|t| amount(t)) {
            None => None,
            Some(Ok(money)) if money.0 <= LARGEST_MONEY => Some(money),
            Some(Ok(money)) => {
                mistakes.push(format!(
                    "{what} {}: at most {}",
                    shown(money),
                    shown(Money(LARGEST_MONEY))
                ));
                None
            }
            Some(Err(mistake)) => {
                mistakes.push(format!("{what}: {mistake}"));
                None
            }
        };
        let clean = take("--price", Some(&request.price));
        let as_typed = take("--as-is", request.as_it_stands.as_ref());
        let cash = take("--cash", request.cash.as_ref());
        let rate = take("--rate", request.rate.as_ref());
        let time = request.hours.as_ref().and_then(|t| match hours(t) {
            Ok(seconds) => Some(seconds),
            Err(mistake) => {
                mistakes.push(format!("--hours: {mistake}"));
                None
            }
        });
        if let Some(settled) = &settled {
            mistakes.extend(unknown(&values, request, settled));
        }
        let (Some(settled), Some(musts), Some(clean), true) = (settled, musts, clean, mistakes.is_empty())
        else {
            return Err(Refused::Wrong(mistakes));
        };
        let left: Vec<JobIx> = jobs_of(&settled, &request.leave);
        let mut offered: Vec<JobIx> = if offered_all {
            every_job(&settled)
        } else {
            jobs_of(&settled, &request.bike.jobs)
        };
        offered.extend(musts.jobs.iter().chain(&left));
        let own_hour = values.other("own-hour").round();
        #[allow(clippy::cast_possible_truncation, reason = "the table holds it to a million")]
        let rate_minor = rate.unwrap_or(Money(own_hour as i64));
        let terms = Terms {
            clean_price: clean,
            rate: rate_minor,
            caps: Caps { hands_on: time, cash },
        };
        let model = Model::new(&settled.ask(), &offered, &values, terms)
            .map_err(|none| no_plan(&settled.machine, &none))?;
        let without: Vec<&str> = musts
            .jobs
            .iter()
            .filter(|j| model.impossible.contains(j))
            .map(|j| settled.machine.jobs[j.0].name.as_str())
            .collect();
        if !without.is_empty() {
            return Err(wrong(format!(
                "these must be done but have no plan here: {}; see: refettle plan, which says why",
                without.join(", ")
            )));
        }
        let stands = model
            .lines
            .iter()
            .map(|line| match () {
                () if musts.jobs.contains(&line.job) => Stand::Must,
                () if left.contains(&line.job) => Stand::Left,
                () => Stand::Open,
            })
            .collect();
        let mut desk = Desk {
            doubts: settled.doubts.clone(),
            settled,
            values,
            model,
            stands,
            as_it_stands: Money(0),
            prices: Prices::default(),
            as_typed: as_typed.is_some(),
            rate_typed: rate.is_some(),
        };
        desk.set_price_as_it_stands(as_typed);
        Ok(desk)
    }

    /// What it fetches now is what it fetches clean less what all the jobs on offer add, but not less than for parts.
    fn set_price_as_it_stands(&mut self, typed: Option<Money>) {
        let all = vec![true; self.model.lines.len()];
        let clean = self.model.terms.clean_price;
        let rest = Money(clean.0 - self.model.value(&all).0);
        let parts = self.share("for-parts");
        if typed.is_none() && rest < parts {
            self.doubts.push(format!(
                "all the jobs on offer together add {} to a clean price of {}: name with --jobs those this bike needs, or say with --as-is what it fetches now",
                shown(self.model.value(&all)),
                shown(clean)
            ));
        }
        self.as_it_stands = typed.unwrap_or(rest.max(parts));
    }

    /// A fraction of the clean price.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        reason = "a fraction of an amount far below 2^52"
    )]
    pub(crate) fn share(&self, name: &str) -> Money {
        Money((self.values.other(name) * self.model.terms.clean_price.0 as f64).round() as i64)
    }

    fn ask(&self) -> Ask<'_> {
        self.settled.ask()
    }

    /// The best set with the musts as they are, the planner asked so many times at most.
    ///
    /// # Errors
    /// [`Refused::Wrong`] when the musts break a cap or contradict each other.
    pub fn answer(&mut self, plans: Option<usize>) -> Result<WorthView, Refused> {
        let mut prices = std::mem::take(&mut self.prices);
        let plans = plans.unwrap_or(USUAL_PLANS);
        let refined = refine(
            &self.ask(),
            &self.model,
            &self.values,
            &self.stands,
            &mut prices,
            plans,
        );
        let refined = match refined {
            Ok(refined) => refined,
            Err(none) => {
                self.prices = prices;
                return Err(no_selection(&none));
            }
        };
        // The chosen set without each of its jobs, so that what each adds is the planner's word too.
        let most = prices.plans.saturating_add(plans);
        for i in (0..refined.chosen.len()).filter(|i| refined.chosen[*i]) {
            if prices.plans >= most {
                break;
            }
            let mut without = refined.chosen.clone();
            without[i] = false;
            let jobs = self.model.jobs(&without);
            prices.of(&self.ask(), &jobs, &self.values);
        }
        self.prices = prices;
        Ok(self.view(&refined))
    }

    /// What a set comes to and what each job adds to it, from what is known already: no plan is made.
    #[must_use]
    pub fn toggled(&self, chosen: &[bool]) -> (SetView, Vec<JobLine>) {
        (self.set(chosen), self.lines(&self.stands, chosen))
    }

    /// The same with other stands than those typed, and what else could be done with the bike.
    #[must_use]
    pub fn toggled_with(&self, stands: &[Stand], chosen: &[bool]) -> (SetView, Vec<JobLine>, Vec<WayOut>) {
        (
            self.set(chosen),
            self.lines(stands, chosen),
            self.ways_out(stands),
        )
    }

    /// The best set by the model of shared work when these jobs must be done and those be left, at once.
    ///
    /// # Errors
    /// [`Refused::Wrong`] when the musts break a cap or contradict each other.
    pub fn chosen_at_once(&self, stands: &[Stand]) -> Result<Vec<bool>, Refused> {
        let found = best(&self.model.likely(stands), USUAL_CUTS).map_err(|none| no_selection(&none))?;
        let mut chosen = found.chosen;
        chosen.truncate(self.model.lines.len());
        Ok(chosen)
    }

    /// Names of the jobs that can be chosen, in the order of every set here.
    #[must_use]
    pub fn names(&self) -> Vec<&str> {
        self.model
            .lines
            .iter()
            .map(|line| self.settled.machine.jobs[line.job.0].name.as_str())
            .collect()
    }

    /// Stands as typed, in the same order.
    #[must_use]
    pub fn stands(&self) -> &[Stand] {
        &self.stands
    }

    /// Totals of a set: the planner's where it was planned, else the model's; and whether they are the planner's.
    fn totals(&self, chosen: &[bool]) -> (Totals, bool) {
        let jobs = self.model.jobs(chosen);
        match self.prices.known(&jobs) {
            Some(priced) => (
                self.model.planned_totals(chosen, priced.hands_on, priced.cash),
                true,
            ),
            None => (self.model.likely_totals(chosen), false),
        }
    }

    fn set(&self, chosen: &[bool]) -> SetView {
        let (totals, by_plan) = self.totals(chosen);
        let likely = self.model.likely_totals(chosen);
        let price = Money(self.as_it_stands.0 + totals.value.0);
        let caps = self.model.terms.caps;
        SetView {
            jobs: self
                .model
                .jobs(chosen)
                .iter()
                .map(|j| self.settled.machine.jobs[j.0].name.clone())
                .collect(),
            value_minor: totals.value.0,
            parts_minor: totals.cash.0,
            hands_on_s: totals.hands_on.0,
            gain_minor: totals.gain.money().0,
            minutes_from: from(by_plan),
            model_s: likely.hands_on.0,
            model_gain_minor: likely.gain.money().0,
            within_caps: caps.hands_on.is_none_or(|cap| totals.hands_on <= cap)
                && caps.cash.is_none_or(|cap| totals.cash <= cap),
            price_minor: price.0,
            left_over_minor: self
                .left_over(price, totals.cash, totals.hands_on, self.selling())
                .0,
        }
    }

    fn lines(&self, stands: &[Stand], chosen: &[bool]) -> Vec<JobLine> {
        (0..self.model.lines.len())
            .map(|i| {
                let (mut with, mut without) = (chosen.to_vec(), chosen.to_vec());
                with[i] = true;
                without[i] = false;
                // Both from the same side, or the difference is none.
                let planned = |set: &[bool]| {
                    Some(self.totals(set))
                        .filter(|(_, by_plan)| *by_plan)
                        .map(|(t, _)| t)
                };
                let (more, less, by_plan) = match (planned(&with), planned(&without)) {
                    (Some(more), Some(less)) => (more, less, true),
                    _ => (
                        self.model.likely_totals(&with),
                        self.model.likely_totals(&without),
                        false,
                    ),
                };
                let line = &self.model.lines[i];
                let job = &self.settled.machine.jobs[line.job.0];
                let marginal = more.hands_on.saturating_sub(less.hands_on);
                JobLine {
                    name: job.name.clone(),
                    title: job.title.clone(),
                    stand: match stands.get(i) {
                        Some(Stand::Must) => "must",
                        _ if chosen[i] => "chosen",
                        _ => "left",
                    },
                    value_minor: more.value.0 - less.value.0,
                    marginal_s: marginal.0,
                    parts_minor: more.cash.0 - less.cash.0,
                    gain_minor: Gain(more.gain.0 - less.gain.0).money().0,
                    minutes_from: from(by_plan),
                    alone_s: line.alone.hands_on.0,
                    why: why::job(self, i, marginal, by_plan),
                }
            })
            .collect()
    }

    fn view(&self, refined: &Refined) -> WorthView {
        let terms = self.model.terms;
        let names = |jobs: &[JobIx], because: &'static str| -> Vec<SetAside> {
            let name = |j: &JobIx| SetAside {
                name: self.settled.machine.jobs[j.0].name.clone(),
                because,
            };
            jobs.iter().map(name).collect()
        };
        WorthView {
            format: "refettle-worth/1",
            machine: self.settled.machine.name.clone(),
            clean_price_minor: terms.clean_price.0,
            rate_minor_per_hour: terms.rate.0,
            cap_s: terms.caps.hands_on.map(|s| s.0),
            cap_minor: terms.caps.cash.map(|m| m.0),
            jobs: self.lines(&self.stands, &refined.chosen),
            set: self.set(&refined.chosen),
            proven: refined.proven(),
            bound_minor: refined.bound.money().0,
            gap_minor: Gain(refined.bound.0 - refined.totals.gain.0).money().0,
            model_proven: refined.likely_proven,
            beside: self.ways_out(&self.stands),
            set_aside: [
                names(&self.model.done, "done"),
                names(&self.model.impossible, "no-plan"),
            ]
            .concat(),
            unpriced: self
                .model
                .unpriced
                .iter()
                .map(|i| self.settled.machine.items[i.0].name.clone())
                .collect(),
            doubts: self.doubts.clone(),
            why: why::all(self),
        }
    }

    fn ways_out(&self, stands: &[Stand]) -> Vec<WayOut> {
        let musts: Vec<bool> = stands.iter().map(|s| *s == Stand::Must).collect();
        let (stop, _) = self.totals(&musts);
        let apart = self.model.closing_up.hands_on > Seconds::ZERO;
        let lost = if apart {
            self.share_of("sold-apart", self.as_it_stands)
        } else {
            Money(0)
        };
        let way = |way, title: &str, price: Money, totals: (Money, Seconds), selling: Seconds| WayOut {
            way,
            title: title.to_owned(),
            price_minor: price.0,
            parts_minor: totals.0.0,
            hands_on_s: totals.1.0,
            selling_s: selling.0,
            left_over_minor: self.left_over(price, totals.0, totals.1, selling).0,
            why: why::way_out(self, way, apart),
        };
        let none = (Money(0), Seconds::ZERO);
        vec![
            way(
                "as-it-stands",
                "sell it as it stands, no work at all",
                Money(self.as_it_stands.0 - lost.0),
                none,
                self.selling(),
            ),
            way(
                "stop-here",
                "only what must be done, closed up",
                Money(self.as_it_stands.0 + stop.value.0),
                (stop.cash, stop.hands_on),
                self.selling(),
            ),
            way(
                "for-parts",
                "take it apart and sell the parts",
                self.share("for-parts"),
                none,
                self.span("for-parts-hours"),
            ),
        ]
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        reason = "a fraction of an amount far below 2^52"
    )]
    fn share_of(&self, name: &str, of: Money) -> Money {
        Money((self.values.other(name) * of.0 as f64).round() as i64)
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the table holds hours to 0 to 200"
    )]
    fn span(&self, name: &str) -> Seconds {
        Seconds((self.values.other(name) * 3600.0).round() as u32)
    }

    pub(crate) fn selling(&self) -> Seconds {
        self.span("selling-hours")
    }

    fn left_over(&self, price: Money, cash: Money, hands_on: Seconds, selling: Seconds) -> Money {
        let time = i64::from(hands_on.0) + i64::from(selling.0);
        Gain((price.0 - cash.0) * 3600 - self.model.terms.rate.0 * time).money()
    }
}

const fn from(by_plan: bool) -> &'static str {
    if by_plan { "plan" } else { "model" }
}

fn no_selection(none: &NoSelection) -> Refused {
    match none {
        NoSelection::OverCaps(totals) => wrong(format!(
            "the jobs that must be done take {} and {}, more than --hours or --cash allow; raise them or free a job",
            totals.hands_on,
            shown(totals.cash)
        )),
        other => wrong(other.to_string()),
    }
}

fn every_job(settled: &Settled) -> Vec<JobIx> {
    let machine = &settled.machine;
    (0..machine.jobs.len())
        .map(JobIx)
        .filter(|j| settled.state.holds(machine, machine.jobs[j.0].when.as_ref()))
        .collect()
}

fn jobs_of(settled: &Settled, names: &[String]) -> Vec<JobIx> {
    names
        .iter()
        .filter_map(|name| settled.machine.job(name))
        .collect()
}

/// Names in a table of one's own that this sheet and the shipped table do not know.
fn unknown(values: &Values, request: &WorthRequest, settled: &Settled) -> Vec<String> {
    let Some(document) = &request.values else {
        return Vec::new();
    };
    let shipped = Values::shipped();
    let mut own = Values::default();
    if own.read(&document.text).is_err() {
        return Vec::new();
    }
    let machine = &settled.machine;
    let jobs = |name: &str| name == "*" || machine.job(name).is_some() || shipped.added.contains_key(name);
    let items =
        |name: &str| machine.items.iter().any(|i| i.name == name) || shipped.prices.contains_key(name);
    let wrong = own.wrong.iter().flat_map(|table| table.keys());
    let mut lines = Vec::new();
    for name in own.added.keys().chain(wrong).filter(|name| !jobs(name)) {
        lines.push(no_such("job", name, document, values.added.keys()));
    }
    for name in own.prices.keys().filter(|name| !items(name)) {
        lines.push(no_such("item", name, document, values.prices.keys()));
    }
    lines.dedup();
    lines
}

fn no_such<'a>(
    what: &str,
    name: &str,
    document: &Document,
    names: impl Iterator<Item = &'a String> + Clone,
) -> String {
    let hint = nearest(name, names.map(String::as_str).filter(|n| *n != name)).map_or_else(
        || "see: refettle layouts".to_owned(),
        |n| format!("did you mean '{n}'?"),
    );
    format!("{}: there is no {what} '{name}'; {hint}", document.name)
}
