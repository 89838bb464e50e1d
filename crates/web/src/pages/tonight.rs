//! Tonight: what fits, how the bike is left, and stopping.

use super::form::{any, one, wrong};
use super::frame::{Here, OfBike, bike, frame, path, seen as last_seen};
use maud::{Markup, html};
use refettle_facts::time::Seconds;
use refettle_judgement::range::believable;
use refettle_usecases::demo_bike;
use refettle_usecases::evening::Evening;
use refettle_usecases::look::Look;
use refettle_usecases::tonight::{MOST_MINUTES, StopView, TonightView};
use refettle_usecases::words;

const MINUTES: [&str; 5] = ["30", "60", "90", "120", "180"];

/// What was asked.
#[derive(Debug, Clone, Default)]
pub(crate) struct Asked {
    pub(crate) minutes: String,
    pub(crate) alone: bool,
    pub(crate) quiet: bool,
}

/// The page.
pub(crate) fn page(
    look: &Look,
    asked: &Asked,
    found: Option<&(Evening, TonightView)>,
    mistakes: &[String],
) -> Markup {
    let title = "Tonight";
    frame(
        title,
        Here::Bike(&look.bike, OfBike::Bike),
        &html! {
            (bike(&look.now.title, demo_bike::is_demo(&look.bike)))
            (last_seen(&look.bike, &look.now.last))
            h1 { (title) }
            (wrong(mistakes))
            @if let Some((evening, view)) = found { (answer(look, evening, view)) }
            (form(look, asked))
            @if found.is_none() { p { a.go.big href={ (path(&look.bike, "tonight")) "?stop=yes" } { "Stop for tonight" } } }
        },
    )
}

fn form(look: &Look, asked: &Asked) -> Markup {
    let typed = !asked.minutes.is_empty() && !MINUTES.contains(&asked.minutes.as_str());
    html! {
        form.taps method="get" action=(path(&look.bike, "tonight")) {
            fieldset { legend { "Minutes until all is put away" }
                @for minutes in MINUTES { (one("minutes", minutes, &format!("{minutes} min"), asked.minutes == minutes || (asked.minutes.is_empty() && minutes == "90"))) }
                label { "or" input name="own" inputmode="numeric" maxlength="6" autocomplete="off" placeholder=(format!("1 to {MOST_MINUTES}")) value=(if typed { asked.minutes.as_str() } else { "" }); }
            }
            fieldset { legend { "And" }
                (any("alone", "yes", "nobody to help", asked.alone))
                (any("quiet", "yes", "nothing loud", asked.quiet))
            }
            div.end { button.primary { "What fits?" } }
        }
    }
}

fn answer(look: &Look, evening: &Evening, view: &TonightView) -> Markup {
    let machine = &evening.settled.machine;
    let title = |id: &String| {
        let part = machine.parts.iter().find(|p| p.id.as_str() == id);
        part.map_or_else(|| id.clone(), |p| p.title.clone())
    };
    let stance = machine.stances.iter().find(|s| s.name == view.stance);
    let actions = &evening.found.actions;
    html! {
        article.card {
            @if actions.is_empty() {
                p.lead { "Nothing of the plan fits." }
            } @else {
                h2 { "What fits, in this order" }
                ol { @for action in actions { li { (words::title(machine, &action.act)) ", " (believable(action.time)) } } }
            }
            p { "Then clear up: about " (Seconds(view.clean_up_s)) ". " "Work until then about " (believable(Seconds(view.busy_s))) "." }
            p { @if view.finished { "All of it is done tonight." } @else { "Left for another evening: about " (believable(Seconds(view.left_s))) "." } }
            h2 { "How it is left" }
            p { @if let Some(stance) = stance { (stance.title) ". " } "Off: " @if view.off.is_empty() { "nothing." } @else { (view.off.iter().map(title).collect::<Vec<_>>().join(", ")) "." } }
            @if !view.must_not.is_empty() {
                div.caution { p.danger { strong { "Meanwhile" } } @for line in &view.must_not { p { (line) } } }
            }
            p { a.go.big.next href=(path(&look.bike, "")) { "To the bench" } }
        }
    }
}

/// Stopping at once.
pub(crate) fn stop(look: &Look, view: &StopView) -> Markup {
    frame(
        "Stop for tonight",
        Here::Bike(&look.bike, OfBike::Bike),
        &html! {
            (bike(&look.now.title, demo_bike::is_demo(&look.bike)))
            (last_seen(&look.bike, &look.now.last))
            h1 { "Stop for tonight" }
            article.card {
                @if !view.safe {
                    div.caution { p.danger { strong { "It cannot be left like this" } } p { "It is " (view.stance) ". " a.go href={ (path(&look.bike, "tonight")) "?minutes=30" } { "See what brings it to where it can stand" } } }
                }
                h2 { "How it is left" }
                p { (view.stance) ". Off: " @if view.off.is_empty() { "nothing." } @else { (view.off.join(", ")) "." } }
                p { "Clear up: about " (view.clean_up) ". Bags shut and numbered, rags into a closed tin, lamp out." }
                @if !view.must_not.is_empty() {
                    div.caution { p.danger { strong { "Meanwhile" } } @for line in &view.must_not { p { (line) } } }
                }
                p { "All of this stands in the yard until work goes on. Every answer is on the disk already." }
                p { a.go.big.next href="/" { "To the yard" } }
            }
        },
    )
}
