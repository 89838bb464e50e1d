//! The road check: how far the bike may go, what the next stage wants, what holds.

use super::frame::{Here, OfBike, bike, frame, path, seen};
use maud::{Markup, html};
use refettle_facts::ids::{BikeId, EntryId};
use refettle_judgement::road::Stage;
use refettle_usecases::demo_bike;
use refettle_usecases::road::{JUDGE, NOT_PASSED, OpenView, RoadView};

/// What the page shows.
pub(crate) struct Shown<'a> {
    pub(crate) bike: &'a BikeId,
    pub(crate) title: &'a str,
    pub(crate) last: &'a EntryId,
    pub(crate) road: &'a RoadView,
    /// Schemes that can be chosen.
    pub(crate) schemes: &'a [&'static str],
    /// What was wrong with the answer just sent, and of which item.
    pub(crate) refused: Option<(&'a str, &'a str)>,
}

/// The page.
pub(crate) fn page(shown: &Shown<'_>) -> Markup {
    let road = shown.road;
    let next = road.open.first().map(|o| o.opens);
    let now: Vec<&OpenView> = road.open.iter().filter(|o| Some(o.opens) == next).collect();
    let later = road.open.len() - now.len();
    frame(
        "Road check",
        Here::Bike(shown.bike, OfBike::Bike),
        &html! {
            (bike(shown.title, demo_bike::is_demo(shown.bike)))
            (seen(shown.bike, shown.last))
            h1 { "Road check" }
            (ladder(road))
            @if road.passes {
                p.lead { "It has passed. " (JUDGE) }
                p { a.go.big href=(path(shown.bike, "papers")) { "To the papers" } }
            } @else {
                p.lead { (sentence(road.stage_words)) " " (NOT_PASSED) }
            }
            @if let Some((_, why)) = shown.refused { p.refused role="alert" { strong { "Not taken: " } (why) } }
            @if !now.is_empty() {
                h2 { "What opens the next stage: " (next.map_or("", stage_title)) " (" (now.len()) ")" }
                ul.items { @for open in &now { (item(shown, open)) } }
            }
            @if later > 0 { p { (later) " more for the stages after it." } }
            (holds(road))
            (told(shown))
            (scheme(shown))
            @if !road.passes { p.judge { (JUDGE) } }
        },
    )
}

fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect::<String>() + "."
    })
}

fn stage_title(name: &str) -> &'static str {
    match Stage::named(name) {
        Some(Stage::Standing) | None => "standing",
        Some(Stage::Push) => "the push",
        Some(Stage::Walk) => "the walk",
        Some(Stage::SlowBrake) => "the slow brake test",
        Some(Stage::FirstKilometre) => "the first kilometre",
        Some(Stage::FifteenKilometres) => "fifteen kilometres",
        Some(Stage::Passed) => "passed",
    }
}

/// The stages as rungs, with the one reached marked.
fn ladder(road: &RoadView) -> Markup {
    let at = Stage::named(road.stage).unwrap_or(Stage::Standing);
    html! {
        ol.ladder aria-label="Stages" {
            @for stage in Stage::ALL {
                li .reached[stage <= at] aria-current=[(stage == at).then_some("step")] {
                    @if stage <= at { span aria-hidden="true" { "✓ " } }
                    (stage_title(stage.name()))
                }
            }
        }
    }
}

fn item(shown: &Shown<'_>, open: &OpenView) -> Markup {
    let wrong = shown.refused.is_some_and(|(id, _)| id == open.id);
    html! {
        li.item .fails[open.fails] id={ "item-" (open.id.replace(':', "-")) } {
            h3 { @if open.fails { span aria-hidden="true" { "✗ " } } (open.title) }
            p.why { (open.why) }
            p { (open.how) }
            @if let Some(caution) = &open.caution { div.caution { p { (caution) } } }
            (form(shown, open, wrong))
        }
    }
}

fn form(shown: &Shown<'_>, open: &OpenView, wrong: bool) -> Markup {
    let to = path(shown.bike, "road/answer");
    let id = open.id.as_str();
    html! {
        @if id.starts_with("fit:") || id.starts_with("tighten:") {
            p { a.go href=(path(shown.bike, "")) { "To the bench" } }
        } @else if let Some(shortcut) = id.strip_prefix("shortcut:") {
            form method="post" action=(path(shown.bike, "road/shortcut")) {
                input type="hidden" name="shortcut" value=(shortcut);
                input type="hidden" name="tap" value=(super::bench::tap());
                button { "The test was done and passed" }
            }
        } @else if open.unit.is_empty() {
            form.two method="post" action=(to) {
                input type="hidden" name="item" value=(id);
                input type="hidden" name="tap" value=(super::bench::tap());
                button name="said" value="ok" { span aria-hidden="true" { "✓ " } "Right" }
                details.said {
                    summary { "Wrong" }
                    label { "What is wrong?" input type="text" name="why" maxlength="300"; }
                    button name="said" value="wrong" { "Keep it as wrong" }
                    button name="said" value="not-there" { "This bike has none" }
                }
            }
        } @else {
            form.reading method="post" action=(to) {
                input type="hidden" name="item" value=(id);
                input type="hidden" name="tap" value=(super::bench::tap());
                label {
                    @if id.starts_with("recheck:") { "Wrench set to, " (open.unit) } @else { "Reading, " (open.unit) }
                    input type="text" name="reading" inputmode="decimal" autocomplete="off" required aria-invalid=[wrong.then_some("true")];
                }
                @if id.starts_with("recheck:") {
                    label.check { input type="checkbox" name="moved" value="yes"; "it moved: it had not been tight" }
                } @else {
                    label { "The maker's own limit, where stamped or printed"
                        input type="text" name="maker" inputmode="decimal" autocomplete="off"; }
                }
                button name="said" value="reading" { "Keep it" }
                @if !id.starts_with("recheck:") { button.plain name="said" value="not-there" formnovalidate { "This bike has none" } }
            }
        }
    }
}

fn holds(road: &RoadView) -> Markup {
    html! {
        @if !road.holds.is_empty() {
            details.holds {
                summary { "What holds (" (road.holds.len()) ")" }
                ul {
                    @for held in &road.holds {
                        li { strong { (held.title) } ": " (held.against)
                            @if let Some(strictest) = &held.strictest {
                                " Strictest beside it: " (strictest) @if !held.passes_strictest { " — not passed by that one" } "."
                            }
                        }
                    }
                }
            }
        }
    }
}

fn told(shown: &Shown<'_>) -> Markup {
    html! {
        @if !shown.road.disclosed.is_empty() {
            h2 { "To be told to the buyer" }
            ul {
                @for told in &shown.road.disclosed {
                    li { (told.what) @if told.due_later { " (due later)" } ". Closing test: " (told.closing_test) }
                }
            }
        }
    }
}

fn scheme(shown: &Shown<'_>) -> Markup {
    html! {
        form.scheme method="get" action=(path(shown.bike, "road")) {
            label {
                "Limits by"
                select name="scheme" {
                    option value="" selected[shown.road.scheme.is_none()] { "the strictest that counts" }
                    @for name in shown.schemes {
                        option value=(name) selected[shown.road.scheme.as_deref() == Some(*name)] { (name) }
                    }
                }
            }
            label { "Day of sale" input type="date" name="sale"; }
            button { "Use these" }
        }
    }
}
