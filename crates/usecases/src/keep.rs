//! Which small parts to keep for the bikes that come.
//!
//! Own history first, then the mix expected: layouts, how often each job is done, the kit of each. Only parts of known
//! or guessed size are kept: what goes by the frame number is ordered for the bike in hand.

use crate::amount::{amount, shown};
use crate::keep_view::{KeepLine, KeepView};
use crate::layouts;
use crate::refused::Refused;
use crate::request::{Document, told};
use refettle_facts::money::Money;
use refettle_facts::nearest::nearest;
use refettle_facts::small_part::SmallPart;
use refettle_judgement::keep::demand::Demand;
use refettle_judgement::keep::mix::{MIX_WEIGHT, Mix, rate};
use refettle_judgement::keep::stock::{Bought, Keepable, Method, best};
use refettle_judgement::keep::there::everything;
use refettle_judgement::worth::values::Values;
use refettle_machine::garage::Garage;
use refettle_machine::ix::JobIx;
use refettle_machine::model::{ItemKind, ItemUnit, Machine};
use refettle_machine::state::BikeState;
use refettle_plan::ask::{Ask, Goal};
use refettle_plan::kit::kit;
use refettle_plan::solve::attempt;
use std::collections::{BTreeMap, BTreeSet};

/// What a person typed.
#[derive(Debug, Clone, Default)]
pub struct KeepRequest {
    /// Bikes expected in the period, `layout=number`.
    pub bikes: Vec<String>,
    /// Budget; 60 when `None`.
    pub budget: Option<String>,
    /// Units in the drawer, `part=number`.
    pub have: Vec<String>,
    /// Own history: `part`, `uses`, `bikes`, with tabs between.
    pub history: Option<Document>,
    /// What one held-up job costs.
    pub held_up: Option<String>,
    /// Figures of one's own.
    pub values: Option<Document>,
}

/// Budget when nobody says: 60. Judgement, no source.
const USUAL_BUDGET: Money = Money(6000);
/// Effort for the plan of one job.
const EFFORT: usize = 4_000;
/// Price of a part the table does not know. Judgement, no source.
const UNKNOWN_PRICE: Money = Money(100);

/// A part while it is gathered.
struct Part {
    id: String,
    small: SmallPart,
    item: String,
    have: u32,
    by_mix: Demand,
    used: Option<(f64, f64)>,
}

/// What a job of the mix wants: its expected number, and by part units and the chance it is this one.
struct Coming {
    jobs: f64,
    wants: Vec<(usize, u32, f64)>,
}

/// Answers which parts to keep.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong.
pub fn keep(request: &KeepRequest) -> Result<KeepView, Refused> {
    let mut mistakes = Vec::new();
    let mut take = |what: &str, typed: Option<&String>| match typed.map(|t| amount(t)) {
        Some(Ok(money)) => Some(money),
        Some(Err(mistake)) => {
            mistakes.push(format!("{what}: {mistake}"));
            None
        }
        None => None,
    };
    let budget = take("--budget", request.budget.as_ref()).unwrap_or(USUAL_BUDGET);
    let held_up = take("--held-up", request.held_up.as_ref());
    if budget.0 > 10_000_000 {
        mistakes.push(format!("--budget {}: at most 100 000", shown(budget)));
    }
    let mut values = Values::shipped();
    if let Some(document) = &request.values
        && let Err(lines) = values.read(&document.text)
    {
        mistakes.push(told(document, &lines.join("\n")));
    }
    let fleet = fleet(request, &mut mistakes);
    let mix = Mix::shipped();
    if !mistakes.is_empty() {
        return Err(Refused::Wrong(mistakes));
    }
    let (mut parts, coming, left_out) = gather(&fleet, &mix);
    have(request, &mut parts, &mut mistakes);
    history(request, &mut parts, &mut mistakes);
    if !mistakes.is_empty() {
        return Err(Refused::Wrong(mistakes));
    }
    #[allow(
        clippy::cast_possible_truncation,
        reason = "days and money a day of the shipped table"
    )]
    let held_up_minor = held_up.unwrap_or(Money(mix.held_up().round() as i64));
    let bikes: f64 = fleet.iter().map(|(_, n)| n).sum();
    let keepables: Vec<Keepable> = parts
        .iter()
        .map(|part| Keepable {
            demand: reckoned(part, bikes),
            have: part.have,
            price: price(part, &values),
            held_up: held_up_minor,
        })
        .collect();
    let bought = best(&keepables, budget);
    let why = why_all(&fleet, &mix, held_up, held_up_minor);
    Ok(view(
        &parts,
        &keepables,
        &coming,
        &bought,
        (budget, bikes),
        left_out,
        why,
        &values,
    ))
}

