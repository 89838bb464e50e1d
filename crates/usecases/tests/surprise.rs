//! A surprise on a bike on record: its options laid over the machine, what changes in the plan, and its end.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use jiff::{SignedDuration, Timestamp};
use refettle_facts::ids::{EntryId, StepId};
use refettle_machine::state::BikeState;
use refettle_memory::entry::{
    About, Action, Answer, CatalogueId, Entry, JobsChosen, ShortcutKind, StateById, StateObserved,
    TroubleKind, TroubleMet, TroubleOptionChosen, TroubleSolved,
};
use refettle_memory::{Memory, Tap};
use refettle_usecases::bench::{Next, NotTaken, Reply};
use refettle_usecases::card_notes::{CardNotes, answer_noted, measured_words};
use refettle_usecases::look::{Look, Read};
use refettle_usecases::{demo_bike, surprise};

struct Garage {
    _dir: tempfile::TempDir,
    memory: Memory,
    at: Timestamp,
    taps: u32,
}

impl Garage {
    fn new() -> Garage {
        let dir = tempfile::tempdir().unwrap();
        let mut memory = Memory::open(dir.path()).unwrap();
        let at = "2026-01-02T18:00:00Z".parse().unwrap();
        demo_bike::ensure(&mut memory, at).unwrap();
        Garage {
            _dir: dir,
            memory,
            at,
            taps: 0,
        }
    }

    fn read(&self) -> Read {
        Read::of(&self.memory, &demo_bike::bike().unwrap(), self.at, None).unwrap()
    }

    fn look(&self) -> Look {
        self.read().plan()
    }

    fn add(&mut self, entry: &Entry) -> EntryId {
        self.memory
            .append(&demo_bike::bike().unwrap(), self.at, None, entry)
            .unwrap()
    }

    fn say(
        &mut self,
        look: &Look,
        card: &str,
        answer: &Answer,
        notes: &CardNotes,
    ) -> Result<EntryId, NotTaken> {
        self.taps += 1;
        let tap = Tap::new(&format!("test-tap-{}", self.taps)).unwrap();
        let reply = Reply {
            card,
            answer,
            seen: &look.now.last,
            tap: &tap,
            at: self.at,
        };
        answer_noted(&mut self.memory, look, reply, notes)
    }

    /// The lower screw of the left fairing, which is off, snapped.
    fn snapped(&mut self) -> EntryId {
        let part = self
            .read()
            .machine()
            .parts
            .iter()
            .find(|p| p.name == "fairing-left")
            .unwrap()
            .id
            .clone();
        self.add(&Entry::TroubleMet(TroubleMet {
            trouble: TroubleKind::Snapped,
            about: About::Part { part },
            card: None,
            note: None,
        }))
    }

    fn choose(&mut self, trouble: &EntryId, option: &str) -> EntryId {
        let chosen = chosen(trouble, option);
        surprise::allowed(&self.read(), &chosen).unwrap();
        self.add(&chosen)
    }
}

fn chosen(trouble: &EntryId, option: &str) -> Entry {
    Entry::TroubleOptionChosen(TroubleOptionChosen {
        trouble: trouble.clone(),
        option: CatalogueId::new(option).unwrap(),
        note: None,
    })
}

fn total(look: &Look) -> u32 {
    look.plan.as_ref().unwrap().found.hands_on.0
}

fn cards(look: &Look) -> Vec<String> {
    (0..).map_while(|at| look.card(at)).map(|card| card.id).collect()
}

/// `drill-and-insert` in `layouts/troubles.toml`: 25 minutes to drill out and 20 to fit the insert, two rags, an insert
/// and a new screw; nothing of it needs the part on, and the fairing is off.
#[test]
fn an_insert_for_a_snapped_stub_is_forty_five_minutes_and_its_kit_more_in_the_old_order() {
    let mut garage = Garage::new();
    let before = garage.look();
    let trouble = garage.snapped();
    assert_eq!(
        total(&garage.look()),
        total(&before),
        "a trouble alone changes no plan"
    );
    garage.choose(&trouble, "drill-and-insert");
    let look = garage.look();
    assert_eq!(total(&look), total(&before) + 45 * 60);
    let changed = look.changed.as_ref().unwrap();
    assert!(
        changed
            .words
            .starts_with("now also: Drill out the stub or the old thread of "),
        "{}",
        changed.words
    );
    assert!(changed.words.contains("Tap for the insert"), "{}", changed.words);
    assert!(changed.words.contains("; + 45 min"), "{}", changed.words);
    assert_eq!((changed.more_s, changed.reordered), (45 * 60, 0));
    for wanted in ["thread insert", "new ", "clean rag"] {
        assert!(
            changed.kit.iter().any(|line| line.contains(wanted)),
            "{wanted}: {:?}",
            changed.kit
        );
    }
    // All else is done in the order it had.
    let rest: Vec<String> = cards(&look)
        .into_iter()
        .filter(|id| !id.starts_with("step.trouble-"))
        .collect();
    assert_eq!(rest, cards(&before));
    // The fairing goes back only after it.
    let at = |id: &str| cards(&look).iter().position(|card| card == id).unwrap();
    assert!(at("step.trouble-1.drill-and-insert.step-2") < at("put-on.0.fairing-left"));
}

