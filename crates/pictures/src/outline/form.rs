//! What a drawing of a machine is made of: forms in layers, most of them a part of the sheet.

use crate::geometry::{Bounds, Node, Shape};

/// Which side of the machine shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shown {
    Both,
    Right,
    Left,
}

/// How a form is filled while it is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tone {
    /// Paper: hides what lies behind it.
    Body,
    /// A light tint: metal.
    Metal,
    /// A deep tint: seats and other dark trim.
    Dark,
    /// Ink: tyres.
    Ink,
    /// Not filled.
    Open,
}

impl Tone {
    pub(crate) const fn class(self) -> &'static str {
        match self {
            Tone::Body => "body",
            Tone::Metal => "metal",
            Tone::Dark => "dark",
            Tone::Ink => "ink",
            Tone::Open => "open",
        }
    }
}

/// A form of the drawing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Form {
    /// The part's name on the sheet; what is not a part (frame, crankcase, lamps' glass) has none.
    pub part: Option<&'static str>,
    pub shown: Shown,
    /// Higher ones are drawn over lower ones.
    pub layer: u8,
    pub tone: Tone,
    /// Its edges.
    pub edges: Vec<Shape>,
    /// Fine lines on it.
    pub details: Vec<Shape>,
    /// A small or hidden part: a sign where it sits, not its form.
    pub sign: bool,
}

impl Form {
    pub(crate) fn bounds(&self) -> Option<Bounds> {
        self.edges.iter().map(Shape::bounds).reduce(Bounds::with)
    }
    pub(crate) fn with(mut self, details: &[&[Node]]) -> Form {
        self.details
            .extend(details.iter().map(|line| Shape::Open(line.to_vec())));
        self
    }
    pub(crate) fn and(mut self, shape: Shape) -> Form {
        self.edges.push(shape);
        self
    }
    pub(crate) fn detail(mut self, shape: Shape) -> Form {
        self.details.push(shape);
        self
    }
    pub(crate) fn on(mut self, shown: Shown) -> Form {
        self.shown = shown;
        self
    }
    pub(crate) fn right(self) -> Form {
        self.on(Shown::Right)
    }
    pub(crate) fn left(self) -> Form {
        self.on(Shown::Left)
    }
}

fn form(part: &'static str, layer: u8, tone: Tone, edges: Vec<Shape>) -> Form {
    Form {
        part: (!part.is_empty()).then_some(part),
        shown: Shown::Both,
        layer,
        tone,
        edges,
        details: Vec::new(),
        sign: false,
    }
}

/// A closed form. No name: not a part.
pub(crate) fn solid(part: &'static str, layer: u8, tone: Tone, nodes: &[Node]) -> Form {
    form(part, layer, tone, vec![Shape::Closed(nodes.to_vec())])
}

/// Something round along a line.
pub(crate) fn tube(part: &'static str, layer: u8, tone: Tone, width: f64, nodes: &[Node]) -> Form {
    form(part, layer, tone, vec![Shape::Tube(nodes.to_vec(), width)])
}

/// A circle.
pub(crate) fn disc(part: &'static str, layer: u8, tone: Tone, (x, y): (f64, f64), r: f64) -> Form {
    form(part, layer, tone, vec![Shape::Disc { x, y, r }])
}

/// A ring.
pub(crate) fn ring(
    part: &'static str,
    layer: u8,
    tone: Tone,
    (x, y): (f64, f64),
    outer: f64,
    inner: f64,
) -> Form {
    form(part, layer, tone, vec![Shape::Ring { x, y, outer, inner }])
}

/// A cable or hose.
pub(crate) fn line(part: &'static str, layer: u8, nodes: &[Node]) -> Form {
    form(part, layer, Tone::Metal, vec![Shape::Tube(nodes.to_vec(), 12.0)])
}

/// A small or hidden part, as a small ring where it sits.
pub(crate) fn sign(part: &'static str, layer: u8, x: i32, y: i32) -> Form {
    Form {
        sign: true,
        ..disc(part, layer, Tone::Body, (f64::from(x), f64::from(y)), 17.0)
    }
}
