//! A ring in a gland over the tolerances of both.

use super::SealError;
use super::dimension::{DIAMETER, SECTION, Toleranced};
use super::gland::{Duty, Gland};
use super::material::{Rating, Suitability};
use super::ring::{Installed, Thinning, installed};
use super::verdict::{Reason, Verdict, judge};
use crate::quantity::{Length, Ratio};

/// A ring as made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Inside diameter.
    pub inside: Toleranced,
    /// Section (cord thickness).
    pub section: Toleranced,
}

/// A share at the nominal dimensions, and how far tolerances may carry it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// At the nominal dimensions.
    pub nominal: Ratio,
    /// Least, with every dimension at the end that makes it so.
    pub worst_low: Ratio,
    /// Most, with every dimension at the end that makes it so.
    pub worst_high: Ratio,
    /// Least to be expected.
    pub likely_low: Ratio,
    /// Most to be expected.
    pub likely_high: Ratio,
}

/// What was found about a ring in a gland.
#[derive(Debug, Clone, PartialEq)]
pub struct RingFit {
    /// At the nominal dimensions.
    pub nominal: Installed,
    /// Stretch over the tolerances.
    pub stretch: Spread,
    /// Squeeze over the tolerances.
    pub squeeze: Spread,
    /// Gland fill over the tolerances.
    pub fill: Spread,
    /// Will it do?
    pub verdict: Verdict,
    /// Why, worst first; never empty.
    pub reasons: Vec<Reason>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
}

impl RingFit {
    /// The fit with what the rubber makes of it: a ring of the right size in a fluid that destroys it will not serve,
    /// one of doubtful or unknown rubber is borderline.
    #[must_use]
    pub fn with_rubber(mut self, rubber: &Suitability) -> RingFit {
        let verdict = match rubber.rating {
            Some(Rating::Suitable | Rating::Usually) => Verdict::Serves,
            Some(Rating::Doubtful) | None => Verdict::Borderline,
            Some(Rating::Never) => Verdict::WillNotServe,
        };
        self.reasons.push(Reason {
            verdict,
            text: rubber.words.clone(),
            source: rubber
                .provenance
                .map_or_else(|| "no source".to_owned(), |provenance| provenance.to_string()),
        });
        // Worst first; the sort keeps the order among equals.
        self.reasons
            .sort_by_key(|reason| std::cmp::Reverse(reason.verdict));
        self.verdict = self.verdict.max(verdict);
        self
    }
}

/// Judges a ring in a gland.
///
/// *Worst* is the least and most over all ends of all tolerances at once (each figure rises or falls steadily with
/// each dimension, so its extremes lie at the ends). *Likely* takes the tolerances as independent and each as
/// three standard deviations: the value with every dimension in the middle of its tolerance, plus and minus the
/// square root of the sum of squares of what each dimension alone does.
///
/// # Errors
/// [`SealError`] when a dimension or tolerance is impossible, or the ring can not be in that gland.
pub fn fit(
    ring: &Ring,
    gland: &Gland<Toleranced>,
    duty: Duty,
    thinning: Thinning,
) -> Result<RingFit, SealError> {
    let inside = ring.inside.checked("ring inside diameter", DIAMETER)?;
    let section = ring.section.checked("ring section", SECTION)?;
    gland.check()?;

    let nominal = installed(
        inside.nominal,
        section.nominal,
        &gland.pick(|d| d.nominal),
        thinning,
    )?;
    let corners = corners(ring, gland, thinning)?;
    let middle = at(ring, gland, thinning, |_, d| d.middle())?;
    // What each dimension alone does, all others in the middle.
    let mut alone: Vec<(Installed, Installed)> = Vec::new();
    for which in 0..dimensions(gland) {
        let moved = |high: bool| {
            at(ring, gland, thinning, |index, d| match (index == which, high) {
                (false, _) => d.middle(),
                (true, true) => d.high(),
                (true, false) => d.low(),
            })
        };
        alone.push((moved(false)?, moved(true)?));
    }
    let spread = |of: fn(&Installed) -> Ratio| {
        let worst = |better: fn(f64, f64) -> f64| {
            Ratio::new::<uom::si::ratio::ratio>(
                corners
                    .iter()
                    .map(|c| of(c).value)
                    .fold(of(&nominal).value, better),
            )
        };
        let sum: f64 = alone
            .iter()
            .map(|(low, high)| ((of(high) - of(low)).value / 2.0).powi(2))
            .sum();
        let sd3 = Ratio::new::<uom::si::ratio::ratio>(sum.sqrt());
        Spread {
            nominal: of(&nominal),
            worst_low: worst(f64::min),
            worst_high: worst(f64::max),
            likely_low: of(&middle) - sd3,
            likely_high: of(&middle) + sd3,
        }
    };
    let mut found = RingFit {
        nominal,
        stretch: spread(|i| i.stretch),
        squeeze: spread(|i| i.squeeze),
        fill: spread(|i| i.fill),
        verdict: Verdict::Serves,
        reasons: Vec::new(),
        assumptions: assumptions(thinning),
    };
    found.reasons = judge(&found, gland, duty, section.nominal)?;
    found.verdict = found
        .reasons
        .iter()
        .map(|r| r.verdict)
        .max()
        .unwrap_or(Verdict::Serves);
    Ok(found)
}

/// How many dimensions have a tolerance: two of the ring, and the gland's.
fn dimensions(gland: &Gland<Toleranced>) -> usize {
    match gland {
        Gland::Piston { .. } | Gland::Rod { .. } => 5,
        Gland::Face { held_on, .. } => 4 + usize::from(held_on.is_some()),
    }
}

/// The ring at one point of the tolerances: `pick` is told which dimension (0 inside, 1 section, then the gland's).
fn at(
    ring: &Ring,
    gland: &Gland<Toleranced>,
    thinning: Thinning,
    pick: impl Fn(usize, &Toleranced) -> Length,
) -> Result<Installed, SealError> {
    let mut index = 1;
    let picked = gland.pick(|d| {
        index += 1;
        pick(index, d)
    });
    installed(pick(0, &ring.inside), pick(1, &ring.section), &picked, thinning)
}

fn corners(ring: &Ring, gland: &Gland<Toleranced>, thinning: Thinning) -> Result<Vec<Installed>, SealError> {
    (0..1usize << dimensions(gland))
        .map(|ends| {
            at(ring, gland, thinning, |index, d| {
                if ends >> index & 1 == 1 { d.high() } else { d.low() }
            })
        })
        .collect()
}

fn assumptions(thinning: Thinning) -> Vec<String> {
    let thinned = match thinning {
        Thinning::ConstantVolume => "a stretched ring keeps its volume",
        Thinning::Empirical => {
            "a stretched ring thins by the empirical fit (from memory, no source): the careful case"
        }
        Thinning::Ignored => "the section is taken as bought, unthinned by stretch",
    };
    vec![
        thinned.to_owned(),
        "likely: tolerances independent of one another, each three standard deviations wide".to_owned(),
        "both parts on one axis; off centre, one side is squeezed less".to_owned(),
        "sharp edges, pressure, temperature and surface are not judged".to_owned(),
        "the machine's manual wins; brake and clutch hydraulics take the maker's own seal only".to_owned(),
    ]
}
