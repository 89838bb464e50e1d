//! Every layout at several states, as one page on the standard output: made for looking at.

use maud::{DOCTYPE, PreEscaped, html};
use refettle_machine::garage::Garage;
use refettle_machine::ix::{CriticalIx, PartIx};
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_machine::{layouts, sheet};
use refettle_pictures::STYLE;
use refettle_pictures::cover_map::{CoverMap, Links};
use refettle_pictures::outline::{Outline, Seen, Side, Use};
use refettle_plan::ask::{Ask, Goal};
use refettle_plan::solve::solve;
use std::collections::BTreeSet;

const PAGE: &str = include_str!("../../web/static/style.css");

fn main() {
    let what = std::env::args().nth(1).unwrap_or_else(|| "whole".to_owned());
    let only = std::env::args().nth(2);
    let mut body = Vec::new();
    for (name, text) in layouts::ALL {
        if what == "seal" {
            break;
        }
        if only.as_ref().is_some_and(|o| o != name) {
            continue;
        }
        match sheet::read(text) {
            Ok(machine) => body.push(section(name, &machine, &what)),
            Err(mistakes) => eprintln!("{name}: {mistakes}"),
        }
    }
    if what == "seal" {
        body.extend([31.24, 30.2, 33.2].iter().filter_map(|bore| seal(*bore)));
    }
    let page = html! {
        (DOCTYPE)
        html lang="en" { head { meta charset="utf-8"; meta name="viewport" content="width=device-width, initial-scale=1"; title { "gallery" }
            style { (PreEscaped(PAGE)) (PreEscaped(STYLE)) (PreEscaped(".thumbs{display:flex;flex-wrap:wrap;gap:12px}.thumbs svg{width:96px}.regions{max-width:none;columns:3}.regions h2,.regions p{font-size:.8rem;line-height:1.1}.wide{max-width:none}.regions svg{width:364px}")) } }
            body.thumbs[what == "thumb"].regions[what == "regions" || what == "cover-phone"].wide[what == "cover"] { @for section in &body { (section) } } }
    };
    println!("{}", page.into_string());
}

fn seal(bore: f64) -> Option<maud::Markup> {
    use refettle_facts::quantity::from_mm;
    use refettle_facts::seals::{Duty, desk, ring::Thinning};
    let asked = desk::RingAndGroove {
        inside: from_mm(24.99),
        section: from_mm(3.53),
        groove_diameter: from_mm(25.50),
        bore: from_mm(bore),
        width: from_mm(4.57),
    };
    let fit = desk::ring_in_groove(&asked, Duty::Static, Thinning::default()).ok()?;
    Some(refettle_pictures::seal_fit::section(&fit, asked.width))
}

fn named(machine: &Machine, names: &[&str]) -> BTreeSet<PartIx> {
    names.iter().filter_map(|n| machine.part(n)).collect()
}

const JOBS: [&str; 9] = [
    "carb-clean",
    "spark-plugs",
    "oil-and-filter",
    "brake-pads-front",
    "fork-seals",
    "variator-rollers",
    "drive-belt",
    "battery",
    "rear-shocks",
];

fn cover(name: &str, machine: &Machine, phone: bool) -> maud::Markup {
    let state = BikeState::whole(machine);
    let garage = Garage::usual(machine);
    let jobs: Vec<_> = JOBS.iter().filter_map(|j| machine.job(j)).collect();
    let ask = Ask {
        machine,
        state: &state,
        garage: &garage,
        jobs: &jobs,
        goal: Goal::Ready,
        effort: 4000,
    };
    let Ok(found) = solve(&ask) else {
        return html! { h2 { (name) " has no plan" } };
    };
    let map = CoverMap::of(machine, &state, &jobs, &found.actions);
    let links = Links {
        part: "#",
        stays: "#stay-",
    };
    let (now, before) = map.crossings();
    html! {
        h2 { (name) ", crossings " (now) ", at first " (before) }
        @if phone { @for region in map.regions() { h2 { (region.region) } (map.region(region.region, links)) } }
        @else { (map.all(links)) }
    }
}

fn section(name: &str, machine: &Machine, what: &str) -> maud::Markup {
    if what.starts_with("cover") {
        return cover(name, machine, what == "cover-phone");
    }
    let outline = Outline::of(machine);
    let mut state = BikeState::whole(machine);
    let none = BTreeSet::new();
    let mut missing = BTreeSet::new();
    let mut now = BTreeSet::new();
    let mut findings = Vec::new();
    if what == "apart" || what == "regions" {
        state.off = named(
            machine,
            &[
                "seat",
                "tank",
                "side-cover-right",
                "fairing-right",
                "fairing-left",
                "lower-fairing",
                "air-cleaner-cover",
                "skid-plate",
                "shroud-right",
                "tail-panel-right",
                "silencer",
                "front-panel",
                "belly-panel",
            ],
        );
        state.loose = machine
            .criticals
            .iter()
            .enumerate()
            .filter(|(_, c)| {
                ["front-wheel", "rear-shocks", "handlebars"].contains(&machine.parts[c.part.0].name.as_str())
            })
            .map(|(i, _)| CriticalIx(i))
            .collect();
        missing = named(
            machine,
            &[
                "mirrors",
                "chain-guard",
                "clutch-cover",
                "rear-light",
                "tail-light",
                "tail-lamp",
            ],
        );
        now = named(machine, &["carburettors", "carburettor"]);
        findings = named(
            machine,
            &["fork-legs", "rear-tyre", "headlight", "battery", "mudguard"],
        )
        .into_iter()
        .collect();
    }
    let seen = Seen {
        machine,
        state: &state,
        missing: &missing,
        now: if what == "whole" { &none } else { &now },
        findings: &findings,
    };
    html! {
        @if what == "regions" {
            h2 { (name) }
            @for (region, parts) in seen.regions() {
                h2 { (seen.region_in_words(region, &parts)) }
                (outline.region(&seen, region, &parts, &format!("{name}-{region}"), "#", 364))
                p { @for (i, part) in parts.iter().enumerate() { (i + 1) " " (machine.parts[part.0].name) ", " } }
            }
        } @else if what == "thumb" {
            (outline.whole(&seen, Side::Right, Use { id: name, links: None, width: 96, floor: false }))
        } @else {
            @let side = if what == "left" { Side::Left } else { Side::Right };
            h2 { (name) }
            (outline.whole(&seen, side, Use { id: name, links: Some("#"), width: 364, floor: true }))
        }
    }
}
