//! The golden log: one entry at least of every kind and version ever written, read for ever.
//!
//! Lines are only ever added to it. It was written by hand.

use crate::sample::{at, bike};
use refettle_facts::ids::{
    CircuitId, EntryId, FactId, FixingId, JobId, PartId, QuestionId, StanceId, StepId, ToolId,
};
use refettle_memory::entry::{
    Action, ActionAnswered, Answer, BikeBroughtIn, EngineWord, Entry, GarageSet, HeatWord, JobsChosen,
    LevelWord, Measured, Number, PlanAdopted, QuestionAnswered, StateById, StateObserved, Undone,
};
use refettle_memory::{Memory, MemoryError, SheetHash, Tap};
use rusqlite::{Connection, params};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// Each wave of kinds has a file of its own; the numbers run on.
const GOLDEN: [&str; 2] = [
    include_str!("../golden/entries-v1.jsonl"),
    include_str!("../golden/entries-v1-book.jsonl"),
];

fn lines() -> Vec<Value> {
    GOLDEN
        .iter()
        .flat_map(|file| file.lines())
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

/// Puts a row into the file as it stands, past all checks of the program.
fn put(raw: &Connection, line: &Value) {
    raw.execute(
        "INSERT INTO entries (seq, id, bike, at, tap, kind, version, body) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        params![
            line["seq"].as_i64(),
            line["id"].as_str(),
            line["bike"].as_str(),
            line["at"].as_str(),
            line["tap"].as_str(),
            line["kind"].as_str(),
            line["version"].as_i64(),
            line["body"].to_string(),
        ],
    )
    .unwrap();
}

fn ids<T: Ord + TryFrom<String, Error: std::fmt::Debug>>(texts: &[&str]) -> BTreeSet<T> {
    texts
        .iter()
        .map(|t| T::try_from((*t).to_owned()).unwrap())
        .collect()
}

fn answered(card: &str, action: Action, answer: Answer, measured: Vec<Measured>) -> Entry {
    Entry::ActionAnswered(ActionAnswered {
        card: card.into(),
        action,
        answer,
        measured,
    })
}

fn observed() -> [Entry; 2] {
    let first = StateById {
        stance: StanceId::new("ground").unwrap(),
        off: ids::<PartId>(&["tank"]),
        loose: ids::<FixingId>(&["axle-nut"]),
        undone_before: ids::<PartId>(&["tank", "seat"]),
        facts: [
            (FactId::new("oil.fresh").unwrap(), true),
            (FactId::new("sump.seen-dry").unwrap(), false),
        ]
        .into(),
        levels: [
            (CircuitId::new("oil").unwrap(), LevelWord::Full),
            (CircuitId::new("fuel").unwrap(), LevelWord::Drained),
            (CircuitId::new("coolant").unwrap(), LevelWord::Low),
        ]
        .into(),
        heat: HeatWord::Cool,
        engine: EngineWord::HasStood,
        awaiting: [(PartId::new("tank").unwrap(), 86_400)].into(),
        answers: [(QuestionId::new("belly-panel").unwrap(), "closed".to_owned())].into(),
    };
    let second = StateById {
        stance: StanceId::new("stand").unwrap(),
        off: BTreeSet::new(),
        loose: BTreeSet::new(),
        undone_before: BTreeSet::new(),
        facts: BTreeMap::new(),
        levels: BTreeMap::new(),
        heat: HeatWord::Hot,
        engine: EngineWord::Dead,
        awaiting: BTreeMap::new(),
        answers: BTreeMap::new(),
    };
    [
        Entry::StateObserved(StateObserved {
            state: first,
            note: Some("came in a van".into()),
        }),
        Entry::StateObserved(StateObserved {
            state: second,
            note: None,
        }),
    ]
}

