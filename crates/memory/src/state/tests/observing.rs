//! "It looks like this now", and what nobody saw.

use super::*;
use crate::entry::{EngineWord, LevelWord, StateById, StateObserved};
use refettle_facts::ids::{CircuitId, FactId};
use std::collections::{BTreeMap, BTreeSet};

/// Nothing listed but what must be: on the ground, whole, cold, running.
fn seen() -> StateById {
    StateById {
        stance: StanceId::new("ground").unwrap(),
        off: BTreeSet::new(),
        loose: BTreeSet::new(),
        undone_before: BTreeSet::new(),
        facts: BTreeMap::new(),
        levels: BTreeMap::new(),
        heat: HeatWord::Cold,
        engine: EngineWord::Runs,
        awaiting: BTreeMap::new(),
        answers: BTreeMap::new(),
    }
}

fn off(part: &str) -> StateById {
    StateById {
        off: [PartId::new(part).unwrap()].into(),
        ..seen()
    }
}

impl Log {
    fn observed(self, state: StateById) -> Log {
        self.then(Entry::StateObserved(StateObserved { state, note: None }))
    }
}

#[test]
fn what_came_off_unseen_has_voided_what_it_voids() {
    let now = Log::begun().observed(off("tank")).now();
    assert_eq!(now.state.level(FUEL), Level::Drained);
    assert!(!now.state.is_true(&machine(), FUEL_DRY));
    assert!(now.state.undone_before.contains(&TANK));
    assert!(
        now.unwitnessed.parts.is_empty(),
        "what came in so was not fitted unwatched"
    );
    let now = Log::begun().observed(off("caliper")).now();
    assert!(!now.state.is_true(&machine(), BRAKE_PROVEN));
    assert!(!now.state.is_true(&machine(), RECHECKED));
}

#[test]
fn what_went_on_unseen_is_unwitnessed_until_done_on_record() {
    let fitted = Log::begun().done(take_off("caliper")).observed(seen());
    let now = fitted.now();
    assert!(now.state.off.is_empty() && now.state.loose.is_empty());
    assert!(now.unwitnessed.parts.contains(&CALIPER) && now.unwitnessed.criticals.contains(&BOLT));
    assert!(
        !now.state.is_true(&machine(), BRAKE_PROVEN),
        "nobody said it was proven"
    );
    let again = fitted.done(take_off("caliper")).done(put_on("caliper")).now();
    assert_eq!(again.unwitnessed, Default::default());
}

#[test]
fn a_part_on_unseen_makes_the_second_look_due_and_is_forgotten_when_seen_off_again() {
    let on = Log::begun().done(take_off("tank")).observed(seen());
    assert_eq!(on.now().unwitnessed.parts, [TANK].into());
    assert!(!on.now().state.is_true(&machine(), RECHECKED));
    assert_eq!(on.observed(off("tank")).now().unwitnessed, Default::default());
}

#[test]
fn a_part_that_was_awaited_is_not_once_it_is_on() {
    let state = StateById {
        awaiting: [(PartId::new("tank").unwrap(), 3600)].into(),
        ..off("tank")
    };
    let log = Log::begun().observed(state);
    assert_eq!(log.now().state.awaiting, [(TANK, Seconds(3600))].into());
    assert!(log.done(put_on("tank")).now().state.awaiting.is_empty());
}

#[test]
fn a_fixing_tightened_unseen_is_unwitnessed_until_the_second_look() {
    let tight = Log::begun()
        .done(loosen("axle-nut"))
        .done(step("recheck"))
        .observed(seen());
    assert!(tight.now().unwitnessed.criticals.contains(&AXLE));
    assert!(
        !tight.now().state.is_true(&machine(), RECHECKED),
        "looked at before it was tightened"
    );
    let looked = tight.done(step("recheck")).now();
    assert_eq!(looked.unwitnessed, Default::default());
    assert!(looked.state.is_true(&machine(), RECHECKED));
}

#[test]
fn someones_word_for_the_second_look_leaves_a_fixing_unwitnessed_and_so_does_other_work() {
    let word = StateById {
        facts: [(FactId::new("fixings.rechecked").unwrap(), true)].into(),
        ..seen()
    };
    let log = Log::begun()
        .done(loosen("axle-nut"))
        .observed(word)
        .done(step("bleed"));
    assert!(log.now().state.is_true(&machine(), RECHECKED));
    assert!(log.now().unwitnessed.criticals.contains(&AXLE));
    assert_eq!(log.done(step("recheck")).now().unwitnessed, Default::default());
}

#[test]
fn what_nobody_looked_at_stays_as_it_was_known() {
    let now = Log::begun().done(step("drain-oil")).observed(seen()).now();
    assert_eq!(now.state.level(OIL), Level::Drained);
    assert!(!now.state.is_true(&machine(), SUMP_DRY));
}

#[test]
fn what_is_listed_otherwise_than_known_is_believed() {
    let state = StateById {
        facts: [(FactId::new("sump.seen-dry").unwrap(), true)].into(),
        levels: [(CircuitId::new("oil").unwrap(), LevelWord::Low)].into(),
        ..seen()
    };
    let now = Log::begun().done(step("drain-oil")).observed(state).now();
    assert_eq!(now.state.level(OIL), Level::Low);
    assert!(now.state.is_true(&machine(), SUMP_DRY));
}

#[test]
fn a_state_sent_back_with_one_part_more_off_does_not_keep_what_that_part_voids() {
    // As a page would: take the state as known, all listed, and tap the caliper off.
    let log = Log::begun().done(step("recheck")).done(step("bleed"));
    let known = StateById::of(&machine(), &log.now().state).unwrap();
    assert_eq!(
        known.facts.get(&FactId::new("brake.proven").unwrap()),
        Some(&true)
    );
    let tapped = StateById {
        off: [PartId::new("caliper").unwrap()].into(),
        ..known
    };
    let now = log.observed(tapped).now();
    assert!(!now.state.is_true(&machine(), BRAKE_PROVEN));
    assert!(!now.state.is_true(&machine(), RECHECKED));
}

#[test]
fn a_level_listed_as_it_was_is_no_news() {
    let state = StateById {
        levels: [(CircuitId::new("fuel").unwrap(), LevelWord::Full)].into(),
        ..off("tank")
    };
    let now = Log::begun().observed(state.clone()).now();
    assert_eq!(now.state.level(FUEL), Level::Drained, "the tank came off unseen");
    let now = Log::begun().done(take_off("tank")).observed(state).now();
    assert_eq!(now.state.level(FUEL), Level::Full, "listed otherwise than known");
}

#[test]
fn a_state_written_by_ids_is_read_back_the_same() {
    let log = Log::begun()
        .done(take_off("tank"))
        .done(loosen("caliper-bolts"))
        .done(step("drain-oil"))
        .done(step("run"));
    let mut state = log.now().state;
    state.awaiting.insert(TANK, Seconds(7200));
    state.answers.insert(QuestionIx(0), 0);
    state.engine = refettle_machine::state::EngineHealth::HasStood;
    let by_id = StateById::of(&machine(), &state).unwrap();
    assert_eq!(by_id.on(&machine()).unwrap(), state);
    let text = serde_json::to_string(&by_id).unwrap();
    assert_eq!(serde_json::from_str::<StateById>(&text).unwrap(), by_id);
    state.off.insert(refettle_machine::ix::PartIx(77));
    assert!(
        StateById::of(&machine(), &state).is_err(),
        "a place of another sheet"
    );
}
