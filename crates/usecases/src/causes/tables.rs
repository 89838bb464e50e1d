//! The tables of `symptoms/`, embedded as written, read once into rows.
//!
//! Columns are documented in `docs/causes.md`. Every number there is a judgement, and says so in its own row.

use crate::refused::{Refused, wrong};
use refettle_facts::money::Money;
use std::collections::BTreeMap;

const CAUSES: &str = include_str!("../../../../symptoms/causes.tsv");
const SYMPTOMS: &str = include_str!("../../../../symptoms/symptoms.tsv");
const WEIGHTS: &str = include_str!("../../../../symptoms/weights.tsv");
const CHECKS: &str = include_str!("../../../../symptoms/checks.tsv");
const OUTCOMES: &str = include_str!("../../../../symptoms/outcomes.tsv");
const LIKELIHOODS: &str = include_str!("../../../../symptoms/likelihoods.tsv");

/// What the engine must or can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Engine {
    /// Of no account.
    Any,
    /// The starter is pressed; it need not turn.
    Pressed,
    /// It is cranked.
    Cranked,
    /// It runs.
    Runs,
    /// It is ridden.
    Rides,
}

/// What a finding says of the engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EngineSays {
    /// Nothing.
    Nothing,
    /// The starter does not turn it.
    Stuck,
    /// It cranks and does not fire.
    Cranks,
    /// It runs.
    Runs,
}

/// A cause that can be put right.
#[derive(Debug, Clone)]
pub struct CauseRow {
    /// Permanent id.
    pub id: &'static str,
    /// Shown.
    pub title: &'static str,
    /// What puts it right.
    pub fix: &'static str,
    /// Jobs that do it; the first the machine has counts.
    pub jobs: Vec<&'static str>,
    /// Without a job: parts to be got at; the first the machine has counts.
    pub reach: Vec<&'static str>,
    /// Without a job: own minutes.
    pub minutes: u32,
    /// Cheapest parts, US cents.
    pub low: Money,
    /// Dearest parts, US cents.
    pub high: Money,
    /// Features the machine must have.
    pub when: Vec<&'static str>,
    /// Names of cautions.
    pub cautions: Vec<&'static str>,
    /// Where minutes and prices are from.
    pub source: &'static str,
}

/// Something found that has causes of its own.
#[derive(Debug, Clone)]
pub struct SymptomRow {
    /// Permanent id.
    pub id: &'static str,
    /// Shown.
    pub title: &'static str,
    /// `must`: not ridden before it is put right.
    pub must: bool,
    /// What it says of the engine.
    pub engine: EngineSays,
    /// Features the machine must have.
    pub when: Vec<&'static str>,
    /// Weight of "none of these".
    pub none: f64,
    /// Weight of each cause.
    pub weights: Vec<(&'static str, f64)>,
    /// Where the weights are from.
    pub source: &'static str,
}

/// Something that can be looked at, and what it tells.
#[derive(Debug, Clone)]
pub struct CheckRow {
    /// Permanent id.
    pub id: &'static str,
    /// Shown.
    pub title: &'static str,
    /// Own minutes.
    pub minutes: u32,
    /// Tools, in words.
    pub tools: Vec<&'static str>,
    /// Parts that must be off; the first the machine has counts.
    pub off: Vec<&'static str>,
    /// Parts to be got at; the first the machine has counts.
    pub reach: Vec<&'static str>,
    /// Stances it can be done in; any when empty.
    pub stances: Vec<&'static str>,
    /// What the engine must do.
    pub engine: Engine,
    /// Features the machine must have.
    pub when: Vec<&'static str>,
    /// Names of cautions.
    pub cautions: Vec<&'static str>,
    /// Looked at before the engine may be cranked: the fact it makes known, under the names sheets have for it.
    pub safety: Vec<&'static str>,
    /// Where it is from.
    pub source: &'static str,
    /// Outcomes: id and title.
    pub outcomes: Vec<(&'static str, &'static str)>,
    /// Chances of the outcomes when no cause that speaks here is there.
    pub otherwise: Vec<f64>,
    /// By cause: chances of the outcomes, and where they are from.
    pub given: BTreeMap<&'static str, (Vec<f64>, &'static str)>,
}

/// All tables.
#[derive(Debug, Clone)]
pub struct Tables {
    /// Causes, in the order of the file.
    pub causes: Vec<CauseRow>,
    /// Findings.
    pub symptoms: Vec<SymptomRow>,
    /// Checks.
    pub checks: Vec<CheckRow>,
}

