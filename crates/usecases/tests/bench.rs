//! The bench over a real memory: the demo bike worked through, and what may come first.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use jiff::{SignedDuration, Timestamp};
use refettle_facts::ids::EntryId;
use refettle_memory::entry::{Answer, Entry, Undone};
use refettle_memory::{Memory, Tap};
use refettle_usecases::bench::{Next, NotTaken, Reply, answer};
use refettle_usecases::card::Torque;
use refettle_usecases::look::{Look, Read};
use refettle_usecases::{card_id, demo_bike};

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

    fn look(&self, before: Option<&Look>) -> Look {
        let bike = demo_bike::bike().unwrap();
        Read::of(&self.memory, &bike, self.at, before).unwrap().plan()
    }

    fn say(&mut self, look: &Look, card: &str, said: &Answer) -> Result<EntryId, NotTaken> {
        self.taps += 1;
        let tap = Tap::new(&format!("test-tap-{}", self.taps)).unwrap();
        let reply = Reply {
            card,
            answer: said,
            seen: &look.now.last,
            tap: &tap,
            at: self.at,
        };
        answer(&mut self.memory, look, reply)
    }
}

fn total(look: &Look) -> u32 {
    look.plan.as_ref().unwrap().found.hands_on.0
}

#[test]
fn the_demo_bike_can_be_worked_through_to_the_end() {
    let mut garage = Garage::new();
    let mut look = garage.look(None);
    let mut done = 0;
    loop {
        let card = match look.next(None) {
            Next::Card(card) => card,
            Next::Wait(_, until) => {
                assert!(until > garage.at, "a wait that is over");
                garage.at = until;
                look = garage.look(Some(&look));
                continue;
            }
            Next::Finished => break,
            Next::NoPlan => panic!("no plan after {done} actions: {}", look.plan.unwrap_err()),
        };
        assert!(look.held_until(card.place).is_none());
        garage.at += SignedDuration::from_secs(i64::from(card.time.0.max(card.wait.0)));
        garage.say(&look, &card.id, &Answer::Done).unwrap();
        done += 1;
        assert!(done < 120, "it does not come to an end");
        let order = look.running_order(card.place);
        assert!(
            order
                .lines
                .windows(2)
                .all(|w| w[0].group <= w[1].group && w[1].group <= w[0].group + 1)
        );
        look = garage.look(Some(&look));
    }
    assert_eq!(look.done.len(), done);
    let state = &look.now.state;
    assert!(
        state.off.is_empty() && state.loose.is_empty(),
        "something is left off or loose"
    );
    // Every part that came off went on again, later.
    let order = look.running_order(usize::MAX);
    assert!(order.ties.iter().all(|tie| tie.on.is_some() && tie.off < tie.on));
    assert!(
        order.ties.iter().any(|tie| tie.off.is_none()),
        "nothing was off from the start"
    );
}

/// What may come first costs nothing: done first, the rest of the work is as long as it would have been. This asks the
/// planner itself, anew, and shares nothing with the rule.
#[test]
fn what_may_come_first_makes_nothing_longer() {
    let mut looked_at = 0;
    for already in [0, 18] {
        let mut garage = Garage::new();
        let mut look = garage.look(None);
        for _ in 0..already {
            let Next::Card(card) = look.next(None) else { break };
            garage.say(&look, &card.id, &Answer::Done).unwrap();
            look = garage.look(Some(&look));
        }
        let evening = look.plan.as_ref().unwrap();
        assert!(evening.found.proven());
        assert_eq!(look.may_come_first.first(), Some(&true));
        for (action, _) in evening
            .found
            .actions
            .iter()
            .zip(&look.may_come_first)
            .filter(|(_, may)| **may)
        {
            let id = card_id::of(&look.machine, &action.act);
            let mut now = look.clone();
            now.now.last = garage
                .memory
                .entries(&look.bike)
                .unwrap()
                .last()
                .unwrap()
                .id
                .clone();
            let entry = garage.say(&now, &id, &Answer::Done).unwrap();
            let rest = garage.look(Some(&look));
            assert!(
                total(&rest) + action.time.0 <= total(&look),
                "{id} first makes it longer"
            );
            let back = Entry::Undone(Undone { entry });
            garage.memory.append(&look.bike, garage.at, None, &back).unwrap();
            looked_at += 1;
        }
    }
    assert!(looked_at > 6, "only {looked_at} looked at");
}

