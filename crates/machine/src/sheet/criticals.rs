//! Fixings whose looseness hurts people.

use super::decode::Table;
use super::facts::Ids;
use super::keys;
use super::names::{Kind, Names};
use super::report::Report;
use crate::ix::PartIx;
use crate::model::{Critical, Turn};
use refettle_facts::ids::FixingId;

pub(super) fn criticals<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Critical> {
    let mut ids = Ids::new(Kind::Critical, names);
    names
        .tables(Kind::Critical, keys::CRITICAL, report)
        .into_iter()
        .filter_map(|(name, table)| critical(name, &table, &mut ids))
        .collect()
}

fn critical(name: &str, table: &Table<'_>, ids: &mut Ids<'_>) -> Option<Critical> {
    let id = ids.of(name, table, FixingId::new);
    let title = table.text("title");
    let part = table.text("part").and_then(|part| {
        table
            .names
            .resolve(Kind::Part, &part, table.span_of("part"), table.report)
    });
    let fixing = table.fixing("fixing");
    let loosen = turn(table, "loosen");
    let tighten = turn(table, "tighten");
    let single_use = table.uses("single-use");
    let cautions = table.cautions();
    Some(Critical {
        id: id?,
        name: name.to_owned(),
        title: title?,
        part: PartIx(part?),
        fixing: fixing?,
        loosen: loosen?,
        tighten: tighten?,
        cautions,
        single_use,
    })
}

fn turn(table: &Table<'_>, key: &str) -> Option<Turn> {
    let inner = table.inner_required(key, &format!("'{key}'"), keys::TURN)?;
    Some(Turn {
        time: inner.minutes("minutes"),
        stances: inner.stance_list("stances"),
        on: inner.part_needs("on"),
        off: inner.part_needs("off"),
        tight: inner.critical_list("tight"),
        loose: inner.critical_list("loose"),
        people: inner.people(),
        tools: inner.tool_list("tools"),
    })
}
