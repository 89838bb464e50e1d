//! Points, smooth lines and the outlines of tubes, in millimetres: x forward from the rear axle, y up from the ground.

use std::fmt::Write as _;

/// A point of a drawn line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Node {
    pub x: f64,
    pub y: f64,
    /// The line turns sharply here.
    pub corner: bool,
}

/// A point the line passes smoothly.
pub(crate) const fn s(x: i32, y: i32) -> Node {
    Node {
        x: x as f64,
        y: y as f64,
        corner: false,
    }
}

/// A point where the line turns sharply.
pub(crate) const fn k(x: i32, y: i32) -> Node {
    Node {
        x: x as f64,
        y: y as f64,
        corner: true,
    }
}

/// A smooth point from measures worked out.
pub(crate) const fn at(x: f64, y: f64) -> Node {
    Node { x, y, corner: false }
}

/// A rectangle, y up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bounds {
    pub left: f64,
    pub bottom: f64,
    pub right: f64,
    pub top: f64,
}

impl Bounds {
    pub(crate) const fn new(left: f64, bottom: f64, right: f64, top: f64) -> Bounds {
        Bounds {
            left,
            bottom,
            right,
            top,
        }
    }
    pub(crate) fn width(self) -> f64 {
        self.right - self.left
    }
    pub(crate) fn height(self) -> f64 {
        self.top - self.bottom
    }
    pub(crate) fn centre(self) -> (f64, f64) {
        ((self.left + self.right) / 2.0, (self.bottom + self.top) / 2.0)
    }
    pub(crate) fn with(self, other: Bounds) -> Bounds {
        Bounds {
            left: self.left.min(other.left),
            bottom: self.bottom.min(other.bottom),
            right: self.right.max(other.right),
            top: self.top.max(other.top),
        }
    }
    /// Whether the other lies inside.
    pub(crate) fn holds(self, other: Bounds) -> bool {
        other.left >= self.left
            && other.right <= self.right
            && other.bottom >= self.bottom
            && other.top <= self.top
    }
    pub(crate) fn meets(self, other: Bounds) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.bottom < other.top
            && other.bottom < self.top
    }
}

/// One drawn form.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Shape {
    /// A closed smooth line.
    Closed(Vec<Node>),
    /// An open smooth line.
    Open(Vec<Node>),
    /// The outline of something round that follows a line, this wide.
    Tube(Vec<Node>, f64),
    /// A circle.
    Disc { x: f64, y: f64, r: f64 },
    /// The space between two circles of one centre.
    Ring { x: f64, y: f64, outer: f64, inner: f64 },
}

/// Steps to each stretch of a line where a smooth line is taken as a chain of short ones.
const STEPS: u8 = 8;

fn tangents(nodes: &[Node], closed: bool) -> Vec<(f64, f64)> {
    let n = nodes.len();
    let place = |i: usize, by: isize| -> Option<Node> {
        let to = i.checked_add_signed(by);
        match to {
            Some(to) if to < n => nodes.get(to).copied(),
            _ if closed => nodes.get((i + n).saturating_add_signed(by) % n).copied(),
            _ => None,
        }
    };
    nodes
        .iter()
        .enumerate()
        .map(|(i, p)| {
            let (Some(before), Some(after)) = (place(i, -1), place(i, 1)) else {
                return (0.0, 0.0);
            };
            if p.corner {
                return (0.0, 0.0);
            }
            let (dx, dy) = (after.x - before.x, after.y - before.y);
            let length = dx.hypot(dy).max(1e-6);
            // No longer than the shorter neighbour, else a short stretch beside a long one makes a loop.
            let reach = (p.x - before.x)
                .hypot(p.y - before.y)
                .min((after.x - p.x).hypot(after.y - p.y))
                * 1.1;
            (dx / length * reach, dy / length * reach)
        })
        .collect()
}

