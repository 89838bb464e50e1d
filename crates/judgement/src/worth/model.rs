//! The jobs of one bike as a selection, made of the plans for each job alone.
//!
//! Two selections with the same options are made of them. In the *likely* one every action of a job's own plan is shared
//! work: two jobs that both take the tank off take it off once. In the *hopeful* one only what no plan can do without is
//! ([`crate::worth::landmarks`]), at the least it can take: no set of jobs gains more under the planner than in it, so
//! its best gain bounds them all. What must be closed up on a bike that is apart is an option of its own that is always
//! taken.

use crate::worth::landmarks::{Ground, Wanted, Work};
use crate::worth::priced::{ItemCost, Priced, kit_costs, sum};
use crate::worth::selection::{Caps, Choice, GAIN_UNITS, Gain, Selection, Shared, Stand, Totals};
use crate::worth::values::{Values, money};
use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use refettle_machine::ix::{ItemIx, JobIx};
use refettle_plan::ask::{Ask, Found};
use refettle_plan::compile::compile;
use refettle_plan::no_plan::NoPlan;
use refettle_plan::solve::attempt;
use std::collections::{BTreeMap, BTreeSet};

/// What a person counts with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Terms {
    /// What the bike fetches with everything done, minor units.
    pub clean_price: Money,
    /// What an hour of one's own is worth, minor units.
    pub rate: Money,
    /// Limits.
    pub caps: Caps,
}

/// One job of the model.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Which.
    pub job: JobIx,
    /// What it adds alone.
    pub value: Money,
    /// The planner's price of it alone, closing up included.
    pub alone: Priced,
    /// The kit of that plan, with prices.
    pub kit: Vec<ItemCost>,
    /// Time expected beyond the plan, for what may go wrong.
    pub extra: Seconds,
    /// Money expected beyond the kit, for what may go wrong.
    pub extra_cash: Money,
    /// Jobs of one group add once.
    pub group: Option<String>,
}

/// The jobs of one bike.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// The jobs that can be chosen, in the order of the sheet.
    pub lines: Vec<Line>,
    /// What closing up alone takes.
    pub closing_up: Priced,
    /// What a person counts with.
    pub terms: Terms,
    /// Jobs without a plan here.
    pub impossible: Vec<JobIx>,
    /// Jobs whose wants are true already.
    pub done: Vec<JobIx>,
    /// Items the table has no price for.
    pub unpriced: BTreeSet<ItemIx>,
    likely: Selection,
    hopeful: Selection,
}

/// Effort for the plan of one job alone: most are proven within it.
const EFFORT: usize = 4_000;

/// One job's own plan.
struct Own {
    job: Option<JobIx>,
    found: Found,
    kit: Vec<ItemCost>,
}

impl Model {
    /// Makes the model of the jobs offered; those already done or without a plan are set apart.
    ///
    /// # Errors
    /// [`NoPlan`] when even closing up has none.
    pub fn new(ask: &Ask<'_>, offered: &[JobIx], values: &Values, terms: Terms) -> Result<Model, NoPlan> {
        let machine = ask.machine;
        let plan = |jobs: &[JobIx]| {
            attempt(&Ask {
                jobs,
                effort: ask.effort.min(EFFORT),
                ..*ask
            })
        };
        let mut unpriced = BTreeSet::new();
        let mut cost = |jobs: &[JobIx], found: &Found| {
            let kit = kit_costs(&Ask { jobs, ..*ask }, found, values);
            unpriced.extend(kit.iter().filter(|c| c.cost.is_none()).map(|c| c.item));
            kit
        };
        let closing = plan(&[])?;
        let closing_kit = cost(&[], &closing);
        let (mut impossible, mut done, mut owns) = (Vec::new(), Vec::new(), Vec::new());
        let offered: BTreeSet<JobIx> = offered.iter().copied().collect();
        for job in offered {
            let Some(wants) = machine.jobs.get(job.0).map(|j| &j.wants) else {
                continue;
            };
            if !wants.is_empty() && wants.iter().all(|f| ask.state.is_true(machine, *f)) {
                done.push(job);
                continue;
            }
            match plan(&[job]) {
                Ok(found) => {
                    let kit = cost(&[job], &found);
                    owns.push(Own {
                        job: Some(job),
                        found,
                        kit,
                    });
                }
                Err(_) => impossible.push(job),
            }
        }
        let lines = owns
            .iter()
            .filter_map(|own| line(ask, own, values, terms))
            .collect();
        let priced = Priced {
            hands_on: closing.hands_on,
            at_least: closing.lower_bound,
            cash: sum(&closing_kit),
        };
        owns.push(Own {
            job: None,
            found: closing,
            kit: closing_kit,
        });
        let mut model = Model {
            lines,
            closing_up: priced,
            terms,
            impossible,
            done,
            unpriced,
            likely: Selection::default(),
            hopeful: Selection::default(),
        };
        model.likely = model.selection_of(&likely(ask, &owns, values), ask);
        model.hopeful = model.selection_of(&hopeful(ask, &owns, values), ask);
        Ok(model)
    }

