//! The shipped tables are whole, and fit the shipped layouts.

use refettle_facts::caution;
use refettle_machine::state::BikeState;
use refettle_usecases::causes::features::{self, Features};
use refettle_usecases::causes::tables::{CauseRow, CheckRow, shipped};
use refettle_usecases::layouts;
use std::collections::{BTreeMap, BTreeSet};

fn machines() -> Vec<refettle_machine::model::Machine> {
    let all = layouts::list().unwrap().layouts;
    all.iter().map(|l| layouts::layout(&l.name).unwrap()).collect()
}

#[test]
fn rows_name_only_what_there_is_and_every_number_has_a_source() {
    let tables = shipped().unwrap();
    let machines = machines();
    let part = |name: &str| machines.iter().any(|m| m.part(name).is_some());
    let job = |name: &str| machines.iter().any(|m| m.job(name).is_some());
    let stance = |name: &str| machines.iter().any(|m| m.stance(name).is_some());
    let fact = |name: &str| machines.iter().any(|m| m.fact(name).is_some());
    let causes: BTreeSet<&str> = tables.causes.iter().map(|c| c.id).collect();
    let checks: BTreeSet<&str> = tables.checks.iter().map(|c| c.id).collect();
    assert_eq!(
        (causes.len(), checks.len()),
        (tables.causes.len(), tables.checks.len()),
        "ids are told apart"
    );
    let feature = |names: &[&str]| names.iter().all(|f| features::ALL.contains(f));
    let cautioned = |names: &[&str]| names.iter().all(|c| caution::named(c).is_some());
    for c in &tables.causes {
        assert!(feature(&c.when) && cautioned(&c.cautions), "{}", c.id);
        assert!(
            c.jobs.iter().all(|j| job(j)) && c.reach.iter().all(|p| part(p)),
            "{}",
            c.id
        );
        assert!(
            c.minutes > 0 && c.low <= c.high && !c.source.is_empty() && !c.fix.is_empty(),
            "{}",
            c.id
        );
    }
    for s in &tables.symptoms {
        assert!(
            feature(&s.when) && s.none > 0.0 && !s.source.is_empty(),
            "{}",
            s.id
        );
        assert!(s.weights.len() >= 3, "{}", s.id);
        assert!(
            s.weights.iter().all(|(c, w)| causes.contains(c) && *w > 0.0),
            "{}",
            s.id
        );
    }
    for k in &tables.checks {
        assert!(
            feature(&k.when) && cautioned(&k.cautions) && !k.source.is_empty(),
            "{}",
            k.id
        );
        assert!(k.off.iter().chain(&k.reach).all(|p| part(p)), "{}", k.id);
        assert!(
            k.stances.iter().all(|s| stance(s)) && k.safety.iter().all(|f| fact(f)),
            "{}",
            k.id
        );
        assert!(k.minutes > 0 && k.outcomes.len() >= 2, "{}", k.id);
        let outcomes: BTreeSet<&str> = k.outcomes.iter().map(|(o, _)| *o).collect();
        assert_eq!(outcomes.len(), k.outcomes.len(), "{}", k.id);
        // What nobody listed may show anything: no answer can leave nothing to believe.
        assert!(k.otherwise.iter().all(|p| *p > 0.0), "{}", k.id);
        for (cause, (row, source)) in &k.given {
            assert!(causes.contains(cause) && !source.is_empty(), "{} {cause}", k.id);
            assert!(
                (row.iter().sum::<f64>() - 1.0).abs() < 1e-9 && row.len() == k.outcomes.len(),
                "{} {cause}",
                k.id
            );
        }
    }
}

#[test]
fn there_are_29_findings_and_more_and_each_is_some_layouts() {
    let tables = shipped().unwrap();
    assert!(tables.symptoms.len() >= 29, "{}", tables.symptoms.len());
    let mut by_layout: BTreeMap<String, usize> = BTreeMap::new();
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    for machine in machines() {
        let state = BikeState::whole(&machine);
        let features = Features {
            machine: &machine,
            state: &state,
        };
        for s in tables.symptoms.iter().filter(|s| features.all(&s.when)) {
            seen.insert(s.id);
            *by_layout.entry(machine.name.clone()).or_default() += 1;
        }
    }
    assert_eq!(seen.len(), tables.symptoms.len());
    for (layout, n) in by_layout {
        assert!(
            n >= if layout == "tiny-trainer" { 12 } else { 26 },
            "{layout}: {n}"
        );
    }
}

#[test]
fn every_feature_is_one_some_shipped_machine_has_under_some_answers() {
    let machines = machines();
    for feature in features::ALL {
        let found = machines.iter().any(|machine| {
            let mut states = vec![BikeState::whole(machine)];
            for (q, question) in machine.questions.iter().enumerate() {
                for answer in 0..question.answers.len() {
                    let mut state = BikeState::whole(machine);
                    state.answers.insert(refettle_machine::ix::QuestionIx(q), answer);
                    states.push(state);
                }
            }
            states
                .iter()
                .any(|state| Features { machine, state }.has(feature))
        });
        assert!(found, "{feature}");
    }
}

/// Whether an outcome speaks for one of two at least a half more than for the other.
fn separates(check: &CheckRow, a: &CauseRow, b: &CauseRow) -> bool {
    let row = |c: &CauseRow| check.given.get(c.id).map_or(&check.otherwise, |(row, _)| row);
    row(a)
        .iter()
        .zip(row(b))
        .any(|(x, y)| x.max(*y) >= 1.5 * x.min(*y) && x.max(*y) >= 0.15)
}

#[test]
fn any_two_causes_of_a_finding_are_told_apart_by_a_check_its_layout_has() {
    let tables = shipped().unwrap();
    let mut pairs = 0;
    for machine in machines() {
        let state = BikeState::whole(&machine);
        let features = Features {
            machine: &machine,
            state: &state,
        };
        let checks: Vec<&CheckRow> = tables.checks.iter().filter(|k| features.all(&k.when)).collect();
        for s in tables.symptoms.iter().filter(|s| features.all(&s.when)) {
            let listed = |c: &&CauseRow| s.weights.iter().any(|(id, _)| *id == c.id) && features.all(&c.when);
            let causes: Vec<&CauseRow> = tables.causes.iter().filter(listed).collect();
            assert!(causes.len() >= 2, "{} on {}", s.id, machine.name);
            for (n, a) in causes.iter().enumerate() {
                for b in &causes[n + 1..] {
                    pairs += 1;
                    assert!(
                        checks.iter().any(|k| separates(k, a, b)),
                        "{} and {} of {} on {}",
                        a.id,
                        b.id,
                        s.id,
                        machine.name
                    );
                }
            }
        }
    }
    assert!(pairs > 1_000, "{pairs}");
}