/// The part's demand: own history first.
fn reckoned(part: &Part, bikes: f64) -> Demand {
    let Some((uses, seen)) = part.used else {
        return part.by_mix.clone();
    };
    let by_mix = part.by_mix.jobs();
    let wanted = rate(by_mix / bikes, uses, seen) * bikes;
    if by_mix > 0.0 {
        part.by_mix.times(wanted / by_mix)
    } else {
        let mut demand = Demand::default();
        demand.add(1, wanted);
        demand
    }
}

fn price(part: &Part, values: &Values) -> Money {
    values
        .prices
        .get(&part.item)
        .map_or(UNKNOWN_PRICE, |p| Money(p.price().0.max(1)))
}

fn fleet(request: &KeepRequest, mistakes: &mut Vec<String>) -> Vec<(Machine, f64)> {
    let mut fleet = Vec::new();
    let mut seen = BTreeSet::new();
    if request.bikes.is_empty() {
        mistakes
            .push("say which bikes are expected: --bikes LAYOUT=NUMBER (see: refettle layouts)".to_owned());
    }
    for typed in &request.bikes {
        let Some((name, number)) = typed.split_once('=') else {
            mistakes.push(format!(
                "'{typed}' is no layout with a number; write layout=number"
            ));
            continue;
        };
        let number = match number.trim().parse::<f64>() {
            Ok(n) if n > 0.0 && n <= 200.0 => n,
            _ => {
                mistakes.push(format!(
                    "'{number}' bikes of '{name}': a number above 0 and up to 200"
                ));
                continue;
            }
        };
        if !seen.insert(name.trim().to_owned()) {
            mistakes.push(format!("'{name}' stands twice; write it once with the sum"));
            continue;
        }
        match layouts::layout(name.trim()) {
            Ok(machine) => fleet.push((machine, number)),
            Err(Refused::Wrong(lines)) => mistakes.extend(lines),
            Err(other) => mistakes.push(other.to_string()),
        }
    }
    fleet
}

/// The parts of every kit, the jobs that want them, and the jobs without a plan.
fn gather(fleet: &[(Machine, f64)], mix: &Mix) -> (Vec<Part>, Vec<Coming>, Vec<String>) {
    let mut places: BTreeMap<SmallPart, usize> = BTreeMap::new();
    let (mut parts, mut coming, mut left_out): (Vec<Part>, Vec<Coming>, Vec<String>) = Default::default();
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    for (machine, bikes) in fleet {
        let (state, garage) = (BikeState::whole(machine), Garage::usual(machine));
        for job in (0..machine.jobs.len()).map(JobIx) {
            let named = &machine.jobs[job.0];
            if !state.holds(machine, named.when.as_ref()) {
                continue;
            }
            let ask = Ask {
                machine,
                state: &state,
                garage: &garage,
                jobs: &[job],
                goal: Goal::Ready,
                effort: EFFORT,
            };
            let Ok(found) = attempt(&ask) else {
                left_out.push(format!("{}: {}", machine.name, named.name));
                continue;
            };
            let jobs = bikes * mix.chance(&named.name);
            let mut wants = Vec::new();
            for line in kit(&ask, &found).items {
                let item = &machine.items[line.item.0];
                if item.unit != ItemUnit::Piece {
                    continue;
                }
                let sizes: Vec<(SmallPart, f64)> = match &item.what {
                    ItemKind::Known(part) => vec![(part.value.clone(), 1.0)],
                    ItemKind::Candidates(candidates) => candidates.clone(),
                    _ => continue,
                };
                for (small, chance) in sizes {
                    let place = *places.entry(small.clone()).or_insert_with(|| {
                        let nth = names.entry(item.name.clone()).or_default();
                        *nth += 1;
                        parts.push(Part {
                            id: if *nth == 1 {
                                item.name.clone()
                            } else {
                                format!("{}/{nth}", item.name)
                            },
                            small,
                            item: item.name.clone(),
                            have: 0,
                            by_mix: Demand::default(),
                            used: None,
                        });
                        parts.len() - 1
                    });
                    parts[place].by_mix.add(line.n, jobs * chance);
                    wants.push((place, line.n, chance));
                }
            }
            coming.push(Coming { jobs, wants });
        }
    }
    (parts, coming, left_out)
}

