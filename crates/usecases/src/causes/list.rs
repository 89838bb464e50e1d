//! What can be asked about on one machine.

use super::features::Features;
use super::tables::{CauseRow, shipped};
use crate::causes_view::{FindingLineView, FindingsView};
use crate::refused::Refused;
use crate::request::{Request, settle};

/// The findings of a machine.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong in the request.
pub fn findings(request: &Request) -> Result<FindingsView, Refused> {
    let tables = shipped()?;
    let settled = settle(request)?;
    let features = Features {
        machine: &settled.machine,
        state: &settled.state,
    };
    let cause = |id: &str| {
        let row = tables.causes.iter().find(|c| c.id == id);
        row.filter(|c| features.all(&c.when))
    };
    let findings = tables
        .symptoms
        .iter()
        .filter(|s| features.all(&s.when))
        .map(|symptom| {
            let causes: Vec<&CauseRow> = symptom.weights.iter().filter_map(|(c, _)| cause(c)).collect();
            let checks = tables.checks.iter().filter(|check| {
                let tells = |c: &&CauseRow| {
                    check
                        .given
                        .get(c.id)
                        .is_some_and(|(row, _)| *row != check.otherwise)
                };
                features.all(&check.when) && causes.iter().any(tells)
            });
            FindingLineView {
                id: symptom.id.to_owned(),
                title: symptom.title.to_owned(),
                must: symptom.must,
                causes: causes.len(),
                checks: checks.count(),
            }
        });
    Ok(FindingsView {
        format: "refettle-findings/1",
        findings: findings.collect(),
        machine: settled.machine.name.clone(),
    })
}