fn chosen() -> [Entry; 4] {
    [
        Entry::JobsChosen(JobsChosen {
            jobs: vec![
                JobId::new("oil-change").unwrap(),
                JobId::new("valve-clearances").unwrap(),
            ],
        }),
        Entry::GarageSet(GarageSet {
            stances: vec![StanceId::new("ground").unwrap(), StanceId::new("stand").unwrap()],
            people: 2,
            call_out_s: Some(600),
            without: vec![ToolId::new("puller").unwrap()],
            corroded: true,
        }),
        Entry::QuestionAnswered(QuestionAnswered {
            question: QuestionId::new("belly-panel").unwrap(),
            answer: "none".into(),
        }),
        Entry::PlanAdopted(PlanAdopted {
            plan: json!({"hands_on_s": 5400, "actions": [{"kind": "take-off", "id": "seat"}]}),
        }),
    ]
}

fn answers() -> [Entry; 7] {
    let seat = || PartId::new("seat").unwrap();
    let axle = || FixingId::new("axle-nut").unwrap();
    let clearance = Measured {
        what: "inlet clearance".into(),
        value: Number::new("0.10").unwrap(),
        unit: "mm".into(),
    };
    let wrong = Answer::SomethingWrong {
        note: "turns with the axle".into(),
    };
    let another = Answer::DoneAnotherWay {
        note: "by feel".into(),
    };
    let stand = Action::Stance {
        stance: StanceId::new("stand").unwrap(),
    };
    let measure = Action::Step {
        step: StepId::new("measure-clearances").unwrap(),
    };
    [
        answered(
            "a1",
            Action::TakeOff { part: seat(), way: 1 },
            Answer::Done,
            vec![],
        ),
        answered(
            "a2",
            Action::PutOn { part: seat(), way: 0 },
            Answer::NotNow,
            vec![],
        ),
        answered("a3", Action::Loosen { fixing: axle() }, wrong, vec![]),
        answered("a4", Action::Tighten { fixing: axle() }, another, vec![]),
        answered("a5", stand, Answer::Done, vec![]),
        answered("a6", measure, Answer::Done, vec![clearance]),
        answered("a7", Action::Cool { to: HeatWord::Warm }, Answer::Done, vec![]),
    ]
}

/// What the golden log says, in types.
fn meant() -> Vec<Entry> {
    let mut all = vec![Entry::BikeBroughtIn(BikeBroughtIn {
        title: "The blue one".into(),
        layout: "small-faired-twin".into(),
        sheet: SheetHash::of("abc"),
    })];
    all.extend(observed());
    all.extend(chosen());
    all.extend(answers());
    all.push(Entry::Undone(Undone {
        entry: EntryId::new("ef0c").unwrap(),
    }));
    all.extend(crate::golden_book::of_the_bike());
    all
}

fn filled() -> (tempfile::TempDir, Memory) {
    let dir = tempfile::tempdir().unwrap();
    let mut memory = Memory::open(dir.path()).unwrap();
    memory.store_sheet("abc").unwrap();
    let raw = Connection::open(memory.path()).unwrap();
    lines().iter().for_each(|line| put(&raw, line));
    (dir, memory)
}

#[test]
fn every_golden_entry_reads_as_what_it_meant_when_written() {
    let (_dir, mut memory) = filled();
    let entries = memory.entries(&bike("b1")).unwrap();
    assert_eq!(
        entries.iter().map(|e| e.entry.clone()).collect::<Vec<_>>(),
        meant()
    );
    assert_eq!(entries[3].at, at("2031-05-01T08:10:00.25Z"));
    assert_eq!(entries[0].tap, None);
    assert_eq!(entries[14].tap, Some(Tap::new("tap-00015").unwrap()));
    let garage = memory.entries(&bike("garage")).unwrap();
    assert_eq!(
        garage.iter().map(|e| e.entry.clone()).collect::<Vec<_>>(),
        crate::golden_book::of_the_garage()
    );
    memory.rebuild_lists().unwrap();
    let yard = memory.bikes().unwrap();
    assert_eq!((yard.len(), yard[0].entries), (1, 54));
}

#[test]
fn every_kind_and_version_ever_written_is_in_the_golden_log() {
    let there: BTreeSet<(String, i64)> = lines()
        .iter()
        .map(|l| {
            (
                l["kind"].as_str().unwrap().to_owned(),
                l["version"].as_i64().unwrap(),
            )
        })
        .collect();
    let ever: BTreeSet<(String, i64)> = Entry::kinds()
        .into_iter()
        .flat_map(|(kind, newest)| (1..=newest).map(move |version| (kind.to_owned(), version)))
        .collect();
    assert_eq!(there, ever);
}

