//! What must hold for any ring and groove, and that nothing panics whatever is asked.

use proptest::prelude::*;
use refettle_facts::fluids::brake_flush::{
    BrakeVolumes, ReservoirFirst, flush_volume, line_volume, new_share, strokes,
};
use refettle_facts::fluids::{brake_fluid, coolant, oil};
use refettle_facts::quantity::{Length, Ratio, ThermodynamicTemperature, Volume, from_mm};
use refettle_facts::seals::desk::{RingAndGroove, ring_in_groove};
use refettle_facts::seals::dimension::Toleranced;
use refettle_facts::seals::fit::{Ring, Spread, fit};
use refettle_facts::seals::old_ring::{OldRing, was_probably};
use refettle_facts::seals::ring::Thinning;
use refettle_facts::seals::{Duty, Gland, serving, sizes};
use refettle_facts::small_parts::{bulbs, circlips, sealing_washers, split_pins, wheel_bearings};
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::volume::liter;

/// Any number at all, nonsense included, and often enough one that makes sense.
fn any_mm() -> impl Strategy<Value = Length> {
    prop_oneof![any::<f64>().prop_map(from_mm), (0.0..100.0f64).prop_map(from_mm)]
}

fn any_toleranced() -> impl Strategy<Value = Toleranced> {
    (
        any_mm(),
        prop_oneof![any::<f64>(), 0.0..0.5f64],
        prop_oneof![any::<f64>(), 0.0..0.5f64],
    )
        .prop_map(|(nominal, plus, minus)| Toleranced {
            nominal,
            plus: from_mm(plus),
            minus: from_mm(minus),
        })
}

fn any_gland() -> impl Strategy<Value = Gland> {
    prop_oneof![
        (any_toleranced(), any_toleranced(), any_toleranced()).prop_map(|(groove_diameter, bore, width)| {
            Gland::Piston {
                groove_diameter,
                bore,
                width,
            }
        }),
        (any_toleranced(), any_toleranced(), any_toleranced()).prop_map(|(groove_diameter, rod, width)| {
            Gland::Rod {
                groove_diameter,
                rod,
                width,
            }
        }),
        (
            any_toleranced(),
            any_toleranced(),
            prop::option::of(any_toleranced())
        )
            .prop_map(|(depth, width, held_on)| Gland::Face {
                depth,
                width,
                held_on
            }),
    ]
}

fn any_thinning() -> impl Strategy<Value = Thinning> {
    prop_oneof![
        Just(Thinning::ConstantVolume),
        Just(Thinning::Empirical),
        Just(Thinning::Ignored)
    ]
}

fn any_duty() -> impl Strategy<Value = Duty> {
    prop_oneof![Just(Duty::Static), Just(Duty::Moving)]
}

fn finite_and_in_order(spread: &Spread) -> bool {
    [
        spread.worst_low,
        spread.nominal,
        spread.worst_high,
        spread.likely_low,
        spread.likely_high,
    ]
    .iter()
    .all(|share| share.value.is_finite())
        && spread.worst_low <= spread.nominal
        && spread.nominal <= spread.worst_high
        && spread.likely_low <= spread.likely_high
}

/// A sensible ring in a sensible piston groove: section, stretch in per cent, depth over section, fill.
fn sensible() -> impl Strategy<Value = RingAndGroove> {
    (
        8.0..120.0f64,
        1.2..7.0f64,
        0.2..6.0f64,
        0.68..0.9f64,
        0.55..0.95f64,
    )
        .prop_map(|(inside, section, stretched, depth, filled)| {
            let groove = inside * (1.0 + stretched / 100.0);
            let depth = section * depth;
            RingAndGroove {
                inside: from_mm(inside),
                section: from_mm(section),
                groove_diameter: from_mm(groove),
                bore: from_mm(groove + 2.0 * depth),
                width: from_mm(std::f64::consts::FRAC_PI_4 * section * section / (depth * filled)),
            }
        })
}

