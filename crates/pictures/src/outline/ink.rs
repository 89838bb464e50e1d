//! Lines of three weights, the hatch of what is off, and one form in the state it is in.

use super::drawing::Placed;
use super::form::Tone;
use super::seen::{Seen, Standing};
use crate::geometry::Shape;
use maud::{Markup, PreEscaped, html};

/// How a picture's lines are weighed: what a CSS pixel is in millimetres on the screen it is made for.
pub(crate) struct Ink<'a> {
    id: &'a str,
    pub mm: f64,
    /// Lines of a picture as small as a thumb are finer.
    small: bool,
}

impl<'a> Ink<'a> {
    pub(crate) fn new(id: &'a str, mm: f64) -> Ink<'a> {
        Ink { id, mm, small: false }
    }
    pub(crate) fn small(self, small: bool) -> Ink<'a> {
        Ink { small, ..self }
    }
    /// So many pixels, in millimetres.
    pub(crate) fn px(&self, pixels: f64) -> PreEscaped<String> {
        PreEscaped(format!("{:.1}", pixels * self.mm))
    }
    /// The machine's own edge.
    pub(crate) fn outline(&self) -> PreEscaped<String> {
        self.px(if self.small { 2.0 } else { 3.6 })
    }
    /// A part's edge.
    pub(crate) fn part(&self) -> PreEscaped<String> {
        self.px(if self.small { 0.7 } else { 1.2 })
    }
    /// Lines on a part.
    pub(crate) fn detail(&self) -> PreEscaped<String> {
        self.px(0.7)
    }
    fn dashes(&self, on: f64, off: f64) -> PreEscaped<String> {
        PreEscaped(format!("{:.0} {:.0}", on * self.mm, off * self.mm))
    }

    /// The hatch of what is off.
    pub(crate) fn hatch(&self) -> Markup {
        let pitch = self.px(5.0);
        html! {
            defs {
                pattern id={ (self.id) "-hatch" } width=(pitch) height=(pitch) patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                    path.hatch d={ "M0 0V" (pitch) } stroke-width=(self.px(1.1)) {}
                }
            }
        }
    }

    fn url(&self) -> String {
        format!("url(#{}-hatch)", self.id)
    }

    /// A heavy line about all that is on, drawn before the rest: what shows of it is the machine's own edge.
    pub(crate) fn silhouette(&self, visible: &[&Placed], seen: &Seen<'_>) -> Markup {
        let on = |p: &&&Placed| {
            !p.form.sign
                && p.form.tone != Tone::Open
                && p.part.is_none_or(|part| seen.standing(part) == Standing::On)
        };
        let d: String = visible
            .iter()
            .filter(on)
            .flat_map(|p| p.form.edges.iter().map(Shape::path))
            .collect();
        html! { path.edge d=(d) stroke-width=(self.outline()) {} }
    }

    /// One form in its state.
    pub(crate) fn form(&self, placed: &Placed, seen: &Seen<'_>, small: bool) -> Markup {
        let standing = placed.part.map_or(Standing::On, |part| seen.standing(part));
        let d: String = placed.form.edges.iter().map(Shape::path).collect();
        let tone = placed.form.tone.class();
        html! {
            @match standing {
                Standing::On => {
                    path class=(tone) d=(d) stroke-width=(self.part()) {}
                    @if !small { (self.details(placed)) }
                }
                Standing::Loose => {
                    path.loose class=(tone) d=(d) stroke-width=(self.px(2.2)) stroke-dasharray=(self.dashes(5.5, 4.5)) {}
                    @if !small { (self.details(placed)) }
                }
                Standing::Off | Standing::OffWithCarrier => {
                    path.ghost d=(d) fill=(self.url()) stroke-width=(self.detail()) {}
                }
                Standing::Missing => {
                    path.gone d=(d) stroke-width=(self.px(1.6)) stroke-dasharray=(self.dashes(0.1, 3.4)) {}
                    (self.cross(placed))
                }
            }
        }
    }

    fn details(&self, placed: &Placed) -> Markup {
        let d: String = placed.form.details.iter().map(Shape::path).collect();
        html! { @if !d.is_empty() { path.detail d=(d) stroke-width=(self.detail()) {} } }
    }

    fn cross(&self, placed: &Placed) -> Markup {
        let (x, y) = placed.bounds.centre();
        let r = 7.0 * self.mm;
        let d = format!(
            "M{:.0} {:.0}l{:.0} {:.0}m0 {:.0}l{:.0} {:.0}",
            x - r,
            -y - r,
            2.0 * r,
            2.0 * r,
            -2.0 * r,
            -2.0 * r,
            2.0 * r
        );
        html! { path.cross d=(d) stroke-width=(self.px(2.4)) {} }
    }
}
