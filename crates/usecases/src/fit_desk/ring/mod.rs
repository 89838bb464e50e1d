//! `ring`: will this O-ring do in this groove, and which standard sizes would.

mod gland;

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, cut, refused};
use crate::refused::Refused;
use refettle_facts::quantity::{Length, mm, parse_length};
use refettle_facts::seals::desk::ring_in_gland;
use refettle_facts::seals::material::{Compound, SealedFluid, Suitability, compound_against_fluid};
use refettle_facts::seals::ring::Thinning;
use refettle_facts::seals::serving::{Candidate, metric_windows, standard_sizes};
use refettle_facts::seals::{Duty, Gland, RingFit, Spread};
use serde::Serialize;

/// Standard sizes shown at most.
const MOST_SIZES: usize = 5;

/// What was typed: the ring, and its gland as groove and bore, groove and rod, or depth of a face groove. A dimension
/// of the gland may carry its tolerance: `30mm+0/-0.1mm`, `30mm±0.05mm`.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RingRequest {
    /// Ring inside diameter.
    pub id: String,
    /// Ring section.
    pub section: String,
    /// Diameter of the groove floor.
    pub groove: Option<String>,
    /// Bore around it: the groove is cut in the inner part.
    pub bore: Option<String>,
    /// Rod through it: the groove is cut in the outer part.
    pub rod: Option<String>,
    /// Depth of a groove in a face, gap included.
    pub depth: Option<String>,
    /// Inner wall of a face groove the ring is held on; it lies free without it.
    pub held_on: Option<String>,
    /// Groove width.
    pub width: String,
    /// How far a dimension without a tolerance of its own may be out; a caliper's doubt without it.
    pub doubt: Option<String>,
    /// Whether the parts slide on the ring.
    pub moving: bool,
    /// Rubber: `NBR`, `EPDM` …
    pub rubber: Option<String>,
    /// Fluid it meets: `petrol`, `DOT 4` …
    pub fluid: Option<String>,
}

/// A reason for the verdict.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReasonView {
    /// What it alone makes of the ring.
    pub verdict: &'static str,
    /// Value, limit and what follows.
    pub text: String,
    /// Who says so.
    pub source: String,
}

/// A standard size that would serve.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ServingView {
    /// As one asks for it.
    pub name: String,
    /// Inside diameter.
    pub id_mm: f64,
    /// Section.
    pub section_mm: f64,
    /// How well.
    pub verdict: &'static str,
    /// Where the size is from.
    pub source: String,
}

/// A metric section with the inside diameters that would do.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MetricView {
    /// Section.
    pub section_mm: f64,
    /// Least and most inside diameter.
    pub id_mm: [f64; 2],
    /// How well.
    pub verdict: &'static str,
}

