//! What a person asks for.

use super::facts::Ids;
use super::keys;
use super::names::{Kind, Names};
use super::report::Report;
use crate::model::Job;
use refettle_facts::ids::JobId;

pub(super) fn jobs<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Job> {
    let mut ids = Ids::new(Kind::Job, names);
    let mut jobs = Vec::new();
    for (name, table) in names.tables(Kind::Job, keys::JOB, report) {
        let id = ids.of(name, &table, JobId::new);
        let title = table.text("title");
        let note = table.text_if_any("note");
        table.required("wants");
        let wants = table.fact_list("wants");
        if table.has("wants") && table.list("wants").is_empty() {
            table.wrong("wants", "'wants' is empty", "one fact or more");
        }
        let excludes = table.job_list("excludes");
        if excludes.iter().any(|other| other == name) {
            table.wrong(
                "excludes",
                &format!("{} excludes itself", table.what),
                "other jobs",
            );
        }
        let when = table.condition();
        if let (Some(id), Some(title)) = (id, title) {
            jobs.push(Job {
                id,
                name: name.to_owned(),
                title,
                note,
                wants,
                excludes,
                when,
            });
        }
    }
    jobs
}
