//! What each answer leaves a bike as. The sheet is written by hand in [`sheet`].

mod observing;
mod proofs;
mod sheet;

use super::{BikeNow, FoldError, fold};
use crate::entry::{
    Action, ActionAnswered, Answer, BikeBroughtIn, Entry, GarageSet, HeatWord, JobsChosen, PlanAdopted,
    QuestionAnswered, Undone,
};
use crate::log::Stored;
use crate::sheets::SheetHash;
use jiff::{SignedDuration, Timestamp};
use refettle_facts::ids::{BikeId, EntryId, FixingId, JobId, PartId, QuestionId, StanceId, StepId, ToolId};
use refettle_facts::time::Seconds;
use refettle_machine::garage::USUAL_CALL_OUT;
use refettle_machine::ix::{JobIx, QuestionIx, StanceIx, ToolIx};
use refettle_machine::model::{Heat, Level};
use refettle_machine::state::BikeState;
use sheet::{
    AXLE, BOLT, BRAKE_PROVEN, CALIPER, DRAIN, FUEL, FUEL_DRY, OIL, OIL_FRESH, RECHECKED, STAND, SUMP_DRY,
    TANK, machine,
};

/// A log under way: entries get ids `e1`, `e2` … and moments one minute apart unless told otherwise.
struct Log {
    entries: Vec<Stored>,
    clock: Timestamp,
}

fn start() -> Timestamp {
    "2031-05-01T08:00:00Z".parse().unwrap()
}

impl Log {
    fn begun() -> Log {
        let log = Log {
            entries: vec![],
            clock: start(),
        };
        log.then(Entry::BikeBroughtIn(BikeBroughtIn {
            title: "The blue one".into(),
            layout: "test-sheet".into(),
            sheet: SheetHash::of("x"),
        }))
    }

    fn then(mut self, entry: Entry) -> Log {
        let seq = i64::try_from(self.entries.len()).unwrap() + 1;
        self.entries.push(Stored {
            seq,
            id: EntryId::new(&format!("e{seq}")).unwrap(),
            bike: BikeId::new("b1").unwrap(),
            at: self.clock,
            tap: None,
            entry,
        });
        self
    }

    fn minutes_later(mut self, minutes: i64) -> Log {
        self.clock = self
            .clock
            .checked_add(SignedDuration::from_mins(minutes))
            .unwrap();
        self
    }

    fn answered(self, action: Action, answer: Answer) -> Log {
        let card = format!("c{}", self.entries.len() + 1);
        self.then(Entry::ActionAnswered(ActionAnswered {
            card,
            action,
            answer,
            measured: vec![],
        }))
    }

    fn done(self, action: Action) -> Log {
        self.answered(action, Answer::Done)
    }

    fn undone(self, entry: &str) -> Log {
        self.then(Entry::Undone(Undone {
            entry: EntryId::new(entry).unwrap(),
        }))
    }

    fn now(&self) -> BikeNow {
        fold(&machine(), &self.entries).unwrap()
    }
}

fn take_off(part: &str) -> Action {
    Action::TakeOff {
        part: PartId::new(part).unwrap(),
        way: 0,
    }
}

fn put_on(part: &str) -> Action {
    Action::PutOn {
        part: PartId::new(part).unwrap(),
        way: 0,
    }
}

fn loosen(fixing: &str) -> Action {
    Action::Loosen {
        fixing: FixingId::new(fixing).unwrap(),
    }
}

fn tighten(fixing: &str) -> Action {
    Action::Tighten {
        fixing: FixingId::new(fixing).unwrap(),
    }
}

fn step(step: &str) -> Action {
    Action::Step {
        step: StepId::new(step).unwrap(),
    }
}

#[test]
fn a_bike_just_in_is_whole() {
    let now = Log::begun().now();
    assert_eq!(now.state, BikeState::whole(&machine()));
    assert_eq!(
        (now.title.as_str(), now.layout.as_str()),
        ("The blue one", "test-sheet")
    );
    assert_eq!(now.last.as_str(), "e1");
}

