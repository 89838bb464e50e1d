//! What can come off, and the ways in.

use super::decode::Table;
use super::facts::Ids;
use super::keys;
use super::names::{Kind, Names};
use super::report::Report;
use super::steps::HEAT_NEEDS;
use crate::ix::PartIx;
use crate::model::{Part, REGIONS, Seizing, Way};
use refettle_facts::ids::PartId;
use refettle_facts::time::Seconds;

pub(super) fn parts<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Part> {
    let mut ids = Ids::new(Kind::Part, names);
    names
        .tables(Kind::Part, keys::PART, report)
        .into_iter()
        .filter_map(|(name, table)| part(name, &table, &mut ids))
        .collect()
}

fn part(name: &str, table: &Table<'_>, ids: &mut Ids<'_>) -> Option<Part> {
    let id = ids.of(name, table, PartId::new);
    let title = table.text("title");
    let regions = REGIONS.map(|r| (r, r));
    let region = table
        .required("region")
        .and_then(|v| table.as_word(v, "region", &regions));
    let mounted_on = table.text_if_any("mounted-on").and_then(|carrier| {
        table
            .names
            .resolve(Kind::Part, &carrier, table.span_of("mounted-on"), table.report)
    });
    let when = table.condition();
    let not_off_in = table.stance_list("not-off-in");
    let opens = table.circuit_list("opens");
    let voids = table.fact_list("voids");
    let rolling = table.flag("rolling", false);
    let fixings = table.fixings("fixings");
    let single_use = table.uses("single-use");
    let settings = table.notes("settings");
    let cautions = table.cautions();
    let note = table.text_if_any("note");
    let seizing = table
        .inner("seizing", "the allowance", keys::SEIZING)
        .map(|inner| Seizing {
            chance: inner.chance("chance"),
            chance_corroded: inner.chance("corroded"),
            extra: inner.minutes("minutes"),
        });
    table.required("way");
    let ways: Vec<Way> = table
        .tables("way", "a way in", keys::WAY)
        .iter()
        .map(way)
        .collect();
    if table.has("way") && ways.is_empty() {
        table.report.absent(
            table.span_of("way"),
            format!("{} has no usable way in", table.what),
            "one way in or more, written [[part.NAME.way]]",
        );
    }
    Some(Part {
        id: id?,
        name: name.to_owned(),
        title: title?,
        region: region.unwrap_or_default().to_owned(),
        mounted_on: mounted_on.map(PartIx),
        when,
        not_off_in,
        opens,
        voids,
        rolling,
        fixings,
        single_use,
        settings,
        cautions,
        note,
        seizing,
        ways,
    })
}

fn way(table: &Table<'_>) -> Way {
    let (take_off, put_on) = off_and_on(table);
    Way {
        title: table.text_if_any("title"),
        when: table.condition(),
        off: table.part_needs("off"),
        stances: table.stance_list("stances"),
        heat: table.word("heat", &HEAT_NEEDS).unwrap_or_default(),
        drained: table.circuit_list("drained"),
        needs: table.fact_list("needs"),
        take_off,
        put_on,
        people: table.people(),
        tools: table.tool_list("tools"),
    }
}

/// `minutes = [off, on]`.
fn off_and_on(table: &Table<'_>) -> (Seconds, Seconds) {
    if table.required("minutes").is_none() {
        return Default::default();
    }
    match table.list("minutes") {
        [off, on] => (
            table.as_minutes(off, "minutes").unwrap_or_default(),
            table.as_minutes(on, "minutes").unwrap_or_default(),
        ),
        other => {
            if table.get("minutes").is_some_and(|v| v.get_ref().is_array()) {
                let message = format!("'minutes' of a way has {} numbers", other.len());
                table.wrong("minutes", &message, "two: to take it off and to put it back");
            }
            Default::default()
        }
    }
}
