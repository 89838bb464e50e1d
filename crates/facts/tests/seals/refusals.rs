//! Impossible and suspicious values are refused, naming the value and the limit.

use refettle_facts::quantity::from_mm;
use refettle_facts::seals::desk::{RingAndGroove, ring_in_groove};
use refettle_facts::seals::dimension::Toleranced;
use refettle_facts::seals::fit::{Ring, fit};
use refettle_facts::seals::old_ring::{OldRing, was_probably};
use refettle_facts::seals::ring::{Thinning, fill, section_empirical, squeeze, stretch};
use refettle_facts::seals::{Duty, Gland, SealError};
use refettle_facts::small_parts::{circlips, sealing_washers, wheel_bearings};

fn base() -> RingAndGroove {
    RingAndGroove {
        inside: from_mm(24.99),
        section: from_mm(3.53),
        groove_diameter: from_mm(25.50),
        bore: from_mm(31.24),
        width: from_mm(4.57),
    }
}

fn said(asked: RingAndGroove) -> String {
    ring_in_groove(&asked, Duty::Static, Thinning::default())
        .unwrap_err()
        .to_string()
}

#[test]
fn a_ring_or_groove_that_cannot_be() {
    let b = base();
    for (asked, words) in [
        (
            RingAndGroove {
                section: from_mm(35.3),
                ..b
            },
            ["ring section of 35.3 mm", "0.5 mm to 15 mm"],
        ),
        (
            RingAndGroove {
                section: from_mm(-3.0),
                ..b
            },
            ["-3 mm", "above 0 mm"],
        ),
        (
            RingAndGroove {
                inside: from_mm(f64::NAN),
                ..b
            },
            ["ring inside diameter of NaN", "above 0 mm"],
        ),
        (
            RingAndGroove {
                inside: from_mm(f64::INFINITY),
                ..b
            },
            ["inf", "above 0 mm"],
        ),
        (
            RingAndGroove {
                inside: from_mm(0.0),
                ..b
            },
            ["0 mm", "above 0 mm"],
        ),
        (
            RingAndGroove {
                groove_diameter: from_mm(31.24),
                bore: from_mm(25.5),
                ..b
            },
            [
                "groove diameter of 31.24 mm is not smaller than bore of 25.5 mm",
                "wrong way round",
            ],
        ),
        (
            RingAndGroove {
                bore: from_mm(60.0),
                ..b
            },
            ["gland depth of 17.25 mm", "3 times the ring section of 3.53 mm"],
        ),
        (
            RingAndGroove {
                inside: from_mm(12.0),
                ..b
            },
            ["12 mm", "112 %"],
        ),
        (
            RingAndGroove {
                inside: from_mm(60.0),
                ..b
            },
            ["60 mm", "-30 %"],
        ),
        (
            RingAndGroove {
                width: from_mm(457.0),
                ..b
            },
            ["groove width of 457 mm", "40 mm"],
        ),
    ] {
        let text = said(asked);
        for word in words {
            assert!(text.contains(word), "'{word}' in '{text}'");
        }
    }
}

#[test]
fn tolerances_that_are_none() {
    let ring = |tolerance: f64| Ring {
        inside: Toleranced::exact(from_mm(24.99)),
        section: Toleranced::within(from_mm(3.53), from_mm(tolerance)),
    };
    let gland = Gland::Piston {
        groove_diameter: Toleranced::exact(from_mm(25.5)),
        bore: Toleranced::exact(from_mm(31.24)),
        width: Toleranced::exact(from_mm(4.57)),
    };
    for tolerance in [-0.1, 1.0, f64::NAN] {
        let error = fit(&ring(tolerance), &gland, Duty::Static, Thinning::default()).unwrap_err();
        assert!(
            matches!(
                error,
                SealError::Tolerance {
                    name: "ring section",
                    ..
                }
            ),
            "{error}"
        );
    }
    assert!(fit(&ring(0.1), &gland, Duty::Static, Thinning::default()).is_ok());
}

#[test]
fn formulas_refuse_no_lengths_instead_of_giving_nan() {
    let (zero, some) = (from_mm(0.0), from_mm(3.0));
    assert!(stretch(zero, some).is_err() && squeeze(zero, some).is_err());
    assert!(fill(some, zero, some).is_err() && fill(some, some, zero).is_err());
    let error = section_empirical(
        some,
        refettle_facts::quantity::Ratio::new::<uom::si::ratio::percent>(30.0),
    );
    assert!(error.unwrap_err().to_string().contains("30.0 %"));
    let face = Gland::Face {
        depth: Toleranced::exact(from_mm(2.8)),
        width: Toleranced::exact(from_mm(4.5)),
        held_on: None,
    };
    let ring = Ring {
        inside: Toleranced::exact(from_mm(25.0)),
        section: Toleranced::exact(from_mm(3.53)),
    };
    assert_eq!(
        fit(&ring, &face, Duty::Moving, Thinning::default()),
        Err(SealError::FaceDoesNotMove)
    );
}

#[test]
fn measurements_that_are_no_old_ring() {
    let old = OldRing {
        inside: from_mm(20.0),
        thin: from_mm(1.0),
        wide: Some(from_mm(4.0)),
    };
    let text = was_probably(&old).unwrap_err().to_string();
    assert!(
        text.contains("1 mm") && text.contains("4 mm") && text.contains("2.5 to 1"),
        "{text}"
    );
    assert!(
        was_probably(&OldRing {
            thin: from_mm(0.01),
            ..old
        })
        .is_err()
    );
}

#[test]
fn small_parts_that_cannot_be() {
    let text = wheel_bearings::by_dimensions(from_mm(42.0), from_mm(20.0), None)
        .unwrap_err()
        .to_string();
    assert!(
        text.contains("42") && text.contains("20") && text.contains("wrong way round"),
        "{text}"
    );
    let text = circlips::for_diameter(circlips::On::Shaft, from_mm(2000.0))
        .unwrap_err()
        .to_string();
    assert!(text.contains("2000 mm") && text.contains("120 mm"), "{text}");
    let text = sealing_washers::named("14x19x1.5").unwrap_err().to_string();
    assert!(text.contains("did you mean"), "{text}");
}
