//! Entries to put in.

use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId, FixingId, PartId, StanceId, StepId};
use refettle_memory::entry::{
    Action, ActionAnswered, Answer, BikeBroughtIn, Entry, JobsChosen, PlanAdopted, Undone,
};
use refettle_memory::{Memory, Tap};

pub fn at(text: &str) -> Timestamp {
    text.parse().unwrap()
}

pub fn noon() -> Timestamp {
    at("2031-05-01T12:00:00Z")
}

pub fn bike(id: &str) -> BikeId {
    BikeId::new(id).unwrap()
}

pub fn tap(text: &str) -> Tap {
    Tap::new(text).unwrap()
}

/// A memory in a new folder, with one bike `b1` in it.
pub fn with_a_bike() -> (tempfile::TempDir, Memory, EntryId) {
    let dir = tempfile::tempdir().unwrap();
    let mut memory = Memory::open(dir.path()).unwrap();
    let first = bring_in(&mut memory, "b1");
    (dir, memory, first)
}

pub fn bring_in(memory: &mut Memory, id: &str) -> EntryId {
    let sheet = memory.store_sheet("format = \"refettle-sheet/1\"\n").unwrap();
    let entry = Entry::BikeBroughtIn(BikeBroughtIn {
        title: format!("Bike {id}"),
        layout: "tiny".into(),
        sheet,
    });
    memory.append(&bike(id), noon(), None, &entry).unwrap()
}

pub fn answered(card: &str, action: Action, answer: Answer) -> Entry {
    Entry::ActionAnswered(ActionAnswered {
        card: card.into(),
        action,
        answer,
        measured: vec![],
    })
}

/// The `n`th of a stream of different entries.
pub fn nth(n: usize) -> Entry {
    let card = format!("c{n}");
    match n % 6 {
        0 => answered(
            &card,
            Action::TakeOff {
                part: PartId::new("tank").unwrap(),
                way: 0,
            },
            Answer::Done,
        ),
        1 => answered(
            &card,
            Action::Loosen {
                fixing: FixingId::new("axle-nut").unwrap(),
            },
            Answer::DoneAnotherWay {
                note: "with the long bar".into(),
            },
        ),
        2 => answered(
            &card,
            Action::Stance {
                stance: StanceId::new("stand").unwrap(),
            },
            Answer::NotNow,
        ),
        3 => Entry::JobsChosen(JobsChosen { jobs: vec![] }),
        4 => Entry::PlanAdopted(PlanAdopted {
            plan: serde_json::json!({ "hands_on_s": n, "actions": [] }),
        }),
        _ => answered(
            &card,
            Action::Step {
                step: StepId::new("drain-oil").unwrap(),
            },
            Answer::SomethingWrong {
                note: "plug is round".into(),
            },
        ),
    }
}

pub fn undone(entry: &EntryId) -> Entry {
    Entry::Undone(Undone { entry: entry.clone() })
}
