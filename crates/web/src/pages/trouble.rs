//! Something went wrong: what can be done about it, from here.

use super::bench::tap;
use super::frame::{Here, OfBike, bike, frame, path, seen};
use maud::{Markup, html};
use refettle_facts::caution;
use refettle_facts::ids::EntryId;
use refettle_facts::time::Seconds;
use refettle_machine::model::Machine;
use refettle_machine::trouble::Place;
use refettle_memory::entry::TroubleKind;
use refettle_usecases::demo_bike;
use refettle_usecases::look::Read;
use refettle_usecases::surprise::{Surprise, WRONG};
use refettle_usecases::trouble::{OptionView, TroubleView};
use refettle_usecases::words;

/// The page. `refused` says why what was sent was not taken.
pub(crate) fn page(read: &Read, it: &Surprise, refused: Option<&str>) -> Markup {
    let to = path(read.bike(), &format!("trouble/{}", it.told.entry));
    frame(
        "What can be done",
        Here::Bike(read.bike(), OfBike::Bench),
        &html! {
            (bike(&read.now().title, demo_bike::is_demo(read.bike())))
            (seen(read.bike(), &read.now().last))
            @if let Some(why) = refused { p.caution role="alert" { "Nothing was kept: " (why) "." } }
            (head(it))
            @match &it.options {
                Some(Ok(view)) => { (options(view, it, &to, &read.now().last)) (another_fixing(read.machine(), it, &to)) }
                Some(Err(why)) => p.lead { (why) "." },
                None => {}
            }
            @if it.told.kind.is_none_or(|kind| kind == TroubleKind::Other) { (kinds(&to)) }
            @else if it.place.is_none() { (places(read.machine(), &to)) }
            (over(it, &to))
            p { a.go.big href=(path(read.bike(), "")) { "To the bench" } }
        },
    )
}

fn hidden() -> Markup {
    html! { input type="hidden" name="tap" value=(tap()); }
}

fn head(it: &Surprise) -> Markup {
    let said = match &it.options {
        Some(Ok(view)) => view.said.clone(),
        _ => it.told.kind.map_or_else(
            || "something is wrong".to_owned(),
            |kind| kind.word().replace('-', " "),
        ),
    };
    html! {
        section.trouble aria-label="What went wrong" {
            h1 { (it.title) }
            p { strong { (said) } @if let Some(note) = &it.told.note { ". You said: “" (note) "”" } "." }
            @if let Some(done) = it.told.put_right { p { "Put right, " (done.strftime("%e %B")) "." } }
            @else if !it.told.is_open() { p { "It is over." } }
        }
    }
}

fn options(view: &TroubleView, it: &Surprise, to: &str, last: &EntryId) -> Markup {
    let chosen = it.told.option.as_ref().map(|kept| kept.body.option.to_string());
    html! {
        h2 { "What can be done" }
        p.note { "In the order in which one is tried after the other. More work is counted from how the bike stands now." }
        ol.options {
            @for option in &view.options {
                li.option {
                    h3 { (option.title) @if chosen.as_ref() == Some(&option.id) { " " span.chosen { "✓ chosen" } } }
                    @match &option.refused {
                        Some(why) => p { strong { "Not here: " } (why) "." },
                        None => (detail(option, view, to, last, chosen.as_ref() == Some(&option.id))),
                    }
                }
            }
        }
        p.note { "Minutes: " (view.minutes_from) ". Chances: " (view.chances_from) ". " (view.limits) }
    }
}

fn detail(option: &OptionView, view: &TroubleView, to: &str, last: &EntryId, chosen: bool) -> Markup {
    let next = option
        .next
        .as_ref()
        .and_then(|id| view.options.iter().find(|o| o.id == *id));
    html! {
        dl.block {
            div { dt { "More work" } dd { @match option.more_s { Some(more) => { (Seconds(more)) }, None => "no plan with it" } } }
            div { dt { "Works" } dd { (tenths(option.chance)) } }
            @if option.wait_s > 0 { div { dt { "Waiting" } dd { (Seconds(option.wait_s)) } } }
            @if let Some(expected) = option.expected_s { div.wide { dt { "Expected, with what follows when it fails" } dd { (Seconds(expected)) @if let Some(next) = next { ", then: " (next.title) } } } }
        }
        p { "Good for: " (option.works_for) "." @if option.loud { " Loud." } }
        @for name in &option.cautions {
            @if let Some(c) = caution::named(name) { p.risk { (crate::drawing::pictogram::warning()) strong { (c.title) ": " } (c.do_not) " " (c.instead) } }
        }
        @if !option.tools.is_empty() || !option.kit.is_empty() {
            p { @if !option.kit.is_empty() { strong { "Needs: " } (option.kit.join(", ")) ". " } @if !option.tools.is_empty() { strong { "Tools: " } (option.tools.join("; ")) "." } }
        }
        ol.steps { @for step in &option.steps { li { (step) } } }
        form method="post" action=(to) {
            (hidden())
            input type="hidden" name="seen" value=(last);
            input type="hidden" name="say" value="option";
            button name="option" value=(option.id) { @if chosen { "Start it afresh" } @else { "Do this" } }
        }
    }
}

/// `4 in 10`: a judgement has no more digits.
fn tenths(chance: f64) -> String {
    if chance >= 1.0 {
        "surely".to_owned()
    } else {
        format!("about {:.0} in 10", chance * 10.0)
    }
}

fn kinds(to: &str) -> Markup {
    html! {
        form.kinds method="post" action=(to) {
            (hidden())
            input type="hidden" name="say" value="kind";
            fieldset {
                legend { "What is it like? Then what can be done is listed." }
                @for (text, kind) in WRONG.iter().filter(|(_, kind)| *kind != TroubleKind::Other) {
                    button name="kind" value=(kind.word()) { (text) }
                }
            }
        }
    }
}

fn places(machine: &Machine, to: &str) -> Markup {
    html! {
        form method="post" action=(to) {
            (hidden())
            input type="hidden" name="say" value="place";
            label for="place" { "Where is it?" }
            select #place name="place" {
                optgroup label="Parts" { @for part in &machine.parts { option value={ "part." (part.id) } { (part.title) } } }
                optgroup label="Critical fixings" { @for c in &machine.criticals { option value={ "critical." (c.id) } { (c.title) } } }
            }
            button { "It is there" }
        }
    }
}

/// A part with several kinds of fixings: which of them.
fn another_fixing(machine: &Machine, it: &Surprise, to: &str) -> Markup {
    let Some(Place::Part(place, now)) = it.place else {
        return html! {};
    };
    let Some(part) = machine.parts.get(place.0).filter(|p| p.fixings.len() > 1) else {
        return html! {};
    };
    html! {
        form.kinds method="post" action=(to) {
            (hidden())
            input type="hidden" name="say" value="place";
            fieldset {
                legend { "It is another fixing of " (part.title) }
                @for (nth, fixing) in part.fixings.iter().enumerate().filter(|(nth, _)| *nth != now) {
                    button name="place" value={ "part." (part.id) ":" (nth + 1) } { (words::fixing(fixing)) }
                }
            }
        }
    }
}

fn over(it: &Surprise, to: &str) -> Markup {
    html! {
        @if it.told.is_open() {
            form method="post" action=(to) {
                (hidden())
                input type="hidden" name="say" value="solved";
                button { "It is over: put right another way" }
            }
        }
    }
}
