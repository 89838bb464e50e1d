//! Price: the bike among its comparables, what it sells for within so many days, what open findings cost, what is asked.

use super::bench::tap;
use super::frame::{Here, OfBike, bike, frame, path, seen};
use super::judging::refused;
use crate::drawing::price::picture;
use crate::routes::Fields;
use jiff::civil::Date;
use maud::{Markup, html};
use refettle_facts::ids::{BikeId, EntryId};
use refettle_judgement::price::findings::DISCOUNTS;
use refettle_usecases::demo_bike;
use refettle_usecases::money_words;
use refettle_usecases::price_of_bike::{COLUMNS, Pricing};
use refettle_usecases::price_view::PriceView;
use refettle_usecases::typed::said;

/// What the page shows.
pub(crate) struct Shown<'a> {
    pub(crate) bike: &'a BikeId,
    pub(crate) title: &'a str,
    pub(crate) last: &'a EntryId,
    pub(crate) pricing: &'a Pricing,
    pub(crate) view: Option<&'a PriceView>,
    pub(crate) within: u32,
    /// Findings taken as left open.
    pub(crate) open: &'a [String],
    pub(crate) today: Date,
    pub(crate) refused: &'a [String],
    /// Fields of the form that was refused.
    pub(crate) sent: &'a Fields,
    /// What was just noted.
    pub(crate) noted: Option<&'a str>,
    /// The asking price was just set.
    pub(crate) asked: bool,
}

impl Shown<'_> {
    fn sent(&self, name: &str) -> &str {
        let field = self.sent.iter().find(|(known, _)| known == name);
        field.map_or("", |(_, text)| text)
    }
}

/// The page.
pub(crate) fn page(shown: &Shown<'_>) -> Markup {
    frame(
        "Price",
        Here::Bike(shown.bike, OfBike::Bike),
        &html! {
            (bike(shown.title, demo_bike::is_demo(shown.bike)))
            (seen(shown.bike, shown.last))
            h1 { "Price" }
            @if let Some(noted) = shown.noted { p.taken role="status" { span aria-hidden="true" { "✓ " } (noted) "." } }
            (refused(shown.refused))
            @if shown.pricing.year.is_none() { (about(shown, true)) }
            @if let Some(view) = shown.view { (answer(shown, view)) }
            (comparables(shown))
            @if let Some(view) = shown.view { (why(view)) }
            @if shown.pricing.year.is_some() { (about(shown, false)) }
        },
    )
}

/// Model year and distance.
fn about(shown: &Shown<'_>, needed: bool) -> Markup {
    let or = |name: &str, known: String| {
        if shown.sent(name).is_empty() {
            known
        } else {
            shown.sent(name).to_owned()
        }
    };
    let year = or(
        "own_year",
        shown.pricing.year.map_or(String::new(), |y| y.to_string()),
    );
    let distance = or("own_distance", shown.pricing.distance.clone().unwrap_or_default());
    html! {
        details.list open[needed] {
            summary { @if needed { "First: its model year" } @else { "Its model year and distance" } }
            form.amounts method="post" action=(path(shown.bike, "price/about")) {
                input type="hidden" name="tap" value=(tap());
                label { "Model year" input name="own_year" value=(year) inputmode="numeric" autocomplete="off" required; }
                label { "Distance, such as 31000 km or 19000 mi" input name="own_distance" value=(distance) autocomplete="off"; }
                button { "Keep it" }
            }
        }
    }
}

fn amount(units: Option<f64>) -> String {
    units.map_or_else(|| "no price does that".to_owned(), said)
}

fn answer(shown: &Shown<'_>, view: &PriceView) -> Markup {
    html! {
        @if view.median.is_some() {
            div.picture { (picture(view)) }
            dl.block {
                div { dt { "Sold within " (view.within_days) " days, four times in five" } dd { (amount(view.sell_within_likely)) } }
                div { dt { "The same, one time in two" } dd { (amount(view.sell_within_even)) } }
                div { dt { "Worth waiting for" } dd { (amount(view.wait_for)) @if let Some(days) = view.wait_days { ", stands about " (format!("{days:.0}")) " days" } } }
                @if !view.findings.is_empty() {
                    div { dt { "The middle price with what is open" } dd { (amount(view.median_as_it_stands)) } }
                }
            }
            @if !view.findings.is_empty() {
                section.list {
                    h2 { "What each open finding costs" }
                    ul { @for f in &view.findings { li { (f.title) ": " strong { (said(f.middle)) } " (" (said(f.least)) " to " (said(f.most)) ")" span { (f.source) } } } }
                }
            }
        } @else {
            p.lead { (view.finding()) "." }
            p { "Note what bikes like it are asked or sold for, below. Two or three are enough to begin with." }
        }
        @for remark in &view.remarks { p.why { (remark) "." } }
        (conditions(shown))
        (asking(shown, view))
    }
}

/// Days and findings the price is asked with.
fn conditions(shown: &Shown<'_>) -> Markup {
    html! {
        details.list {
            summary { "Other days, other findings" }
            form.amounts method="get" action=(path(shown.bike, "price")) {
                label { "Days to sell in" input name="within" value=(shown.within) inputmode="numeric" autocomplete="off" required; }
                fieldset.ticks {
                    legend { "Left open" }
                    @for discount in &DISCOUNTS {
                        label.tick { input type="checkbox" name="open" value=(discount.id) checked[shown.open.iter().any(|o| o == discount.id)]; (discount.title) }
                    }
                }
                button { "Work it out" }
            }
        }
    }
}