#[test]
fn what_depends_on_what_was_put_off_is_not_shown() {
    let mut garage = Garage::new();
    let look = garage.look(None);
    let Next::Card(first) = look.next(None) else {
        panic!("no card")
    };
    garage.say(&look, &first.id, &Answer::NotNow).unwrap();
    let look = garage.look(Some(&look));
    let Next::Card(second) = look.next(None) else {
        panic!("no card")
    };
    // The carburettors stay on: nothing at the bench can be done to them, and the tank does not go back over them.
    assert_eq!(first.id, "take-off.0.carburettors");
    assert_ne!(second.id, first.id);
    for (action, may) in look
        .plan
        .as_ref()
        .unwrap()
        .found
        .actions
        .iter()
        .zip(&look.may_come_first)
    {
        let title = refettle_usecases::words::title(&look.machine, &action.act);
        let depends = title.contains("arburettors") || title.contains("fuel tank") || title.contains("jets");
        assert!(
            !(depends && *may) || title.starts_with("Take off: carburettors"),
            "{title}"
        );
    }
    assert_eq!(look.put_off(), [(first.id.clone(), first.title.clone())]);
    assert!(matches!(look.next(Some(&first.id)), Next::Card(card) if card.id == first.id && card.put_off));
    // What is no card, or cannot be done yet, is not taken.
    for other in ["put-on.0.tank", "nonsense", ""] {
        assert_eq!(look.next(Some(other)), look.next(None), "{other}");
    }
}

#[test]
fn a_critical_fixing_is_never_given_a_typical_figure() {
    let garage = Garage::new();
    let look = garage.look(None);
    let cards: Vec<_> = (0..).map_while(|place| look.card(place)).collect();
    let tighten: Vec<_> = cards.iter().filter(|card| card.kind == "tighten").collect();
    assert!(tighten.len() >= 4);
    for card in &tighten {
        assert!(
            card.fixings.iter().all(|line| line.torque == Torque::FindMakers),
            "{}",
            card.title
        );
    }
    for (name, _) in refettle_machine::layouts::ALL {
        for critical in &refettle_usecases::layouts::layout(name).unwrap().criticals {
            let told = refettle_usecases::words::fixing(&critical.fixing);
            assert!(!told.contains("N·m"), "{name}: {told}");
        }
    }
    let typical = cards
        .iter()
        .flat_map(|card| &card.fixings)
        .filter(|l| matches!(l.torque, Torque::Typical { .. }));
    assert!(
        typical.count() > 5,
        "ordinary fixings have typical figures, said to be typical"
    );
    // On the way off nobody asks how tight it goes.
    for card in cards.iter().filter(|card| card.kind == "take-off") {
        assert!(card.fixings.iter().all(|line| line.torque == Torque::NotNow));
    }
}

#[test]
fn a_bag_keeps_its_number_while_the_work_goes_on() {
    let mut garage = Garage::new();
    let mut look = garage.look(None);
    for _ in 0..30 {
        let filled: Vec<_> = {
            let off: Vec<_> = look.now.state.off.iter().copied().collect();
            off.into_iter()
                .filter_map(|part| look.bag(part).map(|n| (part, n)))
                .collect()
        };
        let Next::Card(card) = look.next(None) else { break };
        garage.say(&look, &card.id, &Answer::Done).unwrap();
        look = garage.look(Some(&look));
        for (part, number) in filled {
            assert_eq!(look.bag(part), Some(number));
        }
    }
}

#[test]
fn the_demo_bike_is_written_once() {
    let mut garage = Garage::new();
    let bike = demo_bike::bike().unwrap();
    let before = garage.memory.entries(&bike).unwrap();
    demo_bike::ensure(&mut garage.memory, garage.at + SignedDuration::from_hours(1)).unwrap();
    assert_eq!(garage.memory.entries(&bike).unwrap(), before);
    let look = garage.look(None);
    let Next::Card(card) = look.next(None) else {
        panic!("no card")
    };
    garage.say(&look, &card.id, &Answer::Done).unwrap();
    demo_bike::ensure(&mut garage.memory, garage.at).unwrap();
    assert_eq!(garage.memory.entries(&bike).unwrap().len(), before.len() + 1);
}
