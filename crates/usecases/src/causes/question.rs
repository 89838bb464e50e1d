//! From what a person typed to causes, checks and a model. Everything wrong is said in one go.

use super::features::Features;
use super::tables::{CauseRow, CheckRow, Engine, EngineSays, SymptomRow, Tables};
use super::weights::{self, NONE, Weights};
use crate::layouts;
use crate::refused::{Refused, wrong};
use crate::request::{Document, Request, Settled, settle};
use refettle_facts::nearest::nearest;
use refettle_judgement::causes::model::{Assumed, Chance, Check, Finding, Model, Weight};
use refettle_judgement::causes::posterior::Answer;
use refettle_machine::state::EngineHealth;

/// What a person typed.
#[derive(Debug, Clone, Default)]
pub struct CausesRequest {
    /// The bike, and the jobs already planned for it. Its answers may answer checks as well as questions of the sheet.
    pub bike: Request,
    /// Findings that are there.
    pub findings: Vec<String>,
    /// Findings looked for that are not there.
    pub not_found: Vec<String>,
    /// Weights of one's own.
    pub weights: Option<Document>,
}

/// A request that makes sense.
#[derive(Debug)]
pub struct Question<'t> {
    /// The shipped tables.
    pub tables: &'t Tables,
    /// The bike.
    pub settled: Settled,
    /// What weighing rests on.
    pub weights: Weights,
    /// Findings, each with whether it is there.
    pub findings: Vec<(&'t SymptomRow, bool)>,
    /// Causes told apart.
    pub causes: Vec<&'t CauseRow>,
    /// Checks that could tell something or have been answered.
    pub checks: Vec<&'t CheckRow>,
    /// Answers given, by place of check and outcome.
    pub answers: Vec<Answer>,
    /// What the findings say of the engine.
    pub engine: EngineSays,
}

/// Settles a request.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong in it.
pub fn settle_causes<'t>(tables: &'t Tables, request: &CausesRequest) -> Result<Question<'t>, Refused> {
    let mut mistakes = Vec::new();
    let mut bike = request.bike.clone();
    let answers = checks_answered(tables, &mut bike, &mut mistakes);
    let named = findings(tables, request, &mut mistakes);
    let weights = match &request.weights {
        None => Weights::default(),
        Some(document) => weights::read(tables, document).unwrap_or_else(|refused| {
            mistakes.push(refused.to_string());
            Weights::default()
        }),
    };
    let settled = match settle(&bike) {
        Ok(settled) => settled,
        Err(Refused::Wrong(mut lines)) => {
            lines.append(&mut mistakes);
            return Err(Refused::Wrong(lines));
        }
        Err(other) => return Err(other),
    };
    let features = Features {
        machine: &settled.machine,
        state: &settled.state,
    };
    for (symptom, _) in &named {
        if !features.all(&symptom.when) {
            mistakes.push(format!(
                "'{}' is not for this machine as its questions are answered: it wants {}",
                symptom.id,
                symptom.when.join(" and ")
            ));
        }
    }
    if named.iter().all(|(_, there)| !there) && mistakes.is_empty() {
        mistakes.push("name at least one finding that is there: --finding ID".to_owned());
    }
    if !mistakes.is_empty() {
        return Err(Refused::Wrong(mistakes));
    }
    let weight = |symptom: &SymptomRow, cause: &str| weight_of(&weights, symptom, cause);
    let causes: Vec<&CauseRow> = tables
        .causes
        .iter()
        .filter(|cause| features.all(&cause.when))
        .filter(|cause| named.iter().any(|(s, there)| *there && weight(s, cause.id) > 0.0))
        .collect();
    let engine = [EngineSays::Stuck, EngineSays::Cranks, EngineSays::Runs]
        .into_iter()
        .find(|says| named.iter().any(|(s, there)| *there && s.engine == *says))
        .unwrap_or(EngineSays::Nothing);
    let can =
        |check: &CheckRow| features.all(&check.when) && possible(check.engine, engine, settled.state.engine);
    let checks: Vec<&CheckRow> = tables
        .checks
        .iter()
        .filter(|check| {
            let answered = answers.iter().any(|(c, _)| *c == check.id);
            answered || (can(check) && (speaks(check, &causes) || !check.safety.is_empty()))
        })
        .collect();
    let place = |(id, outcome): &(&str, usize)| {
        let check = checks.iter().position(|c| c.id == *id)?;
        Some(Answer {
            check,
            outcome: *outcome,
        })
    };
    Ok(Question {
        tables,
        answers: answers.iter().filter_map(place).collect(),
        settled,
        weights,
        findings: named,
        causes,
        checks,
        engine,
    })
}