#[test]
fn todays_writing_of_the_newest_version_is_the_golden_text() {
    // The golden entries lie in the file already, so that what speaks of one finds it.
    let (_dir, mut memory) = filled();
    let raw = Connection::open(memory.path()).unwrap();
    for (subject, meant) in [("b1", meant()), ("garage", crate::golden_book::of_the_garage())] {
        let lines: Vec<Value> = lines().into_iter().filter(|l| l["bike"] == subject).collect();
        assert_eq!(lines.len(), meant.len());
        for (line, entry) in lines.iter().zip(meant) {
            let newest = entry.version();
            if line["version"] != newest || entry == observed()[1] {
                // Written with keys left out, as a person by hand may; the program writes them all.
                continue;
            }
            let of = match entry {
                Entry::Undone(_) => continue,
                Entry::BikeBroughtIn(_) => "b2",
                _ => subject,
            };
            let id = memory
                .append(&bike(of), at("2031-05-01T08:00:00Z"), None, &entry)
                .unwrap();
            let (kind, version, body): (String, i64, String) = raw
                .query_row(
                    "SELECT kind, version, body FROM entries WHERE id = ?1",
                    [id.as_str()],
                    |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
                )
                .unwrap();
            assert_eq!(Value::from(kind), line["kind"]);
            assert_eq!(Value::from(version), line["version"]);
            assert_eq!(serde_json::from_str::<Value>(&body).unwrap(), line["body"]);
        }
    }
}

/// One line changed, put after the others; what reading the bike then says.
fn read_with(change: impl FnOnce(&mut Value)) -> MemoryError {
    let (_dir, memory) = filled();
    let mut line = lines().remove(12);
    line["seq"] = 99.into();
    line["id"] = "zz".into();
    line["tap"] = Value::Null;
    change(&mut line);
    put(&Connection::open(memory.path()).unwrap(), &line);
    memory.entries(&bike("b1")).unwrap_err()
}

#[test]
fn an_unknown_kind_or_version_is_an_error_that_names_it() {
    assert_eq!(
        read_with(|line| line["kind"] = "tea-made".into()),
        MemoryError::UnknownKind {
            seq: 99,
            id: "zz".into(),
            kind: "tea-made".into()
        }
    );
    assert_eq!(
        read_with(|line| line["version"] = 1000.into()),
        MemoryError::UnknownVersion {
            seq: 99,
            id: "zz".into(),
            kind: "action-answered".into(),
            version: 1000,
            known: 1
        }
    );
}

#[test]
fn a_body_that_is_not_what_it_should_be_is_an_error_that_names_it() {
    // What is wrong; where; the key there; its value.
    for (what, place, key, value) in [
        ("extra field", "/body", "extra", json!(1)),
        ("missing field", "/body", "card", Value::Null),
        ("unknown answer", "/body/answer", "is", json!("perhaps")),
        ("a note where none is", "/body/answer", "note", json!("but")),
        (
            "no note where one must be",
            "/body/answer",
            "is",
            json!("something-wrong"),
        ),
        ("extra beside an action", "/body/action", "part", json!("tank")),
        ("not a number", "/body/measured/0", "value", json!("NaN")),
        ("no id", "/body/action", "step", json!("../x")),
        ("no moment", "", "at", json!("yesterday")),
    ] {
        let error = read_with(|line| line.pointer_mut(place).unwrap()[key] = value);
        let text = error.to_string();
        assert!(
            matches!(error, MemoryError::Unreadable { seq: 99, .. }),
            "{what}: {text}"
        );
        assert!(
            text.starts_with("entry 99 (zz), 'action-answered' version 1, cannot be read: "),
            "{text}"
        );
    }
}

#[test]
fn every_kind_is_in_the_page_on_entries() {
    let page = include_str!("../../../../docs/entries.md");
    for (kind, version) in Entry::kinds() {
        assert!(
            page.contains(&format!("## `{kind}`, version {version}\n")),
            "{kind}"
        );
    }
}
