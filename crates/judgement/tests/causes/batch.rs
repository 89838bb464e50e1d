//! The batch question to the planner.

use refettle_facts::time::Seconds;
use refettle_judgement::price_many::{Look, Price, Variant, price_many};
use refettle_machine::garage::Garage;
use refettle_machine::ix::JobIx;
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_machine::{doubts, layouts, sheet};
use refettle_plan::ask::{Ask, Goal};
use refettle_plan::solve::solve;
use std::collections::BTreeSet;

const EFFORT: usize = 20_000;

fn twin() -> Machine {
    sheet::read(layouts::named("small-faired-twin").unwrap()).unwrap()
}

fn with_off(machine: &Machine, off: &[&str]) -> BikeState {
    let mut state = BikeState::whole(machine);
    state.off.extend(off.iter().map(|p| machine.part(p).unwrap()));
    doubts::complete(machine, &mut state);
    state
}

fn prices(
    machine: &Machine,
    state: &BikeState,
    jobs: &[JobIx],
    looks: &[Look],
    variants: &[Variant],
) -> Vec<Price> {
    let garage = Garage::usual(machine);
    let ask = Ask {
        machine,
        state,
        garage: &garage,
        jobs,
        goal: Goal::Ready,
        effort: EFFORT,
    };
    price_many(&ask, looks, variants).prices
}

fn look_at(machine: &Machine, part: &str, minutes: u32) -> Look {
    Look {
        time: Seconds::from_minutes(minutes),
        reach: machine.part(part),
        ..Look::default()
    }
}

fn only_look() -> Vec<Variant> {
    vec![Variant {
        jobs: Vec::new(),
        looks: vec![0],
    }]
}

#[test]
fn a_look_behind_what_is_off_costs_only_itself() {
    let machine = twin();
    let looks = [look_at(&machine, "regulator", 4)];
    let whole = BikeState::whole(&machine);
    let on = prices(&machine, &whole, &[], &looks, &only_look())[0].clone();
    let off = with_off(&machine, &["seat", "side-cover-left", "battery"]);
    let apart = prices(&machine, &off, &[], &looks, &only_look())[0].clone();
    assert_eq!(apart.more, Some(Seconds::from_minutes(4)));
    assert!(apart.opens.is_empty() && apart.proven && on.proven);
    let names: BTreeSet<&str> = on
        .opens
        .iter()
        .map(|(p, _)| machine.parts[p.0].name.as_str())
        .collect();
    assert_eq!(names, BTreeSet::from(["seat", "side-cover-left", "battery"]));
    assert!(on.more.unwrap() > Seconds::from_minutes(10), "{on:?}");
}

#[test]
fn a_look_at_what_comes_off_anyway_is_nearly_free() {
    let machine = twin();
    let looks = [look_at(&machine, "spark-plugs", 2)];
    let whole = BikeState::whole(&machine);
    let plugs = machine.job("spark-plugs").unwrap();
    let alone = prices(&machine, &whole, &[], &looks, &only_look())[0]
        .more
        .unwrap();
    let beside = prices(&machine, &whole, &[plugs], &looks, &only_look())[0]
        .more
        .unwrap();
    assert_eq!(beside, Seconds::from_minutes(2));
    assert!(alone > Seconds::from_minutes(10), "{alone}");
}

#[test]
fn a_job_is_priced_as_the_difference_of_two_plans() {
    let machine = twin();
    let state = with_off(&machine, &["seat"]);
    let garage = Garage::usual(&machine);
    let cost = |jobs: &[JobIx]| {
        let ask = Ask {
            machine: &machine,
            state: &state,
            garage: &garage,
            jobs,
            goal: Goal::Ready,
            effort: EFFORT,
        };
        let found = solve(&ask).unwrap();
        assert!(found.proven());
        found.hands_on
    };
    let (base, pads) = (
        machine.job("spark-plugs").unwrap(),
        machine.job("brake-pads-front").unwrap(),
    );
    let variants = [
        Variant {
            jobs: vec![pads],
            looks: Vec::new(),
        },
        Variant {
            jobs: vec![base],
            looks: Vec::new(),
        },
    ];
    let got = prices(&machine, &state, &[base], &[], &variants);
    assert_eq!(
        got[0].more,
        Some(Seconds(cost(&[base, pads]).0 - cost(&[base]).0))
    );
    // What is wanted already costs nothing more.
    assert_eq!(got[1].more, Some(Seconds::ZERO));
}

#[test]
fn a_look_with_the_engine_running_waits_for_what_the_guard_wants() {
    let machine = twin();
    let look = Look {
        time: Seconds::from_minutes(5),
        runs_engine: true,
        ..Look::default()
    };
    let whole = BikeState::whole(&machine);
    let running = prices(&machine, &whole, &[], std::slice::from_ref(&look), &only_look())[0]
        .more
        .unwrap();
    let mut stood = whole.clone();
    stood.engine = refettle_machine::state::EngineHealth::HasStood;
    let after_standing = prices(&machine, &stood, &[], std::slice::from_ref(&look), &only_look())[0]
        .more
        .unwrap();
    // Oil, petrol and free turning come first on an engine that has stood.
    assert!(after_standing > running, "{after_standing} {running}");
    let mut dead = whole;
    dead.engine = refettle_machine::state::EngineHealth::Dead;
    assert_eq!(prices(&machine, &dead, &[], &[look], &only_look())[0].more, None);
}

#[test]
fn a_variant_that_cannot_be_has_no_price_and_the_others_keep_theirs() {
    let machine = twin();
    let (tank, tap) = (machine.part("tank").unwrap(), machine.part("fuel-tap").unwrap());
    let impossible = Look {
        time: Seconds(60),
        off: vec![tank],
        on: vec![tank, tap],
        ..Look::default()
    };
    let looks = [impossible, look_at(&machine, "battery", 3)];
    let variants = [0, 1].map(|l| Variant {
        jobs: Vec::new(),
        looks: vec![l],
    });
    let got = prices(&machine, &BikeState::whole(&machine), &[], &looks, &variants);
    assert_eq!(got[0].more, None);
    assert!(got[1].more.unwrap() >= Seconds::from_minutes(3));
}
