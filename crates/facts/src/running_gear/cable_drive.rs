//! A cable-driven instrument: what is proven good by what still works.
//!
//! The wheel turns a hub drive, the drive turns the inner cable, the cable turns the head, and in the head one
//! shaft drives the odometer, the trip counter and the magnet that drags the needle. If the odometer counts, the
//! drive and the cable are good and a new cable is money thrown away. Start with [`reason`].

use std::collections::{BTreeMap, BTreeSet};

/// A part on the way from wheel to needle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DrivePart {
    /// Tangs, ring and gear at the wheel or gearbox, seated and turning.
    HubDrive,
    /// Inner cable, whole and square at both ends, and its outer screwed home.
    Cable,
    /// Input shaft of the head, free and turning.
    HeadShaft,
    /// Odometer gears and drums.
    Odometer,
    /// Trip counter gears and drums.
    Trip,
    /// Magnet, drag cup, hairspring and needle.
    Needle,
}

impl DrivePart {
    /// All parts, from the wheel up.
    pub const ALL: [DrivePart; 6] = [
        DrivePart::HubDrive,
        DrivePart::Cable,
        DrivePart::HeadShaft,
        DrivePart::Odometer,
        DrivePart::Trip,
        DrivePart::Needle,
    ];

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            DrivePart::HubDrive => "drive at the wheel or gearbox",
            DrivePart::Cable => "cable and its ends",
            DrivePart::HeadShaft => "input shaft of the head",
            DrivePart::Odometer => "odometer gears",
            DrivePart::Trip => "trip counter gears",
            DrivePart::Needle => "magnet, hairspring and needle",
        }
    }
}

/// Something that can be seen to work or not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sign {
    /// The odometer counts when the wheel turns.
    OdometerCounts,
    /// The trip counter counts when the wheel turns.
    TripCounts,
    /// The needle rises when the wheel turns.
    NeedleMoves,
    /// Upper end off, the inner turns when the wheel is spun.
    InnerTurnsAtTop,
    /// Lower end off, the drive turns when the wheel is spun.
    DriveTurns,
    /// Inner pulled out: whole, both ends square, runs freely in its outer.
    CableLooksWhole,
    /// The head's stub turns freely by fingers.
    HeadStubTurnsFreely,
    /// The head's stub turned slowly by hand or slow drill: the needle rises.
    NeedleMovesFromStub,
    /// The head's stub turned slowly: the odometer counts.
    OdometerCountsFromStub,
}

impl Sign {
    /// Every sign.
    pub const ALL: [Sign; 9] = [
        Sign::OdometerCounts,
        Sign::TripCounts,
        Sign::NeedleMoves,
        Sign::InnerTurnsAtTop,
        Sign::DriveTurns,
        Sign::CableLooksWhole,
        Sign::HeadStubTurnsFreely,
        Sign::NeedleMovesFromStub,
        Sign::OdometerCountsFromStub,
    ];

    /// The parts that must all be good for this to work.
    #[must_use]
    pub const fn needs(self) -> &'static [DrivePart] {
        use DrivePart::{Cable, HeadShaft, HubDrive, Needle, Odometer, Trip};
        match self {
            Sign::OdometerCounts => &[HubDrive, Cable, HeadShaft, Odometer],
            Sign::TripCounts => &[HubDrive, Cable, HeadShaft, Trip],
            Sign::NeedleMoves => &[HubDrive, Cable, HeadShaft, Needle],
            Sign::InnerTurnsAtTop => &[HubDrive, Cable],
            Sign::DriveTurns => &[HubDrive],
            Sign::CableLooksWhole => &[Cable],
            Sign::HeadStubTurnsFreely => &[HeadShaft],
            Sign::NeedleMovesFromStub => &[HeadShaft, Needle],
            Sign::OdometerCountsFromStub => &[HeadShaft, Odometer],
        }
    }

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Sign::OdometerCounts => "odometer counts with the wheel turning",
            Sign::TripCounts => "trip counter counts with the wheel turning",
            Sign::NeedleMoves => "needle rises with the wheel turning",
            Sign::InnerTurnsAtTop => "upper end off, inner turns with the wheel",
            Sign::DriveTurns => "lower end off, drive turns with the wheel",
            Sign::CableLooksWhole => "inner out: whole, square at both ends, free in its outer",
            Sign::HeadStubTurnsFreely => "stub of the head turns freely by fingers",
            Sign::NeedleMovesFromStub => "stub turned slowly: needle rises",
            Sign::OdometerCountsFromStub => "stub turned slowly: odometer counts",
        }
    }
}

