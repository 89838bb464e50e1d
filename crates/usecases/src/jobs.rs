//! Jobs proposed for a bike: from what was found on it, and from what nobody knows of its history.
//!
//! Which finding proposes which job is written down in `data/jobs_found.tsv` and `data/jobs_unknown.tsv`, each row with
//! its source. In their column of jobs, a comma means "the first of these the sheet has", a plus "and". Nothing is
//! proposed twice, nor what makes no sense beside something proposed before it: findings come before history.

mod tables;

use crate::causes::tables::shipped;
use crate::refused::Refused;
use refettle_facts::nearest::nearest;
use refettle_machine::ix::{FactIx, JobIx, PartIx, StepIx};
use refettle_machine::model::{EngineMust, Job, Machine, Step};
use refettle_machine::state::{BikeState, EngineHealth};
use refettle_memory::entry::{Entry, JobsChosen, PaperKind, RunsWord};
use refettle_memory::state::BikeNow;
pub use tables::Mark;
use tables::When;

/// Months of standing from which petrol and battery are not trusted. Common practice, no source.
pub const STOOD_LONG: u32 = 3;

/// Causes of a symptom whose jobs are shown as possible: the likeliest so many. Judgement, no source.
const LIKELIEST: usize = 3;

/// A job that can be chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobLine {
    /// Name on the sheet.
    pub name: String,
    /// Shown.
    pub title: String,
    /// The region most of it is in; none when it is all over the bike.
    pub region: Option<String>,
    /// How strongly it is proposed, if it is.
    pub mark: Option<Mark>,
    /// Why it is proposed, and where that is from.
    pub why: Vec<String>,
    /// It was chosen before.
    pub chosen: bool,
    /// All it wants is so already.
    pub done: bool,
    /// Names of jobs that make no sense beside it.
    pub excludes: Vec<String>,
}

/// Every job this bike can have, in the order of the sheet.
///
/// # Errors
/// [`Refused::Wrong`] if a shipped table is not whole, which a test excludes.
pub fn lines(machine: &Machine, now: &BikeNow) -> Result<Vec<JobLine>, Refused> {
    let proposals = proposals(machine, now)?;
    let line = |(at, job): (usize, &Job)| {
        let mine = || proposals.iter().filter(move |p| p.job == JobIx(at));
        JobLine {
            name: job.name.clone(),
            title: job.title.clone(),
            region: region(machine, job),
            mark: mine().map(|p| p.mark).min(),
            why: mine().map(|p| p.why.clone()).collect(),
            chosen: now.jobs.contains(&JobIx(at)),
            done: job.wants.iter().all(|fact| now.state.is_true(machine, *fact)),
            excludes: job.excludes.clone(),
        }
    };
    Ok(machine
        .jobs
        .iter()
        .enumerate()
        .filter(|(at, job)| now.jobs.contains(&JobIx(*at)) || possible(machine, &now.state, job))
        .map(line)
        .collect())
}

#[derive(Debug, Clone)]
struct Proposal {
    job: JobIx,
    mark: Mark,
    why: String,
}

fn proposals(machine: &Machine, now: &BikeNow) -> Result<Vec<Proposal>, Refused> {
    let mut all: Vec<Proposal> = Vec::new();
    let mut propose = |job: JobIx, mark: Mark, why: String| {
        let Some(named) = machine.jobs.get(job.0) else {
            return;
        };
        let clashes = all.iter().filter(|p| p.mark != Mark::Perhaps).any(|p| {
            machine
                .jobs
                .get(p.job.0)
                .is_some_and(|o| o.excludes.contains(&named.name) || named.excludes.contains(&o.name))
        });
        let known = all.iter().any(|p| p.job == job && p.why == why);
        let done = named.wants.iter().all(|fact| now.state.is_true(machine, *fact));
        if !clashes && !known && !done && possible(machine, &now.state, named) {
            all.push(Proposal { job, mark, why });
        }
    };
    for (part, said, words) in said_of_parts(machine, now) {
        let rows: Vec<_> = tables::found()?
            .into_iter()
            .filter(|row| row.parts.contains(&part.as_str()))
            .collect();
        // A row for the very word comes before one for any.
        let exact = rows.iter().find(|row| row.said.contains(&said.as_str()));
        let row = exact.or_else(|| rows.iter().find(|row| row.said.contains(&"*")));
        for (row, job) in row
            .into_iter()
            .flat_map(|row| row.jobs(machine).into_iter().map(move |job| (row, job)))
        {
            propose(job, row.mark, format!("found: {words}; {}", row.why));
        }
    }
    for row in tables::unknown()? {
        if is(row.when, now) {
            for job in row.jobs(machine) {
                propose(job, row.mark, row.why.to_owned());
            }
        }
    }
    for (title, job) in likely(machine, now)? {
        propose(job, Mark::Perhaps, format!("a likely cause of: {title}"));
    }
    Ok(all)
}

/// Name of the part, the short word, and the whole in words, of each open finding and each fixing that is not right.
fn said_of_parts(machine: &Machine, now: &BikeNow) -> Vec<(String, String, String)> {
    crate::walk_round::noted(machine, now)
        .into_iter()
        .filter_map(|noted| {
            let part = noted.part?;
            let word = noted
                .what
                .split([':', ','])
                .next()
                .unwrap_or_default()
                .trim()
                .to_owned();
            Some((part, word, format!("{}, {}", noted.of, noted.what)))
        })
        .collect()
}