/// Reads the shipped tables.
///
/// # Errors
/// [`Refused::Wrong`] with the row, if a shipped table is not whole, which a test excludes.
pub fn shipped() -> Result<Tables, Refused> {
    let causes = rows(CAUSES, cause)?;
    let mut symptoms = rows(SYMPTOMS, symptom)?;
    for (id, cause, weight) in rows(WEIGHTS, |c| Some((c.next()?, c.next()?, number(c.next()?)?)))? {
        let of = symptoms.iter_mut().find(|s| s.id == id);
        of.ok_or_else(|| unsound(id))?.weights.push((cause, weight));
    }
    let mut checks = rows(CHECKS, check)?;
    let find = |checks: &mut Vec<CheckRow>, id: &str| checks.iter().position(|c| c.id == id);
    for (id, outcome) in rows(OUTCOMES, |c| Some((c.next()?, (c.next()?, c.next()?))))? {
        let at = find(&mut checks, id).ok_or_else(|| unsound(id))?;
        checks[at].outcomes.push(outcome);
    }
    for (id, cause, chances, source) in rows(LIKELIHOODS, likelihood)? {
        let at = find(&mut checks, id).ok_or_else(|| unsound(id))?;
        if cause == "otherwise" {
            checks[at].otherwise = chances;
        } else {
            checks[at].given.insert(cause, (chances, source));
        }
    }
    Ok(Tables {
        causes,
        symptoms,
        checks,
    })
}

type Cells<'a> = std::str::Split<'static, char>;

fn unsound(row: &str) -> Refused {
    wrong(format!(
        "a table of symptoms shipped with the tool is not whole: {row}"
    ))
}

fn rows<T>(table: &'static str, read: impl Fn(&mut Cells<'_>) -> Option<T>) -> Result<Vec<T>, Refused> {
    let lines = table.lines().skip(1);
    lines
        .map(|line| read(&mut line.split('\t')).ok_or_else(|| unsound(line)))
        .collect()
}

/// Names between commas; none for a dash.
fn list(cell: &'static str) -> Vec<&'static str> {
    cell.split(',')
        .map(str::trim)
        .filter(|name| *name != "-")
        .collect()
}

fn number(cell: &str) -> Option<f64> {
    cell.parse().ok().filter(|n: &f64| n.is_finite() && *n >= 0.0)
}

fn cents(cell: &str) -> Option<Money> {
    cell.parse::<i64>().ok()?.checked_mul(100).map(Money)
}

fn cause(c: &mut Cells<'_>) -> Option<CauseRow> {
    Some(CauseRow {
        id: c.next()?,
        title: c.next()?,
        fix: c.next()?,
        jobs: list(c.next()?),
        reach: list(c.next()?),
        minutes: c.next()?.parse().ok()?,
        low: cents(c.next()?)?,
        high: cents(c.next()?)?,
        when: list(c.next()?),
        cautions: list(c.next()?),
        source: c.next()?,
    })
}

fn symptom(c: &mut Cells<'_>) -> Option<SymptomRow> {
    Some(SymptomRow {
        id: c.next()?,
        title: c.next()?,
        must: match c.next()? {
            "must" => true,
            "should" => false,
            _ => return None,
        },
        engine: match c.next()? {
            "any" => EngineSays::Nothing,
            "stuck" => EngineSays::Stuck,
            "cranks" => EngineSays::Cranks,
            "runs" => EngineSays::Runs,
            _ => return None,
        },
        when: list(c.next()?),
        none: number(c.next()?)?,
        weights: Vec::new(),
        source: c.next()?,
    })
}

fn check(c: &mut Cells<'_>) -> Option<CheckRow> {
    Some(CheckRow {
        id: c.next()?,
        title: c.next()?,
        minutes: c.next()?.parse().ok()?,
        tools: list(c.next()?),
        off: list(c.next()?),
        reach: list(c.next()?),
        stances: list(c.next()?),
        engine: match c.next()? {
            "-" => Engine::Any,
            "presses" => Engine::Pressed,
            "cranks" => Engine::Cranked,
            "runs" => Engine::Runs,
            "rides" => Engine::Rides,
            _ => return None,
        },
        when: list(c.next()?),
        cautions: list(c.next()?),
        safety: list(c.next()?),
        source: c.next()?,
        outcomes: Vec::new(),
        otherwise: Vec::new(),
        given: BTreeMap::new(),
    })
}

fn likelihood(c: &mut Cells<'_>) -> Option<(&'static str, &'static str, Vec<f64>, &'static str)> {
    let (check, cause) = (c.next()?, c.next()?);
    let percent = c.next()?.split(' ').map(number);
    let chances = percent.map(|p| p.map(|p| p / 100.0)).collect::<Option<_>>()?;
    Some((check, cause, chances, c.next()?))
}
