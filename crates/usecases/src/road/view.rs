//! The road check as shown.

use refettle_facts::caution;
use refettle_judgement::road::{RoadCheck, Stage};
use serde::Serialize;

/// The frozen JSON of `refettle road`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RoadView {
    /// `refettle-road/1`.
    pub format: &'static str,
    /// The bike's id.
    pub bike: String,
    /// Whether it has passed.
    pub passes: bool,
    /// How far it may go.
    pub stage: &'static str,
    /// The same in words.
    pub stage_words: &'static str,
    /// The scheme chosen; `null`: the strictest that counts.
    pub scheme: Option<String>,
    /// What is open.
    pub open: Vec<OpenView>,
    /// What holds.
    pub holds: Vec<HoldsView>,
    /// What must be told and does not block.
    pub disclosed: Vec<DisclosedView>,
    /// Who judges.
    pub judge: &'static str,
}

/// Something open.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OpenView {
    /// Its id: an item's name, or `recheck:`, `fit:`, `tighten:`, `shortcut:` and a name.
    pub id: String,
    /// Why it is open.
    pub why: String,
    /// What must be so.
    pub title: String,
    /// The stage it keeps shut.
    pub opens: &'static str,
    /// How to settle it.
    pub how: String,
    /// Unit of the reading it wants; `""` where it is seen.
    pub unit: &'static str,
    /// It was answered and fails.
    pub fails: bool,
    /// What can hurt.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub caution: Option<String>,
}

/// Something that holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HoldsView {
    /// The item's name.
    pub id: String,
    /// What was to be so.
    pub title: String,
    /// Of which system.
    pub system: &'static str,
    /// Reading and limit, or that it was seen.
    pub against: String,
    /// The strictest rule beside it, where that is another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strictest: Option<String>,
    /// Whether that is passed too.
    pub passes_strictest: bool,
}

/// Something told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DisclosedView {
    /// Id of the shortcut.
    pub id: String,
    /// What was done.
    pub what: String,
    /// Its closing test.
    pub closing_test: String,
    /// Due later, rather than open.
    pub due_later: bool,
}

/// Who judges.
pub const JUDGE: &str = "This check has no legal standing: the local authority and licensed practice judge whether a machine may \
be on the road.";

/// What stands on every paper of a bike that has not passed.
pub const NOT_PASSED: &str = "Not passed: nobody rides it, it leaves on a trailer, and every paper says so.";

/// The view of a road check.
#[must_use]
pub fn view(bike: &str, check: &RoadCheck, scheme: Option<&str>) -> RoadView {
    RoadView {
        format: "refettle-road/1",
        bike: bike.to_owned(),
        passes: check.passes(),
        stage: check.stage.name(),
        stage_words: Stage::words(check.stage),
        scheme: scheme.map(str::to_owned),
        open: check
            .open
            .iter()
            .map(|o| OpenView {
                id: o.id.clone(),
                why: o.why.clone(),
                title: o.title.clone(),
                opens: o.opens.name(),
                how: o.how.clone(),
                unit: o.unit,
                fails: o.fails,
                caution: o
                    .caution
                    .and_then(caution::named)
                    .map(|c| format!("{}: {} {} {}", c.title, c.risk, c.do_not, c.instead)),
            })
            .collect(),
        holds: check
            .holds
            .iter()
            .map(|(item, verdict)| HoldsView {
                id: item.name.to_owned(),
                title: item.title.to_owned(),
                system: item.system,
                against: verdict.against.clone(),
                strictest: verdict.strictest.clone(),
                passes_strictest: verdict.passes_strictest,
            })
            .collect(),
        disclosed: check
            .disclosed
            .iter()
            .map(|d| DisclosedView {
                id: d.id.clone(),
                what: d.what.clone(),
                closing_test: d.closing_test.clone(),
                due_later: d.due_later,
            })
            .collect(),
        judge: JUDGE,
    }
}
