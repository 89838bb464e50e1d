//! Heat, when the engine may run, second looks, and what must never happen beside what.

use super::decode::Table;
use super::keys;
use super::names::{Kind, Names};
use super::report::Report;
use crate::ix::FactIx;
use crate::model::{EngineGuard, Exclusion, FuelWay, HeatTimes};
use refettle_facts::time::Seconds;
use std::collections::BTreeSet;

/// Defaults: common practice, no source. A small engine idled warm can be touched after about three quarters of
/// an hour, and is cold throughout some hours later.
const HEAT_TIMES: HeatTimes = HeatTimes {
    hot_minutes: 10,
    warm_minutes: 30,
    hot_to_warm: Seconds::from_minutes(10),
    warm_to_cool: Seconds::from_minutes(45),
    cool_to_cold: Seconds::from_minutes(180),
};

pub(super) fn heat(top: &Table<'_>) -> HeatTimes {
    let Some(table) = top.inner("heat", "[heat]", keys::HEAT) else {
        return HEAT_TIMES;
    };
    HeatTimes {
        hot_minutes: table
            .whole("hot-minutes", 0, 10_000)
            .unwrap_or(HEAT_TIMES.hot_minutes),
        warm_minutes: table
            .whole("warm-minutes", 0, 10_000)
            .unwrap_or(HEAT_TIMES.warm_minutes),
        hot_to_warm: table
            .minutes_if_any("hot-to-warm")
            .unwrap_or(HEAT_TIMES.hot_to_warm),
        warm_to_cool: table
            .minutes_if_any("warm-to-cool")
            .unwrap_or(HEAT_TIMES.warm_to_cool),
        cool_to_cold: table
            .minutes_if_any("cool-to-cold")
            .unwrap_or(HEAT_TIMES.cool_to_cold),
    }
}

pub(super) fn rechecks(top: &Table<'_>) -> Vec<FactIx> {
    match top.inner("rechecks", "[rechecks]", keys::RECHECKS) {
        None => Vec::new(),
        Some(table) => {
            table.required("facts");
            table.fact_list("facts")
        }
    }
}

pub(super) fn guard(top: &Table<'_>) -> EngineGuard {
    let Some(table) = top.inner("engine", "[engine]", keys::ENGINE) else {
        return EngineGuard::default();
    };
    table.required("fuel");
    let mut seen = BTreeSet::new();
    let fuel: Vec<FuelWay> = table
        .tables("fuel", "a way to feed it", keys::FUEL)
        .iter()
        .filter_map(|each| {
            let name = each.name("name");
            let on = each.part_needs("on");
            let extra = each.minutes_if_any("minutes").unwrap_or_default();
            let tools = each.tool_list("tools");
            let name = name?;
            if !seen.insert(name.clone()) {
                each.twice(each.span_of("name"), &name);
            }
            Some(FuelWay {
                name,
                on,
                extra,
                tools,
            })
        })
        .collect();
    EngineGuard {
        on: table.part_needs("on"),
        tight: table.critical_list("tight"),
        full: table.circuit_list("full"),
        needs: table.fact_list("needs"),
        fuel,
        stances: table.stance_list("stances"),
        cautions: table.cautions(),
    }
}

pub(super) fn exclusions<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Exclusion> {
    let mut exclusions = Vec::new();
    for (name, table) in names.tables(Kind::Exclusion, keys::EXCLUSION, report) {
        let title = table.text("title");
        table.required("forbids");
        let exclusion = Exclusion {
            name: name.to_owned(),
            title: title.unwrap_or_default(),
            forbids: table.hazards("forbids"),
            while_off: table.part_list("while-off"),
            while_open: table.circuit_list("while-open"),
            while_true: table.fact_list("while-true"),
            unless: table.fact_list("unless"),
        };
        if table.has("forbids") && table.list("forbids").is_empty() {
            table.wrong("forbids", "'forbids' is empty", "one hazard or more");
        }
        if !["while-off", "while-open", "while-true"]
            .iter()
            .any(|key| table.has(key))
        {
            report.absent(
                table.span.clone(),
                format!("{} does not say when it holds", table.what),
                "one or more of 'while-off', 'while-open', 'while-true'",
            );
        }
        exclusions.push(exclusion);
    }
    exclusions
}