fn find<'p>(parts: &'p mut [Part], id: &str, said: &str) -> Result<&'p mut Part, String> {
    match parts.iter().position(|p| p.id == id) {
        Some(place) => Ok(&mut parts[place]),
        None => {
            let hint = nearest(id, parts.iter().map(|p| p.id.as_str())).map_or_else(
                || "see the parts of: refettle keep --json".to_owned(),
                |n| format!("did you mean '{n}'?"),
            );
            Err(format!("{said}: none of these bikes wants a part '{id}'; {hint}"))
        }
    }
}

fn have(request: &KeepRequest, parts: &mut [Part], mistakes: &mut Vec<String>) {
    for typed in &request.have {
        let read = typed
            .split_once('=')
            .and_then(|(id, n)| Some((id.trim(), n.trim().parse::<u32>().ok().filter(|n| *n <= 10_000)?)));
        let Some((id, n)) = read else {
            mistakes.push(format!(
                "'{typed}' is no part with a number up to 10000; write part=number"
            ));
            continue;
        };
        match find(parts, id, "--have") {
            Ok(part) => part.have = n,
            Err(mistake) => mistakes.push(mistake),
        }
    }
}

fn history(request: &KeepRequest, parts: &mut [Part], mistakes: &mut Vec<String>) {
    let Some(document) = &request.history else { return };
    for (at, line) in document.text.lines().enumerate() {
        let cells: Vec<&str> = line.split('\t').map(str::trim).collect();
        if line.trim().is_empty() || cells.first() == Some(&"part") {
            continue;
        }
        let number = |text: &str| text.parse::<f64>().ok().filter(|n| (0.0..=1e6).contains(n));
        let read = match cells.as_slice() {
            [id, uses, bikes] => number(uses).zip(number(bikes)).map(|numbers| (*id, numbers)),
            _ => None,
        };
        let said = format!("{}, line {}", document.name, at + 1);
        match read {
            Some((id, numbers)) => match find(parts, id, &said) {
                Ok(part) => part.used = Some(numbers),
                Err(mistake) => mistakes.push(mistake),
            },
            None => mistakes.push(format!(
                "{said}: write part, uses and bikes with tabs between, numbers from 0"
            )),
        }
    }
}

fn why_all(fleet: &[(Machine, f64)], mix: &Mix, typed: Option<Money>, held_up: Money) -> Vec<String> {
    let bikes: Vec<String> = fleet.iter().map(|(m, n)| format!("{n} × {}", m.name)).collect();
    let weight = |w: &Option<refettle_judgement::keep::mix::Weight>, show: &dyn Fn(f64) -> String| {
        w.as_ref()
            .map_or_else(String::new, |w| format!("{} ({})", show(w.value), w.source))
    };
    #[allow(clippy::cast_possible_truncation, reason = "money a day of the shipped table")]
    let money = |n: f64| shown(Money(n.round() as i64));
    let held = if typed.is_some() {
        format!("a held-up job costs {}, as typed", shown(held_up))
    } else {
        format!(
            "a held-up job costs {}: {} days × {}",
            shown(held_up),
            weight(&mix.wait_days, &|n| n.to_string()),
            weight(&mix.day_minor, &money)
        )
    };
    vec![
        format!("bikes expected: {}", bikes.join(", ")),
        "how often each job is done is judgement, no source; the kit of each job is the planner's".to_owned(),
        format!("own history comes first: the mix counts like {MIX_WEIGHT} bikes of your own (judgement, no source)"),
        held,
        "jobs come independently (Poisson), each takes its units; a unit short holds up its share of one job, and two parts short in one job are counted both, so the money is an upper estimate".to_owned(),
        "the chance that a job finds everything there is a lower estimate: it is of the last job of the period, its parts taken as independent".to_owned(),
        "a unit that prevents less than it costs is not bought; what goes by the frame number, fluids and shop supplies are not looked at".to_owned(),
    ]
}

