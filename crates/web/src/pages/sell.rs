//! The sale: what is told, how it leaves, and the text of an advertisement.

use super::frame::{Here, OfBike, bike, frame, path, seen};
use maud::{Markup, html};
use refettle_facts::ids::{BikeId, EntryId};
use refettle_usecases::demo_bike;
use refettle_usecases::road::NOT_PASSED;

/// What the page shows.
pub(crate) struct Shown<'a> {
    pub(crate) bike: &'a BikeId,
    pub(crate) title: &'a str,
    pub(crate) last: &'a EntryId,
    /// It passed the road check.
    pub(crate) passes: bool,
    /// How many items of the road check are open.
    pub(crate) open: usize,
    /// Today.
    pub(crate) today: &'a str,
    /// The garage's currency.
    pub(crate) currency: &'a str,
    /// The price as typed, or as asked.
    pub(crate) price: &'a str,
    /// Sold: for how much, and on which day.
    pub(crate) sold: Option<(&'a str, &'a str)>,
    /// It has been fetched.
    pub(crate) gone: bool,
    /// The advertisement.
    pub(crate) advert: &'a str,
    /// What was wrong with the form just sent.
    pub(crate) mistakes: &'a [String],
}

/// The page.
pub(crate) fn page(shown: &Shown<'_>) -> Markup {
    frame(
        "Sale",
        Here::Bike(shown.bike, OfBike::Bike),
        &html! {
            (bike(shown.title, demo_bike::is_demo(shown.bike)))
            (seen(shown.bike, shown.last))
            h1 { "Sale" }
            @match shown.sold {
                Some((price, on)) => (closed(shown, price, on)),
                None => (open(shown)),
            }
        },
    )
}

fn closed(shown: &Shown<'_>, price: &str, on: &str) -> Markup {
    html! {
        p.lead { "Sold for " (price) " on " (on) "." }
        @if shown.gone {
            p { "It has been fetched." }
        } @else {
            form method="post" action=(path(shown.bike, "gone")) {
                input type="hidden" name="tap" value=(super::bench::tap());
                button { "It has been fetched" }
            }
        }
        p { a.go.big href=(path(shown.bike, "taught")) { "What this bike taught" } }
        p { a.go href=(path(shown.bike, "tally")) { "What it came to" } }
        p { a.go href=(path(shown.bike, "papers")) { "Papers" } }
    }
}

fn open(shown: &Shown<'_>) -> Markup {
    html! {
        @if shown.passes {
            p.lead { "It has passed the road check." }
        } @else {
            p.lead { (NOT_PASSED) }
            p { a.go href=(path(shown.bike, "road")) { (shown.open) " still open in the road check" } }
        }
        @if !shown.mistakes.is_empty() {
            div.refused role="alert" { p { strong { "Not kept:" } } ul { @for mistake in shown.mistakes { li { (mistake) } } } }
        }
        form.sale method="post" action=(path(shown.bike, "sell")) {
            input type="hidden" name="tap" value=(super::bench::tap());
            label { "Price paid, " (if shown.currency.is_empty() { "with its currency" } else { shown.currency })
                input type="text" name="price" inputmode="decimal" autocomplete="off" required value=(shown.price); }
            @if shown.currency.is_empty() {
                label { "Currency, such as EUR" input type="text" name="currency" autocomplete="off" required maxlength="3"; }
            }
            label { "Day" input type="date" name="on" required value=(shown.today); }
            fieldset {
                legend { "How it leaves" }
                label.check { input type="radio" name="leaves" value="trailer" required checked[!shown.passes]; "on a trailer or in a van" }
                @if shown.passes {
                    label.check { input type="radio" name="leaves" value="ridden" required; "ridden away by the buyer" }
                } @else {
                    p { "It is not ridden away: the road check has not been passed." }
                }
            }
            label { "Buyer, when you want to keep it (kept apart; it can be erased)"
                input type="text" name="buyer" autocomplete="off" maxlength="300"; }
            button { "Sold" }
        }
        h2 { "Text for an advertisement" }
        p { "Only from what is recorded. Faults are in it: who reads them does not come back with them." }
        label { "To be copied"
            textarea.advert readonly rows="14" { (shown.advert) }
        }
        p { a.go href=(path(shown.bike, "papers")) { "History folder and sale paper" } }
    }
}