/// Start, two handles and end of each stretch.
fn stretches(nodes: &[Node], closed: bool) -> Vec<[(f64, f64); 4]> {
    let tangents = tangents(nodes, closed);
    let pairs: Vec<(&Node, &(f64, f64))> = nodes.iter().zip(&tangents).collect();
    let mut out: Vec<[(f64, f64); 4]> = pairs.windows(2).filter_map(stretch).collect();
    if closed && let (Some(last), Some(first)) = (pairs.last(), pairs.first()) {
        out.extend(stretch(&[*last, *first]));
    }
    out
}

fn stretch(pair: &[(&Node, &(f64, f64))]) -> Option<[(f64, f64); 4]> {
    let [(a, ta), (b, tb)] = pair else { return None };
    Some([
        (a.x, a.y),
        (a.x + ta.0 / 3.0, a.y + ta.1 / 3.0),
        (b.x - tb.0 / 3.0, b.y - tb.1 / 3.0),
        (b.x, b.y),
    ])
}

fn along([a, b, c, d]: &[(f64, f64); 4], t: f64) -> (f64, f64) {
    let u = 1.0 - t;
    let mix = |a: f64, b: f64, c: f64, d: f64| {
        u * u * u * a + 3.0 * u * u * t * b + 3.0 * u * t * t * c + t * t * t * d
    };
    (mix(a.0, b.0, c.0, d.0), mix(a.1, b.1, c.1, d.1))
}

fn sampled(nodes: &[Node], closed: bool) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = nodes.first().map(|p| (p.x, p.y)).into_iter().collect();
    for stretch in stretches(nodes, closed) {
        let straight = stretch[0] == stretch[1] && stretch[2] == stretch[3];
        let steps = if straight { 1 } else { STEPS };
        points.extend((1..=steps).map(|i| along(&stretch, f64::from(i) / f64::from(steps))));
    }
    points
}

/// The same chain with a point in the middle of each stretch.
fn finely(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut out: Vec<(f64, f64)> = points.to_vec();
    out.extend(points.windows(2).filter_map(|pair| match pair {
        [a, b] => Some((f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1))),
        _ => None,
    }));
    out
}

/// Both edges of a band about a line, one after the other.
fn band(line: &[(f64, f64)], width: f64) -> Vec<(f64, f64)> {
    let half = width / 2.0;
    let edge = |side: f64| -> Vec<(f64, f64)> {
        (0..line.len())
            .filter_map(|i| {
                let here = line.get(i)?;
                let before = line.get(i.saturating_sub(1))?;
                let after = line.get((i + 1).min(line.len() - 1))?;
                let (dx, dy) = (after.0 - before.0, after.1 - before.1);
                let length = dx.hypot(dy).max(1e-6);
                Some((
                    here.0 - dy / length * half * side,
                    here.1 + dx / length * half * side,
                ))
            })
            .collect()
    };
    let mut out = edge(1.0);
    out.extend(edge(-1.0).into_iter().rev());
    out
}

/// A height as a picture counts it, from the top; the ground is 0 and not -0.
fn down(y: f64) -> f64 {
    0.0 - y
}

/// A polygon or chain as path data, the y axis turned down.
fn chain(points: &[(f64, f64)], close: bool) -> String {
    let mut out = String::new();
    for (i, (x, y)) in points.iter().enumerate() {
        let letter = if i == 0 { 'M' } else { 'L' };
        let _ = write!(out, "{letter}{:.0} {:.0}", x, down(*y));
    }
    if close {
        out.push('Z');
    }
    out
}

fn circle(out: &mut String, x: f64, y: f64, r: f64) {
    let _ = write!(
        out,
        "M{:.0} {:.0}a{r:.0} {r:.0} 0 1 0 {:.0} 0a{r:.0} {r:.0} 0 1 0 {:.0} 0Z",
        x - r,
        down(y),
        2.0 * r,
        -2.0 * r
    );
}

