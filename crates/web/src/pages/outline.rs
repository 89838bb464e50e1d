//! The outline of the machine: both sides, regions to tap, one region looked through, and every part by region.

use super::frame::{Here, OfBike, bike, frame, path, seen as last_seen};
use maud::{Markup, html};
use refettle_machine::ix::PartIx;
use refettle_pictures::outline::{Outline, Seen, Side, Standing, Use, region_title};
use refettle_usecases::bench::Next;
use refettle_usecases::demo_bike;
use refettle_usecases::look::Look;
use std::collections::BTreeSet;

/// Width of a picture on a phone of 390 CSS pixels, the page's own margins off.
const PHONE: u16 = 364;
/// Width of the strip's picture.
const STRIP: u16 = 150;

/// What the pictures are told of a bike.
struct Told {
    missing: BTreeSet<PartIx>,
    now: BTreeSet<PartIx>,
    wrong: Vec<PartIx>,
}

impl Told {
    fn of(look: &Look, place: Option<usize>) -> Told {
        Told {
            // Nothing on record says yet that a part is missing.
            missing: BTreeSet::new(),
            now: place.map(|place| look.parts_up(place)).unwrap_or_default(),
            wrong: look.parts_wrong(),
        }
    }
    fn seen<'a>(&'a self, look: &'a Look) -> Seen<'a> {
        Seen {
            machine: &look.machine,
            state: &look.now.state,
            missing: &self.missing,
            now: &self.now,
            findings: &self.wrong,
        }
    }
}

/// The strip on top of the bench: the machine as it stands, and where the work is.
pub(crate) fn strip(look: &Look, place: usize) -> Markup {
    let told = Told::of(look, Some(place));
    let seen = told.seen(look);
    let regions = seen.regions();
    let here: Vec<&str> = regions
        .iter()
        .filter(|(_, parts)| parts.iter().any(|p| told.now.contains(p)))
        .map(|(region, _)| *region)
        .collect();
    let side = side_of(look, &told.now);
    let used = Use {
        id: "strip",
        links: None,
        width: STRIP,
        floor: false,
    };
    let first = here.first().copied();
    html! {
        a.strip href={ (path(&look.bike, "outline")) @if let Some(region) = first { "?region=" (region) "#region" } } {
            (Outline::of(&look.machine).whole(&seen, side, used))
            span {
                @if here.is_empty() { "The whole machine" }
                @else { "Here: " strong { (here.iter().map(|r| region_title(r)).collect::<Vec<_>>().join(", ")) } }
                br;
                (standings(&seen))
            }
        }
    }
}

/// The side from which what is up can be seen.
fn side_of(look: &Look, parts: &BTreeSet<PartIx>) -> Side {
    let outline = Outline::of(&look.machine);
    let left = !parts.is_empty() && parts.iter().all(|p| outline.side_of(*p) == Some("left side"));
    if left { Side::Left } else { Side::Right }
}

/// `8 off, 1 loose`.
fn standings(seen: &Seen<'_>) -> String {
    let parts = || {
        (0..seen.machine.parts.len())
            .map(PartIx)
            .filter(|p| seen.exists(*p))
    };
    let count = |f: &dyn Fn(Standing) -> bool| parts().filter(|p| f(seen.standing(*p))).count();
    let told: Vec<String> = [
        (
            count(&|s| matches!(s, Standing::Off | Standing::OffWithCarrier)),
            "off",
        ),
        (count(&|s| s == Standing::Loose), "loose"),
        (count(&|s| s == Standing::Missing), "missing"),
        (seen.findings.len(), "said to be wrong"),
    ]
    .iter()
    .filter(|(n, _)| *n > 0)
    .map(|(n, word)| format!("{n} {word}"))
    .collect();
    if told.is_empty() {
        "everything on".to_owned()
    } else {
        told.join(", ")
    }
}

