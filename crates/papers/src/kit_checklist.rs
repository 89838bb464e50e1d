//! The kit as a checklist on paper.

use crate::kit_list::{figure_said, fluid_said};
use crate::paper::{Block, Check, Paper};
use crate::running_order::SAFETY;
use refettle_typesetting::Failed;
use refettle_usecases::kit_desk::band;
use refettle_usecases::kit_view::{ItemView, KitView, LookUpView};

/// The checklist of a kit. `bike` is what the person calls it, `issued` the day in words.
///
/// # Errors
/// [`Failed::Data`] by a fault of ours.
pub fn paper(kit: &KitView, bike: &str, issued: &str) -> Result<Paper, Failed> {
    let jobs = if kit.jobs.is_empty() {
        "only closing up".to_owned()
    } else {
        kit.jobs.join(", ").replace('-', " ")
    };
    let mut blocks = Vec::new();
    list(&mut blocks, "To have here", kit.items.iter().map(item).collect());
    let (critical, other): (Vec<&LookUpView>, Vec<&LookUpView>) =
        kit.look_up.iter().partition(|l| l.critical);
    list(
        &mut blocks,
        "To look up before starting: critical, only the maker's figure will do",
        critical.iter().map(|l| figure(l)).collect(),
    );
    list(
        &mut blocks,
        "To look up if you can: the maker's figure wins",
        other.iter().map(|l| figure(l)).collect(),
    );
    if kit.look_up.iter().any(|line| line.band.is_some()) {
        blocks.push(Block::text(band::ABOUT));
    }
    let fluids = kit
        .fluids
        .iter()
        .map(|f| Check {
            text: f.title.clone(),
            small: Some(fluid_said(f).join("; ")).filter(|s| !s.is_empty()),
            done: false,
        })
        .collect();
    list(&mut blocks, "Fluids", fluids);
    let mut tools: Vec<Check> = kit
        .tools
        .iter()
        .map(|t| Check {
            text: format!(
                "{}{}",
                t.title,
                if t.special {
                    " (to borrow, make or buy)"
                } else {
                    ""
                }
            ),
            small: Some(format!("for step {}: {}", t.stops.action + 1, t.stops.title)),
            done: false,
        })
        .collect();
    if !kit.drivers.is_empty() {
        let sizes: Vec<&str> = kit.drivers.iter().map(|d| d.title.as_str()).collect();
        tools.push(Check {
            text: format!("Drivers and spanners: {}", sizes.join("; ")),
            small: None,
            done: false,
        });
    }
    list(&mut blocks, "Tools, in the order of use", tools);
    if !kit.disposal.is_empty() {
        blocks.push(Block::heading("Where what comes out goes; local law decides"));
        for waste in &kit.disposal {
            let rules = waste.rules.iter().map(|r| format!("{} ({})", r.rule, r.source));
            blocks.push(Block::text(format!("{}:", waste.waste.replace('-', " "))));
            blocks.push(Block::Bullets {
                items: rules.collect(),
            });
        }
    }
    Paper::of_blocks(
        &format!("{bike}: kit"),
        &format!("For {jobs}. Each line names the step that stops without it."),
        &format!("{bike} · {issued} · {SAFETY}"),
        &blocks,
        Vec::new(),
    )
}

fn list(blocks: &mut Vec<Block>, heading: &str, items: Vec<Check>) {
    if !items.is_empty() {
        blocks.push(Block::heading(heading));
        blocks.push(Block::Checks { items });
    }
}

fn item(line: &ItemView) -> Check {
    let amount = if line.unit.is_empty() {
        format!("{} ×", line.n)
    } else {
        format!("{} {}", line.n, line.unit)
    };
    let what = if line.kind == "consumable" || line.kind == "by-frame-number" {
        String::new()
    } else {
        format!("{}; ", line.what)
    };
    Check {
        text: format!("{amount} {}", line.title),
        small: Some(format!(
            "{what}{}; for step {}: {}",
            line.advice,
            line.stops.action + 1,
            line.stops.title
        )),
        done: false,
    }
}

fn figure(line: &LookUpView) -> Check {
    let mut small = vec![line.fixing.clone()];
    small.extend(figure_said(line, None));
    small.push(format!("for step {}", line.stops.action + 1));
    Check {
        text: format!("{}: ________", line.title),
        small: Some(small.join("; ")),
        done: false,
    }
}
