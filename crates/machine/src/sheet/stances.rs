//! How the bike may be held.

use super::facts::Ids;
use super::keys;
use super::names::{Kind, Names};
use super::report::Report;
use crate::model::Stance;
use refettle_facts::ids::StanceId;

pub(super) fn stances<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Stance> {
    let mut ids = Ids::new(Kind::Stance, names);
    let mut stances = Vec::new();
    for (name, table) in names.tables(Kind::Stance, keys::STANCE, report) {
        let id = ids.of(name, &table, StanceId::new);
        let title = table.text("title");
        let enter = table.minutes("enter");
        let leave = table.minutes("leave");
        let people = table.people();
        let from = table.stance_list("from");
        let needs_on = table.part_list("needs-on");
        let needs_off = table.part_list("needs-off");
        let rest = table.flag("rest", false);
        let rolls = table.flag("rolls", false);
        let usual = table.flag("usual", true);
        let tools = table.tool_list("tools");
        let cautions = table.cautions();
        if let (Some(id), Some(title)) = (id, title) {
            stances.push(Stance {
                id,
                name: name.to_owned(),
                title,
                enter,
                leave,
                people,
                from,
                needs_on,
                needs_off,
                rest,
                rolls,
                usual,
                tools,
                cautions,
            });
        }
    }
    stances
}