/// The page.
pub(crate) fn page(look: &Look, region: Option<&str>) -> Markup {
    let place = match look.next(None) {
        Next::Card(card) | Next::Wait(card, _) => Some(card.place),
        Next::Finished | Next::NoPlan => None,
    };
    let told = Told::of(look, place);
    let seen = told.seen(look);
    let outline = Outline::of(&look.machine);
    let regions = seen.regions();
    let chosen = regions.iter().find(|(name, _)| Some(*name) == region);
    frame(
        "Outline",
        Here::Bike(&look.bike, OfBike::Bike),
        &html! {
            div.outline-page {
                (bike(&look.now.title, demo_bike::is_demo(&look.bike)))
                (last_seen(&look.bike, &look.now.last))
                h1 { "As it stands: " (standings(&seen)) }
                div.sides tabindex="0" role="region" aria-label="Both sides of the machine" {
                    @for side in [Side::Right, Side::Left] {
                        figure {
                            (outline.whole(&seen, side, Use { id: side.word(), links: Some(&format!("{}?region=", path(&look.bike, "outline"))), width: PHONE, floor: true }))
                            figcaption { "from the " (side.word()) }
                        }
                    }
                }
                (key())
                @if let Some((region, parts)) = chosen { (looked_through(&outline, &seen, region, parts)) }
                @else { p.lead { "Tap a region to look through it." } }
                section.words {
                    h2 { "Every part, by region" }
                    @for (region, parts) in &regions { (listed(&outline, &seen, region, parts)) }
                }
            }
        },
    )
}

fn looked_through(outline: &Outline, seen: &Seen<'_>, region: &str, parts: &[PartIx]) -> Markup {
    html! {
        section #region.picture.region-picture aria-label=(region_title(region)) {
            h2 { (seen.region_in_words(region, parts)) }
            (outline.region(seen, region, parts, "through", "#part-", PHONE))
            ol.numbered {
                @for part in parts { (row(outline, seen, *part, "part-")) }
            }
        }
    }
}

fn row(outline: &Outline, seen: &Seen<'_>, part: PartIx, id: &str) -> Markup {
    html! {
        @if let Some(sheet) = seen.machine.parts.get(part.0) {
            li id={ (id) (sheet.name) } {
                (sheet.title)
                @if let Some(side) = outline.side_of(part) { span.quiet { ", " (side) } }
                @if let Some(word) = seen.standing(part).word() { ": " strong { (word) } }
                @if let Some(flag) = seen.findings.iter().position(|p| *p == part) { ", " strong { "flag " (flag + 1) ": said to be wrong" } }
                @if seen.now.contains(&part) { ", " strong.here { "now" } }
            }
        }
    }
}

fn listed(outline: &Outline, seen: &Seen<'_>, region: &str, parts: &[PartIx]) -> Markup {
    html! {
        details.stays {
            summary { (seen.region_in_words(region, parts)) }
            ul { @for part in parts { (row(outline, seen, *part, "all-")) } }
            p { a.go href={ "?region=" (region) "#region" } { "Look through it" } }
        }
    }
}

/// What the ways of drawing mean.
fn key() -> Markup {
    let sign = |class: &str, dashes: Option<&str>| {
        html! { svg.outline.sample width="34" height="22" viewBox="0 0 34 22" aria-hidden="true" { path class=(class) d="M4 4H30V18H4Z" stroke-width="2" stroke-dasharray=[dashes] {} } }
    };
    html! {
        ul.signs aria-label="How to read it" {
            li { (sign("body", None)) " on" }
            li { (sign("body loose", Some("5.5 4.5"))) " loose" }
            li { svg.outline.sample width="34" height="22" viewBox="0 0 34 22" aria-hidden="true" { path.hatch d="M4 10l6-6M4 16L16 4M8 18L22 4M14 18L28 4M20 18L30 8M26 18l4-4" stroke-width="1.2" {} path.ghost fill="none" d="M4 4H30V18H4Z" stroke-width="1" {} } " off, set aside" }
            li { svg.outline.sample width="34" height="22" viewBox="0 0 34 22" aria-hidden="true" { path.gone d="M4 4H30V18H4Z" stroke-width="2" stroke-dasharray="0.1 3.4" {} path.cross d="M12 6L22 16M22 6L12 16" stroke-width="2.4" {} } " missing" }
            li { svg.outline.sample width="26" height="22" viewBox="0 0 26 22" aria-hidden="true" { g.flag { path.pole d="M4 21V3" stroke-width="2" {} path.cloth d="M4 3H22L18 9L22 15H4Z" stroke-width="1" {} } } " something is wrong" }
            li { svg.outline.sample width="22" height="22" viewBox="0 0 22 22" aria-hidden="true" { g.now { path.point d="M11 18L4 5H18Z" {} } } " now" }
        }
    }
}
