//! The fit desk: a question of the trade on one screen, answered with formula and source.

use super::frame::{Here, OfGarage, frame};
use crate::fit_desk::{Field, GROUPS, Kind, Question, Typed, Want, Wrong};
use maud::{Markup, html};
use refettle_usecases::fit_desk::screen::{ASSUMPTIONS, CAUTIONS, FORMULA, Line, SOURCES, Screen};

/// Every question.
pub(crate) fn list() -> Markup {
    frame(
        "Fit desk",
        Here::Garage(OfGarage::More),
        &html! {
            h1 { "Fit desk" }
            p.lead { "One question, one answer, with formula and source. No bike needed." }
            @for group in GROUPS {
                h2 { (group.title) }
                ul.pages {
                    @for question in group.questions {
                        li { a.go.big href={ "/fit-desk/" (question.name) } { (question.asks) } span { (question.needs) } }
                    }
                }
            }
        },
    )
}

/// A question as it was asked, with its answer or what is wrong, or not asked yet.
pub(crate) fn page(
    question: &'static Question,
    typed: &Typed<'_>,
    asked: Option<&Result<Screen, Vec<Wrong>>>,
) -> Markup {
    let none = Vec::new();
    let wrong = match asked {
        Some(Err(wrong)) => wrong,
        _ => &none,
    };
    frame(
        question.asks,
        Here::Garage(OfGarage::More),
        &html! {
            p { a.go href="/fit-desk" { "Fit desk" } }
            h1 { (question.asks) }
            @match asked {
                Some(Ok(screen)) => {
                    (answer(screen, question.picture.and_then(|picture| picture(typed))))
                    details.said { summary { "Ask again with other figures" } (form(question, typed, wrong)) }
                }
                _ => {
                    p { "Needs " (question.needs) "." }
                    (problems(question, wrong))
                    (form(question, typed, wrong))
                }
            }
        },
    )
}

fn problems(question: &Question, wrong: &[Wrong]) -> Markup {
    let label = |name: &str| {
        question
            .fields
            .iter()
            .find(|field| field.name == name)
            .map(|field| field.label)
    };
    html! {
        @if !wrong.is_empty() {
            div.refused role="alert" {
                strong { "No answer yet:" }
                ul { @for one in wrong { li {
                    @if let Some(label) = one.field.and_then(label) { (label) ": " }
                    (one.text)
                } } }
            }
        }
    }
}

/// The verdict, the numbers, and what they rest on.
fn answer(screen: &Screen, picture: Option<Markup>) -> Markup {
    let basis = |heading: &str| [FORMULA, ASSUMPTIONS, SOURCES, CAUTIONS].contains(&heading);
    let rows: Vec<(&str, &str)> = screen
        .lines
        .iter()
        .filter_map(|line| match line {
            Line::Row { name, value } => Some((name.as_str(), value.as_str())),
            Line::Points { .. } => None,
        })
        .collect();
    let points: Vec<(&str, &[String])> = screen
        .lines
        .iter()
        .filter_map(|line| match line {
            Line::Points { heading, texts } => Some((heading.as_str(), texts.as_slice())),
            Line::Row { .. } => None,
        })
        .collect();
    html! {
        article.card.answer {
            p.asked { (screen.title) }
            @if let Some((name, value)) = rows.first() { p.verdict role="status" { span { (name) } strong { (value) } } }
            @if let Some(picture) = picture { div.picture { (picture) } }
            @if rows.len() > 1 {
                dl.figures { @for (name, value) in rows.iter().skip(1) { dt { (name) } dd { (value) } } }
            }
            @for (heading, texts) in points.iter().filter(|(heading, _)| !basis(heading)) {
                h2 { (heading) }
                ul { @for text in *texts { li { (text) } } }
            }
            @for (_, texts) in points.iter().filter(|(heading, _)| *heading == CAUTIONS) {
                @for text in *texts { div.caution { p { (text) } } }
            }
            @for (heading, texts) in points.iter().filter(|(heading, _)| basis(heading) && *heading != CAUTIONS) {
                section.basis {
                    h2 { (heading) }
                    @if *heading == FORMULA { @for text in *texts { p { (text) } } }
                    @else { ul { @for text in *texts { li { (text) } } } }
                }
            }
        }
    }
}

