//! What is off, set aside on the floor under the machine.

use super::drawing::Placed;
use super::ink::Ink;
use super::seen::{Seen, Standing};
use crate::geometry::{Bounds, Shape};
use maud::{Markup, html};

/// Parts on the floor, in rows.
pub(crate) struct Row {
    /// What the floor takes below the machine.
    pub height: f64,
    things: Vec<Thing>,
}

struct Thing {
    d: String,
    details: String,
    tone: &'static str,
    scale: f64,
    by: (f64, f64),
}

/// Height of a row on the floor.
const ROW: f64 = 150.0;
const GAP: f64 = 36.0;
/// No part is drawn larger there than so much of its size on the machine.
const LARGEST: f64 = 0.5;

impl Row {
    pub(crate) const fn none() -> Row {
        Row {
            height: 0.0,
            things: Vec::new(),
        }
    }

    pub(crate) fn drawn(&self, ink: &Ink<'_>) -> Markup {
        html! {
            @for t in &self.things {
                g.aside transform={ (format!("translate({:.0} {:.0}) scale({:.3})", t.by.0, -t.by.1, t.scale)) } {
                    path class=(t.tone) d=(t.d) stroke-width=(maud::PreEscaped(format!("{:.1}", ink.mm / t.scale))) {}
                    @if !t.details.is_empty() { path.detail d=(t.details) stroke-width=(maud::PreEscaped(format!("{:.1}", ink.mm * 0.6 / t.scale))) {} }
                }
            }
        }
    }
}

/// Everything off that has a form, rear to front as it sat, in as many rows as it takes.
pub(crate) fn row(visible: &[&Placed], seen: &Seen<'_>, view: Bounds) -> Row {
    let mut off: Vec<&&Placed> = visible
        .iter()
        .filter(|p| !p.form.sign && p.part.is_some_and(|part| seen.standing(part) == Standing::Off))
        .collect();
    off.sort_by(|a, b| a.bounds.centre().0.total_cmp(&b.bounds.centre().0));
    let mut things = Vec::new();
    let (mut x, mut floor) = (view.left + GAP, view.bottom - ROW);
    for placed in off {
        let b = placed.bounds;
        let scale = LARGEST.min(ROW / b.height()).min(ROW * 2.4 / b.width());
        let width = b.width() * scale;
        if x + width > view.right - GAP && !things.is_empty() {
            x = view.left + GAP;
            floor -= ROW + GAP;
        }
        things.push(Thing {
            d: placed.form.edges.iter().map(Shape::path).collect(),
            details: placed.form.details.iter().map(Shape::path).collect(),
            tone: placed.form.tone.class(),
            scale,
            by: (x - b.left * scale, floor - b.bottom * scale),
        });
        x += width + GAP;
    }
    let height = if things.is_empty() {
        0.0
    } else {
        view.bottom - floor + GAP / 2.0
    };
    Row { height, things }
}
