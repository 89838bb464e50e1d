//! Jobs of a bike: proposed, ticked, kept; then the plan.

use super::bench::tap;
use super::form::wrong;
use super::frame::{Here, OfBike, bike, frame, path, seen as last_seen};
use maud::{Markup, html};
use refettle_facts::ids::{BikeId, EntryId};
use refettle_machine::model::REGIONS;
use refettle_pictures::outline::region_title;
use refettle_usecases::demo_bike;
use refettle_usecases::jobs::{JobLine, Mark};

/// What the chosen jobs come to.
pub(crate) enum Comes {
    /// Nothing was kept yet.
    NotKept,
    /// So many jobs, and hands-on time as a range in words.
    To(usize, String),
    /// There is no plan: why, and what would help.
    NoPlan(Vec<String>, Vec<String>),
}

/// What is shown.
pub(crate) struct Shown<'a> {
    pub(crate) bike: &'a BikeId,
    pub(crate) title: &'a str,
    pub(crate) last: &'a EntryId,
    pub(crate) lines: &'a [JobLine],
    /// Whether a job's box is ticked.
    pub(crate) ticked: &'a dyn Fn(&JobLine) -> bool,
    pub(crate) comes: Comes,
    pub(crate) mistakes: &'a [String],
}

/// The page.
pub(crate) fn page(shown: &Shown<'_>) -> Markup {
    let all_over = shown
        .lines
        .iter()
        .filter(|l| l.region.is_none())
        .collect::<Vec<_>>();
    frame(
        "Jobs",
        Here::Bike(shown.bike, OfBike::Bike),
        &html! {
            (bike(shown.title, demo_bike::is_demo(shown.bike)))
            (last_seen(shown.bike, shown.last))
            h1 { "Jobs" }
            (wrong(shown.mistakes))
            (comes(shown))
            form.taps method="post" action=(path(shown.bike, "jobs")) {
                input type="hidden" name="tap" value=(tap());
                p.lead { "Ticked: what was found, and what nobody knows of its history. Untick what you leave." }
                (region(shown, "all over the bike", &all_over))
                @for name in REGIONS {
                    @let here: Vec<&JobLine> = shown.lines.iter().filter(|l| l.region.as_deref() == Some(name)).collect();
                    (region(shown, region_title(name), &here))
                }
                div.end { button.primary { "Keep these and plan" } }
            }
        },
    )
}

fn comes(shown: &Shown<'_>) -> Markup {
    html! {
        @match &shown.comes {
            Comes::NotKept => {}
            Comes::To(jobs, range) => {
                article.card {
                    p.lead { strong { (jobs) @if *jobs == 1 { " job" } @else { " jobs" } " chosen: about " (range) } " hands on, closing up included." }
                    p { a.go.big.next href=(path(shown.bike, "")) { "To the bench" } }
                    p { a.go href=(path(shown.bike, "kit")) { "What to have here first" } }
                }
            }
            Comes::NoPlan(causes, help) => {
                article.card role="alert" {
                    h2 { "Kept, but there is no way to do all of them" }
                    ul { @for cause in causes { li { (cause) } } }
                    @if !help.is_empty() { h2 { "What would help" } ul { @for line in help { li { (line) } } } }
                    p { "Untick one of them, or say how the bike really stands." }
                }
            }
        }
    }
}

fn region(shown: &Shown<'_>, title: &str, lines: &[&JobLine]) -> Markup {
    let ticked = |line: &&&JobLine| (shown.ticked)(line);
    let (mut first, mut rest): (Vec<&JobLine>, Vec<&JobLine>) = lines
        .iter()
        .partition(|line| ticked(line) || line.mark.is_some() || line.chosen);
    first.sort_by_key(|line| line.mark.map_or(Mark::Perhaps, |mark| mark));
    rest.sort_by_key(|line| line.done);
    html! {
        @if !first.is_empty() {
            fieldset.jobs { legend { (title) } @for line in &first { (job(shown, line)) } }
        }
        @if !rest.is_empty() {
            details.more {
                summary { "More: " (title) " (" (rest.len()) ")" }
                fieldset.jobs { @for line in &rest { (job(shown, line)) } }
            }
        }
    }
}

fn job(shown: &Shown<'_>, line: &JobLine) -> Markup {
    html! {
        label.pick.job {
            input type="checkbox" name="job" value=(line.name) checked[(shown.ticked)(line)];
            span {
                strong { (line.title) }
                @if let Some(mark) = line.mark { " " span.mark.must[mark == Mark::Must] { (mark.word()) } }
                @if line.done { " (done)" }
                @for why in &line.why { span.because { (why) } }
            }
        }
    }
}
