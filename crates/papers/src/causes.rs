//! Likely causes as plain text: bars, the next check, and what each answer would do.

use crate::wrap::{folded, message};
use refettle_facts::caution;
use refettle_facts::time::Seconds;
use refettle_usecases::causes_view::{CauseView, CausesView, CheckView, FindingsView, WhyView};

/// Columns of the longest bar.
const BAR: f64 = 24.0;
/// Causes moved by less than this are not told again under an answer.
const MOVED: f64 = 0.05;

/// What can be asked about.
#[must_use]
pub fn findings(view: &FindingsView) -> String {
    let mut out = message(&format!(
        "Findings that can be asked about on the {}:",
        view.machine
    ));
    let widest = view.findings.iter().map(|f| f.id.len()).max().unwrap_or(0);
    for f in &view.findings {
        let must = if f.must {
            "; not ridden before it is put right"
        } else {
            ""
        };
        out.push_str(&folded(
            &format!("  {:<widest$}  ", f.id),
            &format!("{} ({} causes, {} checks{must})", f.title, f.causes, f.checks),
        ));
    }
    let example = view.findings.first().map_or("ID", |f| f.id.as_str());
    out.push_str(&format!(
        "\nNext:\n  refettle causes --layout {} --finding {example}\n",
        view.machine
    ));
    out
}

/// Likely causes and the next check; with `why`, what every number rests on.
#[must_use]
pub fn text(view: &CausesView, why: bool) -> String {
    let mut out = String::new();
    for f in &view.findings {
        let there = if f.there { "" } else { "not found: " };
        out.push_str(&folded("", &format!("{there}{} ({})", f.title, f.id)));
        if f.must && f.there {
            out.push_str(&folded("  ! ", "Do not ride it before this is put right."));
        }
    }
    for a in &view.answers {
        out.push_str(&folded("  ", &format!("{}: {}", a.title, a.outcome_title)));
    }
    out.push_str("\nLikely causes\n");
    for cause in &view.causes {
        out.push_str(&bar(cause));
    }
    if view.two_at_once >= MOVED {
        let said = view.pairs.first().map_or(String::new(), |p| {
            format!("; likeliest {} with {}", p.causes[0], p.causes[1])
        });
        out.push_str(&folded(
            "  ",
            &format!("two at once: {} %{said}", percent(view.two_at_once)),
        ));
    }
    out.push_str(&next(view));
    let mut reasons_to_wait: Vec<&str> = view.held_back.iter().map(|h| h.why.as_str()).collect();
    reasons_to_wait.dedup();
    for reason in reasons_to_wait {
        let waiting = view.held_back.iter().filter(|h| h.why == reason);
        let ids: Vec<&str> = waiting.map(|h| h.id.as_str()).collect();
        out.push_str(&folded("Waits: ", &format!("{} ({reason})", ids.join(", "))));
    }
    for doubt in &view.doubts {
        out.push_str(&folded("Note: ", doubt));
    }
    for caution in view.cautions.iter().filter_map(|name| caution::named(name)) {
        out.push_str(&folded(
            "  ! ",
            &format!(
                "{}: {} {}.",
                caution.title,
                caution.risk,
                sentence(caution.do_not)
            ),
        ));
    }
    out.push_str(&folded(
        "",
        "The maker's manual, local law and licensed practice come before all of this.",
    ));
    if why {
        out.push_str(&reasons(view));
    } else {
        out.push_str("Weights, chances and sources: --why\n");
    }
    out
}

fn sentence(text: &str) -> String {
    let trimmed = text.trim_end_matches('.');
    let mut letters = trimmed.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

fn percent(share: f64) -> String {
    let percent = share * 100.0;
    if percent > 0.0 && percent < 0.5 {
        "under 1".to_owned()
    } else {
        format!("{percent:.0}")
    }
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share of a bar's length"
)]
fn length(share: f64) -> usize {
    (share.clamp(0.0, 1.0) * BAR).round() as usize
}

fn bar(cause: &CauseView) -> String {
    let width = length(1.0);
    let first = format!(
        "  {:<width$} {:>7} %  ",
        "#".repeat(length(cause.probability)),
        percent(cause.probability)
    );
    folded(&first, &format!("{} ({})", cause.title, cause.id))
}

