//! The bench sheet: the running order on one or two pages, to hang beside the bike.

use crate::paper::Paper;
use crate::running_order::SAFETY;
use refettle_facts::caution;
use refettle_facts::time::Seconds;
use refettle_typesetting::Template;
use refettle_usecases::plan_view::{ActionView, PlanView};
use serde_json::{Value, json};

/// The bench sheet of a plan. `bike` is what the person calls it, `issued` the day in words.
#[must_use]
pub fn paper(plan: &PlanView, bike: &str, issued: &str) -> Paper {
    let mut bands: Vec<(String, Vec<Value>)> = Vec::new();
    let mut told: Vec<caution::Caution> = Vec::new();
    for (at, action) in plan.actions.iter().enumerate() {
        let known = bands.last().is_some_and(|(stance, _)| *stance == action.stance);
        if !known {
            bands.push((action.stance.clone(), Vec::new()));
        }
        for c in action.cautions.iter().filter_map(|name| caution::named(name)) {
            if told.iter().all(|known| known.name != c.name) {
                told.push(c);
            }
        }
        if let Some((_, lines)) = bands.last_mut() {
            lines.push(line(plan, at, action));
        }
    }
    let bands: Vec<Value> = bands
        .into_iter()
        .map(|(stance, lines)| json!({ "stance": format!("Standing: {}", stance.replace('-', " ")), "lines": lines }))
        .collect();
    let cautions: Vec<Value> = told
        .iter()
        .map(|c| json!({ "title": c.title, "text": format!("{} {} {}", c.risk, c.do_not, c.instead) }))
        .collect();
    Paper {
        template: Template::BenchSheet,
        data: json!({
            "title": format!("{bike}: running order"),
            "lead": lead(plan),
            "foot": format!("{bike} · {issued} · {SAFETY}"),
            "lang": "en",
            "bands": bands,
            "cautions": cautions,
        }),
        pictures: Vec::new(),
    }
}

fn lead(plan: &PlanView) -> String {
    let jobs = if plan.jobs.is_empty() {
        "only closing up".to_owned()
    } else {
        plan.jobs.join(", ").replace('-', " ")
    };
    let proof = if plan.proven {
        "no order takes less".to_owned()
    } else {
        format!("no order takes less than {}", Seconds(plan.lower_bound_s))
    };
    format!(
        "{jobs}. Hands on {} ({proof}). ↑ comes off, ↓ goes on.",
        plan.believable
    )
}

fn line(plan: &PlanView, at: usize, action: &ActionView) -> Value {
    let side = match action.kind {
        "take-off" => "off",
        "put-on" => "on",
        _ => "",
    };
    let mut small: Vec<String> = Vec::new();
    if let Some(heat) = action.heat {
        small.push(format!("engine {heat}"));
    }
    let hazards: Vec<&str> = action
        .cautions
        .iter()
        .filter_map(|name| caution::named(name))
        .map(|c| c.title)
        .collect();
    if !hazards.is_empty() {
        small.push(format!("⚠ {}", hazards.join("; ")));
    }
    json!({
        "n": at + 1,
        "title": action.title,
        "time": if action.seconds == 0 { String::new() } else { Seconds(action.seconds).to_string() },
        "side": side,
        "small": small,
        "wait": wait(plan, at, action),
    })
}

/// What is waited for after an action, and what fills the wait.
fn wait(plan: &PlanView, at: usize, action: &ActionView) -> Option<String> {
    if action.wait_s == 0 {
        return None;
    }
    let over = action.start_s + action.seconds + action.wait_s;
    let filled = plan
        .actions
        .iter()
        .skip(at + 1)
        .take_while(|next| next.start_s < over)
        .count();
    let fills = match filled {
        0 => "nothing fills it".to_owned(),
        1 => format!("{} fills it", at + 2),
        n => format!("{} to {} fill it", at + 2, at + 1 + n),
    };
    let not = if action.meanwhile_not.is_empty() {
        String::new()
    } else {
        format!(", meanwhile no {}", action.meanwhile_not.join(", "))
    };
    Some(format!("then wait {}: {fills}{not}", Seconds(action.wait_s)))
}