/// Jobs of the likeliest causes of what the bike does.
fn likely(machine: &Machine, now: &BikeNow) -> Result<Vec<(String, JobIx)>, Refused> {
    let tables = shipped()?;
    let mut out = Vec::new();
    for finding in now.book.open_findings() {
        let Some(id) = &finding.noted.body.symptom else {
            continue;
        };
        let Some(symptom) = tables.symptoms.iter().find(|s| s.id == id.as_str()) else {
            continue;
        };
        let mut weights = symptom.weights.clone();
        weights.sort_by(|a, b| b.1.total_cmp(&a.1));
        let jobs = weights.iter().filter_map(|(cause, _)| {
            let cause = tables.causes.iter().find(|c| c.id == *cause)?;
            cause.jobs.iter().find_map(|name| machine.job(name))
        });
        out.extend(jobs.take(LIKELIEST).map(|job| (symptom.title.to_owned(), job)));
    }
    Ok(out)
}

fn is(when: When, now: &BikeNow) -> bool {
    let runs = now.book.runs == Some(RunsWord::Runs);
    match when {
        When::Always => true,
        When::NotRunning => !runs && now.state.engine != EngineHealth::Dead,
        When::Stood => now.book.stood_months.is_none_or(|months| months >= STOOD_LONG),
        // Bills that say what was done when; without them nobody knows.
        When::Unknown => !now
            .book
            .papers
            .get(&PaperKind::ServiceRecords)
            .is_some_and(|paper| paper.body.good),
    }
}

/// Whether the sheet has a way to it on this bike, as its questions are answered and its engine is.
fn possible(machine: &Machine, state: &BikeState, job: &Job) -> bool {
    state.holds(machine, job.when.as_ref())
        && job
            .wants
            .iter()
            .all(|fact| state.is_true(machine, *fact) || !makers(machine, state, *fact).is_empty())
}

fn makers<'m>(machine: &'m Machine, state: &BikeState, fact: FactIx) -> Vec<&'m Step> {
    let dead = state.engine == EngineHealth::Dead;
    machine
        .steps
        .iter()
        .filter(|step| step.makes.contains(&fact) && state.holds(machine, step.when.as_ref()))
        .filter(|step| !dead || (step.engine_must != EngineMust::Run && !step.runs_engine))
        .collect()
}

/// The region that most of the parts its steps speak of are in.
fn region(machine: &Machine, job: &Job) -> Option<String> {
    let steps = (0..machine.steps.len())
        .map(StepIx)
        .filter_map(|s| machine.steps.get(s.0));
    let mut counts: Vec<(&str, usize)> = Vec::new();
    for step in steps.filter(|step| step.makes.iter().any(|fact| job.wants.contains(fact))) {
        let tight = step.tight.iter().chain(&step.loose);
        let held = tight.filter_map(|c| machine.criticals.get(c.0)).map(|c| c.part);
        let parts: Vec<PartIx> = step
            .off
            .iter()
            .chain(&step.on)
            .map(|n| n.part)
            .chain(held)
            .collect();
        for part in parts.iter().filter_map(|p| machine.parts.get(p.0)) {
            match counts.iter_mut().find(|(region, _)| *region == part.region) {
                Some((_, n)) => *n += 1,
                None => counts.push((&part.region, 1)),
            }
        }
    }
    let all: usize = counts.iter().map(|(_, n)| n).sum();
    let (region, most) = counts.into_iter().max_by_key(|(_, n)| *n)?;
    (most * 2 >= all).then(|| region.to_owned())
}

/// The entry of jobs chosen by name.
///
/// # Errors
/// [`Refused::Wrong`] with every name that is none and every two that make no sense together.
pub fn choose(machine: &Machine, names: &[&str]) -> Result<Entry, Refused> {
    let mut mistakes = Vec::new();
    let mut chosen: Vec<&Job> = Vec::new();
    for name in names {
        match machine.job(name).and_then(|j| machine.jobs.get(j.0)) {
            Some(job) if chosen.iter().any(|known| known.name == job.name) => {}
            Some(job) => chosen.push(job),
            None => {
                let short: String = name.chars().take(40).collect();
                let hint = nearest(&short, machine.jobs.iter().map(|j| j.name.as_str()))
                    .map_or_else(String::new, |near| format!("; did you mean '{near}'?"));
                mistakes.push(format!("this bike has no job '{short}'{hint}"));
            }
        }
    }
    for (at, job) in chosen.iter().enumerate() {
        for other in chosen.iter().skip(at + 1) {
            if job.excludes.contains(&other.name) || other.excludes.contains(&job.name) {
                mistakes.push(format!(
                    "'{}' makes no sense beside '{}'; leave one of them out",
                    job.title, other.title
                ));
            }
        }
    }
    if mistakes.is_empty() {
        Ok(Entry::JobsChosen(JobsChosen {
            jobs: chosen.iter().map(|job| job.id.clone()).collect(),
        }))
    } else {
        Err(Refused::Wrong(mistakes))
    }
}