#[test]
fn the_last_step_done_is_the_end_of_it_and_a_way_out_given_up_stays_readable() {
    let mut garage = Garage::new();
    let trouble = garage.snapped();
    garage.choose(&trouble, "drill-and-insert");
    let none = CardNotes::default();
    let look = garage.look();
    garage
        .say(
            &look,
            "step.trouble-1.drill-and-insert.step-1",
            &Answer::Done,
            &none,
        )
        .unwrap();
    // Given up half-way: what was done of it is still on record, and its steps are asked for no more.
    garage.choose(&trouble, "grip-the-stub");
    let look = garage.look();
    let own: Vec<String> = cards(&look)
        .into_iter()
        .filter(|id| id.contains("trouble-"))
        .collect();
    assert_eq!(own, ["step.trouble-1.grip-the-stub.step-1"]);
    assert_eq!(look.now.book.open_troubles().count(), 1);
    garage.say(&look, &own[0], &Answer::Done, &none).unwrap();
    let look = garage.look();
    assert_eq!(look.now.book.open_troubles().count(), 0);
    assert!(look.changed.is_none() && cards(&look).iter().all(|id| !id.contains("trouble-")));
    // Tried again, all of it is still to be done.
    garage.choose(&trouble, "drill-and-insert");
    let own = cards(&garage.look())
        .into_iter()
        .filter(|id| id.contains("trouble-"))
        .count();
    assert_eq!(own, 2);
    garage.add(&Entry::TroubleSolved(TroubleSolved { trouble, note: None }));
    assert!(garage.look().changed.is_none());
}

#[test]
fn what_does_not_work_here_is_refused_with_what_does() {
    let mut garage = Garage::new();
    let trouble = garage.snapped();
    let refused = |garage: &Garage, option: &str| {
        surprise::allowed(&garage.read(), &chosen(&trouble, option))
            .unwrap_err()
            .to_string()
    };
    assert!(refused(&garage, "soak").contains("grip-the-stub, extractor, drill-and-insert, send-it-out"));
    // A log that has it all the same is read, and nothing is laid.
    garage.add(&chosen(&trouble, "soak"));
    assert!(garage.look().laid.is_empty());
}

#[test]
fn a_short_answer_tells_the_kind_and_its_options_once() {
    let mut garage = Garage::new();
    let look = garage.look();
    let Next::Card(card) = look.next(None) else {
        panic!("no card")
    };
    let wrong = Answer::SomethingWrong {
        note: "will not come undone: the lower clamp".to_owned(),
    };
    let none = CardNotes::default();
    let answered = garage.say(&look, &card.id, &wrong, &none).unwrap();
    garage.taps -= 1;
    assert_eq!(garage.say(&look, &card.id, &wrong, &none).unwrap(), answered);
    let read = garage.read();
    let troubles = &read.now().book.troubles;
    assert_eq!((troubles.len(), troubles[0].kind), (1, Some(TroubleKind::Seized)));
    assert_eq!(
        read.entries()
            .iter()
            .filter(|s| matches!(s.entry, Entry::TroubleMet(_)))
            .count(),
        1
    );
    let view = surprise::surprise(&read, &answered)
        .unwrap()
        .options
        .unwrap()
        .unwrap();
    let names: Vec<&str> = view.options.iter().map(|o| o.id.as_str()).collect();
    assert_eq!(names, ["soak", "warm-it", "impact", "cut-off", "send-it-out"]);
    // 5 and 6 minutes of soaking, all of it more; half the time something else follows.
    assert_eq!(
        (view.options[0].own_s, view.options[0].more_s),
        (11 * 60, Some(11 * 60))
    );
    garage.choose(&answered, "soak");
    // It came off: over, with or without the oil.
    let look = garage.look();
    let step = StepId::new("trouble-1.soak.step-1").unwrap();
    assert!(look.machine.steps.iter().any(|s| s.id == step));
    for id in ["step.trouble-1.soak.step-1", "step.trouble-1.soak.step-2"] {
        let look = garage.look();
        garage.say(&look, id, &Answer::Done, &none).unwrap();
        garage.at += SignedDuration::from_hours(13);
    }
    assert_eq!(garage.look().now.book.open_troubles().count(), 0);
}

