//! Pieces of work.

use super::decode::Table;
use super::facts::Ids;
use super::keys;
use super::names::{Kind, Names};
use super::quantities::is_unit;
use super::report::Report;
use crate::model::{Beside, EngineMust, Hazard, Heat, HeatNeed, Measure, Step};
use refettle_facts::ids::StepId;

/// Heat needs, by the word of the sheet.
pub(super) const HEAT_NEEDS: [(&str, HeatNeed); 4] = [
    ("cold", HeatNeed::Cold),
    ("cool", HeatNeed::Cool),
    ("warm", HeatNeed::Warm),
    ("hot", HeatNeed::Hot),
];

/// Heat levels, by the word of the sheet.
pub(crate) const HEATS: [(&str, Heat); 4] = [
    ("cold", Heat::Cold),
    ("cool", Heat::Cool),
    ("warm", Heat::Warm),
    ("hot", Heat::Hot),
];

const ENGINES: [(&str, EngineMust); 3] = [
    ("any", EngineMust::Any),
    ("runs", EngineMust::Run),
    ("dead", EngineMust::BeDead),
];

const PLACES: [(&str, bool); 2] = [("bike", false), ("bench", true)];

pub(super) fn steps<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Step> {
    let mut ids = Ids::new(Kind::Step, names);
    names
        .tables(Kind::Step, keys::STEP, report)
        .into_iter()
        .filter_map(|(name, table)| step(name, &table, &mut ids))
        .collect()
}

fn step(name: &str, table: &Table<'_>, ids: &mut Ids<'_>) -> Option<Step> {
    let id = ids.of(name, table, StepId::new);
    let title = table.text("title");
    let step = Step {
        id: id?,
        name: name.to_owned(),
        title: title.unwrap_or_default(),
        note: table.text_if_any("note"),
        when: table.condition(),
        engine_must: table.word("engine", &ENGINES).unwrap_or_default(),
        off: table.part_needs("off"),
        on: table.part_needs("on"),
        tight: table.critical_list("tight"),
        loose: table.critical_list("loose"),
        stances: table.stance_list("stances"),
        bench: table.word("place", &PLACES).unwrap_or_default(),
        heat: table.word("heat", &HEAT_NEEDS).unwrap_or_default(),
        cold_extra: table.minutes_if_any("cold-extra"),
        runs_engine: table.flag("runs-engine", false),
        leaves: table.word("leaves", &HEATS),
        full: table.circuit_list("full"),
        drained: table.circuit_list("drained"),
        drains: table.circuit_list("drains"),
        fills: table.circuit_list("fills"),
        needs: table.fact_list("needs"),
        makes: table.fact_list("makes"),
        voids: table.fact_list("voids"),
        hands_on: table.minutes("minutes"),
        wait: table.minutes_if_any("wait").unwrap_or_default(),
        meanwhile_not: meanwhile_not(table),
        does: table.hazards("does"),
        people: table.people(),
        tools: table.tool_list("tools"),
        consumes: table.uses("consumes"),
        measures: measures(table),
        cautions: table.cautions(),
    };
    if step.cold_extra.is_some() && !matches!(step.heat, HeatNeed::Warm | HeatNeed::Hot) {
        table.wrong(
            "cold-extra",
            "'cold-extra' without a warm engine wanted",
            "heat = \"warm\" or \"hot\" beside it",
        );
    }
    if !step.meanwhile_not.is_empty() && !table.has("wait") {
        table.wrong(
            "meanwhile-not",
            "'meanwhile-not' without a wait",
            "'wait' beside it",
        );
    }
    if step.tight.iter().any(|c| step.loose.contains(c)) {
        table.wrong(
            "loose",
            "a fixing under both 'tight' and 'loose'",
            "one or the other",
        );
    }
    if step.leaves.is_some() && !step.runs_engine {
        table.wrong(
            "leaves",
            "'leaves' on a step that does not run the engine",
            "runs-engine = true beside it",
        );
    }
    if step.does.contains(&Hazard::Engine) && !step.runs_engine {
        table.wrong(
            "does",
            "'engine' under 'does'",
            "runs-engine = true instead: then the guard applies",
        );
    }
    Some(step)
}

fn meanwhile_not(table: &Table<'_>) -> Vec<Beside> {
    let words: Vec<(&str, Beside)> = Hazard::ALL
        .iter()
        .map(|(word, hazard)| (*word, Beside::Hazard(*hazard)))
        .chain([("moving", Beside::Moving)])
        .collect();
    table.words("meanwhile-not", &words)
}

fn measures(table: &Table<'_>) -> Vec<Measure> {
    table
        .tables("measures", "a measure", keys::MEASURE)
        .iter()
        .filter_map(measure)
        .collect()
}

fn measure(table: &Table<'_>) -> Option<Measure> {
    let what = table.text("what");
    let unit = table.text("unit");
    if let Some(unit) = &unit
        && !is_unit(unit)
    {
        table.wrong(
            "unit",
            &format!("'{unit}' is no known unit"),
            "a unit such as mm, V, kPa, Ω, A or °C",
        );
    }
    let least = table.number_if_any("least");
    let most = table.number_if_any("most");
    if let (Some(least), Some(most)) = (least, most)
        && least > most
    {
        table.wrong(
            "most",
            &format!("'most' is {most}, below 'least' {least}"),
            "limits that leave room",
        );
    }
    let source = table.source();
    Some(Measure {
        what: what?,
        unit: unit?,
        least,
        most,
        source: source?.with(()),
    })
}
