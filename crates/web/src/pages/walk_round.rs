//! The walk-round: region by region, only what is not right.

use super::bench::tap;
use super::form::wrong;
use super::frame::{Here, OfBike, bike, frame, path, seen as last_seen};
use maud::{Markup, html};
use refettle_machine::ix::PartIx;
use refettle_pictures::outline::{Outline, Seen, Side, Use, region_title};
use refettle_usecases::demo_bike;
use refettle_usecases::look::Read;
use refettle_usecases::undo::would_take_back;
use refettle_usecases::walk_round::{FIXINGS, LONGEST_OWN, Noted, WORDS, measure, noted, symptoms};
use std::collections::BTreeSet;

const PHONE: u16 = 364;
/// The place in the round where it is said what the bike does.
pub(crate) const BEHAVIOUR: &str = "behaviour";

/// What was said last and not taken, to fill the form again.
#[derive(Default)]
pub(crate) struct Back<'a> {
    pub(crate) part: &'a str,
    pub(crate) own: &'a str,
    pub(crate) reading: &'a str,
    pub(crate) mistakes: Vec<String>,
}

/// The page.
pub(crate) fn page(read: &Read, region: Option<&str>, back: &Back<'_>) -> Markup {
    let (machine, now) = (read.machine(), read.now());
    let noted = noted(machine, now);
    let flags: Vec<PartIx> = flags(read, &noted);
    let none = BTreeSet::new();
    let seen = Seen {
        machine,
        state: &now.state,
        missing: &none,
        now: &none,
        findings: &flags,
    };
    let regions = seen.regions();
    let chosen = regions.iter().find(|(name, _)| Some(*name) == region);
    let here = path(read.bike(), "walk-round");
    frame(
        "Walk-round",
        Here::Bike(read.bike(), OfBike::Bike),
        &html! {
            (bike(&now.title, demo_bike::is_demo(read.bike())))
            (last_seen(read.bike(), &now.last))
            h1 { @if let Some((region, _)) = chosen { "Walk-round: " (region_title(region)) } @else if region == Some(BEHAVIOUR) { "Walk-round: what does it do?" } @else { "Walk round it" } }
            (wrong(&back.mistakes))
            @if let Some((region, parts)) = chosen {
                (Outline::of(machine).region(&seen, region, parts, "through", "#part-", PHONE))
                p.lead { "Tap only what is not right." }
                ul.parts { @for part in parts { (one_part(read, region, *part, &noted, back)) } }
            } @else if region == Some(BEHAVIOUR) {
                (behaviour(read, &noted))
            } @else {
                p.lead { "Tap where something is not right. The rest is right." }
                div.sides tabindex="0" role="region" aria-label="Both sides of the machine" {
                    @for side in [Side::Right, Side::Left] {
                        figure {
                            (Outline::of(machine).whole(&seen, side, Use { id: side.word(), links: Some(&format!("{here}?region=")), width: PHONE, floor: false }))
                            figcaption { "from the " (side.word()) }
                        }
                    }
                }
                ul.regions {
                    li { a.go.big href={ (here) "?region=" (BEHAVIOUR) } { "What it does, or does not" } }
                    @for (region, _) in &regions {
                        @let n = noted.iter().filter(|n| n.region.as_deref() == Some(*region)).count();
                        li { a.go.big href={ (here) "?region=" (region) } { (region_title(region)) @if n > 0 { " (" (n) ")" } } }
                    }
                }
            }
            (so_far(read, &noted))
            div.end {
                @if region.is_some() { p { a.go.big href=(here) { "Back to the whole machine" } } }
                p { a.go.big.next href=(path(read.bike(), "jobs")) { "The rest is right: choose jobs" } }
            }
        },
    )
}

fn flags(read: &Read, noted: &[Noted]) -> Vec<PartIx> {
    let mut flags = Vec::new();
    for part in noted
        .iter()
        .filter_map(|n| read.machine().part(n.part.as_deref()?))
    {
        if !flags.contains(&part) {
            flags.push(part);
        }
    }
    flags
}

fn one_part(read: &Read, region: &str, part: PartIx, noted: &[Noted], back: &Back<'_>) -> Markup {
    let Some(sheet) = read.machine().parts.get(part.0) else {
        return html! {};
    };
    let is_back = back.part == sheet.name;
    let said: Vec<&str> = noted
        .iter()
        .filter(|n| n.part.as_deref() == Some(sheet.name.as_str()))
        .map(|n| n.what.as_str())
        .collect();
    html! {
        li #{ "part-" (sheet.name) } {
            details.said open[is_back] {
                summary { (sheet.title) @if !said.is_empty() { ": " (said.join("; ")) } }
                form method="post" action=(path(read.bike(), "walk-round")) {
                    input type="hidden" name="tap" value=(tap());
                    input type="hidden" name="region" value=(region);
                    input type="hidden" name="part" value=(sheet.name);
                    fieldset {
                        legend { "What is not right?" }
                        @for word in WORDS { button name="word" value=(word) { (word) } }
                        @for (word, _) in FIXINGS { button name="word" value=(word) { (word) } }
                        @if let Some((what, unit)) = measure(&sheet.name) {
                            label { (what) ", " (unit) input name="reading" inputmode="decimal" maxlength="20" autocomplete="off" value=(if is_back { back.reading } else { "" }); }
                        }
                        label { "or in your own words" textarea name="own" rows="2" maxlength=(LONGEST_OWN) { @if is_back { (back.own) } } }
                        button name="word" value="" { "Keep what I wrote" }
                    }
                }
            }
        }
    }
}

fn behaviour(read: &Read, noted: &[Noted]) -> Markup {
    let known = symptoms(read.machine(), &read.now().state).unwrap_or_default();
    let is_noted = |id: &str| noted.iter().any(|n| n.symptom.as_deref() == Some(id));
    html! {
        p.lead { "Tap what you have seen, heard or been told." }
        form.symptoms method="post" action=(path(read.bike(), "walk-round")) {
            input type="hidden" name="tap" value=(tap());
            input type="hidden" name="region" value=(BEHAVIOUR);
            @for (id, title) in known {
                button name="symptom" value=(id) disabled[is_noted(id)] { (title) @if is_noted(id) { " (noted)" } }
            }
        }
    }
}

fn so_far(read: &Read, noted: &[Noted]) -> Markup {
    html! {
        @if !noted.is_empty() {
            section.list {
                h2 { "Not right so far: " (noted.len()) }
                ul { @for one in noted { li { strong { (one.of) } ": " (one.what) } } }
                (super::undo::button(read.bike(), would_take_back(read.machine(), read.entries()).as_deref(), "walk-round"))
            }
        }
    }
}