    /// Options with the work each needs; the last is closing up.
    fn selection_of(&self, parts: &Pieces, ask: &Ask<'_>) -> Selection {
        let mut selection = Selection {
            shared: parts.shared.clone(),
            rate: self.terms.rate,
            caps: self.terms.caps,
            ..Selection::default()
        };
        for (line, needs) in self.lines.iter().zip(&parts.needs) {
            selection.options.push(Choice {
                value: line.value,
                parts: line.extra_cash,
                hands_on: line.extra,
                needs: needs.clone(),
                ..Choice::default()
            });
        }
        selection.options.push(Choice {
            needs: parts.needs.last().cloned().unwrap_or_default(),
            stand: Stand::Must,
            ..Choice::default()
        });
        let jobs = &ask.machine.jobs;
        for (i, a) in self.lines.iter().enumerate() {
            for (k, b) in self.lines.iter().enumerate().skip(i + 1) {
                let (a, b) = (&jobs[a.job.0], &jobs[b.job.0]);
                if a.excludes.contains(&b.name) || b.excludes.contains(&a.name) {
                    selection.not_together.push((i, k));
                }
            }
        }
        selection
    }

    /// The likely selection for these stands, one for each line.
    #[must_use]
    pub fn likely(&self, stands: &[Stand]) -> Selection {
        self.with_stands(&self.likely, stands)
    }

    /// The hopeful selection for these stands.
    #[must_use]
    pub fn hopeful(&self, stands: &[Stand]) -> Selection {
        self.with_stands(&self.hopeful, stands)
    }

    /// Of a group, the musts bring their greatest value once, and another what it adds to that; two more never pay.
    fn with_stands(&self, base: &Selection, stands: &[Stand]) -> Selection {
        let mut selection = base.clone();
        for (choice, stand) in selection.options.iter_mut().zip(stands).take(self.lines.len()) {
            choice.stand = *stand;
        }
        let stand = |i: usize| stands.get(i).copied().unwrap_or_default();
        for members in self.groups().values() {
            let first = members
                .iter()
                .copied()
                .filter(|i| stand(*i) == Stand::Must)
                .max_by_key(|i| (self.lines[*i].value, std::cmp::Reverse(*i)));
            let had = first.map_or(Money(0), |i| self.lines[i].value);
            for i in members.iter().copied().filter(|i| Some(*i) != first) {
                let adds = (self.lines[i].value.0 - had.0).max(0);
                selection.options[i].value = Money(if first.is_none() {
                    self.lines[i].value.0
                } else if stand(i) == Stand::Must {
                    0
                } else {
                    adds
                });
            }
            let open: Vec<usize> = members
                .iter()
                .copied()
                .filter(|i| stand(*i) == Stand::Open)
                .collect();
            for (at, i) in open.iter().enumerate() {
                selection
                    .not_together
                    .extend(open[at + 1..].iter().map(|k| (*i, *k)));
            }
        }
        selection
    }