/// Weight of a cause of a finding, as the person or the table has it.
pub(super) fn weight_of(weights: &Weights, symptom: &SymptomRow, cause: &str) -> f64 {
    let own = weights
        .changed
        .get(symptom.id)
        .and_then(|causes| causes.get(cause));
    own.copied().unwrap_or_else(|| {
        if cause == NONE {
            symptom.none
        } else {
            let row = symptom.weights.iter().find(|(c, _)| *c == cause);
            row.map_or(0.0, |(_, w)| *w)
        }
    })
}

/// Whether the engine can do what a check asks.
fn possible(asks: Engine, says: EngineSays, state: EngineHealth) -> bool {
    match says {
        EngineSays::Stuck => asks <= Engine::Pressed,
        EngineSays::Cranks => asks <= Engine::Cranked,
        EngineSays::Runs => true,
        EngineSays::Nothing => asks <= Engine::Cranked || state != EngineHealth::Dead,
    }
}

/// Whether a check tells these causes from each other or from anything else.
fn speaks(check: &CheckRow, causes: &[&CauseRow]) -> bool {
    causes.iter().any(|cause| {
        check
            .given
            .get(cause.id)
            .is_some_and(|(row, _)| *row != check.otherwise)
    })
}

fn findings<'t>(
    tables: &'t Tables,
    request: &CausesRequest,
    mistakes: &mut Vec<String>,
) -> Vec<(&'t SymptomRow, bool)> {
    let mut named: Vec<(&SymptomRow, bool)> = Vec::new();
    let there = request.findings.iter().map(|f| (f, true));
    for (typed, there) in there.chain(request.not_found.iter().map(|f| (f, false))) {
        let id = typed.trim();
        let Some(symptom) = tables.symptoms.iter().find(|s| s.id == id) else {
            let names = tables.symptoms.iter().map(|s| s.id);
            let hint = nearest(id, names).map_or_else(
                || "refettle causes --layout NAME lists them".to_owned(),
                |n| format!("did you mean '{n}'?"),
            );
            mistakes.push(format!("there is no finding '{id}'; {hint}"));
            continue;
        };
        match named.iter().find(|(s, _)| s.id == id) {
            Some((_, before)) if *before != there => {
                mistakes.push(format!("'{id}' cannot be found and not found; leave one out"));
            }
            Some(_) => {}
            None => named.push((symptom, there)),
        }
    }
    named
}

