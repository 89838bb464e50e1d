//! What is loud, what may stay open overnight, and what is looked at before it is ordered.
//!
//! Keys that are none were reported where the tables were decoded first; here a few more are read.

use super::decode::Table;
use super::keys;
use super::names::{Kind, Names};
use super::report::Report;
use crate::ix::{CircuitIx, ItemIx, StepIx, ToolIx};
use crate::look::{Look, Settles};
use crate::tonight::TonightRules;

/// Places of the things of a kind that say `true` under a key.
fn said(names: &Names<'_>, kind: Kind, keys: keys::Keys, key: &str, report: &Report) -> Vec<usize> {
    each(names, kind, keys, report, |place, table| {
        table.flag(key, false).then_some(place)
    })
}

/// What is made of the tables of a kind, each with its place.
fn each<T>(
    names: &Names<'_>,
    kind: Kind,
    keys: keys::Keys,
    report: &Report,
    mut made: impl FnMut(usize, &Table<'_>) -> Option<T>,
) -> Vec<T> {
    let silent = Report::default();
    let mut all = Vec::new();
    for (name, mut table) in names.tables(kind, keys, &silent) {
        table.report = report;
        let place = names.of(kind).iter().position(|entry| entry.name == name);
        all.extend(place.and_then(|place| made(place, &table)));
    }
    all
}

pub(super) fn rules(names: &Names<'_>, report: &Report) -> TonightRules {
    let loud_steps = said(names, Kind::Step, keys::STEP, "loud", report);
    let loud_tools = said(names, Kind::Tool, keys::TOOL, "loud", report);
    let may_stay_open = said(names, Kind::Circuit, keys::CIRCUIT, "may-stay-open", report);
    TonightRules {
        loud_steps: loud_steps.into_iter().map(StepIx).collect(),
        loud_tools: loud_tools.into_iter().map(ToolIx).collect(),
        may_stay_open: may_stay_open.into_iter().map(CircuitIx).collect(),
    }
}

pub(super) fn looks(names: &Names<'_>, report: &Report) -> Vec<Look> {
    each(names, Kind::Item, keys::ITEM, report, |place, item| {
        let table = item.inner("look", "the look", keys::LOOK)?;
        let what = table.text("what");
        table.required("settles");
        let settles = table.word("settles", &Settles::ALL);
        let like = table.get("like").and_then(|value| {
            let name = table.as_text(value, "like")?;
            let place = names.resolve(Kind::Step, name.trim(), value.span(), report)?;
            Some(StepIx(place))
        });
        Some(Look {
            like,
            item: ItemIx(place),
            off: table.part_needs("off"),
            on: table.part_needs("on"),
            drained: table.circuit_list("drained"),
            needs: table.fact_list("needs"),
            time: table.minutes("minutes"),
            tools: table.tool_list("tools"),
            what: what?,
            settles: settles?,
        })
    })
}
