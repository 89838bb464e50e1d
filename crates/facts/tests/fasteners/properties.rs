//! What holds for any input: nothing panics, nothing is NaN, and more never turns into less.

use proptest::prelude::*;
use refettle_facts::fasteners::bearing::{Head, bearing};
use refettle_facts::fasteners::friction::Friction;
use refettle_facts::fasteners::identify::{Measured, Origin, Pitch, check_named, identify};
use refettle_facts::fasteners::preload::{at_yield_share, preload_from_torque, tightening_torque};
use refettle_facts::fasteners::recess::{driver_for, number_from_width};
use refettle_facts::fasteners::repair::{Damaged, repairs};
use refettle_facts::fasteners::stripping::{
    ShearSizes, full_engagement, internal_area, pull_out, stripping_load,
};
use refettle_facts::fasteners::thread::{self, Thread};
use refettle_facts::fasteners::torque::{Answer, FixingUse, Question, Tapped, answer};
use refettle_facts::fasteners::wrench::{Extension, setting};
use refettle_facts::fasteners::{look_alike, material, spanner, strength};
use refettle_facts::quantity::{Angle, Force, Length, Ratio, Torque, from_mm};
use uom::si::{angle::radian, force::newton, ratio::ratio, torque::newton_meter};

fn any_thread() -> impl Strategy<Value = Thread> {
    let threads: Vec<Thread> = thread::all().collect();
    proptest::sample::select(threads)
}

fn any_screw() -> impl Strategy<Value = Thread> {
    any_thread().prop_filter("pipe threads carry no preload", |t| !t.series.is_pipe())
}

fn any_class() -> impl Strategy<Value = &'static str> {
    proptest::sample::select(strength::classes())
}

/// Lengths as people mistype them: usual, tiny, huge, negative, NaN and infinite.
fn any_length() -> impl Strategy<Value = Length> {
    prop_oneof![
        4 => (0.0f64..60.0).prop_map(from_mm),
        1 => any::<f64>().prop_map(from_mm),
        1 => Just(from_mm(f64::NAN)),
        1 => Just(from_mm(f64::INFINITY)),
    ]
}

fn any_head() -> impl Strategy<Value = Head> {
    prop_oneof![
        Just(Head::Hex),
        Just(Head::Flange),
        Just(Head::Socket),
        any_length().prop_map(Head::Measured)
    ]
}

/// Reach, thread, stripped and drilling depth: mostly in an order that can be, sometimes anything.
fn any_depths() -> impl Strategy<Value = [Length; 4]> {
    let sensible = (0.0f64..50.0, 0.0f64..1.0, 0.0f64..1.0, 0.0f64..1.0).prop_map(|(drillable, a, b, c)| {
        let threaded = drillable * a;
        [threaded * b, threaded, threaded * c, drillable].map(from_mm)
    });
    let anything = (any_length(), any_length(), any_length(), any_length())
        .prop_map(|(reach, threaded, stripped, drillable)| [reach, threaded, stripped, drillable]);
    prop_oneof![4 => sensible, 1 => anything]
}

fn mu(value: f64) -> Ratio {
    Ratio::new::<ratio>(value)
}

