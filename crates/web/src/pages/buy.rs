//! Look at a bike to buy: papers and identity that can end the deal, what is seen and heard, and the most to pay.

use super::frame::{Here, OfGarage, frame};
use super::judging::refused;
use crate::drawing::offer::picture;
use crate::routes::Fields;
use crate::routes::buy::USUAL_LOSS;
use maud::{Markup, html};
use refettle_judgement::offer::gates::GATES;
use refettle_judgement::offer::hidden::{HIDDEN, Hidden};
use refettle_judgement::offer::yearly::ASK;
use refettle_usecases::layouts::LayoutView;
use refettle_usecases::offer_view::OfferView;
use refettle_usecases::typed::said;

/// Where a bike is brought in.
const BRING_IN: &str = "/bring-in";
/// What takes longer to find out than this stands folded below. Judgement, no source.
const QUICK_MINUTES: u32 = 5;

/// What the page shows.
pub(crate) struct Shown<'a> {
    pub(crate) layouts: &'a [LayoutView],
    /// What was said so far.
    pub(crate) asked: &'a Fields,
    /// Own bikes sold in twelve months.
    pub(crate) sold: u32,
    /// How many may be, as the person entered it.
    pub(crate) sale_limit: Option<u32>,
    pub(crate) view: Option<&'a OfferView>,
    pub(crate) refused: Vec<String>,
}

impl Shown<'_> {
    fn said(&self, name: &str) -> &str {
        let field = self.asked.iter().find(|(known, _)| known == name);
        field.map_or("", |(_, text)| text)
    }
}

/// The page.
pub(crate) fn page(shown: &Shown<'_>) -> Markup {
    frame(
        "Look at a bike to buy",
        Here::Garage(OfGarage::More),
        &html! {
            h1 { "Look at a bike to buy" }
            (refused(&shown.refused))
            @if let Some(view) = shown.view { (answer(shown, view)) }
            (form(shown))
        },
    )
}

fn answer(shown: &Shown<'_>, view: &OfferView) -> Markup {
    html! {
        @if view.ended_by.is_empty() {
            @if let Some(most) = view.most_to_pay.filter(|m| m.value > 0.0) {
                p.most { "Pay at most " strong { (said(most.value)) } }
                p { "Then you lose " (refettle_usecases::offer_view::times_said(view.loss_chance_accepted_pct)) ", your hours paid. Drawn " (view.rounds) " times; the figure itself may be out by " (said((most.high - most.low) / 2.0)) "." }
            } @else {
                p.most { strong { "Walk away" } }
                p { "There is no price at which you lose as seldom as you wish." }
            }
        } @else {
            p.most { strong { "Walk away" } }
            (ended(view))
        }
        @if view.ended_by.is_empty() && !view.not_looked_at.is_empty() {
            div.caution {
                p.danger { strong { "No offer before these are looked at: " } }
                ul { @for gate in view.gates.iter().filter(|g| view.not_looked_at.contains(&g.id)) { li { (gate.title) ": " (gate.what_to_do) } } }
            }
        }
        @if view.ended_by.is_empty() { div.picture { (picture(view)) } }
        @for gate in view.gates.iter().filter(|g| !g.ends_the_deal && g.answer == "bad") {
            p { strong { (gate.title) ": no. " } (gate.what_to_do) "." }
        }
        @for remark in &view.remarks { p.why { (super::judging::in_words(remark)) "." } }
        @if view.ended_by.is_empty() {
            section.list {
                h2 { "Check before offering" }
                ol {
                    @for check in view.checks.iter().take(5) {
                        li {
                            strong { (check.title) } (format!(" ({:.0} %)", check.chance_pct)) ": " (check.how) ", " (check.minutes) " min"
                            span {
                                @if let Some(most) = check.most_if_right { "in order: pay at most " (said(most.max(0.0))) }
                                @if let Some(most) = check.most_if_wrong { "; wrong: " (said(most.max(0.0))) }
                            }
                        }
                    }
                }
                p { "Tap below what you found and work it out again." }
            }
        }
        (sum(view))
        p { a.go.big href=(BRING_IN) { "I bought it: bring it in" } }
        @if shown.sale_limit.is_none() {
            p.why { "Sold in twelve months: " (shown.sold) ". No yearly limit is entered: " (ASK) "." }
        }
    }
}

fn ended(view: &OfferView) -> Markup {
    html! {
        ul {
            @for gate in view.gates.iter().filter(|g| view.ended_by.contains(&g.id)) {
                li { strong { "Not so: " (gate.title) ". " } (gate.what_to_do) "." }
            }
        }
    }
}