/// Takes answers to checks out of the answers; what is left is for the questions of the sheet.
fn checks_answered<'t>(
    tables: &'t Tables,
    bike: &mut Request,
    mistakes: &mut Vec<String>,
) -> Vec<(&'t str, usize)> {
    let machine = match (&bike.standing, &bike.sheet, &bike.layout) {
        (Some(standing), _, _) => Some(standing.machine.clone()),
        (None, Some(sheet), _) => layouts::read_document(sheet).ok(),
        (None, None, Some(name)) => layouts::layout(name).ok(),
        (None, None, None) => None,
    };
    let mut answers: Vec<(&str, usize)> = Vec::new();
    let mut questions = Vec::new();
    for typed in std::mem::take(&mut bike.answers) {
        let Some((id, answer)) = typed.split_once('=').map(|(i, a)| (i.trim(), a.trim())) else {
            mistakes.push(format!("'{typed}' is no answer; write check=outcome"));
            continue;
        };
        let Some(check) = tables.checks.iter().find(|c| c.id == id) else {
            if machine.as_ref().is_none_or(|m| m.question(id).is_some()) {
                questions.push(typed);
            } else {
                let names = tables.checks.iter().map(|c| c.id);
                let hint = nearest(id, names).map_or_else(
                    || "the checks of a finding are shown with its causes".to_owned(),
                    |n| format!("did you mean '{n}'?"),
                );
                mistakes.push(format!("there is no check or question '{id}'; {hint}"));
            }
            continue;
        };
        match check.outcomes.iter().position(|(o, _)| *o == answer) {
            None => mistakes.push(format!(
                "'{answer}' is no outcome of '{id}'; write one of {}",
                check
                    .outcomes
                    .iter()
                    .map(|(o, _)| *o)
                    .collect::<Vec<_>>()
                    .join(", ")
            )),
            Some(outcome) => match answers.iter().find(|(c, _)| *c == id) {
                Some((_, before)) if *before != outcome => {
                    mistakes.push(format!("'{id}' is answered twice, differently; leave one out"));
                }
                Some(_) => {}
                None => answers.push((check.id, outcome)),
            },
        }
    }
    bike.answers = questions;
    answers
}

impl Question<'_> {
    /// Places of "none of these" follow the causes: one for each finding that is there.
    pub(super) fn unknowns(&self) -> usize {
        self.findings.iter().filter(|(_, there)| *there).count()
    }

    /// What is assumed, as a model.
    ///
    /// # Errors
    /// [`Refused::Wrong`] when a person's weights leave a finding without any, or there are too many causes at once.
    pub fn model(&self) -> Result<Model, Refused> {
        let number = |n: f64| Weight::new(n).unwrap_or(Weight::NONE);
        let chances = |row: &[f64]| row.iter().filter_map(|p| Chance::new(*p)).collect::<Vec<_>>();
        let (known, unknowns) = (self.causes.len(), self.unknowns());
        let mut findings = Vec::new();
        let mut own = 0;
        for (symptom, there) in &self.findings {
            let weight = |cause: &str| weight_of(&self.weights, symptom, cause);
            let mut weights: Vec<Weight> = self.causes.iter().map(|c| number(weight(c.id))).collect();
            weights
                .extend((0..unknowns).map(|u| number(if *there && u == own { weight(NONE) } else { 0.0 })));
            own += usize::from(*there);
            let told: f64 = weights.iter().map(|w| w.value()).sum();
            let of_this_machine = Features {
                machine: &self.settled.machine,
                state: &self.settled.state,
            };
            // Causes of other kinds of machine have no weight here; those of findings that are not there have.
            let all = if *there {
                told
            } else {
                let rows = self.tables.causes.iter().filter(|c| of_this_machine.all(&c.when));
                rows.map(|c| weight(c.id)).sum::<f64>() + weight(NONE)
            };
            findings.push(Finding {
                weights,
                rest: number((all - told).max(0.0)),
                seen: *there,
            });
        }
        let checks = self.checks.iter().map(|check| Check {
            otherwise: chances(&check.otherwise),
            given: self
                .causes
                .iter()
                .map(|c| check.given.get(c.id).map(|(row, _)| chances(row)))
                .chain((0..unknowns).map(|_| None))
                .collect(),
        });
        let chance = |n: f64| Chance::new(n).ok_or_else(|| wrong("a chance lies between 0 and 1"));
        Model::new(Assumed {
            unknown: (0..known + unknowns).map(|c| c >= known).collect(),
            findings,
            checks: checks.collect(),
            how_often: chance(self.weights.how_often)?,
            shows: chance(self.weights.shows)?,
        })
        .map_err(|e| wrong(e.to_string()))
    }
}