#[test]
fn a_part_taken_off_leaves_what_it_opens_empty_and_unproven() {
    let now = Log::begun().done(take_off("tank")).now();
    assert!(now.state.off.contains(&TANK) && now.state.undone_before.contains(&TANK));
    assert_eq!(now.state.level(FUEL), Level::Drained);
    assert!(!now.state.is_true(&machine(), FUEL_DRY));
    // The oil and the critical fixings were not touched.
    assert_eq!(now.state.level(OIL), Level::Full);
    assert!(now.state.is_true(&machine(), SUMP_DRY) && now.state.is_true(&machine(), RECHECKED));
    assert!(now.state.loose.is_empty());
}

#[test]
fn a_part_held_by_a_critical_fixing_comes_back_loose_and_unproven() {
    let off = Log::begun()
        .done(loosen("caliper-bolts"))
        .done(take_off("caliper"));
    assert!(!off.now().state.is_true(&machine(), BRAKE_PROVEN));
    let on = off.done(put_on("caliper"));
    assert!(on.now().state.off.is_empty());
    assert!(on.now().state.loose.contains(&BOLT));
    assert!(on.now().state.undone_before.contains(&CALIPER));
    let tight = on.done(tighten("caliper-bolts"));
    assert!(tight.now().state.loose.is_empty());
    // Tight is not yet proven, and not yet looked at a second time.
    assert!(!tight.now().state.is_true(&machine(), BRAKE_PROVEN));
    assert!(!tight.now().state.is_true(&machine(), RECHECKED));
}

#[test]
fn loosening_makes_the_second_look_due_and_the_second_look_makes_it_true() {
    let loose = Log::begun().done(loosen("axle-nut"));
    assert!(loose.now().state.loose.contains(&AXLE));
    assert!(!loose.now().state.is_true(&machine(), RECHECKED));
    let looked = loose.done(tighten("axle-nut")).done(step("recheck"));
    assert!(looked.now().state.is_true(&machine(), RECHECKED));
}

#[test]
fn a_critical_fixing_that_went_with_its_part_unsaid_is_loose_all_the_same() {
    let now = Log::begun()
        .done(take_off("caliper"))
        .done(put_on("caliper"))
        .now();
    assert!(now.state.loose.contains(&BOLT));
    assert!(!now.state.is_true(&machine(), RECHECKED));
}

#[test]
fn a_fixing_said_tight_while_its_part_was_off_is_loose_once_it_is_on() {
    let now = Log::begun()
        .done(take_off("caliper"))
        .done(tighten("caliper-bolts"))
        .done(put_on("caliper"))
        .now();
    assert!(now.state.loose.contains(&BOLT));
}

#[test]
fn steps_drain_fill_make_and_void() {
    let drained = Log::begun().done(step("drain-oil"));
    assert_eq!(drained.now().state.level(OIL), Level::Drained);
    assert!(!drained.now().state.is_true(&machine(), SUMP_DRY));
    let filled = drained.done(step("fill-oil"));
    assert_eq!(filled.now().state.level(OIL), Level::Full);
    assert!(filled.now().state.is_true(&machine(), OIL_FRESH));
    assert!(
        !filled.now().state.is_true(&machine(), SUMP_DRY),
        "filling proves nothing"
    );
    let ran = filled.done(step("run"));
    assert!(ran.now().state.is_true(&machine(), SUMP_DRY));
    // What a step both voids and makes is true after it; what it only voids is not.
    let bled = ran.done(take_off("caliper")).done(step("bleed"));
    assert!(bled.now().state.is_true(&machine(), BRAKE_PROVEN));
    assert!(!bled.now().state.is_true(&machine(), OIL_FRESH));
}

#[test]
fn a_wait_is_known_until_it_is_over() {
    let now = Log::begun().done(step("drain-oil")).now();
    let after = |minutes| start().checked_add(SignedDuration::from_mins(minutes)).unwrap();
    // The sheet says 20 minutes.
    assert_eq!(
        now.waiting_at(after(19)).map(|w| w.step).collect::<Vec<_>>(),
        [DRAIN]
    );
    assert_eq!(now.waiting_at(after(20)).count(), 0);
}

#[test]
fn the_stance_is_the_last_one_taken() {
    let stand = Action::Stance {
        stance: StanceId::new("stand").unwrap(),
    };
    assert_eq!(Log::begun().done(stand).now().state.stance, STAND);
}

