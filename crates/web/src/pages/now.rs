//! "It looks like this now": caught up in thirty seconds.

use super::bench::tap;
use super::form::{any, one, wrong};
use super::frame::{Here, OfBike, bike, frame, path, seen as last_seen};
use maud::{Markup, html};
use refettle_machine::ix::StanceIx;
use refettle_machine::state::BikeState;
use refettle_pictures::outline::{Outline, Seen, Side, Use};
use refettle_usecases::demo_bike;
use refettle_usecases::look::Read;
use std::collections::BTreeSet;

const PHONE: u16 = 364;

/// The page, its boxes as `state` has them.
pub(crate) fn page(read: &Read, state: &BikeState, mistakes: &[String]) -> Markup {
    let (machine, now) = (read.machine(), read.now());
    let none = BTreeSet::new();
    let seen = Seen {
        machine,
        state,
        missing: &none,
        now: &none,
        findings: &[],
    };
    let stances = machine.stances.iter().enumerate().filter(|(at, stance)| {
        stance.usual || now.garage.stances.contains(&StanceIx(*at)) || state.stance == StanceIx(*at)
    });
    frame(
        "It looks like this now",
        Here::Bike(read.bike(), OfBike::Bike),
        &html! {
            (bike(&now.title, demo_bike::is_demo(read.bike())))
            (last_seen(read.bike(), &now.last))
            h1 { "It looks like this now" }
            (wrong(mistakes))
            p { "Below is what is on record. Tap what is otherwise. What was put on with nobody watching gets a second look later." }
            p { a.go href=(path(read.bike(), "order")) { "Or: done to here, on the running order" } }
            div.sides tabindex="0" role="region" aria-label="As it is on record" {
                @for side in [Side::Right, Side::Left] {
                    figure {
                        (Outline::of(machine).whole(&seen, side, Use { id: side.word(), links: Some("#in-"), width: PHONE, floor: true }))
                        figcaption { "on record, from the " (side.word()) }
                    }
                }
            }
            form.taps method="post" action=(path(read.bike(), "now")) {
                input type="hidden" name="tap" value=(tap());
                input type="hidden" name="seen" value=(now.last);
                fieldset { legend { "How does it stand?" }
                    @for (at, stance) in stances { (one("stance", &stance.name, &stance.title, state.stance == StanceIx(at))) }
                }
                @for (region, parts) in seen.regions() {
                    @let criticals: Vec<_> = machine.criticals.iter().enumerate().filter(|(_, c)| parts.contains(&c.part)).collect();
                    @let stirred = parts.iter().any(|p| state.off.contains(p)) || criticals.iter().any(|(at, _)| state.loose.iter().any(|c| c.0 == *at));
                    details.more #{ "in-" (region) } open[stirred] {
                        summary { (seen.region_in_words(region, &parts)) }
                        fieldset { legend { "Off" }
                            @for part in &parts {
                                @if let Some(sheet) = machine.parts.get(part.0) { (any("off", &sheet.name, &sheet.title, state.off.contains(part))) }
                            }
                        }
                        @if !criticals.is_empty() {
                            fieldset { legend { "Loose" }
                                @for (at, critical) in &criticals { (any("loose", &critical.name, &critical.title, state.loose.iter().any(|c| c.0 == *at))) }
                            }
                        }
                    }
                }
                div.end { button.primary { "It looks like this" } }
            }
        },
    )
}
