//! A ring in its groove, cut through, to scale: at the least squeeze the tolerances allow, at the nominal one, at the most.
//!
//! The groove is as deep and wide as it was said to be; the ring's section is the one that gives the squeeze drawn,
//! `W = h / (1 - s)` with gland depth `h` and squeeze `s` (definition of squeeze). Squeezed rubber keeps its area: a circle
//! of diameter `W` becomes a form `h` high with half-round ends, its straight part `(πW² - πh²) / 4h` long. A seal's real
//! form in the groove differs a little at its ends; the width drawn is not a measured one.

use maud::{Markup, html};
use refettle_facts::quantity::{Length, mm};
use refettle_facts::seals::{RingFit, Verdict};

/// One panel of the picture.
struct Panel {
    words: &'static str,
    squeeze: f64,
}

/// Room of one panel, CSS pixels.
const WIDE: f64 = 118.0;
const HIGH: f64 = 96.0;
const TOP: f64 = 34.0;

/// Ring and groove in section; `width` is the groove's, along the axis.
#[must_use]
pub fn section(fit: &RingFit, width: Length) -> Markup {
    let (depth, width) = (mm(fit.nominal.depth), mm(width));
    let panels = [
        Panel {
            words: "at least",
            squeeze: fit.squeeze.worst_low.value,
        },
        Panel {
            words: "nominal",
            squeeze: fit.squeeze.nominal.value,
        },
        Panel {
            words: "at most",
            squeeze: fit.squeeze.worst_high.value,
        },
    ];
    let tallest = panels
        .iter()
        .map(|p| free(depth, p.squeeze))
        .fold(depth, f64::max);
    let scale = (WIDE * 0.72 / width.max(tallest)).min(HIGH * 0.78 / tallest);
    let title = title(fit);
    html! {
        svg.seal viewBox="0 0 364 172" role="img" aria-label={ (title) "; at least " (told(fit.squeeze.worst_low.value)) ", at most " (told(fit.squeeze.worst_high.value)) ", likely " (told(fit.squeeze.likely_low.value)) " to " (told(fit.squeeze.likely_high.value)) } {
            text.say x="4" y="16" { (title) }
            @for (at, panel) in [0.0, 1.0, 2.0].iter().zip(&panels) { (drawn(4.0 + at * (WIDE + 2.0), panel, depth, width, scale)) }
            path.bar d={ (format!("M{:.1} 166h{:.1}m0-3v6m{:.1}-6v6", 8.0, scale, -scale)) } {}
            text.small x=(format!("{:.1}", 14.0 + scale)) y="170" { "1 mm" }
        }
    }
}

fn title(fit: &RingFit) -> String {
    let verdict = match fit.verdict {
        Verdict::Serves => "Serves",
        Verdict::Borderline => "Borderline",
        Verdict::WillNotServe => "Will not serve",
    };
    let squeeze = fit.squeeze.nominal.value;
    if squeeze < 0.0 {
        format!("{verdict}: {} of the wall", told(squeeze))
    } else {
        format!("{verdict}: squeezed {}", told(squeeze))
    }
}

/// `18 %`; of a ring that does not reach the wall, `10 % short`.
fn told(squeeze: f64) -> String {
    let text = format!("{:.1}", squeeze.abs() * 100.0);
    let text = text.strip_suffix(".0").unwrap_or(&text);
    let short = if squeeze < 0.0 && text != "0" {
        " short"
    } else {
        ""
    };
    format!("{text} %{short}")
}

/// Section of the ring before it is squeezed so far; a ring that does not reach the wall is smaller than the gland.
fn free(depth: f64, squeeze: f64) -> f64 {
    // No seal is squeezed to nothing: beyond nine tenths the figure is no seal's, and the drawing ends there.
    depth / (1.0 - squeeze.min(0.9))
}

/// Width of the squeezed form: the area of the free circle kept.
fn squeezed_width(free: f64, height: f64) -> f64 {
    height + std::f64::consts::PI * (free * free - height * height) / (4.0 * height)
}

