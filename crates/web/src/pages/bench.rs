//! The bench: one card, four answers.

use super::card;
use super::frame::{Here, OfBike, bike, frame, path, seen};
use super::outline::strip;
use super::photos;
use super::timer;
use jiff::Timestamp;
use maud::{Markup, html};
use refettle_facts::time::Seconds;
use refettle_judgement::range::believable;
use refettle_memory::entry::Entry;
use refettle_usecases::bench::{LONGEST_NOTE, Next};
use refettle_usecases::card::Card;
use refettle_usecases::card_notes::measured_words;
use refettle_usecases::demo_bike;
use refettle_usecases::look::Look;
use refettle_usecases::shortcuts::ANOTHER_WAY;
use refettle_usecases::surprise::WRONG;
use refettle_usecases::undo::would_take_back;

/// The page.
pub(crate) fn page(look: &Look, take: Option<&str>) -> Markup {
    let next = look.next(take);
    let title = match &next {
        Next::Card(card) | Next::Wait(card, _) => card.title.clone(),
        Next::Finished => "Nothing is left to do".to_owned(),
        Next::NoPlan => "There is no way on from here".to_owned(),
    };
    frame(
        &title,
        Here::Bike(&look.bike, OfBike::Bench),
        &html! {
            (bike(&look.now.title, demo_bike::is_demo(&look.bike)))
            (seen(&look.bike, &look.now.last))
            (last_kept(look))
            (changed(look))
            @match &next {
                Next::Card(card) => {
                    (strip(look, card.place))
                    (card::article(look, card, None))
                    (put_off(look, &card.id))
                    (timer::bag_questions(look))
                    (progress(look))
                    (timer::timer(look, &card.id))
                    (answers(look, card))
                    (photos::beside(look, card))
                }
                Next::Wait(card, until) => {
                    (strip(look, card.place))
                    (waiting(look.at, *until))
                    (card::article(look, card, Some(*until)))
                    (put_off(look, &card.id))
                    (timer::bag_questions(look))
                    (progress(look))
                    (timer::timer(look, &card.id))
                    (answers(look, card))
                    (photos::beside(look, card))
                }
                Next::Finished => (finished(look)),
                Next::NoPlan => (no_plan(look)),
            }
            (meanwhile(look))
        },
    )
}

/// What else may be: the last taken back, work done unwatched, enough for tonight.
fn meanwhile(look: &Look) -> Markup {
    html! {
        section.meanwhile aria-label="Beside the card" {
            (super::undo::button(&look.bike, would_take_back(&look.machine, &look.entries).as_deref(), ""))
            p {
                a.go href=(path(&look.bike, "now")) { "It looks otherwise now" }
                a.go href={ (path(&look.bike, "tonight")) "?stop=yes" } { "Stop for tonight" }
                a.go href=(path(&look.bike, "tonight")) { "What fits tonight?" }
            }
        }
    }
}

/// What was said last, so that a tap is seen to have counted.
fn last_kept(look: &Look) -> Markup {
    let answered = |stored: &&refettle_memory::Stored| matches!(stored.entry, Entry::ActionAnswered(_));
    html! {
        p.kept role="status" {
            @match look.entries.iter().rev().find(answered) {
                Some(stored) => { span.tick aria-hidden="true" { "✓" } " Kept, " (ago(look.at, stored.at)) ". " (look.told(stored)) }
                None => { "Nothing answered yet." }
            }
        }
        @if let Some(stored) = look.entries.iter().rev().find(answered) { (more_of_it(look, stored)) }
    }
}

/// What was measured with the last answer, and the closing test of a shortcut it took.
fn more_of_it(look: &Look, stored: &refettle_memory::Stored) -> Markup {
    let Entry::ActionAnswered(body) = &stored.entry else {
        return html! {};
    };
    let shortcuts = look.shortcuts();
    let shortcut = shortcuts.iter().find(|line| line.entry == stored.id);
    let measured = measured_words(look, body);
    html! {
        @if !measured.is_empty() {
            ul.measured { @for line in &measured { li { (line) } } }
        }
        @if let Some(line) = shortcut {
            section.trouble aria-label="Shortcut" {
                p { strong { "Kept as a shortcut" } ": it " (line.risk.word()) ". If it fails: " (line.risks) "." }
                p { "It comes back as: " strong { (line.test) } ", " (line.when) @if line.in_plan { ". It is in the plan" } "." }
            }
        }
    }
}

/// What the surprises change in the plan.
fn changed(look: &Look) -> Markup {
    html! {
        @if let Some(changed) = &look.changed {
            section.changed aria-label="What changed" {
                p { strong { "Changed by what went wrong: " } (changed.words) "." }
            }
        }
    }
}