#[test]
fn something_wrong_with_a_way_out_belongs_to_its_trouble() {
    let mut garage = Garage::new();
    let trouble = garage.snapped();
    garage.choose(&trouble, "extractor");
    let look = garage.look();
    let wrong = Answer::SomethingWrong {
        note: "a fixing snapped".to_owned(),
    };
    let card = "step.trouble-1.extractor.step-1";
    let said = garage.say(&look, card, &wrong, &CardNotes::default()).unwrap();
    let read = garage.read();
    assert_eq!(surprise::of_remark(&read.now().book, &said), Some(trouble));
    assert_eq!(read.now().book.open_troubles().count(), 1);
}

#[test]
fn a_shortcut_told_with_a_short_answer_has_its_kind_and_its_test() {
    let mut garage = Garage::new();
    let look = garage.look();
    let Next::Card(card) = look.next(None) else {
        panic!("no card")
    };
    let another = Answer::DoneAnotherWay {
        note: "tightness guessed".to_owned(),
    };
    let said = garage
        .say(&look, &card.id, &another, &CardNotes::default())
        .unwrap();
    let lines = garage.look().shortcuts();
    let line = lines.iter().find(|line| line.entry == said).unwrap();
    assert_eq!((lines.len(), line.kind), (1, ShortcutKind::TorqueByFeel));
    assert!(line.test.len() > 20);
}

#[test]
fn settings_are_kept_before_the_answer_and_shown_at_refit() {
    let mut garage = Garage::new();
    let look = garage.look();
    let with_settings = (0..)
        .map_while(|at| look.card(at))
        .find(|c| c.kind == "take-off" && !c.settings.is_empty() && look.may_come_first[c.place]);
    let card = with_settings.expect("a part with settings comes off first");
    let notes = CardNotes {
        settings: vec![(0, " two turns ".to_owned())],
        ..CardNotes::default()
    };
    let bad = CardNotes {
        settings: vec![(77, "x".to_owned())],
        ..CardNotes::default()
    };
    let entries = look.entries.len();
    assert!(matches!(
        garage.say(&look, &card.id, &Answer::Done, &bad),
        Err(NotTaken::Note(_))
    ));
    assert_eq!(garage.read().entries().len(), entries);
    let done = garage.say(&look, &card.id, &Answer::Done, &notes).unwrap();
    garage.taps -= 1;
    assert_eq!(garage.say(&look, &card.id, &Answer::Done, &notes).unwrap(), done);
    let look = garage.look();
    assert_eq!(look.entries.len(), entries + 2);
    // Taking back the last takes back the answer.
    assert_eq!(look.entries.last().unwrap().id, done);
    let Some(Action::TakeOff { part, .. }) = (match refettle_usecases::card_id::read(&card.id) {
        Some(refettle_usecases::card_id::Asked::Action(action)) => Some(action),
        _ => None,
    }) else {
        panic!("{}", card.id)
    };
    let refit = (0..)
        .map_while(|at| look.card(at))
        .find(|c| c.id == format!("put-on.0.{part}"));
    assert_eq!(refit.unwrap().noted[0].as_deref(), Some("two turns"));
}