    fn groups(&self) -> BTreeMap<&str, Vec<usize>> {
        let mut groups: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (i, line) in self.lines.iter().enumerate() {
            if let Some(group) = &line.group {
                groups.entry(group).or_default().push(i);
            }
        }
        groups
    }

    /// What a set of jobs adds: of a group once, the most.
    #[must_use]
    pub fn value(&self, chosen: &[bool]) -> Money {
        let taken = |i: &usize| chosen.get(*i).copied().unwrap_or(false);
        let alone: i64 = (0..self.lines.len())
            .filter(|i| self.lines[*i].group.is_none())
            .filter(taken)
            .map(|i| self.lines[i].value.0)
            .sum();
        let once: i64 = self
            .groups()
            .values()
            .filter_map(|members| {
                members
                    .iter()
                    .filter(|i| taken(i))
                    .map(|i| self.lines[*i].value.0)
                    .max()
            })
            .sum();
        Money(alone + once)
    }

    /// What a set of jobs comes to in the likely selection, closing up included.
    #[must_use]
    pub fn likely_totals(&self, chosen: &[bool]) -> Totals {
        self.with_value(self.likely.totals(&self.closed(chosen)), chosen)
    }

    /// The most a set of jobs can come to.
    #[must_use]
    pub fn hopeful_totals(&self, chosen: &[bool]) -> Totals {
        self.with_value(self.hopeful.totals(&self.closed(chosen)), chosen)
    }

    /// What a set of jobs comes to when its plan takes this long and its kit costs this much.
    #[must_use]
    pub fn planned_totals(&self, chosen: &[bool], hands_on: Seconds, cash: Money) -> Totals {
        let taken = || self.lines.iter().zip(chosen).filter(|(_, t)| **t).map(|(l, _)| l);
        let hands_on = hands_on + taken().map(|l| l.extra).sum();
        let cash = Money(cash.0 + taken().map(|l| l.extra_cash.0).sum::<i64>());
        let totals = Totals {
            value: Money(0),
            cash,
            hands_on,
            gain: Gain(-cash.0 * GAIN_UNITS - self.terms.rate.0 * i64::from(hands_on.0)),
        };
        self.with_value(totals, chosen)
    }

    fn with_value(&self, totals: Totals, chosen: &[bool]) -> Totals {
        let value = self.value(chosen);
        Totals {
            value,
            gain: Gain(totals.gain.0 + (value.0 - totals.value.0) * GAIN_UNITS),
            ..totals
        }
    }

    fn closed(&self, chosen: &[bool]) -> Vec<bool> {
        let mut closed: Vec<bool> = (0..self.lines.len())
            .map(|i| chosen.get(i).copied().unwrap_or(false))
            .collect();
        closed.push(true);
        closed
    }

    /// The jobs of a set.
    #[must_use]
    pub fn jobs(&self, chosen: &[bool]) -> Vec<JobIx> {
        self.lines
            .iter()
            .zip(chosen)
            .filter(|(_, taken)| **taken)
            .map(|(line, _)| line.job)
            .collect()
    }

    /// Pairs of jobs that make no sense together, by the sheet.
    #[must_use]
    pub fn not_together(&self) -> &[(usize, usize)] {
        &self.likely.not_together
    }
}

fn line(ask: &Ask<'_>, own: &Own, values: &Values, terms: Terms) -> Option<Line> {
    let job = own.job?;
    let name = &ask.machine.jobs.get(job.0)?.name;
    let added = values.added.get(name);
    let fraction = added.map_or(0.0, |a| a.figure.middle());
    #[allow(
        clippy::cast_precision_loss,
        reason = "prices of bikes are far below 2^52 minor units"
    )]
    let value = money(fraction * terms.clean_price.0 as f64);
    let risk = values.risk(name);
    let expected = |more: f64| risk.map_or(0.0, |r| r.chance.middle() * more);
    let minutes = expected(risk.map_or(0.0, |r| r.minutes.middle()));
    let seconds = money(minutes * 60.0).0;
    Some(Line {
        job,
        value,
        alone: Priced {
            hands_on: own.found.hands_on,
            at_least: own.found.lower_bound,
            cash: sum(&own.kit),
        },
        kit: own.kit.clone(),
        extra: Seconds(u32::try_from(seconds).unwrap_or(0)),
        extra_cash: money(expected(risk.map_or(0.0, |r| r.money.middle()))),
        group: added.and_then(|a| a.group.clone()),
    })
}