/// `just now`, `12 min ago`, `3 h ago`, `2 days ago`.
pub(crate) fn ago(now: Timestamp, then: Timestamp) -> String {
    match now.duration_since(then).as_mins() {
        ..1 => "just now".to_owned(),
        minutes @ 1..120 => format!("{minutes} min ago"),
        minutes @ 120..2880 => format!("{} h ago", minutes / 60),
        minutes => format!("{} days ago", minutes / 1440),
    }
}

/// `12 min`, counted up to the started minute.
pub(crate) fn still(now: Timestamp, until: Timestamp) -> String {
    let seconds = until.duration_since(now).as_secs().max(0);
    let seconds = u32::try_from(seconds).unwrap_or(u32::MAX);
    Seconds::from_minutes(seconds.div_ceil(60)).to_string()
}

fn waiting(now: Timestamp, until: Timestamp) -> Markup {
    html! {
        p.waiting role="status" {
            (crate::drawing::pictogram::clock())
            " Nothing but waiting is left: about " strong { (still(now, until)) } " more. Then this."
        }
    }
}

fn progress(look: &Look) -> Markup {
    let Ok(evening) = &look.plan else {
        return html! {};
    };
    let (done, left) = (look.done.len(), evening.found.actions.len());
    html! {
        section.progress aria-label="How far" {
            p {
                (done) " done, " (left) " to go: about " (believable(evening.found.hands_on)) " of work. "
                a href=(path(&look.bike, "order")) { "See them all" }
            }
            progress value=(done) max=(done + left) aria-label="Actions done" {}
        }
    }
}

fn put_off(look: &Look, shown: &str) -> Markup {
    let list: Vec<_> = look.put_off().into_iter().filter(|(id, _)| id != shown).collect();
    html! {
        @if !list.is_empty() {
            section.put-off aria-label="Put off" {
                h2 { "Put off" }
                ul { @for (id, title) in &list { li { a.go href={ (path(&look.bike, "")) "?take=" (id) } { (title) } } } }
            }
        }
    }
}

fn answers(look: &Look, card: &Card) -> Markup {
    let hidden = || hidden(look, card);
    let wrong: Vec<&str> = WRONG.iter().map(|(text, _)| *text).collect();
    let another_way: Vec<&str> = ANOTHER_WAY.iter().map(|(text, _)| *text).collect();
    html! {
        section.answers aria-label="Your answer" {
            form.done #done method="post" action=(path(&look.bike, "answer")) {
                (hidden())
                button.primary name="answer" value="done" { span aria-hidden="true" { "✓ " } "Done" }
            }
            @if card.kind != "await" {
                (said(look, &hidden(), "something-wrong", "Something's wrong", "What is wrong?", &wrong))
                (said(look, &hidden(), "done-another-way", "Done another way", "How was it done?", &another_way))
                form.not-now method="post" action=(path(&look.bike, "answer")) {
                    (hidden())
                    button name="answer" value="not-now" { "Not now" }
                }
            }
        }
    }
}

pub(super) fn hidden(look: &Look, card: &Card) -> Markup {
    html! {
        input type="hidden" name="card" value=(card.id);
        input type="hidden" name="seen" value=(look.now.last);
        input type="hidden" name="tap" value=(tap());
    }
}

/// A key for the tap this form will make. A second tap on the same form counts once.
pub(crate) fn tap() -> String {
    let mut bytes = [0_u8; 16];
    if getrandom::fill(&mut bytes).is_err() {
        // An empty key is refused when it comes back, and the page says so; nothing is recorded twice.
        return String::new();
    }
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn said(look: &Look, hidden: &Markup, answer: &str, name: &str, question: &str, short: &[&str]) -> Markup {
    html! {
        details.said {
            summary { (name) }
            form method="post" action=(path(&look.bike, "answer")) {
                (hidden)
                input type="hidden" name="answer" value=(answer);
                fieldset {
                    legend { (question) }
                    @for text in short { button name="note" value=(text) { (text) } }
                    label for=(answer) { "or in your own words" }
                    textarea #(answer) name="own" rows="2" maxlength=(LONGEST_NOTE) {}
                    button name="note" value="" { "Keep these words" }
                }
            }
        }
    }
}

fn finished(look: &Look) -> Markup {
    html! {
        article.card {
            h1 { "Nothing is left to do" }
            p { "All jobs are done, everything is on, tight and looked at twice, as far as it was answered here." }
            p { "Nobody rides yet: brakes, wheels, tyres, steering, lights and controls are checked with numbers first." }
            p { a.go href=(path(&look.bike, "order")) { "See what was done" } }
        }
    }
}

fn no_plan(look: &Look) -> Markup {
    html! {
        article.card {
            h1 { "There is no way on from here" }
            @if let Err(view) = &look.plan {
                @if !view.certain { p { "None was found, though there may be one." } }
                ul { @for cause in &view.causes { li { (cause) } } }
                @if !view.would_help.is_empty() {
                    h2 { "What would help" }
                    ul { @for help in &view.would_help { li { (help) } } }
                }
            }
        }
    }
}
