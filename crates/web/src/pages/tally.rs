//! What it all came to: money, hours, sales.

use super::frame::{Here, OfBike, OfGarage, bike, frame, path};
use maud::{Markup, html};
use refettle_facts::ids::BikeId;
use refettle_papers::tally_list::{earned_said, sales, short, stands};
use refettle_usecases::demo_bike;
use refettle_usecases::tally::{EarnedView, NamedSumView, SumView, TallyView, minutes_shown, money_shown};

/// The garage's page.
pub(crate) fn garage(view: &TallyView) -> Markup {
    frame(
        "Tally",
        Here::Garage(OfGarage::More),
        &html! {
            h1 { "Tally" }
            (headline(&view.earned))
            (warning(view))
            (sum_table("Everything on record", &view.all))
            h2 { "By bike" }
            @if view.bikes.is_empty() { p { "No bike has come in yet." } }
            ul.closing {
                @for bike in &view.bikes {
                    li {
                        h3 { a href={ "/bike/" (bike.id) "/tally" } { (bike.title) } }
                        p { (stands(bike)) ". " (short(&bike.sum)) "." }
                        @for earned in &bike.earned { p { strong { (per_hour(earned)) } } }
                    }
                }
            }
            (groups("By kind of machine", &view.layouts))
            (groups("By year", &view.years))
            (groups("What it went for", &view.kinds))
            p { (sales(view)) }
            p { a.go href="/tally.csv" { "Every line as a table (CSV)" } }
        },
    )
}

/// One bike's page.
pub(crate) fn of_bike(id: &BikeId, view: &TallyView) -> Markup {
    let title = view.bikes.first().map_or("", |line| line.title.as_str());
    frame(
        "Tally",
        Here::Bike(id, OfBike::Bike),
        &html! {
            (bike(title, demo_bike::is_demo(id)))
            h1 { "Tally" }
            @if view.earned.is_empty() {
                p.lead { "It is not sold yet: what is spent on it stands in the yard." }
            } @else {
                (headline(&view.earned))
            }
            @for line in &view.bikes { p { (stands(line)) "." } }
            (sum_table("On record", &view.all))
            (groups("What it went for", &view.kinds))
            p { a.go href=(path(id, "taught")) { "What this bike taught" } }
            p { a.go href="/tally" { "All bikes" } }
        },
    )
}

fn headline(earned: &[EarnedView]) -> Markup {
    html! {
        @if earned.is_empty() {
            p.lead { "Nothing is sold yet, so nothing is earned yet." }
        } @else {
            @for earned in earned { p.lead { (earned_said(earned)) "." } }
        }
    }
}

fn per_hour(earned: &EarnedView) -> String {
    match earned.per_hour_minor {
        Some(minor) => format!(
            "{} in {}: {} an hour",
            money_shown(earned.net_minor, &earned.currency),
            minutes_shown(earned.minutes),
            money_shown(minor, &earned.currency)
        ),
        None => format!(
            "{}; no hour is on record",
            money_shown(earned.net_minor, &earned.currency)
        ),
    }
}

fn warning(view: &TallyView) -> Markup {
    html! {
        @if let Some(warning) = &view.sales.warning {
            div.caution role="note" { p { strong { "Sales in a year: " } (warning) "." } }
        }
    }
}

fn sum_table(title: &str, sum: &SumView) -> Markup {
    html! {
        table.sums {
            caption { (title) }
            tbody {
                tr { th scope="row" { "At the bench" } td { (minutes_shown(sum.bench_minutes)) } }
                tr { th scope="row" { "Elsewhere" } td { (minutes_shown(sum.elsewhere_minutes)) } }
                @for flow in &sum.money {
                    tr { th scope="row" { "In" } td { (money_shown(flow.in_minor, &flow.currency)) } }
                    tr { th scope="row" { "Out" } td { (money_shown(flow.out_minor, &flow.currency)) } }
                    tr.line { th scope="row" { "Left" } td { (money_shown(flow.net_minor, &flow.currency)) } }
                }
            }
        }
    }
}

fn groups(title: &str, groups: &[NamedSumView]) -> Markup {
    html! {
        @if !groups.is_empty() {
            details {
                summary { (title) }
                table.sums { tbody { @for group in groups { tr { th scope="row" { (group.name) } td { (short(&group.sum)) } } } } }
            }
        }
    }
}
