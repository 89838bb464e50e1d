//! The cover map: what comes off for the chosen jobs, from outside to inside, and what stays.

use super::frame::{Here, OfBike, bike, frame, path, seen};
use maud::{Markup, html};
use refettle_facts::time::Seconds;
use refettle_judgement::range::believable;
use refettle_pictures::cover_map::{Cell, CoverMap, Links, Region, What};
use refettle_pictures::outline::region_title;
use refettle_usecases::demo_bike;
use refettle_usecases::look::Look;

const LINKS: Links<'static> = Links {
    part: "#in-words-",
    stays: "#stays-",
};

/// The page.
pub(crate) fn page(look: &Look) -> Markup {
    let actions = look
        .plan
        .as_ref()
        .map_or(&[][..], |evening| &evening.found.actions);
    let map = CoverMap::of(&look.machine, &look.now.state, &look.now.jobs, actions);
    frame(
        "Cover map",
        Here::Bike(&look.bike, OfBike::Cover),
        &html! {
            div.cover-page {
                (bike(&look.now.title, demo_bike::is_demo(&look.bike)))
                (seen(&look.bike, &look.now.last))
                h1 { "Cover map" }
                p.lead { (finding(&map)) }
                @if map.regions().iter().all(|r| r.cells.is_empty()) {
                    p { "Nothing is off, and nothing that is left to do wants anything off." }
                } @else {
                    (key())
                    div.cover-all { (map.all(LINKS)) }
                    (one_by_one(&map))
                }
                p { a.go href=(path(&look.bike, "outline")) { "Where it all sits on the machine" } }
                (in_words(&map))
            }
        },
    )
}

/// What the map says, in a sentence.
fn finding(map: &CoverMap) -> Markup {
    let cells = || map.regions().iter().flat_map(|r| &r.cells).map(|(_, cell)| cell);
    let parts = cells().filter(|c| matches!(c.what, What::Part(_)));
    let (off, still): (Vec<&Cell>, Vec<&Cell>) = parts.partition(|c| c.off_now);
    let jobs = cells().filter(|c| matches!(c.what, What::Job(_))).count();
    let time: Seconds = off.iter().chain(&still).map(|c| c.time).sum();
    html! {
        @match (off.len(), still.len()) {
            (0, 0) => "Nothing comes off",
            (0, n) => { (n) " parts come off" }
            (n, 0) => { (n) " parts are off, none is still to come off" }
            (now, more) => { (now) " parts are off, " (more) " more come off" }
        }
        @if jobs > 0 { " for " (jobs) @if jobs == 1 { " job" } @else { " jobs" } }
        @if time > Seconds::ZERO { ": " (believable(time)) " of taking off and putting back" }
        "."
    }
}

/// What the signs mean.
fn key() -> Markup {
    html! {
        ul.signs aria-label="How to read it" {
            li { svg.cover width="34" height="22" viewBox="0 0 34 22" aria-hidden="true" { rect.cell x="2" y="2" width="30" height="18" rx="2" {} } " comes off" }
            li { svg.cover width="34" height="22" viewBox="0 0 34 22" aria-hidden="true" { rect.cell.off x="2" y="2" width="30" height="18" rx="2" {} } " is off now" }
            li { svg.cover width="22" height="22" viewBox="0 0 22 22" aria-hidden="true" { circle.aim cx="11" cy="11" r="8" {} circle.aim.bull cx="11" cy="11" r="3" {} } " a job" }
            li { svg.cover width="34" height="22" viewBox="0 0 34 22" aria-hidden="true" { path.prong d="M8 20c1-8 4-12 17-13" {} circle.prong cx="28" cy="7" r="3" {} path.taken d="M8 20V3" {} } " another way in" }
            li { "a line: off before what hangs under it" }
        }
    }
}

/// A region at a time, to be swiped; what has nothing to come off is in the lists below.
fn one_by_one(map: &CoverMap) -> Markup {
    let shown: Vec<&Region> = map.regions().iter().filter(|r| !r.cells.is_empty()).collect();
    let n = shown.len();
    html! {
        div.cover-strip tabindex="0" role="region" aria-label="Cover map, a region at a time" {
            @for (at, region) in shown.iter().enumerate() {
                section.panel aria-label=(region_title(region.region)) {
                    h2 { (region_title(region.region)) span.of { " " (at + 1) " of " (n) } }
                    (map.region(region.region, LINKS))
                }
            }
        }
    }
}

fn in_words(map: &CoverMap) -> Markup {
    html! {
        section.words {
            h2 { "The same in words" }
            @for region in map.regions() {
                details.stays #{ "stays-" (region.region) } open[!region.cells.is_empty()] {
                    summary {
                        (region_title(region.region)) ": "
                        @if region.cells.is_empty() { "nothing comes off, " (region.stays.len()) " stay on" }
                        @else { (region.cells.len()) " to see to, " (region.stays.len()) " stay on" }
                    }
                    @if !region.cells.is_empty() {
                        ul {
                            @for (_, cell) in &region.cells {
                                li #{ "in-words-" (cell.anchor) } { @if matches!(cell.what, What::Job(_)) { strong { "Job: " } } (map.in_words(cell)) }
                            }
                        }
                    }
                    @if !region.stays.is_empty() { p.quiet { "Stays on: " (region.stays.join("; ")) "." } }
                }
            }
        }
    }
}
