use refettle_facts::running_gear::cable_drive::{DrivePart, Sign, reason};
use std::collections::{BTreeMap, BTreeSet};

/// Every state of the six parts that agrees with what was seen: the meaning of the reasoning, by counting.
fn worlds(seen: &BTreeMap<Sign, bool>) -> Vec<BTreeSet<DrivePart>> {
    (0..64u32)
        .map(|bits| {
            DrivePart::ALL
                .into_iter()
                .enumerate()
                .filter(|(at, _)| bits >> at & 1 == 1)
                .map(|(_, part)| part)
                .collect::<BTreeSet<_>>()
        })
        .filter(|good| {
            seen.iter()
                .all(|(sign, works)| sign.needs().iter().all(|part| good.contains(part)) == *works)
        })
        .collect()
}

/// All 19 683 combinations of nine signs seen to work, seen to fail, or not looked at.
#[test]
fn the_reasoning_is_what_all_possible_worlds_have_in_common() {
    let mut contradictions = 0;
    for code in 0..3u32.pow(9) {
        let mut rest = code;
        let mut seen = BTreeMap::new();
        for sign in Sign::ALL {
            match rest % 3 {
                0 => {}
                state => {
                    seen.insert(sign, state == 1);
                }
            }
            rest /= 3;
        }
        let possible = worlds(&seen);
        let Ok(found) = reason(&seen) else {
            assert!(possible.is_empty(), "{seen:?}");
            contradictions += 1;
            continue;
        };
        assert!(!possible.is_empty(), "{seen:?}");
        for part in DrivePart::ALL {
            let always_good = possible.iter().all(|good| good.contains(&part));
            let always_bad = possible.iter().all(|good| !good.contains(&part));
            assert_eq!(
                found.proven_good.contains(&part),
                always_good,
                "{part:?} {seen:?}"
            );
            assert_eq!(found.proven_bad.contains(&part), always_bad, "{part:?} {seen:?}");
        }
        assert!(found.suspects.is_disjoint(&found.proven_good));
        assert!(found.proven_bad.is_subset(&found.suspects));
        // What is offered next is not known already: it works in some world and fails in another.
        for sign in found.look_next {
            let works = |good: &BTreeSet<DrivePart>| sign.needs().iter().all(|p| good.contains(p));
            assert!(
                possible.iter().any(works) && possible.iter().any(|w| !works(w)),
                "{sign:?} {seen:?}"
            );
        }
    }
    assert!(contradictions > 0);
}

#[test]
fn a_counting_odometer_clears_drive_and_cable() {
    let seen = [(Sign::OdometerCounts, true), (Sign::NeedleMoves, false)].into();
    let found = reason(&seen).unwrap();
    for part in [
        DrivePart::HubDrive,
        DrivePart::Cable,
        DrivePart::HeadShaft,
        DrivePart::Odometer,
    ] {
        assert!(found.proven_good.contains(&part));
    }
    assert_eq!(found.proven_bad, [DrivePart::Needle].into());
    assert!(found.look_next.is_empty());
}

#[test]
fn all_dead_and_the_drive_turns_leaves_the_cable_first() {
    let seen = [
        (Sign::OdometerCounts, false),
        (Sign::NeedleMoves, false),
        (Sign::DriveTurns, true),
        (Sign::InnerTurnsAtTop, false),
    ]
    .into();
    assert_eq!(reason(&seen).unwrap().proven_bad, [DrivePart::Cable].into());
}

#[test]
fn a_contradiction_is_named() {
    let seen = [(Sign::OdometerCounts, true), (Sign::InnerTurnsAtTop, false)].into();
    let text = reason(&seen).unwrap_err().to_string();
    assert!(
        text.contains("inner turns with the wheel") && text.contains("look again"),
        "{text}"
    );
}
