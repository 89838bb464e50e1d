//! What changed since an earlier plan, in words and in JSON.

use crate::words;
use refettle_facts::time::Seconds;
use refettle_machine::ix::PartIx;
use refettle_machine::model::Machine;
use refettle_plan::ask::{Act, Found};
use refettle_plan::changes::Changes;
use serde::Serialize;

/// `changes` of a plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChangesView {
    /// All of it in one line a person reads.
    pub words: String,
    /// Actions that are new, by place in the plan's actions.
    pub added: Vec<ChangedView>,
    /// Actions that fell away; their place is that in what was left of the earlier plan's, which is not said.
    pub dropped: Vec<ChangedView>,
    /// Hands-on time more, or below zero less, whole seconds.
    pub more_s: i64,
    /// Parts off for more work than before.
    pub longer_off: Vec<LongerOffView>,
    /// Ids of parts that would have gone back and now stay off.
    pub stay_off: Vec<String>,
    /// Ids of parts that come off once more.
    pub off_again: Vec<String>,
    /// New lines of the kit: items of which more is wanted, and tools.
    pub kit: Vec<String>,
    /// Pairs of actions of both plans that stand in the other order.
    pub reordered: usize,
}

/// A new action, or one that fell away.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChangedView {
    /// As in a plan's actions.
    pub kind: &'static str,
    /// Permanent id.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// Hands-on time, whole seconds.
    pub seconds: u32,
}

/// A part that is off for longer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LongerOffView {
    /// Permanent id.
    pub id: String,
    /// Hands-on work more before it goes back, whole seconds.
    pub seconds: u32,
}

/// Most things named one by one in words.
const NAMED: usize = 6;
/// Shorter than this, a part that is off for longer is not worth a word: a quarter of an hour. Judgement, no source.
const WORTH_A_WORD: Seconds = Seconds::from_minutes(15);

/// Changes for showing. `tonight`: the plan ends with the evening.
#[must_use]
pub fn view(machine: &Machine, found: &Found, changes: &Changes, tonight: bool) -> ChangesView {
    let changed = |act: &Act, time: Seconds| ChangedView {
        kind: words::kind(act),
        id: words::id(machine, act),
        title: words::title(machine, act),
        seconds: time.0,
    };
    let added = changes.added.iter().filter_map(|at| found.actions.get(*at));
    let id = |p: &PartIx| machine.parts.get(p.0).map(|p| p.id.to_string());
    let items = changes.items.iter().filter_map(|(item, n)| {
        let item = machine.items.get(item.0)?;
        Some(match item.unit.symbol() {
            "" if *n == 1 => item.title.clone(),
            "" => format!("{n} × {}", item.title),
            unit => format!("{n} {unit} {}", item.title),
        })
    });
    let tools = changes
        .tools
        .iter()
        .filter_map(|t| machine.tools.get(t.0))
        .map(|t| t.title.clone());
    ChangesView {
        words: in_words(machine, found, changes, tonight),
        added: added.map(|a| changed(&a.act, a.time)).collect(),
        dropped: changes.dropped.iter().map(|a| changed(&a.act, a.time)).collect(),
        more_s: changes.more_s,
        longer_off: changes
            .longer_off
            .iter()
            .filter_map(|(p, more)| {
                Some(LongerOffView {
                    id: id(p)?,
                    seconds: more.0,
                })
            })
            .collect(),
        stay_off: changes.stay_off.iter().filter_map(id).collect(),
        off_again: changes.off_again.iter().filter_map(id).collect(),
        kit: items.chain(tools).collect(),
        reordered: changes.reordered,
    }
}

/// "now also: drill out the stub; + 45 min; lower fairing stays off tonight".
#[must_use]
pub fn in_words(machine: &Machine, found: &Found, changes: &Changes, tonight: bool) -> String {
    let part = |p: &PartIx| {
        machine
            .parts
            .get(p.0)
            .map_or_else(String::new, |p| p.title.clone())
    };
    let mut said: Vec<String> = Vec::new();
    let added: Vec<&Act> = changes
        .added
        .iter()
        .filter_map(|at| found.actions.get(*at))
        .map(|a| &a.act)
        .collect();
    let steps = |acts: &[&Act]| -> Vec<String> {
        let done = acts.iter().filter(|act| matches!(act, Act::Do { .. }));
        done.map(|act| words::title(machine, act)).collect()
    };
    say(&mut said, "now also", &steps(&added));
    let off = added.iter().filter_map(|act| match act {
        Act::TakeOff { part: p, .. } if !changes.off_again.contains(p) => Some(part(p)),
        _ => None,
    });
    say(&mut said, "now also off", &off.collect::<Vec<_>>());
    say(
        &mut said,
        "off once more",
        &changes.off_again.iter().map(part).collect::<Vec<_>>(),
    );
    let dropped: Vec<&Act> = changes.dropped.iter().map(|a| &a.act).collect();
    say(&mut said, "no longer", &steps(&dropped));
    if changes.more_s != 0 {
        let sign = if changes.more_s > 0 { "+" } else { "−" };
        let span = Seconds(u32::try_from(changes.more_s.unsigned_abs()).unwrap_or(u32::MAX));
        said.push(format!("{sign} {span}"));
    }
    let stay = if tonight { "stays off tonight" } else { "stays off" };
    said.extend(changes.stay_off.iter().map(|p| format!("{} {stay}", part(p))));
    let longer = changes
        .longer_off
        .iter()
        .filter(|(_, more)| *more >= WORTH_A_WORD);
    said.extend(
        longer
            .take(NAMED)
            .map(|(p, more)| format!("{} stays off {more} longer", part(p))),
    );
    let items = changes
        .items
        .iter()
        .filter_map(|(i, _)| machine.items.get(i.0))
        .map(|i| i.title.clone());
    let tools = changes
        .tools
        .iter()
        .filter_map(|t| machine.tools.get(t.0))
        .map(|t| t.title.clone());
    say(
        &mut said,
        "new on the kit",
        &items.chain(tools).collect::<Vec<_>>(),
    );
    if said.is_empty() {
        said.push(if changes.added.is_empty() && changes.dropped.is_empty() {
            "nothing changed".to_owned()
        } else {
            "the same work in another way".to_owned()
        });
    }
    if changes.reordered > 0 {
        said.push("some of the rest stands in another order".to_owned());
    }
    said.join("; ")
}

fn say(said: &mut Vec<String>, what: &str, list: &[String]) {
    if list.is_empty() {
        return;
    }
    let mut named: Vec<String> = list.iter().take(NAMED).cloned().collect();
    if let Some(more) = list.len().checked_sub(NAMED).filter(|n| *n > 0) {
        named.push(format!("{more} more"));
    }
    said.push(format!("{what}: {}", named.join(", ")));
}
