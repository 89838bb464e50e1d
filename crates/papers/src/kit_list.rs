//! The kit as a checklist.

use crate::running_order::SAFETY;
use crate::wrap::folded;
use refettle_usecases::kit_desk::band;
use refettle_usecases::kit_desk::fluid::FluidView;
use refettle_usecases::kit_desk::size::SizeView;
use refettle_usecases::kit_view::{ItemView, KitView, LookUpView, StopsView};
use std::fmt::Write;

/// The whole kit as text, at most 80 columns. A number in brackets is the step that stops without the line.
#[must_use]
pub fn text(kit: &KitView) -> String {
    let jobs = if kit.jobs.is_empty() {
        "only closing up".to_owned()
    } else {
        kit.jobs.join(", ")
    };
    let mut out = folded("", &format!("Kit for {}: {jobs}", kit.machine));
    heading(
        &mut out,
        "To have here (in brackets: the step that stops without it)",
        kit.items.is_empty(),
    );
    for line in &kit.items {
        item(&mut out, line);
    }
    look_up(&mut out, kit);
    let fluids: String = kit.fluids.iter().map(fluid).collect();
    if !fluids.is_empty() {
        heading(&mut out, "Fluids", false);
        out.push_str(&fluids);
    }
    disposal(&mut out, kit);
    heading(
        &mut out,
        "Tools, in the order of use",
        kit.tools.is_empty() && kit.drivers.is_empty(),
    );
    for tool in &kit.tools {
        let special = if tool.special {
            " (to borrow, make or buy)"
        } else {
            ""
        };
        out.push_str(&folded(
            "  [ ] ",
            &format!("{}{special} {}", tool.title, step(&tool.stops)),
        ));
    }
    if !kit.drivers.is_empty() {
        let sizes: Vec<&str> = kit.drivers.iter().map(|d| d.title.as_str()).collect();
        out.push_str(&folded(
            "  [ ] ",
            &format!("Drivers and spanners: {}", sizes.join("; ")),
        ));
    }
    heading(&mut out, "Bags", kit.bags.is_empty());
    for bag in &kit.bags {
        out.push_str(&folded(
            &format!("{:>5} ", bag.number),
            &format!("{}: {}", bag.title, bag.fixings.join("; ")),
        ));
        for setting in &bag.settings {
            out.push_str(&folded("      note: ", setting));
        }
    }
    out.push('\n');
    out.push_str(&folded("", SAFETY));
    out
}

/// One thing used up: how many, what it is, what to do about it, whether it is a standard size.
fn item(out: &mut String, item: &ItemView) {
    let amount = if item.unit.is_empty() {
        format!("{} ×", item.n)
    } else {
        format!("{} {}", item.n, item.unit)
    };
    let head = format!("{} {}", item.title, step(&item.stops));
    out.push_str(&folded(&format!("  [ ] {amount:>8}  "), &head));
    let source = item
        .source
        .as_ref()
        .map(|s| format!(" ({s})"))
        .unwrap_or_default();
    // The heading says already that it is to be here.
    let advice = item.advice.trim_start_matches("have it here; ");
    match item.kind {
        // A rag is a rag.
        "consumable" => {}
        "by-frame-number" => under(out, advice),
        _ => under(out, &format!("{}{source}; {advice}", item.what)),
    }
    sizes(out, &item.sizes);
}

/// Standard sizes in one line; one line for each size that is none, and one for each thing said of a rubber.
fn sizes(out: &mut String, sizes: &[SizeView]) {
    let standard: Vec<&str> = sizes.iter().filter_map(|size| size.standard.as_deref()).collect();
    if !standard.is_empty() {
        under(out, &format!("standard: {}", standard.join(", ")));
    }
    for size in sizes {
        let said = match (&size.standard, &size.note) {
            (None, _) => size.words(),
            (Some(_), Some(note)) => note.clone(),
            (Some(_), None) => continue,
        };
        let which = if sizes.len() > 1 {
            format!("{}: ", size.of)
        } else {
            String::new()
        };
        under(out, &format!("{which}{said}"));
    }
    let mut rubbers: Vec<&str> = sizes.iter().filter_map(|size| size.rubber.as_deref()).collect();
    rubbers.dedup();
    for rubber in rubbers {
        under(out, rubber);
    }
}

