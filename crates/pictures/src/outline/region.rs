//! One region looked through: every part of it drawn, a number at each, the rest of the machine pale behind.

use super::drawing::Placed;
use super::ink::Ink;
use super::seen::{Seen, Standing};
use super::{Outline, Side, boxed, num};
use crate::geometry::{Bounds, Shape};
use maud::{Markup, html};
use refettle_machine::ix::PartIx;

/// A part's number and where it stands on the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Numbered {
    pub number: usize,
    pub part: PartIx,
    /// A point of the part itself.
    pub at: (f64, f64),
    /// Middle of the badge.
    pub badge: (f64, f64),
}

/// Badge radius, CSS pixels.
pub(crate) const BADGE: f64 = 11.0;

impl Outline {
    /// One region, its parts numbered from 1 in the order given. `width` as in [`super::Use::width`].
    #[must_use]
    pub fn region(
        &self,
        seen: &Seen<'_>,
        region: &str,
        parts: &[PartIx],
        id: &str,
        links: &str,
        width: u16,
    ) -> Markup {
        let view = self.region_view(region, parts);
        let ink = Ink::new(id, view.width() / f64::from(width.max(1)));
        let numbered = self.numbered(parts, view, ink.mm);
        let behind: String = self
            .placed
            .iter()
            .filter(|p| p.seen_from(Side::Right) && !p.form.sign && p.bounds.meets(view))
            .filter(|p| {
                p.part
                    .is_none_or(|part| !parts.contains(&part) && seen.exists(part))
            })
            .flat_map(|p| p.form.edges.iter().map(Shape::path))
            .collect();
        html! {
            svg.outline.through viewBox=(boxed(view, false)) role="group" aria-label=(seen.region_in_words(region, parts)) {
                (ink.hatch())
                path.pale d=(behind) stroke-width=(ink.detail()) {}
                @for n in &numbered {
                    a href={ (links) (name(seen, n.part)) } aria-label=(self.said(seen, n)) {
                        @for placed in self.placed.iter().filter(|p| p.part == Some(n.part)) { (ink.form(placed, seen, false)) }
                    }
                }
                g.numbers aria-hidden="true" {
                    @for n in &numbered {
                        @let now = seen.now.contains(&n.part);
                        path d={ (format!("M{:.0} {:.0}L{:.0} {:.0}", n.at.0, -n.at.1, n.badge.0, -n.badge.1)) } stroke-width=(ink.px(1.0)) {}
                        circle.spot cx=(num(n.at.0)) cy=(num(-n.at.1)) r=(ink.px(2.2)) {}
                        circle.badge.up[now] cx=(num(n.badge.0)) cy=(num(-n.badge.1)) r=(ink.px(BADGE)) stroke-width=(ink.px(1.4)) {}
                        text.up[now] x=(num(n.badge.0)) y=(num(-n.badge.1 + 4.6 * ink.mm)) text-anchor="middle" font-size=(ink.px(13.0)) { (n.number) }
                    }
                }
            }
        }
    }

    fn said(&self, seen: &Seen<'_>, n: &Numbered) -> String {
        let title = seen.machine.parts.get(n.part.0).map_or("", |p| p.title.as_str());
        let mut out = format!("{}: {title}", n.number);
        if let Some(word) = seen.standing(n.part).word() {
            out.push_str(", ");
            out.push_str(word);
        }
        if seen.standing(n.part) == Standing::On && seen.now.contains(&n.part) {
            out.push_str(", now");
        }
        out
    }

    /// The box of a region's picture: its zone and its parts, not higher than wide.
    pub(crate) fn region_view(&self, region: &str, parts: &[PartIx]) -> Bounds {
        let own = self
            .placed
            .iter()
            .filter(|p| p.part.is_some_and(|part| parts.contains(&part)))
            // A cable that runs over half the machine does not make the picture small.
            .filter(|p| !is_cable(p))
            .map(|p| p.bounds);
        let all = own
            .reduce(Bounds::with)
            .unwrap_or_else(|| self.drawing.zone(region));
        let view = self.drawing.view;
        // Room for the numbers, and no narrower than a hand: a lone switch in a closer view is a riddle.
        let margin = 60.0_f64.max((560.0 - all.width()) / 2.0);
        Bounds::new(
            (all.left - margin).max(view.left),
            (all.bottom - margin).max(view.bottom),
            (all.right + margin).min(view.right),
            (all.top + margin).min(view.top),
        )
    }

