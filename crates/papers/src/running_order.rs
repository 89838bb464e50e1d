//! The running order as text: what a mechanic would write on cardboard, but true.

use crate::wrap::folded;
use refettle_facts::caution;
use refettle_facts::time::Seconds;
use refettle_usecases::plan_view::{ActionView, PlanView};
use std::fmt::Write;

/// The whole plan as text, at most 80 columns.
#[must_use]
pub fn text(plan: &PlanView) -> String {
    let mut out = head(plan);
    out.push('\n');
    let mut stance = "";
    let mut told: Vec<&str> = Vec::new();
    for (i, action) in plan.actions.iter().enumerate() {
        if action.stance != stance && action.kind != "stand" {
            stance = &action.stance;
            let _ = writeln!(
                out,
                "-- {stance} {}",
                "-".repeat(74usize.saturating_sub(stance.len()))
            );
        }
        out.push_str(&pause(&plan.actions[..i], action));
        out.push_str(&line(i, action));
        for name in &action.cautions {
            // Each caution in full where the hazard first is, and by name at every later step.
            if let Some(c) = caution::named(name) {
                if told.contains(&c.name) {
                    out.push_str(&folded("          ! ", c.title));
                } else {
                    told.push(c.name);
                    out.push_str(&folded(
                        "          ! ",
                        &format!("{}: {} {} {}", c.title, c.risk, c.do_not, c.instead),
                    ));
                }
            }
        }
    }
    out.push('\n');
    out.push_str(&foot(plan));
    out
}

/// What a plan without actions says; a person who forgot the jobs must see it.
const NOTHING: &str = "Nothing is to be done: nothing is open and no job wants anything. Choose jobs with --jobs A,B; \
refettle layouts lists them.";

fn head(plan: &PlanView) -> String {
    let jobs = if plan.jobs.is_empty() {
        "only closing up".to_owned()
    } else {
        plan.jobs.join(", ")
    };
    let mut out = folded("", &format!("{}: {jobs}", plan.machine));
    out.push_str(&beside(plan));
    if plan.actions.is_empty() && (plan.tonight.is_some() || plan.looking.is_some()) {
        for doubt in &plan.doubts {
            out.push_str(&folded("? ", doubt));
        }
        return out;
    }
    if plan.actions.is_empty() {
        out.push_str(&folded("", NOTHING));
        for doubt in &plan.doubts {
            out.push_str(&folded("? ", doubt));
        }
        return out;
    }
    let proof = if plan.proven {
        "no order takes less".to_owned()
    } else {
        format!("no order takes less than {}", Seconds(plan.lower_bound_s))
    };
    out.push_str(&folded(
        "",
        &format!(
            "Hands on {} ({} expected; {proof}).",
            plan.believable,
            Seconds(plan.hands_on_s)
        ),
    ));
    if plan.elapsed_s > plan.hands_on_s {
        out.push_str(&folded(
            "",
            &format!(
                "With the waits, {} from the first action to the last.",
                Seconds(plan.elapsed_s)
            ),
        ));
    }
    if let Some(saved) = plan.saved_s.filter(|s| *s > 0) {
        out.push_str(&folded(
            "",
            &format!("Doing these together saves {}{}.", about(plan), Seconds(saved)),
        ));
    }
    for doubt in &plan.doubts {
        out.push_str(&folded("? ", doubt));
    }
    for q in &plan.questions {
        let others: Vec<String> = q
            .answers
            .iter()
            .map(|a| {
                a.hands_on_s.map_or_else(
                    || format!("{}: no plan", a.answer),
                    |s| format!("{}: {}", a.answer, Seconds(s)),
                )
            })
            .collect();
        out.push_str(&folded(
            "? ",
            &format!("{} Taken: {}. With {}.", q.title, q.assumed, others.join(", ")),
        ));
    }
    out
}