proptest! {
    #[test]
    fn no_ring_panics_and_no_answer_is_nan(
        inside in any_toleranced(),
        section in any_toleranced(),
        gland in any_gland(),
        duty in any_duty(),
        thinning in any_thinning(),
    ) {
        match fit(&Ring { inside, section }, &gland, duty, thinning) {
            Ok(found) => {
                prop_assert!(finite_and_in_order(&found.squeeze), "{:?}", found.squeeze);
                prop_assert!(finite_and_in_order(&found.fill), "{:?}", found.fill);
                prop_assert!(finite_and_in_order(&found.stretch), "{:?}", found.stretch);
                prop_assert!(!found.reasons.is_empty());
                prop_assert!(found.reasons.iter().all(|r| !r.text.contains("NaN") && r.verdict <= found.verdict));
            }
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }

    #[test]
    fn a_smaller_bore_squeezes_and_fills_more(asked in sensible(), by in 0.02..0.3f64, thinning in any_thinning()) {
        let tighter = RingAndGroove { bore: asked.bore - from_mm(by), ..asked };
        if let (Ok(loose), Ok(tight)) = (
            ring_in_groove(&asked, Duty::Static, thinning),
            ring_in_groove(&tighter, Duty::Static, thinning),
        ) {
            prop_assert!(tight.squeeze.nominal > loose.squeeze.nominal);
            prop_assert!(tight.squeeze.worst_low > loose.squeeze.worst_low);
            prop_assert!(tight.squeeze.worst_high > loose.squeeze.worst_high);
            prop_assert!(tight.fill.nominal > loose.fill.nominal);
            prop_assert!((tight.stretch.nominal - loose.stretch.nominal).value.abs() < 1e-12);
        }
    }

    #[test]
    fn a_thicker_ring_squeezes_more_a_smaller_one_stretches_more(asked in sensible(), more in 0.02..0.2f64) {
        let judged = |a: &RingAndGroove| ring_in_groove(a, Duty::Static, Thinning::ConstantVolume);
        let thicker = RingAndGroove { section: asked.section + from_mm(more), ..asked };
        let smaller = RingAndGroove { inside: asked.inside - from_mm(more), ..asked };
        if let (Ok(base), Ok(thick), Ok(small)) = (judged(&asked), judged(&thicker), judged(&smaller)) {
            prop_assert!(thick.squeeze.nominal > base.squeeze.nominal);
            prop_assert!(thick.fill.nominal > base.fill.nominal);
            prop_assert!(small.stretch.nominal > base.stretch.nominal);
            prop_assert!(small.squeeze.nominal < base.squeeze.nominal);
        }
    }

    #[test]
    fn a_sensible_ring_is_answered_and_its_likely_range_lies_inside_the_worst(asked in sensible()) {
        let found = ring_in_groove(&asked, Duty::Static, Thinning::ConstantVolume).unwrap();
        // The middle of a curve is not the middle of its ends: a thousandth is allowed for that.
        for s in [found.squeeze, found.fill, found.stretch] {
            prop_assert!(s.worst_low.value <= s.likely_low.value + 1e-3, "{s:?}");
            prop_assert!(s.likely_high.value <= s.worst_high.value + 1e-3, "{s:?}");
        }
        let careful = ring_in_groove(&asked, Duty::Static, Thinning::Empirical).unwrap();
        prop_assert!(careful.squeeze.nominal < found.squeeze.nominal, "the careful case squeezes less");
    }

    #[test]
    fn wider_tolerances_make_wider_worst_cases(asked in sensible(), narrow in 0.0..0.04f64, more in 0.001..0.04f64) {
        let with = |tolerance: f64| {
            let around = |length| Toleranced::within(length, from_mm(tolerance));
            let gland = Gland::Piston {
                groove_diameter: around(asked.groove_diameter),
                bore: around(asked.bore),
                width: around(asked.width),
            };
            let ring = Ring { inside: around(asked.inside), section: around(asked.section) };
            fit(&ring, &gland, Duty::Static, Thinning::ConstantVolume).unwrap()
        };
        let (small, large) = (with(narrow), with(narrow + more));
        prop_assert!(large.squeeze.worst_low < small.squeeze.worst_low);
        prop_assert!(large.squeeze.worst_high > small.squeeze.worst_high);
        prop_assert!(large.squeeze.likely_high - large.squeeze.likely_low > small.squeeze.likely_high - small.squeeze.likely_low);
    }

    #[test]
    fn no_old_ring_panics(inside in any_mm(), thin in any_mm(), wide in prop::option::of(any_mm())) {
        if let Ok(answer) = was_probably(&OldRing { inside, thin, wide }) {
            let sum: f64 = answer.candidates.iter().map(|w| w.probability.value).sum();
            prop_assert!(sum + answer.none_of_these.value <= 1.0 + 1e-9);
            prop_assert!(answer.none_of_these.value > 0.0);
        }
    }

    #[test]
    fn no_text_panics(text in ".{0,60}") {
        let _ = sizes::named(&text);
        let _ = coolant::parse_glycol(&text);
        let _ = brake_fluid::BrakeFluid::named(&text);
        let _ = sealing_washers::named(&text);
        let _ = sealing_washers::for_thread(&text).count();
        let _ = split_pins::named(&text);
        let _ = split_pins::castle_nut(&text);
        let _ = wheel_bearings::named(&text);
        let _ = bulbs::named(&text);
        let _ = bulbs::by_cap(&text, Some(&text));
    }

    #[test]
    fn no_dimension_panics(a in any_mm(), b in any_mm(), c in prop::option::of(any_mm())) {
        let _ = sealing_washers::by_dimensions(a, b, c);
        let _ = wheel_bearings::by_dimensions(a, b, c);
        let _ = split_pins::for_hole(a);
        let _ = split_pins::by_body(a);
        for on in [circlips::On::Shaft, circlips::On::Bore] {
            let _ = circlips::for_diameter(on, a);
            let _ = circlips::for_groove(on, a, c);
            let _ = circlips::by_ring(on, a, b);
        }
        let _ = sizes::matching(a, b);
        let _ = sizes::section_tolerance(a);
        let _ = line_volume(a, b);
        let _ = strokes(Volume::new::<liter>(0.1), a, b);
    }

    #[test]
    fn no_fluid_panics_and_the_bounds_keep_their_order(a in any::<f64>(), b in any::<f64>(), c in 0.0..0.2f64, s in 0.0..1.0f64) {
        let share = Ratio::new::<ratio>;
        let _ = oil::residue(Volume::new::<liter>(a), Volume::new::<liter>(b));
        let _ = oil::old_share_after(3, share(a));
        let _ = oil::changes_needed(share(s), share(c));
        let _ = coolant::volume_share_for(ThermodynamicTemperature::new::<kelvin>(a));
        let _ = coolant::VolumeShare::new(share(a)).map(|v| coolant::freezes(coolant::GlycolShare::Volume(v)));
        let _ = new_share(Volume::new::<liter>(a), Volume::new::<liter>(b));
        let brake = BrakeVolumes {
            reservoir: Volume::new::<liter>(c),
            line: Volume::new::<liter>(c / 3.0),
            caliper: Volume::new::<liter>(c / 2.0),
        };
        for first in [ReservoirFirst::Emptied, ReservoirFirst::LeftFull] {
            let _ = flush_volume(&brake, first, share(a));
            if let Ok(found) = flush_volume(&brake, first, share(s)) {
                prop_assert!(found.plug_flow < found.full_mixing && found.full_mixing <= found.at_hand);
                let (least, most) = new_share(found.swept, found.full_mixing).unwrap();
                prop_assert!((least.value - s).abs() < 1e-9 && most >= least && most.value <= 1.0);
            }
        }
    }

    #[test]
    fn more_glycol_freezes_later(pct in 10.0..59.0f64, more in 0.01..1.0f64) {
        let volume = |p: f64| {
            let share = coolant::VolumeShare::new(Ratio::new::<ratio>(p / 100.0)).unwrap();
            coolant::freezes(coolant::GlycolShare::Volume(share)).unwrap().freezes_at
        };
        prop_assert!(volume(pct + more) < volume(pct));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever is offered for a groove does not end in "will not serve", and every size of the lists that serves is
    /// offered.
    #[test]
    fn what_is_offered_serves(asked in sensible(), duty in any_duty()) {
        let gland = Gland::Piston {
            groove_diameter: Toleranced::exact(asked.groove_diameter),
            bore: Toleranced::exact(asked.bore),
            width: Toleranced::exact(asked.width),
        };
        let offered = serving::standard_sizes(&gland, duty, 500).unwrap();
        for size in sizes::all() {
            let ring = Ring { inside: size.inside, section: size.section };
            let serves = fit(&ring, &gland, duty, Thinning::ConstantVolume)
                .is_ok_and(|f| f.verdict != refettle_facts::seals::Verdict::WillNotServe);
            prop_assert_eq!(serves, offered.iter().any(|c| c.size.name() == size.name()), "{}", size.name());
        }
        prop_assert!(offered.windows(2).all(|w| w[0].fit.verdict <= w[1].fit.verdict));
    }
}