    /// A badge for each part, near it, none over another, all inside the picture.
    pub(crate) fn numbered(&self, parts: &[PartIx], view: Bounds, mm: f64) -> Vec<Numbered> {
        let r = BADGE * mm;
        let inside = |x: f64, y: f64| {
            Bounds::new(view.left, view.bottom, view.right, view.top).holds(Bounds::new(
                x - r,
                y - r,
                x + r,
                y + r,
            ))
        };
        let anchors: Vec<Option<(f64, f64)>> = parts
            .iter()
            .map(|part| {
                let own = self.placed.iter().filter(|p| p.part == Some(*part));
                let (x, y) = anchor(
                    own.min_by(|a, b| a.bounds.width().total_cmp(&b.bounds.width()))?,
                    view,
                );
                Some((
                    x.clamp(view.left + r, view.right - r),
                    y.clamp(view.bottom + r, view.top - r),
                ))
            })
            .collect();
        let mut out: Vec<Numbered> = Vec::new();
        for (number, (part, at)) in parts.iter().zip(&anchors).enumerate() {
            let Some(at) = *at else { continue };
            let clear = |x: f64, y: f64| {
                inside(x, y)
                    && out
                        .iter()
                        .all(|n| (n.badge.0 - x).hypot(n.badge.1 - y) >= 2.15 * r)
            };
            // Best where it covers no part's own point, its own neither.
            let open = |x: f64, y: f64| {
                clear(x, y)
                    && anchors
                        .iter()
                        .flatten()
                        .all(|a| (a.0 - x).hypot(a.1 - y) >= 1.5 * r)
            };
            let badge = spiral(at, r)
                .find(|(x, y)| open(*x, *y))
                .or_else(|| spiral(at, r).find(|(x, y)| clear(*x, *y)))
                .unwrap_or(at);
            out.push(Numbered {
                number: number + 1,
                part: *part,
                at,
                badge,
            });
        }
        out
    }
}

fn name<'a>(seen: &'a Seen<'_>, part: PartIx) -> &'a str {
    seen.machine.parts.get(part.0).map_or("", |p| p.name.as_str())
}

/// Whether this is a cable or hose.
fn is_cable(placed: &Placed) -> bool {
    matches!(placed.form.edges.first(), Some(Shape::Tube(_, width)) if *width <= 12.0)
}

/// A point on the form: its middle, or for a ring or a bent tube the middle of its edge.
fn anchor(placed: &Placed, view: Bounds) -> (f64, f64) {
    match placed.form.edges.first() {
        Some(Shape::Ring { x, y, outer, inner }) if *inner > 40.0 => {
            let r = (outer + inner) / 2.0;
            (x - r * 0.5, y + r * 0.866)
        }
        Some(line @ Shape::Tube(..)) => {
            // Of a cable, the point nearest the middle of what is seen; of a short tube, about its middle.
            let (cx, cy) = if is_cable(placed) {
                view.centre()
            } else {
                placed.bounds.centre()
            };
            let far = |p: &(f64, f64)| (p.0 - cx).hypot(p.1 - cy);
            line.spine()
                .into_iter()
                .min_by(|a, b| far(a).total_cmp(&far(b)))
                .unwrap_or_else(|| placed.bounds.centre())
        }
        Some(Shape::Closed(_)) => inmost(placed),
        _ => placed.bounds.centre(),
    }
}

/// About the point of a closed form that lies farthest from its edge: the middle of a crescent is not on it.
fn inmost(placed: &Placed) -> (f64, f64) {
    let edge = placed.form.edges.first().map(Shape::spine).unwrap_or_default();
    let b = placed.form.edges.first().map_or(placed.bounds, Shape::bounds);
    let grid = (1..16_u8).flat_map(|i| (1..16_u8).map(move |j| (f64::from(i) / 16.0, f64::from(j) / 16.0)));
    grid.map(|(u, v)| (b.left + u * b.width(), b.bottom + v * b.height()))
        .filter(|p| lies_in(*p, &edge))
        .map(|p| {
            let near = edge
                .iter()
                .map(|e| (e.0 - p.0).hypot(e.1 - p.1))
                .fold(f64::INFINITY, f64::min);
            (p, near)
        })
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map_or_else(|| b.centre(), |(p, _)| p)
}

/// Whether a point lies inside a polygon: a ray from it meets the edge an odd number of times.
fn lies_in((x, y): (f64, f64), polygon: &[(f64, f64)]) -> bool {
    let turned = polygon.iter().skip(1).chain(polygon.first());
    polygon
        .iter()
        .zip(turned)
        .filter(|(a, b)| (a.1 > y) != (b.1 > y) && x < (b.0 - a.0) * (y - a.1) / (b.1 - a.1) + a.0)
        .count()
        % 2
        == 1
}

/// Places about a point, nearest first.
fn spiral((x, y): (f64, f64), r: f64) -> impl Iterator<Item = (f64, f64)> {
    (0..600_u32).map(move |i| {
        let turn = f64::from(i) * 2.399_963;
        let reach = r * 0.55 * f64::from(i).sqrt();
        (x + reach * turn.cos(), y + reach * turn.sin())
    })
}
