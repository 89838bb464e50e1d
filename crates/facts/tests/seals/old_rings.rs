//! Measuring an old ring.

use crate::accuracy::Accuracy;
use crate::table::{after, worked};
use refettle_facts::quantity::{from_mm, mm};
use refettle_facts::seals::old_ring::{OldRing, round_section, was_probably};
use refettle_facts::seals::sizes;

#[test]
fn worked_example_a_used_ring_was_a_p10a() {
    let (inputs, expected) = worked("oring_identify");
    assert!(expected.starts_with("JIS P10A"));
    let old = OldRing {
        inside: from_mm(after(inputs, "measured ID ")),
        thin: from_mm(after(inputs, "CS ")),
        wide: None,
    };
    let answer = was_probably(&old).unwrap();
    assert_eq!(answer.candidates[0].size.name(), "JIS P10A", "{answer:?}");
    assert!(
        answer.candidates.iter().all(|w| w.size.name() != "AS568-110"),
        "{answer:?}"
    );
    assert!(
        answer.candidates[0]
            .size
            .provenance
            .caveat()
            .is_none_or(|c| answer.caveats.iter().any(|s| s.contains(c)))
    );
}

/// An ellipse of the same area as the round cord, by its own formula.
#[test]
fn a_flat_section_is_made_round_again_by_area() {
    let mut seen = Accuracy::of("Round section of a flat ring", "area of an ellipse", "mm");
    for (thin, wide) in [(3.0, 4.0), (2.0, 2.0), (1.6, 2.2), (4.0, 3.0)] {
        let area = std::f64::consts::PI * thin * wide / 4.0;
        let round = (4.0 * area / std::f64::consts::PI).sqrt();
        seen.see(
            "section",
            mm(round_section(from_mm(thin), from_mm(wide)).unwrap()),
            round,
            1e-9,
        );
    }
    seen.tell(4);
}

/// Every standard size, aged (1 % larger inside, 8 % flatter one way and wider the other), is among the answers.
/// Lists overlap (a JIS and an inch size often differ by less than ageing), so it need not be the first; in at least
/// three of four cases it is, or is level with a size within 2 % of it.
#[test]
fn aged_rings_find_their_size_again() {
    let (mut first, mut all) = (0, 0);
    for size in sizes::all() {
        let (inside, section) = (mm(size.inside.nominal), mm(size.section.nominal));
        let old = OldRing {
            inside: from_mm(inside * 1.01),
            thin: from_mm(section * 0.92),
            wide: Some(from_mm(section / 0.92)),
        };
        let answer = was_probably(&old).unwrap();
        assert!(
            answer.candidates.iter().any(|w| w.size.name() == size.name()),
            "{} not among {:?}",
            size.name(),
            answer
                .candidates
                .iter()
                .map(|w| w.size.name())
                .collect::<Vec<_>>()
        );
        let best = &answer.candidates[0].size;
        let near = (mm(best.inside.nominal) / inside - 1.0).abs() < 0.02
            && (mm(best.section.nominal) / section - 1.0).abs() < 0.03;
        first += usize::from(near);
        all += 1;
        let sum: f64 =
            answer.candidates.iter().map(|w| w.probability.value).sum::<f64>() + answer.none_of_these.value;
        assert!(sum <= 1.0 + 1e-9 && sum > 0.85, "{sum}");
    }
    assert!(first * 4 >= all * 3, "{first} of {all}");
}

/// A ring of no list: 13.0 x 4.6 is far from every size, and the answer says so.
#[test]
fn a_ring_of_no_list_is_said_to_be_none() {
    let old = OldRing {
        inside: from_mm(13.0),
        thin: from_mm(4.6),
        wide: Some(from_mm(4.6)),
    };
    let answer = was_probably(&old).unwrap();
    assert!(answer.none_of_these.value > 0.9, "{answer:?}");
}