/// A line set in under the name of an item.
fn under(out: &mut String, text: &str) {
    out.push_str(&folded("                ", text));
}

/// The figures to find: the critical ones first, each with its band and never with a figure to use.
fn look_up(out: &mut String, kit: &KitView) {
    let (critical, other): (Vec<&LookUpView>, Vec<&LookUpView>) =
        kit.look_up.iter().partition(|line| line.critical);
    if !critical.is_empty() || other.is_empty() {
        heading(
            out,
            "To look up before starting: critical, only the maker's figure will do",
            critical.is_empty(),
        );
    }
    figures(out, &critical, None);
    // A source that all typical figures share is said once, above them.
    let mut sources: Vec<&str> = other.iter().filter_map(|line| line.source.as_deref()).collect();
    sources.dedup();
    let shared = match sources.as_slice() {
        [one] => Some(*one),
        _ => None,
    };
    if !other.is_empty() {
        heading(out, "To look up if you can: the maker's figure wins", false);
    }
    if let Some(source) = shared {
        out.push_str(&folded("      ", &format!("figures below, {source}")));
    }
    figures(out, &other, shared);
    if kit.look_up.iter().any(|line| line.band.is_some()) {
        out.push_str(&folded("      ", band::ABOUT));
    }
}

/// One entry for each fixing: parts that share it, left and right, share the entry.
fn figures(out: &mut String, lines: &[&LookUpView], shared: Option<&str>) {
    let same = |a: &LookUpView, b: &LookUpView| {
        a.fixing == b.fixing && a.typical == b.typical && a.band == b.band && a.doubt == b.doubt
    };
    for (at, line) in lines.iter().enumerate() {
        if lines.iter().take(at).any(|before| same(before, line)) {
            continue;
        }
        let named: Vec<String> = lines
            .iter()
            .filter(|other| same(line, other))
            .map(|other| format!("{} {}", other.title, step(&other.stops)))
            .collect();
        out.push_str(&folded("  [ ] ", &named.join("; ")));
        out.push_str(&folded("      ", &line.fixing));
        let said = figure_said(line, shared);
        if !said.is_empty() {
            out.push_str(&folded("      ", &said.join("; ")));
        }
        if let Some(doubt) = line.doubt {
            out.push_str(&folded("      ! ", doubt));
        }
    }
}

/// The typical figure and the band of a fixing, as far as they may be shown. A source that all share is not repeated.
pub(crate) fn figure_said(line: &LookUpView, shared: Option<&str>) -> Vec<String> {
    // Whatever stands there: no figure to use beside a critical fixing.
    let typical = line.typical.as_ref().filter(|_| !line.critical).map(|typical| {
        match line.source.as_deref().filter(|_| shared.is_none()) {
            Some(source) => format!("{typical} ({source})"),
            None => typical.clone(),
        }
    });
    // The sheet names another thread for some machines: a band is that of one.
    let as_thread = |thread: &str| match line.fixing.contains(" on some") {
        true => format!(" as {thread}"),
        false => String::new(),
    };
    let band = line
        .band
        .as_ref()
        .map(|band| format!("check only{}: {}", as_thread(band.thread), band.words()));
    typical.into_iter().chain(band).collect()
}

/// What there is to say of a circuit, under its name; empty when that is nothing.
fn fluid(fluid: &FluidView) -> String {
    let said: String = fluid_said(fluid)
        .iter()
        .map(|line| folded("        ", line))
        .collect();
    if said.is_empty() {
        return said;
    }
    folded("      ", &format!("{}: {}", fluid.title, fluid.fluid)) + &said
}

