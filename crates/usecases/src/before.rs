//! An earlier plan, as `refettle plan --json` printed it, read again.

use crate::refused::Refused;
use crate::request::Document;
use refettle_facts::time::Seconds;
use refettle_machine::ix::{PartIx, StanceIx, StepIx};
use refettle_machine::model::{Heat, Machine};
use refettle_plan::ask::{Act, Action};
use serde_json::Value;

/// Most mistakes told.
const TOLD: usize = 20;

/// The actions of an earlier plan for this machine.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the document.
pub fn read(machine: &Machine, document: &Document) -> Result<Vec<Action>, Refused> {
    let wrong = |lines: Vec<String>| {
        let lines: Vec<String> = lines.into_iter().take(TOLD).collect();
        Err(Refused::Wrong(vec![format!(
            "mistakes in {}:\n{}",
            document.name,
            lines.join("\n")
        )]))
    };
    let plan: Value = match serde_json::from_str(&document.text) {
        Ok(plan) => plan,
        Err(error) => {
            return wrong(vec![format!(
                "this cannot be read: {error}; expected what 'refettle plan --json' prints"
            )]);
        }
    };
    let mut mistakes = Vec::new();
    if plan.get("format").and_then(Value::as_str) != Some("refettle-plan/1") {
        mistakes.push("format: it is no plan; expected \"refettle-plan/1\"".to_owned());
    }
    if plan.get("machine").and_then(Value::as_str) != Some(machine.name.as_str()) {
        mistakes.push(format!(
            "machine: it is a plan of another machine; expected \"{}\"",
            machine.name
        ));
    }
    let none = Vec::new();
    let list = plan.get("actions").and_then(Value::as_array);
    if list.is_none() {
        mistakes.push("actions: there is no list; expected the order of work".to_owned());
    }
    let mut actions = Vec::new();
    for (at, value) in list.unwrap_or(&none).iter().enumerate() {
        match action(machine, value) {
            Some(action) => actions.push(action),
            None => {
                let id: String = value
                    .get("id")
                    .and_then(Value::as_str)
                    .unwrap_or("?")
                    .chars()
                    .take(80)
                    .collect();
                mistakes.push(format!(
                    "actions[{at}]: '{id}' is nothing this machine knows as it is; was the state's trouble left out?"
                ));
            }
        }
    }
    if mistakes.is_empty() {
        Ok(actions)
    } else {
        wrong(mistakes)
    }
}

fn action(machine: &Machine, value: &Value) -> Option<Action> {
    let text = |key: &str| value.get(key).and_then(Value::as_str);
    let id = text("id")?;
    let way = || {
        value
            .get("way")
            .and_then(Value::as_u64)
            .and_then(|w| usize::try_from(w).ok())
    };
    let part = || machine.parts.iter().position(|p| p.id.as_str() == id).map(PartIx);
    let moved = || {
        let (part, way) = (part()?, way()?);
        (way < machine.parts.get(part.0)?.ways.len()).then_some((part, way))
    };
    let critical = || machine.criticals.iter().position(|c| c.id.as_str() == id);
    let critical = || critical().map(refettle_machine::ix::CriticalIx);
    let act = match text("kind")? {
        "take-off" => moved().map(|(part, way)| Act::TakeOff { part, way })?,
        "put-on" => moved().map(|(part, way)| Act::PutOn { part, way })?,
        "loosen" => Act::Loosen(critical()?),
        "tighten" => Act::Tighten(critical()?),
        "stand" => Act::Stand(StanceIx(
            machine.stances.iter().position(|s| s.id.as_str() == id)?,
        )),
        "do" => Act::Do {
            step: StepIx(machine.steps.iter().position(|s| s.id.as_str() == id)?),
            fuel: match text("fuel") {
                None => None,
                Some(fuel) => Some(machine.engine.fuel.iter().position(|f| f.name == fuel)?),
            },
            cold: value.get("cold") == Some(&Value::Bool(true)),
        },
        "cool" => Act::Cool(
            [Heat::Cold, Heat::Cool, Heat::Warm, Heat::Hot]
                .into_iter()
                .find(|heat| crate::words::heat_word(*heat) == id)?,
        ),
        "await" => Act::Await(part()?),
        _ => return None,
    };
    let seconds = value.get("seconds").and_then(Value::as_u64)?;
    Some(Action {
        act,
        time: Seconds(u32::try_from(seconds).ok()?),
    })
}
