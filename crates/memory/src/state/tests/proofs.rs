//! Shortcuts: what they leave to be proven, when they are cleared, and what opens them again.

use super::sheet::{OIL_FRESH, RECHECKED, SUMP_DRY};
use super::{Log, put_on, step, take_off, tighten};
use crate::entry::{
    About, Answer, Entry, ShortcutCleared, ShortcutDueLater, ShortcutKind, ShortcutTaken, Words,
};
use crate::state::Standing;
use refettle_facts::ids::{CircuitId, EntryId};
use refettle_machine::ix::FactIx;

fn another_way() -> Answer {
    Answer::DoneAnotherWay {
        note: "with the old washer".into(),
    }
}

fn standing(log: &Log) -> Standing {
    let now = log.now();
    now.standing(&now.book.shortcuts[0])
}

fn doubted(log: &Log) -> Vec<FactIx> {
    log.now().doubted().into_iter().collect()
}

fn cleared(entry: &str) -> Entry {
    Entry::ShortcutCleared(ShortcutCleared {
        shortcut: EntryId::new(entry).unwrap(),
        note: None,
        measured: vec![],
    })
}

#[test]
fn a_circuit_filled_another_way_is_open_until_it_is_seen_dry_on_record() {
    let log = Log::begun()
        .done(step("drain-oil"))
        .answered(step("fill-oil"), another_way());
    assert_eq!(standing(&log), Standing::Open);
    assert_eq!(doubted(&log), [SUMP_DRY]);
    let log = log.done(step("run"));
    assert_eq!(standing(&log), Standing::Cleared);
    assert!(doubted(&log).is_empty());
    // The same circuit opened again: the washer is in doubt again.
    let log = log.done(step("drain-oil"));
    assert_eq!(standing(&log), Standing::Open);
    assert_eq!(doubted(&log), [SUMP_DRY]);
}

#[test]
fn what_was_believed_before_the_shortcut_proves_nothing() {
    let log = Log::begun().then(Entry::ShortcutTaken(ShortcutTaken {
        shortcut: ShortcutKind::SealReused,
        about: About::Circuit {
            circuit: CircuitId::new("oil").unwrap(),
        },
        card: None,
        note: None,
    }));
    assert!(log.now().state.is_true(&super::machine(), SUMP_DRY));
    assert_eq!(doubted(&log), [SUMP_DRY]);
}

#[test]
fn a_torque_by_feel_wants_the_second_look_at_the_fixings() {
    let log = Log::begun().answered(tighten("axle-nut"), another_way());
    assert_eq!(doubted(&log), [RECHECKED]);
    assert_eq!(standing(&log.done(step("recheck"))), Standing::Cleared);
}

#[test]
fn a_cleared_shortcut_opens_again_when_what_it_bears_on_is_opened() {
    let log = Log::begun()
        .done(step("drain-oil"))
        .answered(step("fill-oil"), another_way())
        .then(cleared("e3"));
    assert_eq!(standing(&log), Standing::Cleared);
    let log = log.done(step("run")).done(step("drain-oil"));
    assert_eq!(standing(&log), Standing::OpenAgain);
    assert_eq!(doubted(&log), [SUMP_DRY]);
}

#[test]
fn one_due_later_asks_for_nothing() {
    let log = Log::begun()
        .answered(tighten("axle-nut"), another_way())
        .then(Entry::ShortcutDueLater(ShortcutDueLater {
            shortcut: EntryId::new("e2").unwrap(),
            when: Words::new("at the first service").unwrap(),
            on: None,
        }));
    assert_eq!(standing(&log), Standing::DueLater);
    assert!(doubted(&log).is_empty());
}

#[test]
fn taking_back_the_shortcut_takes_back_its_doubt() {
    let log = Log::begun()
        .answered(tighten("axle-nut"), another_way())
        .undone("e2");
    assert!(log.now().book.shortcuts.is_empty());
    assert!(doubted(&log).is_empty());
}

#[test]
fn saying_the_kind_of_a_cards_shortcut_makes_no_second_one() {
    let log = Log::begun()
        .answered(step("fill-oil"), another_way())
        .then(Entry::ShortcutTaken(ShortcutTaken {
            shortcut: ShortcutKind::StepSkipped,
            about: About::Entry {
                entry: EntryId::new("e2").unwrap(),
            },
            card: None,
            note: None,
        }));
    let now = log.now();
    assert_eq!(now.book.shortcuts.len(), 1);
    assert_eq!(now.book.shortcuts[0].kind, ShortcutKind::StepSkipped);
    // Fresh oil is no standing fact: the job wants it, not the proof.
    assert!(
        !now.to_prove[&now.book.shortcuts[0].entry]
            .all
            .contains(&OIL_FRESH)
    );
}

#[test]
fn a_part_refitted_another_way_puts_its_own_facts_in_doubt() {
    let log = Log::begun()
        .done(take_off("caliper"))
        .answered(put_on("caliper"), another_way());
    let doubted = doubted(&log);
    assert!(doubted.contains(&super::BRAKE_PROVEN), "{doubted:?}");
    assert!(doubted.contains(&RECHECKED), "{doubted:?}");
    assert_eq!(standing(&log.done(step("bleed"))), Standing::Open);
}