/// What there is to say of a circuit, a line each.
pub(crate) fn fluid_said(fluid: &FluidView) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(class) = fluid.taken_for {
        let never: Vec<&str> = fluid.never_with.iter().map(|never| never.fluid).collect();
        let never = never.join(" or ");
        said.push(format!(
            "{class} never mixes with {never}; the reservoir's cap says which it is"
        ));
    }
    if let Some(flush) = &fluid.flush {
        said.push(format!(
            "flush {}: {:.0} ml if nothing mixes, up to {:.0} if all does; computed for {}",
            step(&flush.stops),
            flush.least_ml,
            flush.most_ml,
            flush.assumed
        ));
    }
    if let Some(ice) = &fluid.first_ice {
        said.push(format!(
            "first ice at {:.0} °C with {:.0} % ethylene glycol by volume ({})",
            ice.freeze_c,
            ice.glycol_vol_pct,
            // The name of the source; its details are in the JSON.
            ice.source.split(" (").next().unwrap_or_default()
        ));
    }
    said
}

fn disposal(out: &mut String, kit: &KitView) {
    if kit.disposal.is_empty() {
        return;
    }
    heading(
        out,
        "What comes out: each kept apart, tight lid; local law says where it goes",
        false,
    );
    for waste in &kit.disposal {
        let rules: Vec<&str> = waste.rules.iter().map(|rule| rule.rule).collect();
        let waste = waste.waste.replace('-', " ");
        out.push_str(&folded("      ", &format!("{waste}: {}", rules.join("; "))));
    }
}

/// A heading; an empty list under it says so, lest it look forgotten.
fn heading(out: &mut String, title: &str, empty: bool) {
    let _ = writeln!(out, "\n{title}");
    if empty {
        out.push_str("      nothing\n");
    }
}

fn step(stops: &StopsView) -> String {
    format!("(step {})", stops.action + 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use refettle_usecases::kit_desk::band::BandView;

    fn line(title: &str, critical: bool) -> LookUpView {
        LookUpView {
            id: "x".into(),
            title: title.into(),
            fixing: "2 × M8x1.25, 12 mm hex".into(),
            critical,
            // A critical one never has them; if it had, they are not to be shown.
            typical: Some("20–30 N·m".into()),
            source: Some("typical: common practice, no source".into()),
            band: Some(BandView {
                thread: "M8",
                low_nm: 3.1,
                high_nm: 44.2,
                high_in_alloy_nm: None,
                assumed: "class 8.8".into(),
            }),
            doubt: None,
            stops: StopsView {
                action: 4,
                title: "Tighten".into(),
            },
        }
    }

    fn kit(look_up: Vec<LookUpView>) -> KitView {
        KitView {
            format: "refettle-kit/1",
            machine: "m".into(),
            jobs: Vec::new(),
            items: Vec::new(),
            look_up,
            tools: Vec::new(),
            drivers: Vec::new(),
            bags: Vec::new(),
            fluids: Vec::new(),
            disposal: Vec::new(),
        }
    }

    #[test]
    fn a_critical_fixing_shows_its_band_and_no_figure() {
        let out = text(&kit(vec![line("caliper bolts", true)]));
        assert!(out.contains("check only: 3.1 to 45 N·m\n"), "{out}");
        assert!(!out.contains("20–30"), "{out}");
        let mut either = line("caliper bolts", true);
        either.fixing.push_str(", M10 on some");
        let out = text(&kit(vec![either]));
        assert!(out.contains("check only as M8: 3.1 to 45 N·m\n"), "{out}");
        let ordinary = text(&kit(vec![line("cover", false)]));
        assert!(
            ordinary.contains("20–30 N·m; check only: 3.1 to 45 N·m\n"),
            "{ordinary}"
        );
        assert!(
            ordinary.contains("figures below, typical: common practice, no source"),
            "{ordinary}"
        );
    }

    #[test]
    fn left_and_right_share_an_entry_and_others_do_not() {
        let out = text(&kit(vec![
            line("left", true),
            line("right", true),
            line("cover", false),
        ]));
        assert!(out.contains("  [ ] left (step 5); right (step 5)\n"), "{out}");
        assert_eq!(out.matches("M8x1.25").count(), 2, "{out}");
        let mut other = line("right", true);
        other.doubt = Some("doubt it");
        let out = text(&kit(vec![line("left", true), other]));
        assert!(out.contains("      ! doubt it\n"), "{out}");
        assert_eq!(out.matches("M8x1.25").count(), 2, "{out}");
    }
}
