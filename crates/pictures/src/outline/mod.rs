//! The outline of a machine: a side view, regions to tap, state told by how each part is drawn.
//!
//! On is solid, loose is dashed, off is a hatched ghost with the part set aside on the floor, missing is dotted with a
//! cross, a finding is a numbered flag, what is up now wears the one accent and a pointer. [`Outline::whole`] is the
//! machine with its regions, [`Outline::region`] one region looked through, with a number at every part.

mod aside;
mod drawing;
mod form;
mod ink;
mod machines;
mod pointer;
mod region;
mod seen;
mod skeleton;
#[cfg(test)]
pub(crate) mod tests;

pub use seen::{Seen, Standing, region_title};

use crate::geometry::Bounds;
use drawing::{Drawing, Placed};
use ink::Ink;
use maud::{Markup, PreEscaped, html};
use refettle_machine::ix::PartIx;
use refettle_machine::model::Machine;

/// Which side of the machine is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The right: its front is at the right of the picture.
    Right,
    /// The left.
    Left,
}

impl Side {
    /// `right` or `left`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Side::Right => "right",
            Side::Left => "left",
        }
    }
}

/// How a picture is to be used.
#[derive(Debug, Clone, Copy)]
pub struct Use<'a> {
    /// Begins the ids inside the picture; no two pictures of a page may share it.
    pub id: &'a str,
    /// What a region links to, the region's name put behind; no links when `None`.
    pub links: Option<&'a str>,
    /// Width on the smallest screen it is made for, CSS pixels: lines are weighed for it.
    pub width: u16,
    /// Parts that are off stand on the floor under the machine.
    pub floor: bool,
}

/// A machine ready to be drawn.
#[derive(Debug, Clone)]
pub struct Outline {
    drawing: Drawing,
    placed: Vec<Placed>,
}

impl Outline {
    /// The outline of a machine.
    #[must_use]
    pub fn of(machine: &Machine) -> Outline {
        let drawing = drawing::of(machine);
        let placed = drawing.placed(machine);
        Outline { drawing, placed }
    }

    /// The whole machine from one side.
    #[must_use]
    pub fn whole(&self, seen: &Seen<'_>, side: Side, used: Use<'_>) -> Markup {
        let aside = if used.floor {
            aside::row(&self.visible(seen, side), seen, self.drawing.view)
        } else {
            aside::Row::none()
        };
        let view = Bounds {
            bottom: self.drawing.view.bottom - aside.height,
            ..self.drawing.view
        };
        let small = used.width < 160;
        let ink = Ink::new(used.id, view.width() / f64::from(used.width.max(1))).small(small);
        let visible = self.visible(seen, side);
        let left = side == Side::Left;
        html! {
            svg.outline.thumb[small] viewBox=(boxed(view, left)) role=(if used.links.is_some() { "group" } else { "img" }) aria-label=(title(seen, side)) {
                (ink.hatch())
                g transform=[left.then_some("scale(-1 1)")] aria-hidden="true" {
                    path.floor d={ "M" (num(view.left)) " 0H" (num(view.right)) } stroke-width=(ink.part()) {}
                    (ink.silhouette(&visible, seen))
                    @for placed in &visible {
                        @if !(small && placed.form.sign) { (ink.form(placed, seen, small)) }
                    }
                    (aside.drawn(&ink))
                }
                (pointer::now(&visible, seen, &ink, left))
                (pointer::flags(&visible, seen, &ink, left))
                @if let Some(prefix) = used.links { (self.zones(seen, prefix, &ink, left)) }
            }
        }
    }

    /// The forms seen from a side.
    fn visible(&self, seen: &Seen<'_>, side: Side) -> Vec<&Placed> {
        self.placed
            .iter()
            .filter(|p| p.seen_from(side) && p.part.is_none_or(|part| seen.exists(part)))
            .collect()
    }

    /// Where a region is tapped.
    fn zones(&self, seen: &Seen<'_>, prefix: &str, ink: &Ink<'_>, left: bool) -> Markup {
        html! {
            @for (region, parts) in seen.regions() {
                @if let Some((_, zone)) = self.drawing.zones.iter().find(|(name, _)| *name == region) {
                    @let x = if left { -zone.right } else { zone.left };
                    a href={ (prefix) (region) } aria-label=(seen.region_in_words(region, &parts)) {
                        rect.zone x=(num(x)) y=(num(-zone.top)) width=(num(zone.width())) height=(num(zone.height())) stroke-width=(ink.part()) {}
                    }
                }
            }
        }
    }

    /// Where the parts of a machine are drawn, as a person says it: `on the left`, or nothing.
    #[must_use]
    pub fn side_of(&self, part: PartIx) -> Option<&'static str> {
        let sides: Vec<form::Shown> = self
            .placed
            .iter()
            .filter(|p| p.part == Some(part))
            .map(|p| p.form.shown)
            .collect();
        let only = |side| !sides.is_empty() && sides.iter().all(|s| *s == side);
        if only(form::Shown::Left) {
            Some("left side")
        } else if only(form::Shown::Right) {
            Some("right side")
        } else {
            None
        }
    }
}

/// What the picture says, in a sentence.
fn title(seen: &Seen<'_>, side: Side) -> String {
    let mut counts = [0_usize; 3];
    for part in (0..seen.machine.parts.len())
        .map(PartIx)
        .filter(|p| seen.exists(*p))
    {
        match seen.standing(part) {
            Standing::Off | Standing::OffWithCarrier => counts[0] += 1,
            Standing::Loose => counts[1] += 1,
            Standing::Missing => counts[2] += 1,
            Standing::On => {}
        }
    }
    let mut out = format!("{}, seen from the {}", seen.machine.title, side.word());
    for (n, word) in counts.iter().zip(["off", "loose", "missing"]) {
        if *n > 0 {
            out.push_str(&format!(", {n} {word}"));
        }
    }
    match counts {
        [0, 0, 0] => out.push_str(", everything on"),
        _ => out.push_str("; the parts are listed by region"),
    }
    out
}

/// A view box, y down; seen from the left, x runs the other way.
fn boxed(view: Bounds, left: bool) -> String {
    let x = if left { -view.right } else { view.left };
    format!("{x:.0} {:.0} {:.0} {:.0}", -view.top, view.width(), view.height())
}

/// A coordinate, to the millimetre.
fn num(x: f64) -> PreEscaped<String> {
    PreEscaped(format!("{x:.0}"))
}