fn drawn(x: f64, panel: &Panel, depth: f64, width: f64, scale: f64) -> Markup {
    let free = free(depth, panel.squeeze);
    let height = free.min(depth);
    let wide = squeezed_width(free, height).min(width.max(free) * 1.6);
    let middle = x + WIDE / 2.0;
    let floor = TOP + HIGH - 12.0;
    let wall = floor - depth * scale;
    let (left, right) = (middle - width * scale / 2.0, middle + width * scale / 2.0);
    let (w, h) = (wide * scale, height * scale);
    let body = format!(
        "M{:.1} {wall:.1}H{left:.1}V{floor:.1}H{right:.1}V{wall:.1}H{:.1}V{:.1}H{:.1}Z",
        x + 3.0,
        x + WIDE - 3.0,
        floor + 10.0,
        x + 3.0
    );
    html! {
        path.groove d=(body) {}
        path.wall d={ (format!("M{:.1} {wall:.1}H{:.1}", x + 3.0, x + WIDE - 3.0)) } {}
        rect.rubber x=(format!("{:.1}", middle - w / 2.0)) y=(format!("{:.1}", floor - h)) width=(format!("{w:.1}")) height=(format!("{h:.1}")) rx=(format!("{:.1}", h / 2.0)) {}
        circle.free cx=(format!("{middle:.1}")) cy=(format!("{:.1}", floor - free * scale / 2.0)) r=(format!("{:.1}", free * scale / 2.0)) {}
        text.small x=(format!("{middle:.1}")) y=(format!("{:.1}", floor + 25.0)) text-anchor="middle" { (panel.words) " " (told(panel.squeeze)) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use refettle_facts::quantity::from_mm;
    use refettle_facts::seals::Duty;
    use refettle_facts::seals::desk::{RingAndGroove, ring_in_groove};
    use refettle_facts::seals::ring::Thinning;

    fn picture(bore: f64) -> (RingFit, String) {
        let asked = RingAndGroove {
            inside: from_mm(24.99),
            section: from_mm(3.53),
            groove_diameter: from_mm(25.50),
            bore: from_mm(bore),
            width: from_mm(4.57),
        };
        let fit = ring_in_groove(&asked, Duty::Static, Thinning::default()).unwrap();
        let svg = section(&fit, asked.width).into_string();
        (fit, svg)
    }

    fn numbers(svg: &str, start: &str) -> Vec<f64> {
        svg.split(start)
            .skip(1)
            .map(|rest| rest.split('"').next().unwrap().parse().unwrap())
            .collect()
    }

    #[test]
    fn squeezed_rubber_keeps_its_area() {
        for (free, height) in [(3.53_f64, 2.87), (2.0, 1.5), (5.33, 5.33)] {
            let wide = squeezed_width(free, height);
            let area = height * (wide - height) + std::f64::consts::PI * height * height / 4.0;
            assert!((area - std::f64::consts::PI * free * free / 4.0).abs() < 1e-9);
        }
    }

    #[test]
    fn ring_and_groove_are_to_one_scale_and_the_squeeze_is_the_one_computed() {
        let (fit, svg) = picture(31.24);
        crate::outline::tests::well_formed(&svg);
        let radii = numbers(&svg, " r=\"");
        let heights = numbers(&svg, " height=\"");
        assert_eq!((radii.len(), heights.len()), (3, 3));
        let drawn: Vec<f64> = radii
            .iter()
            .zip(&heights)
            .map(|(r, h)| 1.0 - h / (2.0 * r))
            .collect();
        let wanted = [fit.squeeze.worst_low, fit.squeeze.nominal, fit.squeeze.worst_high];
        for (drawn, wanted) in drawn.iter().zip(wanted) {
            assert!(
                (drawn - wanted.value).abs() < 0.004,
                "{drawn} for {}",
                wanted.value
            );
        }
        assert!(svg.contains("Serves: squeezed 18 %"));
    }

    #[test]
    fn a_ring_that_does_not_reach_the_wall_is_drawn_round_with_a_gap() {
        let (fit, svg) = picture(33.2);
        assert!(fit.squeeze.nominal.value < 0.0);
        let (radius, height) = (numbers(&svg, " r=\"")[1], numbers(&svg, " height=\"")[1]);
        assert!((2.0 * radius - height).abs() < 0.11);
        assert!(svg.contains("Will not serve: 10 % short of the wall"));
    }
}
