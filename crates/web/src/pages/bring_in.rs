//! Bringing a bike in: its layout by its outline, then taps.

use super::bench::tap;
use super::form::{any, one, wrong};
use super::frame::{Here, OfGarage, frame};
use maud::{Markup, html};
use refettle_machine::ix::QuestionIx;
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_memory::entry::PaperKind;
use refettle_pictures::outline::{Outline, Seen, Side, Use, region_title};
use refettle_usecases::bring_in::short_title;
use std::collections::BTreeSet;

/// Width of an outline in the list of layouts, on a phone.
const SMALL: u16 = 168;
/// Width of the outline of the layout chosen.
const WIDE: u16 = 300;

/// How long it stood: what is tapped, and the months it stands for. Judgement, no source.
const STOOD: [(&str, &str); 6] = [
    ("", "not known"),
    ("0", "in use"),
    ("6", "a winter"),
    ("12", "a year"),
    ("30", "2 to 3 years"),
    ("60", "longer"),
];
const RUNS: [(&str, &str); 3] = [
    ("runs", "runs"),
    ("not-known", "not known"),
    ("dead", "does not run"),
];

/// The layouts, each by its outline.
pub(crate) fn layouts(machines: &[(&'static str, Machine)]) -> Markup {
    frame(
        "Bring a bike in",
        Here::Garage(OfGarage::More),
        &html! {
            h1 { "Which is most like it?" }
            p { "Tap the nearest. It need not be the same: what differs comes out at work." }
            ul.layouts {
                @for (name, machine) in machines {
                    li {
                        a href={ "/bring-in?layout=" (name) } {
                            (outline(machine, name, SMALL, None))
                            span { (short_title(machine)) }
                        }
                    }
                }
            }
        },
    )
}

fn outline(machine: &Machine, id: &str, width: u16, state: Option<&BikeState>) -> Markup {
    let whole = BikeState::whole(machine);
    let none = BTreeSet::new();
    let seen = Seen {
        machine,
        state: state.unwrap_or(&whole),
        missing: &none,
        now: &none,
        findings: &[],
    };
    let used = Use {
        id,
        links: None,
        width,
        floor: false,
    };
    Outline::of(machine).whole(&seen, Side::Right, used)
}

/// What was tapped so far, to fill the form again.
pub(crate) struct Filled<'a> {
    /// The field's text.
    pub(crate) text: &'a dyn Fn(&str) -> String,
    /// Whether a field of this name has this value.
    pub(crate) has: &'a dyn Fn(&str, &str) -> bool,
    /// The form came back.
    pub(crate) back: bool,
}

/// The form for a bike of a layout.
pub(crate) fn form(
    name: &str,
    machine: &Machine,
    questions: &[QuestionIx],
    filled: &Filled<'_>,
    mistakes: &[String],
) -> Markup {
    let value = |field: &str, usual: &str| {
        if filled.back {
            (filled.text)(field)
        } else {
            usual.to_owned()
        }
    };
    let unit = value("unit", "km");
    frame(
        "Bring a bike in",
        Here::Garage(OfGarage::More),
        &html! {
            h1 { (short_title(machine)) }
            div.chosen-layout { (outline(machine, "chosen", WIDE, None)) a.go href="/bring-in" { "Another layout" } }
            (wrong(mistakes))
            form.taps method="post" action="/bring-in" {
                input type="hidden" name="layout" value=(name);
                input type="hidden" name="tap" value=(tap());
                fieldset { legend { "Does it run?" }
                    @for (word, words) in RUNS { (one("runs", word, words, value("runs", "not-known") == word)) }
                }
                fieldset { legend { "How long has it stood?" }
                    @for (months, words) in STOOD { (one("stood", months, words, value("stood", "") == months)) }
                }
                (asked(machine, questions, filled))
                fieldset.typed { legend { "If you know them" }
                    label { "What to call it" input name="title" maxlength="200" autocomplete="off" placeholder=(short_title(machine)) value=(value("title", "")); }
                    label { "Year" input name="year" inputmode="numeric" maxlength="10" autocomplete="off" value=(value("year", "")); }
                    label { "Distance on the clock" input name="distance" inputmode="decimal" maxlength="20" autocomplete="off" value=(value("distance", "")); }
                    (one("unit", "km", "km", unit != "mi"))
                    (one("unit", "mi", "miles", unit == "mi"))
                }
                (off(machine, filled))
                details.more open[papers_tapped(filled)] {
                    summary { "Papers that are here" }
                    fieldset { legend { "Tap what you have seen" }
                        @for (word, words) in PAPERS { (any("paper", word, words, (filled.has)("paper", word))) }
                    }
                }
                div.end { button.primary { "Bring it in" } }
            }
        },
    )
}

const PAPERS: [(&str, &str); 7] = [
    ("registration", "registration"),
    ("roadworthiness", "last roadworthiness test"),
    ("service-records", "service records"),
    ("manual", "maker's manual"),
    ("finance-check", "no money owed on it"),
    ("theft-check", "not reported stolen"),
    ("recall-check", "no recall open"),
];

fn papers_tapped(filled: &Filled<'_>) -> bool {
    PaperKind::ALL.iter().any(|(word, _)| (filled.has)("paper", word))
}

fn asked(machine: &Machine, questions: &[QuestionIx], filled: &Filled<'_>) -> Markup {
    let asked = questions.iter().filter_map(|q| machine.questions.get(q.0));
    html! {
        @if !questions.is_empty() {
            details.more open[filled.back] {
                summary { "Differs from the usual? " (questions.len()) " questions" }
                p { "Their answers change tonight's work. Left alone, the usual one is taken." }
                @for question in asked {
                    @let field = format!("q.{}", question.name);
                    @let said = (filled.text)(&field);
                    fieldset { legend { (question.title) }
                        @for (at, answer) in question.answers.iter().enumerate() {
                            @let usual = at == question.default;
                            (one(&field, answer, &format!("{}{}", answer.replace('-', " "), if usual { " (usual)" } else { "" }), said == *answer || (said.is_empty() && usual)))
                        }
                    }
                }
            }
        }
    }
}

fn off(machine: &Machine, filled: &Filled<'_>) -> Markup {
    let whole = BikeState::whole(machine);
    let none = BTreeSet::new();
    let seen = Seen {
        machine,
        state: &whole,
        missing: &none,
        now: &none,
        findings: &[],
    };
    let any_off = machine.parts.iter().any(|p| (filled.has)("off", &p.name));
    html! {
        details.more open[any_off] {
            summary { "Something is already off" }
            p { "In the box or nowhere: what is not on the bike." }
            @for (region, parts) in seen.regions() {
                @let here: Vec<_> = parts.iter().filter_map(|p| machine.parts.get(p.0)).collect();
                details.more open[here.iter().any(|p| (filled.has)("off", &p.name))] {
                    summary { (region_title(region)) }
                    fieldset { legend { "Off now" }
                        @for part in here { (any("off", &part.name, &part.title, (filled.has)("off", &part.name))) }
                    }
                }
            }
        }
    }
}