#[allow(
    clippy::too_many_arguments,
    reason = "the pieces of one answer, put together once"
)]
fn view(
    parts: &[Part],
    keepables: &[Keepable],
    coming: &[Coming],
    bought: &Bought,
    (budget, bikes): (Money, f64),
    left_out: Vec<String>,
    why: Vec<String>,
    values: &Values,
) -> KeepView {
    let there = |extra: &dyn Fn(usize) -> u32| {
        let all: f64 = coming.iter().map(|c| c.jobs).sum();
        let sum: f64 = coming
            .iter()
            .map(|c| {
                let wants = c.wants.iter().map(|(p, n, chance)| {
                    (&keepables[*p].demand, keepables[*p].have + extra(*p), *n, *chance)
                });
                c.jobs * everything(wants)
            })
            .sum();
        if all > 0.0 { sum / all } else { 1.0 }
    };
    let mut lines: Vec<(i64, KeepLine)> = parts
        .iter()
        .zip(keepables)
        .zip(&bought.units)
        .map(|((part, keepable), buy)| {
            let prevents = keepable.prevents();
            let enough = |stock: u32| keepable.demand.at_most(stock).last().copied().unwrap_or(0.0);
            let prevented: i64 = prevents.iter().take(*buy as usize).sum();
            let line = KeepLine {
                id: part.id.clone(),
                what: part.small.to_string(),
                have: part.have,
                buy: *buy,
                price_minor: keepable.price.0,
                jobs: keepable.demand.jobs(),
                units: keepable.demand.units(),
                enough_before: enough(part.have),
                enough_after: enough(part.have + buy),
                why: why_part(part, keepable, &prevents, bikes, values),
            };
            (prevented, line)
        })
        .collect();
    lines.sort_by(|(a, x), (b, y)| b.cmp(a).then_with(|| x.id.cmp(&y.id)));
    KeepView {
        format: "refettle-keep/1",
        budget_minor: budget.0,
        cost_minor: bought.cost.0,
        prevented_minor: (bought.prevented_milli + 500) / 1000,
        bound_minor: (bought.bound_milli + 500) / 1000,
        method: match bought.method {
            Method::Exact => "exact",
            Method::Bounded => "bounded",
        },
        there_before: there(&|_| 0),
        there_after: there(&|p| bought.units[p]),
        parts: lines.into_iter().map(|(_, line)| line).collect(),
        left_out,
        why,
    }
}

fn why_part(part: &Part, keepable: &Keepable, prevents: &[i64], bikes: f64, values: &Values) -> Vec<String> {
    let mut why = vec![match part.used {
        Some((uses, seen)) => format!(
            "wanted by {:.2} jobs: {uses} uses on {seen} bikes of your own, and {:.2} a bike by the mix",
            keepable.demand.jobs(),
            part.by_mix.jobs() / bikes
        ),
        None => format!("wanted by {:.2} jobs by the mix", keepable.demand.jobs()),
    }];
    let source = values
        .prices
        .get(&part.item)
        .map_or("not in the table, taken as a guess", |p| p.figure.source.as_str());
    why.push(format!("a unit costs {} ({source})", shown(keepable.price)));
    if let Some(first) = prevents.first() {
        why.push(format!(
            "the next unit prevents {} of held-up money on average",
            shown(Money((first + 500) / 1000))
        ));
    } else {
        why.push("the next unit prevents less held-up money than it costs".to_owned());
    }
    why
}