#[test]
fn warmth_wears_off_by_the_clock() {
    // The sheet: hot 10 min, then warm 45 min, then cool 180 min, then cold.
    let now = Log::begun().done(step("run")).now();
    let heat = |minutes| {
        let moment = start().checked_add(SignedDuration::from_mins(minutes)).unwrap();
        now.at(&machine(), moment).heat
    };
    assert_eq!(
        [-600, 0, 9, 10, 54, 55, 234, 235, 100_000].map(heat),
        [
            Heat::Hot,
            Heat::Hot,
            Heat::Hot,
            Heat::Warm,
            Heat::Warm,
            Heat::Cool,
            Heat::Cool,
            Heat::Cold,
            Heat::Cold
        ]
    );
}

#[test]
fn warmth_wears_off_by_work_recorded_in_one_go() {
    // The sheet: hot lasts 10 minutes of work, warm 30 more. Taking the tank off is 4, putting it back 6.
    let hot = Log::begun().done(step("run")).done(take_off("tank"));
    assert_eq!(hot.now().state.heat, Heat::Hot);
    let warm = hot.done(put_on("tank"));
    assert_eq!(warm.now().state.heat, Heat::Warm);
    let still = warm
        .done(step("recheck"))
        .done(step("recheck"))
        .done(step("recheck"));
    assert_eq!(still.now().state.heat, Heat::Warm, "27 minutes");
    assert_eq!(
        still.done(take_off("tank")).now().state.heat,
        Heat::Cool,
        "31 minutes"
    );
}

#[test]
fn each_level_begins_when_the_one_before_is_over_however_that_came() {
    // Ten minutes of work at 08:05 make it warm then, for 45 minutes by the clock: until 08:50.
    let worked = Log::begun()
        .done(step("run"))
        .minutes_later(5)
        .done(take_off("tank"))
        .done(put_on("tank"))
        .now();
    let heat = |minutes| {
        let moment = start().checked_add(SignedDuration::from_mins(minutes)).unwrap();
        worked.at(&machine(), moment).heat
    };
    assert_eq!([49, 50].map(heat), [Heat::Warm, Heat::Cool]);
    // Warm by the clock at 08:10: the four minutes of work before that do not count against the 30 of warmth.
    let waited = Log::begun()
        .done(step("run"))
        .done(take_off("tank"))
        .minutes_later(10)
        .done(step("recheck"))
        .done(step("recheck"))
        .done(step("recheck"));
    assert_eq!(waited.now().state.heat, Heat::Warm, "27 minutes");
}

#[test]
fn letting_it_cool_never_warms_it() {
    let cool = Action::Cool { to: HeatWord::Cool };
    let cooled = Log::begun().done(step("run")).done(cool.clone());
    assert_eq!(cooled.now().state.heat, Heat::Cool);
    assert_eq!(Log::begun().done(cool).now().state.heat, Heat::Cold);
}

#[test]
fn trouble_and_not_now_leave_the_machine_alone_and_are_remembered() {
    let wrong = Answer::SomethingWrong {
        note: "bolt head round".into(),
    };
    let log = Log::begun()
        .answered(take_off("tank"), wrong)
        .answered(step("run"), Answer::NotNow);
    let now = log.now();
    assert_eq!(now.state, BikeState::whole(&machine()));
    assert_eq!(now.troubles.len(), 1);
    assert_eq!(
        (now.troubles[0].note.as_str(), now.troubles[0].card.as_str()),
        ("bolt head round", "c2")
    );
    assert!(now.not_now.contains("c3") && now.done.is_empty());
}

#[test]
fn a_card_put_off_and_done_later_is_done() {
    let answer = |answer| {
        Entry::ActionAnswered(ActionAnswered {
            card: "c".into(),
            action: take_off("tank"),
            answer,
            measured: vec![],
        })
    };
    let now = Log::begun()
        .then(answer(Answer::NotNow))
        .then(answer(Answer::Done))
        .now();
    assert!(now.not_now.is_empty());
    assert_eq!(now.done, ["c"]);
}

#[test]
fn done_another_way_counts_as_done_and_stays_a_shortcut() {
    let another = Answer::DoneAnotherWay {
        note: "torqued by feel".into(),
    };
    let now = Log::begun()
        .done(loosen("axle-nut"))
        .answered(tighten("axle-nut"), another)
        .now();
    assert!(now.state.loose.is_empty());
    assert_eq!(now.shortcuts.len(), 1);
    assert_eq!(now.shortcuts[0].entry.as_str(), "e3");
    assert_eq!(now.shortcuts[0].action, tighten("axle-nut"));
    assert_eq!(now.done, ["c2", "c3"]);
}