#[test]
fn a_measure_outside_its_limit_is_said_and_blocks_nothing() {
    let mut garage = Garage::new();
    let mut look = garage.look();
    for _ in 0..120 {
        let card = match look.next(None) {
            Next::Card(card) => card,
            Next::Wait(_, until) => {
                garage.at = until;
                look = garage.look();
                continue;
            }
            _ => break,
        };
        let Some(at) = card.measures.iter().position(|m| m.contains("at least")) else {
            garage.at += SignedDuration::from_secs(i64::from(card.time.0.max(card.wait.0)));
            garage
                .say(&look, &card.id, &Answer::Done, &CardNotes::default())
                .unwrap();
            look = garage.look();
            continue;
        };
        let notes = |text: &str| CardNotes {
            measured: vec![(at, text.to_owned())],
            ..CardNotes::default()
        };
        let refused = garage
            .say(&look, &card.id, &Answer::Done, &notes("about two"))
            .unwrap_err();
        assert!(
            refused.to_string().contains("'about two' is no number"),
            "{refused}"
        );
        // A comma from the number pad, and far below any limit.
        garage
            .say(&look, &card.id, &Answer::Done, &notes("0,01"))
            .unwrap();
        let now = garage.look();
        let Some(Entry::ActionAnswered(body)) = now.entries.last().map(|s| &s.entry) else {
            panic!("no answer")
        };
        assert_eq!(body.measured[0].value.as_str(), "0.01");
        let words = measured_words(&now, body);
        assert!(words[0].contains("OUTSIDE its limit, at least "), "{words:?}");
        assert!(now.done.len() > look.done.len());
        return;
    }
    panic!("the demo bike measures nothing");
}

#[test]
fn what_is_over_or_missing_at_refit_stays_a_question() {
    let mut garage = Garage::new();
    let mut look = garage.look();
    for _ in 0..120 {
        let Next::Card(card) = look.next(None) else { break };
        let out = card.bag.is_some_and(|bag| !bag.into) && !card.own_fixings.is_empty();
        if !out {
            garage.at += SignedDuration::from_secs(i64::from(card.time.0.max(card.wait.0)));
            garage
                .say(&look, &card.id, &Answer::Done, &CardNotes::default())
                .unwrap();
            look = garage.look();
            continue;
        }
        let bad = CardNotes {
            missing: vec![(0, "some".to_owned())],
            ..CardNotes::default()
        };
        assert!(garage.say(&look, &card.id, &Answer::Done, &bad).is_err());
        let notes = CardNotes {
            missing: vec![(0, "1".to_owned())],
            over: vec![(0, "0".to_owned())],
            ..CardNotes::default()
        };
        garage.say(&look, &card.id, &Answer::Done, &notes).unwrap();
        let book = garage.read().now().book.clone();
        let open: Vec<_> = book.open_bag_questions().collect();
        assert_eq!(open.len(), 1);
        let body = &open[0].emptied.body;
        assert_eq!(
            (usize::from(body.bag), body.missing[0].count, body.over.len()),
            (card.bag.unwrap().number, 1, 0)
        );
        return;
    }
    panic!("no bag was emptied");
}

#[test]
fn small_things_that_follow_are_done_on_one_card_and_no_others() {
    let mut garage = Garage::new();
    // A whole machine whose carburettors are wanted out: seat and side covers come off first.
    let machine = garage.read().machine().clone();
    let state = StateById::of(&machine, &BikeState::whole(&machine)).unwrap();
    garage.add(&Entry::StateObserved(StateObserved { state, note: None }));
    let job = machine
        .job("carb-clean")
        .and_then(|j| machine.jobs.get(j.0))
        .unwrap();
    garage.add(&Entry::JobsChosen(JobsChosen {
        jobs: vec![job.id.clone()],
    }));
    let mut look = garage.look();
    for _ in 0..120 {
        let card = match look.next(None) {
            Next::Card(card) => card,
            Next::Wait(_, until) => {
                garage.at = until;
                look = garage.look();
                continue;
            }
            _ => break,
        };
        let cards = look.together(&card);
        if cards.len() < 2 {
            garage.at += SignedDuration::from_secs(i64::from(card.time.0.max(card.wait.0)));
            garage
                .say(&look, &card.id, &Answer::Done, &CardNotes::default())
                .unwrap();
            look = garage.look();
            continue;
        }
        assert!(
            cards
                .iter()
                .all(|c| c.kind == card.kind && c.cautions.is_empty() && c.people == 1)
        );
        let with: Vec<String> = cards.iter().skip(1).map(|c| c.id.clone()).collect();
        let other = CardNotes {
            with: vec!["put-on.0.tank-of-another".to_owned()],
            ..CardNotes::default()
        };
        assert!(garage.say(&look, &card.id, &Answer::Done, &other).is_err());
        let notes = CardNotes {
            with: with.clone(),
            ..CardNotes::default()
        };
        let first = garage.say(&look, &card.id, &Answer::Done, &notes).unwrap();
        garage.taps -= 1;
        assert_eq!(garage.say(&look, &card.id, &Answer::Done, &notes).unwrap(), first);
        assert_eq!(garage.look().done.len(), look.done.len() + 1 + with.len());
        return;
    }
    panic!("nothing small follows on the demo bike");
}