proptest! {
    // A counterexample belongs in a test of its own, not in a file beside it.
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 128, ..ProptestConfig::default() })]

    #[test]
    fn no_name_panics(text in ".{0,30}") {
        let _ = thread::named(&text);
        let _ = material::named(&text);
        let _ = Friction::read(&text);
        let _ = strength::named(&text, &thread::named("M8").unwrap());
    }

    #[test]
    fn no_torque_question_panics_and_no_answer_is_nan(
        thread in any_thread(),
        class in any_class(),
        friction in prop_oneof![6 => 0.02f64..0.6, 1 => any::<f64>()],
        head in any_head(),
        hole in proptest::option::weighted(0.2, any_length()),
        engaged in proptest::option::of(any_length()),
        on_casting in any::<bool>(),
        drag in proptest::option::weighted(0.3, prop_oneof![0.0f64..10.0, any::<f64>()]),
        critical in any::<bool>(),
    ) {
        let (Ok(strength), Ok(friction)) = (strength::named(class, &thread), Friction::known(mu(friction))) else {
            return Ok(());
        };
        let casting = material::named("cast-aluminium").unwrap();
        let mut question = Question::new(thread, strength, friction);
        question.head = head;
        question.hole = hole;
        question.into = engaged.map(|engaged| Tapped { material: casting.clone(), engaged });
        question.clamped = on_casting.then_some(casting);
        question.drag = drag.map(Torque::new::<newton_meter>);
        question.fixing = if critical { FixingUse::Critical } else { FixingUse::Ordinary };
        match answer(&question) {
            Ok(Answer::Figure(figure)) => {
                prop_assert!(!critical);
                for value in [figure.preload.value, figure.torque.value, figure.preload_least.value, figure.preload_most.value] {
                    prop_assert!(value.is_finite() && value > 0.0);
                }
                prop_assert!(figure.limits.iter().all(|l| l.preload >= figure.preload));
                for warning in &figure.warnings {
                    prop_assert!(!warning.to_string().contains("NaN"));
                }
            }
            Ok(Answer::SanityBand(band)) => {
                prop_assert!(critical && band.low().value > 0.0 && band.low() < band.high());
                prop_assert!(band.high().value.is_finite());
            }
            Err(refused) => prop_assert!(!refused.to_string().is_empty()),
        }
    }

    #[test]
    fn more_friction_means_more_torque_for_the_same_preload_and_less_preload_for_the_same_torque(
        thread in any_screw(), low in 0.02f64..0.5, more in 0.001f64..0.1, newtons in 100.0f64..2e5,
    ) {
        let dkm = bearing(Head::Hex, &thread, None).unwrap().mean_diameter;
        let load = Force::new::<newton>(newtons);
        let torque = |in_thread: f64, head: f64| tightening_torque(load, &thread, dkm, mu(in_thread), mu(head));
        prop_assert!(torque(low + more, low) > torque(low, low));
        prop_assert!(torque(low, low + more) > torque(low, low));
        let fixed = torque(low, low);
        prop_assert!(preload_from_torque(fixed, &thread, dkm, mu(low + more)) < load);
        prop_assert!((preload_from_torque(fixed, &thread, dkm, mu(low)) / load - mu(1.0)).value.abs() < 1e-9);
    }

    #[test]
    fn more_thread_friction_never_raises_the_preload_a_screw_bears(
        thread in any_screw(), class in any_class(), low in 0.02f64..0.5, more in 0.001f64..0.1,
    ) {
        let Ok(strength) = strength::named(class, &thread) else { return Ok(()) };
        let at = |friction| at_yield_share(&thread, strength.yield_strength, mu(friction));
        prop_assert!(at(low + more) < at(low));
        prop_assert!(at(low) < strength.yield_strength * thread.stress_area());
    }

    #[test]
    fn more_engagement_is_never_weaker(thread in any_screw(), engaged in 0.0f64..100.0, more in 0.0f64..20.0) {
        let shear = material::named("cast-aluminium").unwrap().shear;
        let sizes = ShearSizes::of(&thread).unwrap();
        let (short, long) = (from_mm(engaged), from_mm(engaged + more));
        prop_assert!(stripping_load(&sizes, long, shear) >= stripping_load(&sizes, short, shear));
        prop_assert!(internal_area(&sizes, long).value >= 0.0);
        let carried = |length| full_engagement(length, thread.pitch)
            .map_or(0.0, |full| pull_out(thread.pitch_diameter(), full, shear).value);
        prop_assert!(carried(long) >= carried(short));
    }

    #[test]
    fn more_engagement_never_lowers_the_figure(thread in any_screw(), engaged in 0.2f64..4.0, more in 0.0f64..1.0) {
        let torque = |share: f64| {
            let strength = strength::named("8.8", &thread).unwrap();
            let mut question = Question::new(thread, strength, Friction::known(mu(0.12)).unwrap());
            let material = material::named("cast-aluminium").unwrap();
            question.into = Some(Tapped { material, engaged: share * thread.major });
            match answer(&question) {
                Ok(Answer::Figure(figure)) => figure.torque.value,
                _ => 0.0,
            }
        };
        prop_assert!(torque(engaged + more) >= torque(engaged));
    }

    #[test]
    fn odds_sum_to_one_and_nothing_panics(
        outside in prop_oneof![6 => (2.5f64..26.0).prop_map(from_mm), 1 => any_length()],
        pitch in prop_oneof![6 => (0.4f64..3.5).prop_map(from_mm), 1 => any_length()],
        near in proptest::option::of(any_thread()),
        per_inch in proptest::option::weighted(0.2, any::<f64>()),
        wear in prop_oneof![6 => (0.0f64..0.5).prop_map(from_mm), 1 => any_length()],
        caliper in prop_oneof![6 => (0.002f64..0.5).prop_map(from_mm), 1 => any_length()],
        gauge in proptest::option::weighted(0.3, (0.0f64..0.4).prop_map(from_mm)),
        origin in proptest::sample::select(vec![Origin::Unknown, Origin::Metric, Origin::Inch]),
    ) {
        // Half the readings lie near a real thread, so that most are answered.
        let (outside, pitch) = near.map_or((outside, pitch), |t| (t.major, t.pitch));
        let pitch = per_inch.map_or(Pitch::Length(pitch), Pitch::PerInch);
        let reading = Measured {
            wear, outside_error: caliper, pitch_error: gauge, origin, ..Measured::new(outside, pitch)
        };
        match identify(&reading) {
            Ok(found) => {
                let shown: f64 = found.candidates.iter().map(|c| c.probability.value).sum();
                let sum = shown + found.none_of_these.value;
                // Candidates below one in a thousand are left out.
                prop_assert!((0.94..=1.0 + 1e-9).contains(&sum), "{sum}");
                prop_assert!(found.candidates.windows(2).all(|w| w[0].probability >= w[1].probability));
            }
            Err(refused) => prop_assert!(!refused.to_string().is_empty()),
        }
    }

    #[test]
    fn a_sound_screw_read_well_is_among_its_candidates(
        thread in any_thread(), share in 0.0f64..1.0, caliper in -0.05f64..0.05,
    ) {
        let (least, most) = thread.outside_range();
        let outside = least + share * (most - least) + from_mm(caliper);
        let found = identify(&Measured::new(outside, Pitch::Length(thread.pitch))).unwrap();
        prop_assert!(found.candidates.iter().any(|c| c.thread.name == thread.name), "{}", thread.name);
        prop_assert!(check_named(&thread, outside).is_ok());
    }

    #[test]
    fn an_extension_never_asks_for_more_forward_and_never_panics(
        torque in any::<f64>(), wrench in any_length(), extension in any_length(), angle in any::<f64>(),
    ) {
        let extension = Extension { length: extension, angle: Angle::new::<radian>(angle) };
        if let Ok(set) = setting(Torque::new::<newton_meter>(torque), wrench, extension) {
            prop_assert!(set.value.is_finite());
            if angle < std::f64::consts::FRAC_PI_2 {
                prop_assert!(set.value <= torque);
            }
        }
    }

    #[test]
    fn no_repair_panics_and_none_is_stronger_than_it_says(
        thread in any_thread(), class in any_class(), head in any_head(),
        depths in any_depths(),
        boss in proptest::option::of(any_length()),
    ) {
        let Ok(strength) = strength::named(class, &thread) else { return Ok(()) };
        let [reach, threaded, stripped, drillable] = depths;
        let damaged = Damaged {
            thread, strength, head, reach, threaded, stripped, drillable, boss,
            friction: Friction::known(mu(0.12)).unwrap(),
            material: material::named("cast-aluminium").unwrap(),
            fixing: FixingUse::Ordinary,
        };
        if let Ok(found) = repairs(&damaged) {
            prop_assert!(found.left <= found.wanted && found.left.value >= 0.0);
            for way in &found.ways {
                prop_assert!(way.preload.value.is_finite() && way.preload.value >= 0.0);
                prop_assert!(way.torque.is_none() || way.refused.is_none());
                prop_assert!(way.torque.is_none_or(|t| t.value.is_finite() && t.value > 0.0));
            }
        }
    }

    #[test]
    fn look_ups_never_panic(thread in any_thread(), width in any_length()) {
        let _ = look_alike::of(&thread);
        let _ = spanner::sizes(&thread);
        let _ = spanner::threads_with(width);
        let _ = driver_for(&thread);
        let _ = number_from_width(width);
    }
}