/// What changed, what fits tonight, what a look settles.
fn beside(plan: &PlanView) -> String {
    let mut out = String::new();
    if let Some(changes) = &plan.changes {
        out.push_str(&folded("Changed: ", &format!("{}.", changes.words)));
    }
    if let Some(t) = &plan.tonight {
        let least = if t.most {
            "no evening leaves less".to_owned()
        } else {
            format!("no evening leaves less than {}", Seconds(t.left_at_least_s))
        };
        let left = if t.finished {
            "everything is done".to_owned()
        } else {
            format!(
                "{} of {} are left ({least})",
                Seconds(t.left_s),
                Seconds(t.whole_s)
            )
        };
        let done = format!(
            "Tonight: work ends after {}, then {} to clear up; {left}.",
            Seconds(t.busy_s),
            Seconds(t.clean_up_s)
        );
        out.push_str(&folded("", &done));
        let off = if t.off.is_empty() {
            "nothing".to_owned()
        } else {
            t.off.join(", ")
        };
        out.push_str(&folded(
            "",
            &format!("It stands overnight: {}; off: {off}.", t.stance),
        ));
        for not in &t.must_not {
            out.push_str(&folded("! ", not));
        }
    }
    if let Some(looking) = &plan.looking {
        for s in &looking.settles {
            out.push_str(&folded("  ", &format!("{} ({}): {}", s.title, s.settles, s.what)));
        }
        for e in &looking.every_size {
            out.push_str(&folded(
                "  ",
                &format!("{}: buy every size ({})", e.title, e.what),
            ));
        }
        out.push_str(&folded("", &format!("{}.", looking.then)));
    }
    out
}

/// Where hands have to rest before an action: how long, and what must be over first. A battery on charge, a bath, a hot
/// engine.
fn pause(before: &[ActionView], action: &ActionView) -> String {
    let free = before.last().map_or(0, |last| last.start_s + last.seconds);
    let Some(rest) = action.start_s.checked_sub(free).filter(|rest| *rest > 0) else {
        return String::new();
    };
    let over = |a: &&ActionView| a.wait_s > 0 && a.start_s + a.seconds + a.wait_s == action.start_s;
    let until = before.iter().enumerate().rev().find(|(_, a)| over(a));
    let until = match until {
        Some((i, _)) => format!("first the wait of {} must be over", i + 1),
        None => "until it may be done".to_owned(),
    };
    folded("    ", &format!("wait {}: {until}", Seconds(rest)))
}

fn line(i: usize, action: &ActionView) -> String {
    let time = if action.seconds == 0 {
        String::new()
    } else {
        Seconds(action.seconds).to_string()
    };
    let mut title = action.title.clone();
    if let Some(heat) = action.heat {
        let _ = write!(title, " [engine {heat}]");
    }
    if action.wait_s > 0 {
        let _ = write!(title, ", then wait {}", Seconds(action.wait_s));
        if !action.meanwhile_not.is_empty() {
            let _ = write!(title, " (meanwhile no {})", action.meanwhile_not.join(", "));
        }
    }
    if !action.serves.is_empty() {
        let _ = write!(title, " <{}>", action.serves.join(", "));
    }
    folded(&format!("{:>3} {time:>10}  ", i + 1), &title)
}

fn foot(plan: &PlanView) -> String {
    let mut out = String::new();
    for again in &plan.off_again {
        out.push_str(&folded("", &format!("{}.", again.why)));
    }
    if plan.marginal_s.len() > 1 {
        out.push_str(if plan.marginal_proven {
            "What each job adds to the others:\n"
        } else {
            "What each job adds to the others, about (not all of it proven):\n"
        });
        for (job, seconds) in &plan.marginal_s {
            let adds = seconds.map_or_else(
                || "the others alone have no plan".to_owned(),
                |s| Seconds(s).to_string(),
            );
            let _ = writeln!(out, "  {job:<32} {adds}");
        }
    }
    out.push_str(&folded("", SAFETY));
    out
}

/// Figures worked out beside the plan are not always proven.
pub(crate) const fn about(plan: &PlanView) -> &'static str {
    if plan.marginal_proven { "" } else { "about " }
}

/// What stands under every plan.
pub const SAFETY: &str = "Times and figures are typical until measured. The maker's manual for this model and year, \
local law and licensed practice come first; nobody rides before brakes, wheels, steering and tyres are proven.";
