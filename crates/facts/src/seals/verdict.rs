//! Will it do, and why, in words.

use super::SealError;
use super::dimension::Toleranced;
use super::fit::{RingFit, Spread};
use super::gland::{Duty, Gland};
use super::limits::{Limit, limit, overall_squeeze, squeeze_band};
use crate::published::Standing;
use crate::quantity::{Length, Ratio};

/// Will the ring do?
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Inside the published bands.
    Serves,
    /// Outside a recommended band, or likely to be at the tolerances; may seal, not a first choice.
    Borderline,
    /// Will leak, be crushed, or not go in.
    WillNotServe,
}

impl Verdict {
    /// The words shown.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Verdict::Serves => "serves",
            Verdict::Borderline => "borderline",
            Verdict::WillNotServe => "will not serve",
        }
    }
}

/// One reason for a verdict.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reason {
    /// What it alone would make of the ring.
    pub verdict: Verdict,
    /// Value, limit and what follows.
    pub text: String,
    /// Who says so.
    pub source: String,
}

fn pct(share: Ratio) -> String {
    format!("{:.1} %", share.value * 100.0)
}

/// A limit as shown: one that was opened nowhere says so beside the figure.
fn shown(limit: &Limit) -> String {
    match limit.provenance.standing() {
        Standing::FromMemory => format!("{} (a limit from memory, no source)", pct(limit.value)),
        _ => pct(limit.value),
    }
}

/// All reasons, worst first.
pub(super) fn judge(
    fit: &RingFit,
    gland: &Gland<Toleranced>,
    duty: Duty,
    section: Length,
) -> Result<Vec<Reason>, SealError> {
    let mut reasons = vec![
        judge_squeeze(&fit.squeeze, gland, duty, section)?,
        judge_fill(&fit.fill)?,
        judge_stretch(&fit.stretch, gland)?,
    ];
    reasons.sort_by_key(|reason| std::cmp::Reverse(reason.verdict));
    Ok(reasons)
}

fn judge_squeeze(
    squeeze: &Spread,
    gland: &Gland<Toleranced>,
    duty: Duty,
    section: Length,
) -> Result<Reason, SealError> {
    let band = squeeze_band(gland, duty, section)?;
    let overall = overall_squeeze()?;
    // Some sections are squeezed more, or less, by their own table than the overall band: the wider holds.
    let (least, least_source) = if band.low < overall.low {
        (band.low, &band.source)
    } else {
        (overall.low, &overall.source)
    };
    let (most, most_source) = if band.high > overall.high {
        (band.high, &band.source)
    } else {
        (overall.high, &overall.source)
    };
    let value = pct(squeeze.nominal);
    let bounds = format!("{} to {}", pct(band.low), pct(band.high));
    let over_tolerances = format!(
        "likely {} to {}, at worst {} to {}",
        pct(squeeze.likely_low),
        pct(squeeze.likely_high),
        pct(squeeze.worst_low),
        pct(squeeze.worst_high)
    );
    let (verdict, text, source) = if squeeze.nominal.value <= 0.0 {
        (
            Verdict::WillNotServe,
            format!(
                "squeeze {value}: the ring does not reach the wall and can not seal (least {})",
                pct(least)
            ),
            least_source.clone(),
        )
    } else if squeeze.nominal < least {
        (
            Verdict::WillNotServe,
            format!("squeeze {value} is under {}: too loose, it will weep", pct(least)),
            least_source.clone(),
        )
    } else if squeeze.nominal > most {
        (
            Verdict::WillNotServe,
            format!(
                "squeeze {value} is over {}: it will be crushed or cut going in",
                pct(most)
            ),
            most_source.clone(),
        )
    } else if squeeze.nominal < band.low || squeeze.nominal > band.high {
        (
            Verdict::Borderline,
            format!("squeeze {value} is outside {bounds} recommended ({over_tolerances})"),
            band.source,
        )
    } else if squeeze.likely_low < band.low || squeeze.likely_high > band.high {
        (
            Verdict::Borderline,
            format!(
                "squeeze {value} is inside {bounds}, but the tolerances may carry it out ({over_tolerances})"
            ),
            band.source,
        )
    } else {
        (
            Verdict::Serves,
            format!("squeeze {value} is inside {bounds} ({over_tolerances})"),
            band.source,
        )
    };
    Ok(Reason {
        verdict,
        text,
        source,
    })
}