impl Shape {
    /// As path data, y down.
    pub(crate) fn path(&self) -> String {
        match self {
            Shape::Closed(nodes) => curve(nodes, true),
            Shape::Open(nodes) => curve(nodes, false),
            Shape::Tube(nodes, width) => chain(&band(&sampled(nodes, false), *width), true),
            Shape::Disc { x, y, r } => {
                let mut out = String::new();
                circle(&mut out, *x, *y, *r);
                out
            }
            Shape::Ring { x, y, outer, inner } => {
                let mut out = String::new();
                circle(&mut out, *x, *y, *outer);
                circle(&mut out, *x, *y, *inner);
                out
            }
        }
    }

    /// Points along the middle of a tube, along the edge of what is closed.
    pub(crate) fn spine(&self) -> Vec<(f64, f64)> {
        match self {
            Shape::Tube(nodes, _) | Shape::Open(nodes) => finely(&sampled(nodes, false)),
            Shape::Closed(nodes) => sampled(nodes, true),
            Shape::Disc { x, y, .. } | Shape::Ring { x, y, .. } => vec![(*x, *y)],
        }
    }

    /// What it takes up.
    pub(crate) fn bounds(&self) -> Bounds {
        let points = match self {
            Shape::Closed(nodes) => sampled(nodes, true),
            Shape::Open(nodes) => sampled(nodes, false),
            Shape::Tube(nodes, width) => band(&sampled(nodes, false), *width),
            Shape::Disc { x, y, r } | Shape::Ring { x, y, outer: r, .. } => {
                vec![(x - r, y - r), (x + r, y + r)]
            }
        };
        let none = Bounds::new(f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
        points
            .iter()
            .fold(none, |b, (x, y)| b.with(Bounds::new(*x, *y, *x, *y)))
    }
}

fn curve(nodes: &[Node], closed: bool) -> String {
    let mut out = String::new();
    if let Some(first) = nodes.first() {
        let _ = write!(out, "M{:.0} {:.0}", first.x, down(first.y));
    }
    for [a, b, c, d] in stretches(nodes, closed) {
        if a == b && c == d {
            let _ = write!(out, "L{:.0} {:.0}", d.0, down(d.1));
        } else {
            let _ = write!(
                out,
                "C{:.0} {:.0} {:.0} {:.0} {:.0} {:.0}",
                b.0,
                down(b.1),
                c.0,
                down(c.1),
                d.0,
                down(d.1)
            );
        }
    }
    if closed {
        out.push('Z');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_corners_is_straight_and_a_tube_is_as_wide_as_asked() {
        let square = Shape::Closed(vec![k(0, 0), k(10, 0), k(10, 10), k(0, 10)]);
        assert_eq!(square.path(), "M0 0L10 0L10 -10L0 -10L0 0Z");
        assert_eq!(square.bounds(), Bounds::new(0.0, 0.0, 10.0, 10.0));
        let tube = Shape::Tube(vec![k(0, 0), k(100, 0)], 20.0).bounds();
        assert_eq!(tube, Bounds::new(0.0, -10.0, 100.0, 10.0));
    }

    #[test]
    fn a_smooth_line_goes_through_its_points_and_makes_no_loop_beside_a_short_stretch() {
        let nodes = [s(0, 0), s(100, 0), s(104, 4), s(104, 200)];
        let points = sampled(&nodes, false);
        for node in nodes {
            assert!(points.iter().any(|(x, y)| (x - node.x).hypot(y - node.y) < 1e-9));
        }
        assert!(
            points
                .windows(2)
                .all(|p| p[1].0 >= p[0].0 - 2.0 && p[1].1 >= p[0].1 - 2.0)
        );
    }

    #[test]
    fn a_ring_has_two_circles_and_the_bounds_of_the_outer() {
        let ring = Shape::Ring {
            x: 5.0,
            y: 5.0,
            outer: 4.0,
            inner: 2.0,
        };
        assert_eq!(ring.path().matches('M').count(), 2);
        assert_eq!(ring.bounds(), Bounds::new(1.0, 1.0, 9.0, 9.0));
    }
}
