//! Which standard sizes would serve a groove.

use super::SealError;
use super::dimension::Toleranced;
use super::fit::{Ring, RingFit, fit};
use super::gland::{Duty, Gland};
use super::limits::limit;
use super::ring::{Thinning, inside_tolerance_class_b};
use super::sizes::{CrossSection, StandardSize, all, cross_sections};
use super::verdict::Verdict;
use crate::quantity::Length;

/// A standard size and how it would fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The size.
    pub size: StandardSize,
    /// Its fit.
    pub fit: RingFit,
}

/// Sizes of AS568 and JIS B 2401 that would serve this gland, best first, at most `most` of them.
///
/// Those that serve come before the borderline; within each, the nearer to the middle of the squeeze and to 2 %
/// stretch the better (2 % is what a seal maker's design guide calls ideal). A size that cannot be in the gland, or
/// will not serve, is left out; an empty list means none would.
///
/// # Errors
/// [`SealError`] when the gland itself is impossible.
pub fn standard_sizes(
    gland: &Gland<Toleranced>,
    duty: Duty,
    most: usize,
) -> Result<Vec<Candidate>, SealError> {
    gland.check()?;
    if matches!((gland, duty), (Gland::Face { .. }, Duty::Moving)) {
        return Err(SealError::FaceDoesNotMove);
    }
    let ideal = limit("stretch_installed_ideal_pct")?.value.value;
    let mut found: Vec<(f64, Candidate)> = Vec::new();
    for size in all() {
        let ring = Ring {
            inside: size.inside,
            section: size.section,
        };
        // A size that cannot be there is no candidate, and no error either.
        let Ok(fit) = fit(&ring, gland, duty, Thinning::ConstantVolume) else {
            continue;
        };
        if fit.verdict == Verdict::WillNotServe {
            continue;
        }
        let band = super::limits::squeeze_band(gland, duty, size.section.nominal)?;
        let half = ((band.high - band.low).value / 2.0).max(1e-6);
        let squeeze_off = (fit.squeeze.nominal - (band.low + band.high) / 2.0).value / half;
        let wanted = if matches!(gland, Gland::Piston { .. }) {
            ideal
        } else {
            0.0
        };
        let stretch_off = (fit.stretch.nominal.value - wanted) / 0.03;
        found.push((squeeze_off.hypot(stretch_off), Candidate { size, fit }));
    }
    found.sort_by(|(a_off, a), (b_off, b)| {
        a.fit
            .verdict
            .cmp(&b.fit.verdict)
            .then(a_off.total_cmp(b_off))
            .then(a.size.name().cmp(&b.size.name()))
    });
    Ok(found
        .into_iter()
        .map(|(_, candidate)| candidate)
        .take(most)
        .collect())
}

/// A metric section and the inside diameters that would do with it.
#[derive(Debug, Clone, PartialEq)]
pub struct MetricWindow {
    /// The section.
    pub section: CrossSection,
    /// Least inside diameter.
    pub inside_least: Length,
    /// Most inside diameter.
    pub inside_most: Length,
    /// What the middle of the window would be.
    pub fit: RingFit,
}

/// Metric sections that would serve a piston groove, each with the inside diameters to ask for.
///
/// Metric rings are sold in many inside diameters and no published list of them is at hand, so the answer is a
/// window: stretch from 1 % to 5 % (seal makers' design pages). Only piston grooves have one; for other glands the
/// list is empty.
///
/// # Errors
/// [`SealError`] when the gland itself is impossible.
pub fn metric_windows(gland: &Gland<Toleranced>, duty: Duty) -> Result<Vec<MetricWindow>, SealError> {
    gland.check()?;
    let Gland::Piston { groove_diameter, .. } = gland else {
        return Ok(Vec::new());
    };
    let most_stretch = limit("stretch_installed_recommended_max_pct")?.value.value;
    let least_stretch = limit("stretch_installed_min_pct")?.value.value;
    let inside_least = groove_diameter.nominal / (1.0 + most_stretch);
    let inside_most = groove_diameter.nominal / (1.0 + least_stretch);
    let middle = (inside_least + inside_most) / 2.0;
    let metric = cross_sections().filter(|listed| !listed.series.starts_with("inch"));
    let mut windows: Vec<MetricWindow> = Vec::new();
    for section in metric {
        let ring = Ring {
            inside: Toleranced::within(middle, inside_tolerance_class_b(middle)?),
            section: section.section,
        };
        let Ok(fit) = fit(&ring, gland, duty, Thinning::ConstantVolume) else {
            continue;
        };
        let listed = windows
            .iter()
            .any(|w| (w.section.section.nominal - section.section.nominal).value.abs() < 1e-9);
        if fit.verdict != Verdict::WillNotServe && !listed {
            windows.push(MetricWindow {
                section,
                inside_least,
                inside_most,
                fit,
            });
        }
    }
    windows.sort_by_key(|window| window.fit.verdict);
    Ok(windows)
}