fn asking(shown: &Shown<'_>, view: &PriceView) -> Markup {
    let suggested = view
        .sell_within_likely
        .or(view.median)
        .map_or(String::new(), |v| format!("{v:.0}"));
    let value = if shown.sent("asking").is_empty() {
        suggested
    } else {
        shown.sent("asking").to_owned()
    };
    html! {
        section.list {
            h2 { "Asking" }
            @if let Some(asking) = &shown.pricing.asking {
                p { @if shown.asked { span aria-hidden="true" { "✓ " } } "Asked for it: " strong { (money_words::shown(asking)) } "." }
            }
            form.amounts method="post" action=(path(shown.bike, "price/asking")) {
                input type="hidden" name="tap" value=(tap());
                label { "In " (shown.pricing.currency) input name="asking" value=(value) inputmode="decimal" autocomplete="off" required; }
                button { @if shown.pricing.asking.is_some() { "Ask this instead" } @else { "Ask this" } }
            }
        }
    }
}

fn comparables(shown: &Shown<'_>) -> Markup {
    let noted = &shown.pricing.noted;
    html! {
        section.list {
            h2 { "Comparables (" (noted.len()) ")" }
            @if noted.is_empty() { p { "None noted yet." } }
            ul.plain {
                @for one in noted {
                    li {
                        @match &one.counts {
                            Ok(line) => { (line) ". " },
                            Err(why) => { "not counted, " (why) ": " },
                        }
                        strong { (one.title) } ", " (one.said)
                        form.narrow method="post" action=(path(shown.bike, "price/drop")) {
                            input type="hidden" name="comparable" value=(one.entry);
                            input type="hidden" name="tap" value=(tap());
                            button { "Counts no more" }
                        }
                    }
                }
            }
            (by_hand(shown))
            (by_table(shown))
        }
    }
}

fn by_hand(shown: &Shown<'_>) -> Markup {
    let here = !shown.refused.is_empty() && !shown.sent("kind").is_empty();
    let date = if shown.sent("date").is_empty() {
        shown.today.to_string()
    } else {
        shown.sent("date").to_owned()
    };
    let papers = [
        ("", "nobody said"),
        ("clean", "clean"),
        ("rebuilt", "rebuilt"),
        ("salvage", "salvage"),
        ("missing", "missing"),
    ];
    html! {
        details open[here || shown.pricing.noted.is_empty()] {
            summary { "Note one" }
            form.amounts method="post" action=(path(shown.bike, "price/note")) {
                input type="hidden" name="tap" value=(tap());
                fieldset.ticks {
                    legend { "The price was" }
                    label.tick { input type="radio" name="kind" value="asked" checked[shown.sent("kind") != "sold"]; "asked" }
                    label.tick { input type="radio" name="kind" value="sold" checked[shown.sent("kind") == "sold"]; "paid: it sold" }
                }
                label { "Price in " (shown.pricing.currency) input name="price" value=(shown.sent("price")) inputmode="decimal" autocomplete="off" required; }
                label { "Model year" input name="year" value=(shown.sent("year")) inputmode="numeric" autocomplete="off" required; }
                label { "Distance, km (empty: nobody said)" input name="distance_km" value=(shown.sent("distance_km")) inputmode="decimal" autocomplete="off"; }
                label { "Day" input name="date" value=(date) autocomplete="off" required; }
                label { "Papers" select name="papers" { @for (value, word) in papers { option value=(value) selected[shown.sent("papers") == value] { (word) } } } }
                label { "What it is, without anybody's name" input name="note" value=(shown.sent("note")) autocomplete="off"; }
                button { "Note it" }
            }
        }
    }
}

fn by_table(shown: &Shown<'_>) -> Markup {
    let text = shown.sent("table");
    html! {
        details open[!text.is_empty()] {
            summary { "Paste many" }
            form.amounts method="post" action=(path(shown.bike, "price/paste")) {
                input type="hidden" name="tap" value=(tap());
                label { "Lines below the names of the columns; kind is asked, sold or bid not met"
                    // The first line break after the tag is not part of the text.
                    textarea name="table" rows="8" spellcheck="false" { "\n" @if text.is_empty() { (COLUMNS) "\n" } @else { (text) } }
                }
                button { "Note them all" }
            }
        }
    }
}

fn why(view: &PriceView) -> Markup {
    html! {
        details.list {
            summary { "What this rests on" }
            p { (view.in_words()) }
            @if let Some(stray) = view.stray_pct { p { "Single prices stray by " (format!("{stray:.0}")) " %." } }
            ul {
                @for e in &view.effects {
                    li {
                        (e.title) ": " (format!("{:+.0} %, may be out by {:.0}", e.now_pct, e.now_spread_pct))
                        span { "before any comparable " (format!("{:+.0} %; {:.0} % of it by the comparables", e.start_pct, e.from_comparables_pct)) "; " (e.source) }
                    }
                }
            }
            p { "Prices are held against each other as if each were this bike, paid, today. A comparable far from the others counts less. Selling pace and the cost of standing: common practice, no source." }
        }
    }
}