/// The answer. Shares in per cent; `worst` over all tolerances at once, `likely` over independent ones.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RingView {
    /// Stretch of the inside diameter, nominal.
    pub stretch_pct: f64,
    /// Squeeze of the section, nominal.
    pub squeeze_pct: f64,
    /// Gland fill, nominal.
    pub fill_pct: f64,
    /// Stretch at worst, least and most.
    pub stretch_worst_pct: [f64; 2],
    /// Squeeze at worst.
    pub squeeze_worst_pct: [f64; 2],
    /// Fill at worst.
    pub fill_worst_pct: [f64; 2],
    /// Stretch to be expected.
    pub stretch_likely_pct: [f64; 2],
    /// Squeeze to be expected.
    pub squeeze_likely_pct: [f64; 2],
    /// Fill to be expected.
    pub fill_likely_pct: [f64; 2],
    /// Gland depth.
    pub depth_mm: f64,
    /// Section once stretched.
    pub stretched_section_mm: f64,
    /// `serves`, `borderline`, `will not serve`; the rubber counts where it was named with its fluid.
    pub verdict: &'static str,
    /// Why, worst first.
    pub reasons: Vec<ReasonView>,
    /// Standard sizes that would serve, best first.
    pub would_serve: Vec<ServingView>,
    /// Metric sections that would serve.
    pub metric_would_serve: Vec<MetricView>,
    /// Rubber against fluid in words, where both were named.
    pub rubber_in_fluid: Option<String>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Stretch, squeeze, fill, verdict, and sizes that would serve.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &RingRequest) -> Result<RingView, Refused> {
    let Judged {
        inside,
        gland,
        duty,
        suited,
        fit,
    } = judged(request)?;
    let serving = serving(&gland, duty, inside)?;
    let metric = metric_windows(&gland, duty).map_err(|e| refused(&e))?;
    let pct = |share: refettle_facts::quantity::Ratio| exact(share.value * 100.0);
    let worst = |spread: &Spread| [pct(spread.worst_low), pct(spread.worst_high)];
    let likely = |spread: &Spread| [pct(spread.likely_low), pct(spread.likely_high)];
    Ok(RingView {
        stretch_pct: pct(fit.stretch.nominal),
        squeeze_pct: pct(fit.squeeze.nominal),
        fill_pct: pct(fit.fill.nominal),
        stretch_worst_pct: worst(&fit.stretch),
        squeeze_worst_pct: worst(&fit.squeeze),
        fill_worst_pct: worst(&fit.fill),
        stretch_likely_pct: likely(&fit.stretch),
        squeeze_likely_pct: likely(&fit.squeeze),
        fill_likely_pct: likely(&fit.fill),
        depth_mm: exact(mm(fit.nominal.depth)),
        stretched_section_mm: exact(mm(fit.nominal.section)),
        verdict: fit.verdict.words(),
        would_serve: serving
            .iter()
            .map(|found| ServingView {
                name: found.size.name(),
                id_mm: exact(mm(found.size.inside.nominal)),
                section_mm: exact(mm(found.size.section.nominal)),
                verdict: found.fit.verdict.words(),
                source: found.size.provenance.to_string(),
            })
            .collect(),
        metric_would_serve: metric
            .iter()
            .map(|window| MetricView {
                section_mm: exact(mm(window.section.section.nominal)),
                id_mm: [exact(mm(window.inside_least)), exact(mm(window.inside_most))],
                verdict: window.fit.verdict.words(),
            })
            .collect(),
        rubber_in_fluid: suited.map(|suited| suited.words),
        basis: Basis::of("O-ring stretch, squeeze and gland fill")
            .assuming(fit.assumptions.iter().cloned())
            .from(fit.reasons.iter().map(|reason| reason.source.clone()))
            .warning(
                "seals of brake and clutch hydraulics are bought by the machine's own part number, never by size; \
                 the maker's ring wins over this one",
            ),
        reasons: fit
            .reasons
            .into_iter()
            .map(|reason| ReasonView {
                verdict: reason.verdict.words(),
                text: reason.text,
                source: reason.source,
            })
            .collect(),
    })
}

/// The ring in its groove for drawing: the fit, and the width of the groove.
///
/// # Errors
/// As [`answer`].
pub fn section(request: &RingRequest) -> Result<(RingFit, Length), Refused> {
    let judged = judged(request)?;
    let (Gland::Piston { width, .. } | Gland::Rod { width, .. } | Gland::Face { width, .. }) = judged.gland;
    Ok((judged.fit, width.nominal))
}

/// A request read, and what the core makes of it.
struct Judged {
    inside: Length,
    gland: Gland,
    duty: Duty,
    suited: Option<Suitability>,
    fit: RingFit,
}