fn next(view: &CausesView) -> String {
    let mut out = String::new();
    out.push_str(&folded("\nNext: ", &view.next.title));
    out.push_str(&folded("  ", &format!("{}.", view.next.why)));
    if view.next.kind == "repair" {
        let fix = view
            .causes
            .iter()
            .find(|c| c.id == view.next.id)
            .and_then(|c| c.fix.as_ref());
        if let Some(job) = fix.and_then(|f| f.job.as_ref()) {
            out.push_str(&folded(
                "  ",
                &format!("refettle plan --layout {} --jobs {job}", view.machine),
            ));
        }
    }
    let Some(check) = &view.next_check else {
        out.push_str("No check is left that could tell more.\n");
        return out;
    };
    if view.next.id != check.id {
        out.push_str(&folded("\nBest check, if one is wanted: ", &check.title));
    }
    out.push_str(&one(check));
    for o in &check.outcomes {
        out.push_str(&folded(
            &format!("  {:>7} %  ", percent(o.probability)),
            &format!("{} ({}={})", o.title, check.id, o.id),
        ));
        let moved: Vec<String> = view
            .causes
            .iter()
            .filter_map(|cause| {
                let then = o.causes.get(&cause.id)?;
                ((then - cause.probability).abs() >= MOVED).then(|| {
                    let way = if *then > cause.probability {
                        "up to"
                    } else {
                        "down to"
                    };
                    format!("{} {way} {} %", cause.id, percent(*then))
                })
            })
            .collect();
        if !moved.is_empty() {
            out.push_str(&folded("             ", &moved.join(", ")));
        }
        if let Some(then) = &o.then {
            out.push_str(&folded("             then: ", &then.title));
        }
    }
    out
}

fn one(check: &CheckView) -> String {
    let (whole, own) = (Seconds(check.seconds), Seconds(check.own_s));
    let opens: Vec<&str> = check.opens.iter().map(|o| o.title.as_str()).collect();
    let off = if opens.is_empty() {
        "nothing comes off for it".to_owned()
    } else {
        format!("comes off and back on: {}", opens.join(", "))
    };
    let tools = if check.tools.is_empty() {
        String::new()
    } else {
        format!("; tools: {}", check.tools.join(", "))
    };
    let unproven = if check.proven { "" } else { ", not proven least" };
    folded("  ", &format!("{whole}{unproven} ({own} its own; {off}){tools}"))
}

fn reasons(view: &CausesView) -> String {
    let w: &WhyView = &view.why;
    let mut out = String::from("\nWhy\n");
    out.push_str(&folded("  ", &format!("{}.", w.formula)));
    out.push_str(&folded(
        "  ",
        &format!(
            "A bike has a finding {} % of the time; a cause at its plainest shows {} % of the time; an hour counts {}.{:02}; finding \
             something not listed takes {}, with its mending {}; a trial {} ({}). Costs: {}.",
            percent(w.how_often),
            percent(w.shows),
            w.hour / 100,
            w.hour % 100,
            Seconds(w.further_s),
            Seconds(w.further_mended_s),
            Seconds(w.trial_s),
            w.source,
            if view.method == "exact" { "every course looked at" } else { "two moves looked ahead" }
        ),
    ));
    for cause in &view.causes {
        let weights: Vec<String> = cause.weights.iter().map(|(f, n)| format!("{f} {n}")).collect();
        let fix = cause.fix.as_ref().map_or(String::new(), |f| {
            let how = if f.by_table {
                "by table"
            } else if f.proven {
                "planned, proven"
            } else {
                "planned"
            };
            let job = f.job.as_ref().map_or(String::new(), |j| format!(", job {j}"));
            format!(
                "; {}: {} ({how}{job}), parts {} to {} US dollars ({})",
                f.what,
                Seconds(f.seconds),
                f.parts_low / 100,
                f.parts_high / 100,
                f.source
            )
        });
        out.push_str(&folded(
            "  ",
            &format!("{}: weight {}{fix}", cause.id, weights.join(", ")),
        ));
    }
    for (finding, source) in &w.weights {
        out.push_str(&folded("  ", &format!("weights of {finding}: {source}")));
    }
    for line in &w.likelihoods {
        let chances: Vec<String> = line
            .chances
            .iter()
            .map(|(o, p)| format!("{o} {} %", percent(*p)))
            .collect();
        out.push_str(&folded(
            "  ",
            &format!(
                "{} if {}: {} ({})",
                line.check,
                line.cause,
                chances.join(", "),
                line.source
            ),
        ));
    }
    out
}
