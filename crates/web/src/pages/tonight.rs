//! Tonight: what fits, how the bike is left, and stopping.

use super::form::{any, one, wrong};
use super::frame::{Here, OfBike, bike, frame, path, seen as last_seen};
use maud::{Markup, html};
use refettle_facts::time::Seconds;
use refettle_judgement::range::believable;
use refettle_usecases::demo_bike;
use refettle_usecases::evening::Evening;
use refettle_usecases::look::Look;
use refettle_usecases::tonight::{MOST_MINUTES, TonightView};
use refettle_usecases::words;

const MINUTES: [&str; 5] = ["30", "60", "90", "120", "180"];

/// What was asked.
#[derive(Debug, Clone, Default)]
pub(crate) struct Asked {
    pub(crate) minutes: String,
    pub(crate) alone: bool,
    pub(crate) quiet: bool,
    pub(crate) stop: bool,
}

/// The page.
pub(crate) fn page(
    look: &Look,
    asked: &Asked,
    found: Option<&(Evening, TonightView)>,
    mistakes: &[String],
) -> Markup {
    let title = if asked.stop { "Stop for tonight" } else { "Tonight" };
    frame(
        title,
        Here::Bike(&look.bike, OfBike::Bike),
        &html! {
            (bike(&look.now.title, demo_bike::is_demo(&look.bike)))
            (last_seen(&look.bike, &look.now.last))
            h1 { (title) }
            (wrong(mistakes))
            @if let Some((evening, view)) = found { (answer(look, asked, evening, view)) }
            @if !asked.stop { (form(look, asked)) }
            @if found.is_none() && !asked.stop {
                p { a.go.big href={ (path(&look.bike, "tonight")) "?stop=yes" } { "Stop for tonight" } }
            }
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

fn answer(look: &Look, asked: &Asked, evening: &Evening, view: &TonightView) -> Markup {
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
                p.lead { "Nothing has to be done before you go." }
            } @else {
                h2 { @if asked.stop { "Before you go" } @else { "What fits, in this order" } }
                ol { @for action in actions { li { (words::title(machine, &action.act)) ", " (believable(action.time)) } } }
            }
            p { "Then clear up: about " (Seconds(view.clean_up_s)) ". " @if !asked.stop { "Hands on until then about " (believable(Seconds(view.busy_s))) "." } }
            p { @if view.finished { "All of it is done tonight." } @else { "Left for another evening: about " (believable(Seconds(view.left_s))) "." } }
            h2 { "How it is left" }
            p { @if let Some(stance) = stance { (stance.title) ". " } "Off: " @if view.off.is_empty() { "nothing." } @else { (view.off.iter().map(title).collect::<Vec<_>>().join(", ")) "." } }
            @if !view.must_not.is_empty() {
                div.caution { p.danger { strong { "Meanwhile" } } @for line in &view.must_not { p { (line) } } }
            }
            @if asked.stop && actions.is_empty() {
                p { a.go.big.next href="/" { "To the yard" } }
            } @else {
                p { a.go.big.next href=(path(&look.bike, "")) { "To the bench" } }
                @if asked.stop { p { "Do these first; then " a.go href="/" { "to the yard" } } }
            }
        }
    }
}