/// Shared work, and by plan what of it is needed.
struct Pieces {
    shared: Vec<Shared>,
    needs: Vec<Vec<usize>>,
}

/// What one action uses up, in minor units.
fn used_up(ask: &Ask<'_>, own: &Own, at: usize, values: &Values) -> Money {
    let alone = Found {
        actions: own.found.actions.get(at).copied().into_iter().collect(),
        starts: Vec::new(),
        ..own.found.clone()
    };
    sum(&kit_costs(ask, &alone, values))
}

fn likely(ask: &Ask<'_>, owns: &[Own], values: &Values) -> Pieces {
    let mut places: BTreeMap<(Work, u32), usize> = BTreeMap::new();
    let mut pieces = Pieces {
        shared: Vec::new(),
        needs: Vec::new(),
    };
    for own in owns {
        let mut times: BTreeMap<Work, u32> = BTreeMap::new();
        let mut needs = Vec::new();
        for (at, action) in own.found.actions.iter().enumerate() {
            let Some(work) = Work::of(action.act) else {
                continue;
            };
            let time = times.entry(work).or_default();
            *time += 1;
            let place = *places.entry((work, *time)).or_insert_with(|| {
                pieces.shared.push(Shared {
                    hands_on: Seconds(0),
                    cash: used_up(ask, own, at, values),
                });
                pieces.shared.len() - 1
            });
            // The dearer of two times for the same work: a second person called, a colder engine.
            pieces.shared[place].hands_on = pieces.shared[place].hands_on.max(action.time);
            needs.push(place);
        }
        pieces.needs.push(needs);
    }
    pieces
}

fn hopeful(ask: &Ask<'_>, owns: &[Own], values: &Values) -> Pieces {
    let jobs: Vec<JobIx> = owns.iter().filter_map(|own| own.job).collect();
    let nothing = || Pieces {
        shared: Vec::new(),
        needs: vec![Vec::new(); owns.len()],
    };
    let Ok(task) = compile(&Ask { jobs: &jobs, ..*ask }) else {
        return nothing();
    };
    let ground = Ground::new(&task);
    let mut places: BTreeMap<Work, usize> = BTreeMap::new();
    let mut pieces = nothing();
    for (at, own) in owns.iter().enumerate() {
        let single: Vec<JobIx> = own.job.into_iter().collect();
        let Ok(alone) = compile(&Ask {
            jobs: &single,
            ..*ask
        }) else {
            continue;
        };
        // Every plan holds every landmark, so this one does.
        let candidates: BTreeSet<Work> = own.found.actions.iter().filter_map(|a| Work::of(a.act)).collect();
        for (work, least) in ground.landmarks(&Wanted::of(&alone), &candidates) {
            let place = *places.entry(work).or_insert_with(|| {
                let action = own
                    .found
                    .actions
                    .iter()
                    .position(|a| Work::of(a.act) == Some(work));
                // Rounded up for the kit as a whole, so rounded down here, a unit for each item.
                let cash = action.map_or(0, |a| used_up(ask, own, a, values).0 - 1 - uses(ask, own, a));
                pieces.shared.push(Shared {
                    hands_on: least,
                    cash: Money(cash.max(0)),
                });
                pieces.shared.len() - 1
            });
            pieces.needs[at].push(place);
        }
    }
    pieces
}

/// How many lines of the kit one action makes.
fn uses(ask: &Ask<'_>, own: &Own, at: usize) -> i64 {
    let alone = Found {
        actions: own.found.actions.get(at).copied().into_iter().collect(),
        starts: Vec::new(),
        ..own.found.clone()
    };
    i64::try_from(refettle_plan::kit::kit(ask, &alone).items.len()).unwrap_or(i64::MAX)
}
