//! Numbered flags of findings, and the pointer at what is up now.

use super::drawing::Placed;
use super::ink::Ink;
use super::seen::Seen;
use crate::geometry::Bounds;
use maud::{Markup, html};

/// Edge of the picture's own side: seen from the left, x runs the other way.
fn turned(x: f64, left: bool) -> f64 {
    if left { -x } else { x }
}

/// Heavy edges of what is up, and a pointer above them.
pub(crate) fn now(visible: &[&Placed], seen: &Seen<'_>, ink: &Ink<'_>, left: bool) -> Markup {
    let up: Vec<&&Placed> = visible
        .iter()
        .filter(|p| p.part.is_some_and(|part| seen.now.contains(&part)))
        .collect();
    let bounds = up.iter().map(|p| p.bounds).reduce(Bounds::with);
    let d: String = up
        .iter()
        .flat_map(|p| p.form.edges.iter().map(crate::geometry::Shape::path))
        .collect();
    html! {
        @if let Some(bounds) = bounds {
            g.now aria-hidden="true" {
                path transform=[left.then_some("scale(-1 1)")] d=(d) stroke-width=(ink.px(2.6)) {}
                @let (w, h) = (7.0 * ink.mm, 12.0 * ink.mm);
                @let tip = (turned(bounds.centre().0, left), -bounds.top - 3.0 * ink.mm);
                path.point d={ (format!("M{:.0} {:.0}l{:.0} {:.0}h{:.0}Z", tip.0, tip.1, -w, -h, 2.0 * w)) } {}
            }
        }
    }
}

/// A flag on each part something is wrong with, none over another.
pub(crate) fn flags(visible: &[&Placed], seen: &Seen<'_>, ink: &Ink<'_>, left: bool) -> Markup {
    let (w, h) = (17.0 * ink.mm, 15.0 * ink.mm);
    let mut taken: Vec<Bounds> = Vec::new();
    let mut drawn: Vec<(usize, (f64, f64), f64)> = Vec::new();
    for (at, part) in seen.findings.iter().enumerate() {
        let Some(placed) = visible.iter().find(|p| p.part == Some(*part)) else {
            continue;
        };
        let (x, y) = placed.bounds.centre();
        let foot = (turned(x, left), y);
        let mut up = 24.0 * ink.mm;
        let flag = |up: f64| Bounds::new(foot.0, foot.1 + up - h, foot.0 + w, foot.1 + up);
        while taken.iter().any(|t| t.meets(flag(up))) {
            up += h + ink.mm;
        }
        taken.push(flag(up));
        drawn.push((at + 1, foot, up));
    }
    html! {
        @for (number, (x, y), up) in &drawn {
            g.flag aria-hidden="true" {
                path.pole d={ (format!("M{x:.0} {:.0}v{:.0}", -y, -up)) } stroke-width=(ink.px(1.6)) {}
                path.cloth d={ (format!("M{x:.0} {:.0}h{w:.0}l{:.0} {:.0}l{:.0} {:.0}h{:.0}Z", -y - up, -w * 0.22, h / 2.0, w * 0.22, h / 2.0, -w)) } stroke-width=(ink.px(1.2)) {}
                text x=(super::num(x + w * 0.42)) y=(super::num(-y - up + h * 0.78)) text-anchor="middle" font-size=(super::num(12.0 * ink.mm)) { (number) }
            }
        }
    }
}
