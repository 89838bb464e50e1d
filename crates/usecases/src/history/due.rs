//! What is due next, from what was done when. The intervals are common practice, no source; the maker's schedule wins.

use super::DayOfWork;
use refettle_machine::model::Machine;
use serde::Serialize;

/// Something due.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Due {
    /// What.
    pub what: String,
    /// When, in words.
    pub when: String,
    /// From what that is reckoned.
    pub since: String,
}

/// A rule: the fact that renewing makes, what it is called, years until it is due, and distance in words.
struct Rule {
    fact: &'static str,
    what: &'static str,
    years: i16,
    distance: &'static str,
}

/// Common practice, no source.
const RULES: [Rule; 8] = [
    Rule {
        fact: "oil.fresh",
        what: "engine oil and filter",
        years: 1,
        distance: "or 5,000 km",
    },
    Rule {
        fact: "front-brake.fluid-fresh",
        what: "front brake fluid",
        years: 2,
        distance: "",
    },
    Rule {
        fact: "rear-brake.fluid-fresh",
        what: "rear brake fluid",
        years: 2,
        distance: "",
    },
    Rule {
        fact: "coolant.fresh",
        what: "coolant",
        years: 2,
        distance: "",
    },
    Rule {
        fact: "fork-oil.fresh",
        what: "fork oil",
        years: 4,
        distance: "or 20,000 km",
    },
    Rule {
        fact: "plugs.new",
        what: "spark plugs",
        years: 4,
        distance: "or 10,000 km",
    },
    Rule {
        fact: "air-filter.good",
        what: "air filter",
        years: 2,
        distance: "or 10,000 km",
    },
    Rule {
        fact: "valves.set",
        what: "valve clearances",
        years: 4,
        distance: "or 12,000 km",
    },
];

/// What is due next on this machine, by the work recorded. What nobody renewed on record is due now: its age is not known.
#[must_use]
pub fn due(machine: &Machine, work: &[DayOfWork]) -> Vec<Due> {
    let made = |fact: &str| {
        let ix = machine.facts.iter().position(|f| f.name == fact)?;
        let makes = |id: &String| {
            let step = machine.step(id).and_then(|s| machine.steps.get(s.0));
            step.is_some_and(|s| s.makes.iter().any(|f| f.0 == ix))
        };
        Some(
            work.iter()
                .rev()
                .find(|d| d.steps.iter().any(makes))
                .map(|d| d.on.clone()),
        )
    };
    RULES
        .iter()
        .filter_map(|rule| {
            let done = made(rule.fact)?;
            Some(match done {
                Some(on) => Due {
                    what: rule.what.to_owned(),
                    when: format!("{} {}", after(&on, rule.years), rule.distance)
                        .trim()
                        .to_owned(),
                    since: format!("renewed or set on {on}"),
                },
                None => Due {
                    what: rule.what.to_owned(),
                    when: "now, if its age is not known from elsewhere".to_owned(),
                    since: "not renewed here on record".to_owned(),
                },
            })
        })
        .collect()
}

fn after(on: &str, years: i16) -> String {
    on.parse::<jiff::civil::Date>()
        .ok()
        .and_then(|date| date.checked_add(jiff::Span::new().years(years)).ok())
        .map_or_else(
            || format!("{years} years after {on}"),
            |date| format!("by {date}"),
        )
}