fn judge_fill(fill: &Spread) -> Result<Reason, SealError> {
    let most = limit("gland_fill_max_pct")?;
    let design = limit("gland_fill_design_max_pct")?;
    let value = pct(fill.nominal);
    let worst = pct(fill.worst_high);
    let (verdict, text, source) = if fill.nominal > most.value {
        (
            Verdict::WillNotServe,
            format!(
                "gland fill {value} is over {}: the rubber has nowhere to go",
                shown(&most)
            ),
            most.provenance,
        )
    } else if fill.worst_high > most.value {
        (
            Verdict::Borderline,
            format!("gland fill {value}, but {worst} at worst, over {}", shown(&most)),
            most.provenance,
        )
    } else if fill.nominal > design.value {
        (
            Verdict::Borderline,
            format!("gland fill {value} is over {} usual in design", shown(&design)),
            design.provenance,
        )
    } else {
        (
            Verdict::Serves,
            format!("gland fill {value} ({worst} at worst) is under {}", shown(&most)),
            most.provenance,
        )
    };
    Ok(Reason {
        verdict,
        text,
        source: source.to_string(),
    })
}

fn judge_stretch(stretch: &Spread, gland: &Gland<Toleranced>) -> Result<Reason, SealError> {
    let value = pct(stretch.nominal);
    let rod = matches!(gland, Gland::Rod { .. });
    if stretch.nominal.value < 0.0 {
        let shrunk = -stretch.nominal;
        let (soft, hard, what) = if rod {
            (
                limit("diametral_compression_rod_gland_max_pct")?,
                limit("diametral_compression_rod_gland_hard_max_pct")?,
                "held smaller than made",
            )
        } else {
            let loose = limit("loose_piston_groove_hard_max_pct")?;
            (
                Limit {
                    value: Ratio::new::<uom::si::ratio::percent>(0.0),
                    ..loose
                },
                loose,
                "larger than what it sits on",
            )
        };
        let (verdict, words) = if shrunk > hard.value {
            (
                Verdict::WillNotServe,
                format!("over {}: it kinks or is pinched going in", shown(&hard)),
            )
        } else if shrunk > soft.value {
            (
                Verdict::Borderline,
                format!(
                    "it may be pinched going in: grease it and look; at most {}",
                    shown(&hard)
                ),
            )
        } else {
            (Verdict::Serves, format!("under {}", shown(&soft)))
        };
        return Ok(Reason {
            verdict,
            text: format!("the ring is {} {what}; {words}", pct(shrunk)),
            source: hard.provenance.to_string(),
        });
    }
    let usual = limit("stretch_installed_recommended_max_pct")?;
    let hard = limit("stretch_installed_hard_max_pct")?;
    let least = limit("stretch_installed_min_pct")?;
    let (verdict, text, source) = if stretch.nominal > hard.value {
        (
            Verdict::WillNotServe,
            format!(
                "stretch {value} is over {}: the ring is too small and will not last",
                shown(&hard)
            ),
            hard.provenance,
        )
    } else if stretch.nominal > usual.value {
        (
            Verdict::Borderline,
            format!(
                "stretch {value} is over {} recommended: a larger ring lasts longer",
                shown(&usual)
            ),
            usual.provenance,
        )
    } else if stretch.nominal < least.value && !rod && !matches!(gland, Gland::Face { .. }) {
        (
            Verdict::Serves,
            format!(
                "stretch {value} is under {} usual, harmless if the ring stays in its groove",
                shown(&least)
            ),
            least.provenance,
        )
    } else {
        (
            Verdict::Serves,
            format!("stretch {value} is under {}", shown(&usual)),
            usual.provenance,
        )
    };
    Ok(Reason {
        verdict,
        text,
        source: source.to_string(),
    })
}