fn sum(view: &OfferView) -> Markup {
    html! {
        details.list {
            summary { "The sum, and what it rests on" }
            p { (view.in_words()) }
            table.sum {
                thead { tr { th scope="col" { "Line" } th scope="col" { "Expected" } } }
                tbody {
                    tr { th scope="row" { "in order it fetches" } td { (said(view.price_clean)) } }
                    @for line in &view.lines { tr { th scope="row" { (line.title) span { (line.source) } } td { (said(-line.expected)) } } }
                }
            }
            h3 { "What may be wrong" }
            ul { @for h in &view.hidden { li { (h.title) (format!(": {:.0} %, ", h.chance_pct)) (h.chance_is) span { (h.source) } } } }
        }
    }
}

fn radios(shown: &Shown<'_>, name: &str, legend: &str, choices: &[(&str, &str)], usual: &str) -> Markup {
    let said = shown.said(name);
    let now = if said.is_empty() { usual } else { said };
    html! {
        fieldset.ticks {
            legend { (legend) }
            @for (value, word) in choices {
                label.tick { input type="radio" name=(name) value=(value) checked[*value == now]; (word) }
            }
        }
    }
}

fn form(shown: &Shown<'_>) -> Markup {
    let kinds: Vec<(&str, &str)> = shown
        .layouts
        .iter()
        .map(|l| (l.name.as_str(), l.title.as_str()))
        .collect();
    let quick = |h: &&Hidden| h.check_minutes <= QUICK_MINUTES;
    let input = |name: &str, label: &str, needed: bool| {
        html! { label { (label) input name=(name) value=(shown.said(name)) inputmode="decimal" autocomplete="off" required[needed]; } }
    };
    html! {
        form.buy method="get" action="/buy" {
            details.list open[shown.view.is_none()] {
                summary { "The bike" }
                (radios(shown, "layout", "Which is it most like?", &kinds, ""))
                div.amounts {
                    (input("year", "Model year", true))
                    (input("distance", "It shows, km (or 19000 mi)", true))
                    (input("price", "What it fetches in order", true))
                }
                (radios(shown, "stood", "It stood for", &[("0", "it was ridden"), ("1", "a year"), ("3", "three"), ("6", "six"), ("12", "twelve years")], "0"))
                (radios(shown, "storage", "Where", &[("heated", "heated room"), ("indoors", "indoors"), ("covered", "under a roof"), ("outside", "outside")], "indoors"))
                (radios(shown, "story", "The engine", &[("heard-running", "I heard it run"), ("said-to-run", "said to run"), ("not-known", "not known"), ("dead", "does not turn")], "not-known"))
            }
            section.list {
                h2 { "Papers and identity" }
                p.why { "Any of the first five not in order ends the deal." }
                @for gate in &GATES { (tri(shown, gate.id, gate.title, gate.how, "in order", "not so")) }
            }
            section.list {
                h2 { "Seen and heard" }
                p.why { "Tap what you looked at; leave the rest." }
                @for h in HIDDEN.iter().filter(quick) { (hidden(shown, h)) }
                details open[HIDDEN.iter().any(|h| !quick(&h) && !shown.said(&format!("seen-{}", h.id)).is_empty())] {
                    summary { "Takes longer" }
                    @for h in HIDDEN.iter().filter(|h| !quick(h)) { (hidden(shown, h)) }
                }
            }
            details.list {
                summary { "Your terms" }
                div.amounts {
                    (input("offer", "An offer to judge (empty: the most to pay)", false))
                    label { "Chance of loss you accept" input name="loss" value=(if shown.said("loss").is_empty() { USUAL_LOSS } else { shown.said("loss") }) autocomplete="off"; }
                    (input("earn", "Earnings wanted, hours paid", false))
                    (input("transport", "Fetching it costs", false))
                    (input("hour", "An hour of yours (empty: the usual)", false))
                    label { "Four in five like it fetch between, as 2000..3500" input name="band" value=(shown.said("band")) autocomplete="off"; }
                }
            }
            button.primary { "What may I pay?" }
        }
    }
}

fn hidden(shown: &Shown<'_>, h: &Hidden) -> Markup {
    let how = format!("{}, {} min", h.check, h.check_minutes);
    tri(shown, h.id, h.title, &how, "no, it is right", "yes")
}

fn tri(shown: &Shown<'_>, id: &str, title: &str, how: &str, right: &str, wrong: &str) -> Markup {
    let name = format!("seen-{id}");
    let how = html! { span.how { (how) } };
    html! {
        div.tri {
            p { strong { (title) } (how) }
            (radios(shown, &name, title, &[("", "not looked"), ("ok", right), ("bad", wrong)], ""))
        }
    }
}