#[test]
fn what_is_taken_back_never_happened() {
    let before = Log::begun().done(loosen("axle-nut"));
    let expected = before.now();
    let after = before.done(take_off("tank")).undone("e3");
    let now = after.now();
    assert_eq!(now.state, expected.state);
    assert_eq!(now.done, expected.done);
    assert_eq!(
        now.last.as_str(),
        "e4",
        "the last entry is the taking back itself"
    );
}

#[test]
fn choices_replace_earlier_ones_and_a_taken_back_choice_lets_the_earlier_stand() {
    let question = QuestionId::new("belly-panel").unwrap();
    let log = Log::begun()
        .then(Entry::JobsChosen(JobsChosen {
            jobs: vec![JobId::new("oil-change").unwrap()],
        }))
        .then(Entry::JobsChosen(JobsChosen { jobs: vec![] }));
    assert_eq!(log.now().jobs, []);
    let log = log.undone("e3");
    assert_eq!(log.now().jobs, [JobIx(0)]);
    let log = log
        .then(Entry::QuestionAnswered(QuestionAnswered {
            question,
            answer: "none".into(),
        }))
        .then(Entry::GarageSet(GarageSet {
            stances: vec![StanceId::new("stand").unwrap()],
            people: 2,
            call_out_s: None,
            without: vec![ToolId::new("puller").unwrap()],
            corroded: true,
        }));
    let now = log.now();
    assert_eq!(now.state.answers.get(&QuestionIx(0)), Some(&0));
    assert_eq!(now.garage.stances.into_iter().collect::<Vec<_>>(), [StanceIx(1)]);
    assert_eq!(now.garage.without.into_iter().collect::<Vec<_>>(), [ToolIx(0)]);
    assert_eq!((now.garage.people, now.garage.corroded), (2, true));
    assert_eq!(now.garage.call_out, USUAL_CALL_OUT);
    assert_ne!(now.garage.call_out, Seconds::ZERO);
}

#[test]
fn a_new_plan_begins_its_own_list_of_cards() {
    let adopted = || {
        Entry::PlanAdopted(PlanAdopted {
            plan: serde_json::json!({"actions": []}),
        })
    };
    let now = Log::begun()
        .then(adopted())
        .done(take_off("tank"))
        .answered(step("run"), Answer::NotNow)
        .then(adopted())
        .done(put_on("tank"))
        .now();
    assert_eq!(now.plan.map(|p| p.entry.to_string()).as_deref(), Some("e5"));
    assert_eq!(now.done, ["c6"]);
    assert!(now.not_now.is_empty());
}

#[test]
fn an_id_the_sheet_has_not_is_named_with_its_entry() {
    for (action, what) in [
        (take_off("sidecar"), "part 'sidecar'"),
        // A name is no id.
        (take_off("the-tank"), "part 'the-tank'"),
        (loosen("sidecar"), "critical fixing 'sidecar'"),
        (step("sidecar"), "step 'sidecar'"),
        (
            Action::PutOn {
                part: PartId::new("tank").unwrap(),
                way: 1,
            },
            "way in 'tank way 1'",
        ),
    ] {
        let log = Log::begun().done(action);
        let text = fold(&machine(), &log.entries).unwrap_err().to_string();
        assert!(text.contains(what) && text.contains("entry 2 (e2)"), "{text}");
        // Taken back, it is in nobody's way.
        assert_eq!(log.undone("e2").now().state, BikeState::whole(&machine()));
    }
}

#[test]
fn a_log_without_its_beginning_is_refused() {
    let log = Log::begun().done(take_off("tank"));
    assert_eq!(fold(&machine(), &log.entries[1..]), Err(FoldError::NoBeginning));
    assert_eq!(fold(&machine(), &[]), Err(FoldError::NoBeginning));
}

#[test]
fn a_clock_set_back_changes_neither_the_order_nor_the_warmth() {
    let now = Log::begun()
        .done(step("run"))
        .minutes_later(-6000)
        .done(take_off("tank"))
        .now();
    assert!(now.state.off.contains(&TANK));
    assert_eq!(now.state.heat, Heat::Hot);
}