fn judged(request: &RingRequest) -> Result<Judged, Refused> {
    let mut typed = Typed::default();
    let inside = typed.read("id", &request.id, parse_length);
    let section = typed.read("section", &request.section, parse_length);
    let gland = gland::read(request, &mut typed);
    let rubber = typed.read_if("rubber", request.rubber.as_deref(), compound);
    let fluid = typed.read_if("fluid", request.fluid.as_deref(), fluid);
    if request.rubber.is_some() != request.fluid.is_some() {
        typed.refuse("rubber and fluid: give both, such as NBR and petrol");
    }
    let (Some(inside), Some(section), Some(gland), true) = (inside, section, gland, typed.is_right()) else {
        return Err(typed.refused());
    };
    let duty = if request.moving {
        Duty::Moving
    } else {
        Duty::Static
    };
    let suited = rubber
        .zip(fluid)
        .map(|(rubber, fluid)| compound_against_fluid(rubber, fluid));
    let mut fit =
        ring_in_gland(inside, section, &gland, duty, Thinning::default()).map_err(|e| refused(&e))?;
    if let Some(suited) = &suited {
        fit = fit.with_rubber(suited);
    }
    Ok(Judged {
        inside,
        gland,
        duty,
        suited,
        fit,
    })
}

/// Standard sizes that would serve. A ring that lies free in a face groove is held by nothing that names a diameter:
/// there the sizes nearest to the ring measured come first.
fn serving(gland: &Gland, duty: Duty, inside: Length) -> Result<Vec<Candidate>, Refused> {
    let free = matches!(gland, Gland::Face { held_on: None, .. });
    let most = if free { usize::MAX } else { MOST_SIZES };
    let mut found = standard_sizes(gland, duty, most).map_err(|e| refused(&e))?;
    if free {
        let off = |candidate: &Candidate| (candidate.size.inside.nominal - inside).value.abs();
        found.sort_by(|a, b| off(a).total_cmp(&off(b)));
        found.truncate(MOST_SIZES);
    }
    Ok(found)
}

fn compound(text: &str) -> Result<Compound, String> {
    let names = || Compound::ALL.map(Compound::name).join(", ");
    Compound::named(text)
        .ok_or_else(|| format!("'{}' is no rubber listed here; listed are {}", cut(text), names()))
}

fn fluid(text: &str) -> Result<SealedFluid, String> {
    let names = || SealedFluid::ALL.map(SealedFluid::name).join(", ");
    SealedFluid::named(text)
        .ok_or_else(|| format!("'{}' is no fluid listed here; listed are {}", cut(text), names()))
}

impl OnScreen for RingView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("O-ring in its groove");
        screen.row("verdict", self.verdict);
        let shares = [
            (
                "stretch",
                self.stretch_pct,
                self.stretch_likely_pct,
                self.stretch_worst_pct,
            ),
            (
                "squeeze",
                self.squeeze_pct,
                self.squeeze_likely_pct,
                self.squeeze_worst_pct,
            ),
            (
                "gland fill",
                self.fill_pct,
                self.fill_likely_pct,
                self.fill_worst_pct,
            ),
        ];
        for (name, nominal, likely, worst) in shares {
            let span = |[low, high]: [f64; 2]| format!("{} to {}", number(low, 1), number(high, 1));
            screen.row(
                name,
                format!(
                    "{} %, likely {}, at worst {}",
                    number(nominal, 1),
                    span(likely),
                    span(worst)
                ),
            );
        }
        screen.row("gland depth", format!("{} mm", number(self.depth_mm, 3)));
        let reasons: Vec<String> = self
            .reasons
            .iter()
            .map(|reason| format!("{}: {}", reason.verdict, reason.text))
            .collect();
        screen.points("Why", &reasons);
        let mut sizes: Vec<String> = self
            .would_serve
            .iter()
            .map(|size| {
                format!(
                    "{}, {} x {} mm: {} ({})",
                    size.name,
                    number(size.id_mm, 2),
                    number(size.section_mm, 2),
                    size.verdict,
                    size.source
                )
            })
            .collect();
        sizes.extend(self.metric_would_serve.iter().map(|metric| {
            format!(
                "metric, section {} mm, inside {} to {} mm: {}",
                number(metric.section_mm, 2),
                number(metric.id_mm[0], 1),
                number(metric.id_mm[1], 1),
                metric.verdict
            )
        }));
        screen.points("Sizes that would serve", &sizes);
        self.basis.show(&mut screen);
        screen
    }
}