fn form(question: &'static Question, typed: &Typed<'_>, wrong: &[Wrong]) -> Markup {
    let of = |want: Want| question.fields.iter().filter(move |field| field.want == want);
    let seldom_open = of(Want::Seldom).any(|field| {
        !typed.raw(field.name).is_empty() || wrong.iter().any(|one| one.field == Some(field.name))
    });
    html! {
        form.ask method="get" action={ "/fit-desk/" (question.name) } {
            input type="hidden" name="asked" value="1";
            @for field in of(Want::Must).chain(of(Want::May)) { (asking(field, typed, wrong)) }
            @if of(Want::Seldom).next().is_some() {
                details.more open[seldom_open] {
                    summary { "Seldom needed" }
                    @for field in of(Want::Seldom) { (asking(field, typed, wrong)) }
                }
            }
            button.primary { "Answer" }
        }
    }
}

fn asking(field: &Field, typed: &Typed<'_>, wrong: &[Wrong]) -> Markup {
    let id = field.name.replace(' ', "-");
    let text = typed.raw(field.name);
    let bad = wrong.iter().find(|one| one.field == Some(field.name));
    let said = bad.map(|_| format!("{id}-wrong"));
    let invalid = bad.map(|_| "true");
    html! {
        div.field {
            @match field.kind {
                Kind::Tick => {
                    label.tick-box for=(id) {
                        input #(id) type="checkbox" name=(field.name) value="yes" checked[!text.is_empty()];
                        (field.label)
                    }
                }
                Kind::AnyOf(list) => {
                    fieldset {
                        legend { (field.label) }
                        @for word in list() {
                            label.tick-box {
                                input type="checkbox" name=(field.name) value=(word) checked[typed.all_ticked(field.name).contains(&word)];
                                (word.replace('-', " "))
                            }
                        }
                    }
                }
                Kind::OneOf(list) => {
                    (label(field, &id))
                    select #(id) name=(field.name) aria-invalid=[invalid] aria-describedby=[said.as_deref()] {
                        option value="" { "choose" }
                        @for word in list() { option value=(word) selected[word.eq_ignore_ascii_case(text)] { (word.replace('-', " ")) } }
                    }
                }
                Kind::Sheet => {
                    (label(field, &id))
                    textarea #(id) name=(field.name) rows="6" aria-invalid=[invalid] aria-describedby=[said.as_deref()] { (text) }
                }
                Kind::Words => {
                    (label(field, &id))
                    input #(id) name=(field.name) value=(text) placeholder=(field.such_as) autocomplete="off" autocapitalize="off" aria-invalid=[invalid] aria-describedby=[said.as_deref()];
                }
                Kind::Number(units) | Kind::Numbers(units) => {
                    (label(field, &id))
                    div.measure {
                        // A number pad has no blank, colon or slash.
                        input #(id) name=(field.name) value=(text) placeholder=(field.such_as) autocomplete="off"
                            inputmode=[matches!(field.kind, Kind::Number(_)).then_some("decimal")]
                            aria-invalid=[invalid] aria-describedby=[said.as_deref()];
                        @match units {
                            [] => {}
                            [only] => span.unit { (only) },
                            several => select name=(crate::fit_desk::unit_field(field.name)) aria-label={ "unit of: " (field.label) } {
                                @for unit in several { option value=(unit) selected[*unit == typed.unit(field)] { (unit) } }
                            }
                        }
                    }
                }
            }
            @if let (Some(bad), Some(said)) = (bad, &said) { p.wrong id=(said) { (bad.text) } }
        }
    }
}

fn label(field: &Field, id: &str) -> Markup {
    html! { label for=(id) { (field.label) @if field.want == Want::Must { span.must { " needed" } } } }
}
