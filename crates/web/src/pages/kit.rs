//! The kit: everything to have at hand before the first bolt is turned.

mod held;

use super::frame::{Here, OfBike, bike, frame, path, seen};
use crate::drawing::pictogram;
use crate::routes::Fields;
use maud::{Markup, html};
use refettle_facts::small_part::SmallPart;
use refettle_memory::entry::Currency;
use refettle_usecases::demo_bike;
use refettle_usecases::drawer::KitLineView;
use refettle_usecases::kit_desk::band;
use refettle_usecases::kit_desk::fluid::FluidView;
use refettle_usecases::kit_view::{KitView, LookUpView};
use refettle_usecases::look::Look;
use refettle_usecases::words;

/// What the page shows.
pub(crate) struct Shown<'a> {
    pub(crate) look: &'a Look,
    /// The kit's lines against the drawer and what is on order.
    pub(crate) lines: &'a [KitLineView],
    /// The garage's currency, when it was set.
    pub(crate) currency: Option<&'a Currency>,
    /// Small parts that are here, for what is near.
    pub(crate) parts: Vec<SmallPart>,
    /// What was wrong with what was just sent, and that.
    pub(crate) wrong: &'a [String],
    pub(crate) typed: &'a Fields,
}

impl Shown<'_> {
    /// The small part that is here under these words.
    fn near_part(&self, words: &str) -> Option<&SmallPart> {
        self.parts.iter().find(|part| part.to_string() == words)
    }
}

/// The page.
pub(crate) fn page(shown: &Shown<'_>) -> Markup {
    let look = shown.look;
    let body = match &look.plan {
        Ok(evening) => lists(shown, &evening.kit()),
        Err(_) => {
            html! { p { "There is no plan from here, so there is no kit. " a.go href=(path(&look.bike, "")) { "See why" } } }
        }
    };
    frame(
        "Kit",
        Here::Bike(&look.bike, OfBike::Kit),
        &html! {
            (bike(&look.now.title, demo_bike::is_demo(&look.bike)))
            (seen(&look.bike, &look.now.last))
            h1 { "Kit" }
            @if !shown.wrong.is_empty() {
                div.refused role="alert" { strong { "Not kept:" } ul { @for why in shown.wrong { li { (why) } } } }
            }
            (body)
        },
    )
}

fn lists(shown: &Shown<'_>, kit: &KitView) -> Markup {
    let look = shown.look;
    let (critical, other): (Vec<&LookUpView>, Vec<&LookUpView>) =
        kit.look_up.iter().partition(|line| line.critical);
    html! {
        (held::held(shown, kit))
        @if !critical.is_empty() {
            details.list.fold {
                summary { (pictogram::warning()) (critical.len()) " figures to find: only the maker's will do" }
                (about_bands(&critical))
                ul { @for line in &critical { li { strong { (line.title) } span { (line.fixing) } (check(line)) (stops(&line.stops.title)) } } }
            }
        }
        @if !other.is_empty() {
            details.list.fold {
                summary { (other.len()) " figures to look up if you can" }
                p { "The maker's figure wins. Typical ones are shown to check a figure you find against." }
                (about_bands(&other))
                ul { @for line in &other { li { strong { (line.title) } span { (line.fixing) } (typical(line)) (check(line)) } } }
            }
        }
        (fluids(kit))
        section.list {
            h2 { "Tools, in the order of use" }
            ol {
                @for tool in &kit.tools { li { strong { (tool.title) } @if tool.special { span { "to borrow, make or buy" } } (stops(&tool.stops.title)) } }
            }
            @if !kit.drivers.is_empty() {
                p { "The fixings ask for: " (kit.drivers.iter().map(|d| d.title.as_str()).collect::<Vec<_>>().join(" · ")) }
            }
        }
        (bags(look))
    }
}

/// What a band is and rests on, above the first of them.
fn about_bands(lines: &[&LookUpView]) -> Markup {
    html! { @if lines.iter().any(|line| line.band.is_some()) { p.stops { (band::ABOUT) } } }
}

fn typical(line: &LookUpView) -> Markup {
    html! {
        @match (&line.typical, &line.source) {
            (Some(value), Some(source)) => span { "typical of the kind: " (value) " (" (source) ")" },
            _ => {}
        }
    }
}

/// Between what the figure should lie, quietly: it is no figure to tighten by.
fn check(line: &LookUpView) -> Markup {
    html! {
        @if let Some(band) = &line.band { span.stops { "check only, as " (band.thread) ": " (band.words()) } }
        @if let Some(doubt) = line.doubt { span { (doubt) } }
    }
}

fn fluids(kit: &KitView) -> Markup {
    let said = |fluid: &&FluidView| {
        !fluid.never_with.is_empty() || fluid.flush.is_some() || fluid.first_ice.is_some()
    };
    let spoken_of: Vec<&FluidView> = kit.fluids.iter().filter(said).collect();
    html! {
        @if !spoken_of.is_empty() {
            section.list {
                h2 { "Fluids" }
                ul { @for fluid in spoken_of { li { strong { (fluid.title) } span { (fluid.fluid) } (moved(fluid)) } } }
            }
        }
        @if !kit.disposal.is_empty() {
            section.list {
                h2 { "What comes out" }
                p { "Each kept apart, with a tight lid. Local law says where it goes." }
                ul { @for waste in &kit.disposal { li {
                    strong { (waste.waste.replace('-', " ")) }
                    @for rule in &waste.rules { span { (rule.rule) } }
                } } }
            }
        }
    }
}

fn moved(fluid: &FluidView) -> Markup {
    html! {
        @if let Some(class) = fluid.taken_for {
            span { (class) " never mixes with " (fluid.never_with.iter().map(|n| n.fluid).collect::<Vec<_>>().join(" or ")) "; the reservoir's cap says which it is" }
        }
        @if let Some(flush) = &fluid.flush {
            span { "flush: " (format!("{:.0}", flush.least_ml)) " ml if nothing mixes, up to " (format!("{:.0}", flush.most_ml)) " if all does" }
            span.stops { "computed for " (flush.assumed) }
        }
        @if let Some(ice) = &fluid.first_ice {
            span { "first ice at " (format!("{:.0}", ice.freeze_c)) " °C with " (format!("{:.0}", ice.glycol_vol_pct)) " % ethylene glycol by volume" }
            span.stops { (ice.source) }
        }
    }
}

fn stops(title: &str) -> Markup {
    html! { span.stops { "needed at: " (title) } }
}

fn bags(look: &Look) -> Markup {
    let bags = look.bags();
    html! {
        @if !bags.is_empty() {
            section.list {
                h2 { "Bags" }
                p { "Write number and part on each; what is off already has its bag." }
                ul.bags {
                    @for (at, part) in bags.iter().filter_map(|p| look.machine.parts.get(p.0)).enumerate() {
                        li {
                            (pictogram::bag(at + 1))
                            div {
                                strong { "Bag " (at + 1) ": " (part.title) }
                                @for fixing in &part.fixings { span { (words::fixing(fixing)) } }
                                @for critical in look.machine.criticals.iter().filter(|c| look.machine.parts.get(c.part.0).is_some_and(|p| p.id == part.id)) {
                                    span { (words::fixing(&critical.fixing)) }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}