/// Observations that cannot all be true.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{failing}' was said not to happen, but all it needs is proven good by what works: look again")]
pub struct Contradiction {
    /// The sign that was said to fail.
    pub failing: &'static str,
}

/// What follows from what was seen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reasoning {
    /// Parts that must be good.
    pub proven_good: BTreeSet<DrivePart>,
    /// Parts that must be bad: the only one left that can explain a failure.
    pub proven_bad: BTreeSet<DrivePart>,
    /// Parts that may be bad, each explaining some failure.
    pub suspects: BTreeSet<DrivePart>,
    /// Checks still open that touch a suspect, those that split the suspects most evenly first.
    pub look_next: Vec<Sign>,
}

/// What is proven good, what is proven bad, and what is left, from what works (`true`) and what does not.
///
/// A sign that works proves every part it needs. A sign that fails has a bad part among those it needs that are
/// not proven good; with one such part left, that one is bad. Pure logic, no source needed; a part that works
/// now and then is outside it.
///
/// ```
/// use refettle_facts::running_gear::cable_drive::{DrivePart, Sign, reason};
/// let seen = [(Sign::OdometerCounts, true), (Sign::NeedleMoves, false)].into();
/// let found = reason(&seen).unwrap();
/// assert!(found.proven_good.contains(&DrivePart::Cable));
/// assert_eq!(found.proven_bad, [DrivePart::Needle].into());
/// ```
///
/// # Errors
/// [`Contradiction`] when a failing sign needs only parts that are proven good.
pub fn reason(seen: &BTreeMap<Sign, bool>) -> Result<Reasoning, Contradiction> {
    let proven_good: BTreeSet<DrivePart> = seen
        .iter()
        .filter(|(_, works)| **works)
        .flat_map(|(sign, _)| sign.needs().iter().copied())
        .collect();
    let mut proven_bad = BTreeSet::new();
    // For each failure the parts of which one at least is bad.
    let mut explanations: Vec<Vec<DrivePart>> = Vec::new();
    for (sign, _) in seen.iter().filter(|(_, works)| !**works) {
        let open: Vec<DrivePart> = sign
            .needs()
            .iter()
            .copied()
            .filter(|part| !proven_good.contains(part))
            .collect();
        match open.as_slice() {
            [] => {
                return Err(Contradiction {
                    failing: sign.words(),
                });
            }
            [only] => {
                proven_bad.insert(*only);
            }
            _ => {}
        }
        explanations.push(open);
    }
    Ok(Reasoning {
        look_next: look_next(seen, &proven_good, &proven_bad, &explanations),
        proven_good,
        proven_bad,
        suspects: explanations.into_iter().flatten().collect(),
    })
}

fn look_next(
    seen: &BTreeMap<Sign, bool>,
    good: &BTreeSet<DrivePart>,
    bad: &BTreeSet<DrivePart>,
    explanations: &[Vec<DrivePart>],
) -> Vec<Sign> {
    let open: BTreeSet<DrivePart> = explanations
        .iter()
        .flatten()
        .filter(|part| !bad.contains(part))
        .copied()
        .collect();
    // With every explanation of a failure on its own way, a sign is known to fail too.
    let known_to_fail = |sign: &Sign| {
        explanations
            .iter()
            .any(|parts| parts.iter().all(|part| sign.needs().contains(part)))
    };
    let mut signs: Vec<(usize, Sign)> = Sign::ALL
        .into_iter()
        .filter(|sign| !seen.contains_key(sign) && !known_to_fail(sign))
        .filter_map(|sign| {
            let unknown = sign.needs().iter().filter(|part| !good.contains(part));
            let touched = unknown.filter(|part| open.contains(part)).count();
            // How far from an even split.
            (touched > 0).then(|| ((2 * touched).abs_diff(open.len()), sign))
        })
        .collect();
    signs.sort_unstable();
    signs.into_iter().map(|(_, sign)| sign).collect()
}
