//! The timer that forgives, and what bags left open: both small, below the card.

use super::bench::{ago, tap};
use super::frame::path;
use maud::{Markup, html};
use refettle_memory::entry::BagLine;
use refettle_usecases::look::Look;

/// Start, stop, and what the last one should have shown.
pub(crate) fn timer(look: &Look, card: &str) -> Markup {
    let to = path(&look.bike, "timer");
    let running = look.now.book.running();
    let last = look.now.book.timers.iter().rev().find(|t| t.stopped.is_some());
    html! {
        section.timer aria-label="Timer" {
            @match running {
                Some(timer) => {
                    p { (crate::drawing::pictogram::clock()) " The timer runs: " strong { (timer.minutes(look.at)) " min" } "." }
                    form method="post" action=(to) {
                        (hidden("stop"))
                        input type="hidden" name="timer" value=(timer.entry);
                        button { "Stop the timer" }
                    }
                    (correct(&to, timer.entry.as_str(), timer.minutes(look.at), "Forgot to stop it?"))
                }
                None => {
                    form method="post" action=(to) {
                        (hidden("start"))
                        input type="hidden" name="card" value=(card);
                        button { "Start the timer" }
                    }
                    @if let Some(timer) = last {
                        p { "Last: " strong { (timer.minutes(look.at)) " min" } ", " (ago(look.at, timer.started)) @if timer.corrected.is_some() { ", corrected" } "." }
                        (correct(&to, timer.entry.as_str(), timer.minutes(look.at), "That is not right?"))
                    }
                }
            }
        }
    }
}

fn hidden(say: &str) -> Markup {
    html! {
        input type="hidden" name="tap" value=(tap());
        input type="hidden" name="say" value=(say);
    }
}

fn correct(to: &str, timer: &str, minutes: u32, question: &str) -> Markup {
    html! {
        details.said {
            summary { (question) }
            form method="post" action=(to) {
                (hidden("correct"))
                input type="hidden" name="timer" value=(timer);
                label for="minutes" { "Minutes it really took" }
                input #minutes name="minutes" inputmode="numeric" autocomplete="off" value=(minutes);
                button { "Keep these minutes" }
            }
        }
    }
}

/// What was over or missing and is not settled.
pub(crate) fn bag_questions(look: &Look) -> Markup {
    let to = path(&look.bike, "bag-question");
    html! {
        @for question in look.now.book.open_bag_questions() {
            @let body = &question.emptied.body;
            section.trouble aria-label="Bag" {
                @if !body.missing.is_empty() {
                    p { strong { "Bag " (body.bag) ": missing " (lines(&body.missing)) ". On the floor, or inside the engine?" } }
                    p { "Until it is known, nothing is closed over an opening and the engine is not turned." }
                    (found(&to, question.emptied.entry.as_str(), &[
                        ("on-the-floor", "Found on the floor"),
                        ("in-the-engine", "Found inside, taken out"),
                        ("new-one", "It cannot be inside: a new one fitted"),
                    ]))
                }
                @if !body.over.is_empty() {
                    p { strong { "Bag " (body.bag) ": over " (lines(&body.over)) ". From where?" } }
                    (found(&to, question.emptied.entry.as_str(), &[
                        ("place-found", "Its place was found"),
                        ("belongs-nowhere", "It belongs to nothing here"),
                    ]))
                }
            }
        }
    }
}

fn lines(lines: &[BagLine]) -> String {
    let each: Vec<String> = lines
        .iter()
        .map(|line| format!("{} × {}", line.count, line.what))
        .collect();
    each.join(", ")
}

fn found(to: &str, finding: &str, answers: &[(&str, &str)]) -> Markup {
    html! {
        form.kinds method="post" action=(to) {
            input type="hidden" name="tap" value=(tap());
            input type="hidden" name="finding" value=(finding);
            fieldset {
                legend.quiet { "What was found" }
                @for (word, text) in answers { button name="found" value=(word) { (text) } }
            }
        }
    }
}
