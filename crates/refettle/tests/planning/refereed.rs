//! Every plan these tests ask for is replayed by the referee, which shares no code with the search.

use crate::requests::{FIRST_SCREEN, PLANS, Request};
use refettle_plan_check::check::check;
use refettle_plan_check::timetable::check_timetable;
use refettle_usecases::evening::{Evening, plan};
use refettle_usecases::request::{self, Document};
use refettle_usecases::{demo, refused::Refused};

/// The same request to the use-case behind the command.
fn asked(request: &Request) -> Result<Evening, Refused> {
    let mut to = request::Request {
        state: request.state.map(|text| Document {
            name: "state.json".into(),
            text: text.into(),
        }),
        ..request::Request::default()
    };
    let mut words = request.words.split_whitespace();
    while let Some(word) = words.next() {
        if word == "--corroded" {
            to.corroded = true;
            continue;
        }
        let value = words.next().unwrap().to_owned();
        let list = || value.split(',').map(str::to_owned).collect();
        match word {
            "--layout" => to.layout = Some(value),
            "--jobs" => to.jobs = list(),
            "--stances" => to.stances = Some(list()),
            "--people" => to.people = value.parse().ok(),
            "--goal" => to.goal = Some(value),
            "--answer" => to.answers.push(value),
            _ => panic!("{word} is not read here"),
        }
    }
    plan(&to)
}

fn refereed(evening: &Evening, what: &str) -> u32 {
    let ask = evening.settled.ask();
    let total = check(&ask, &evening.found.actions).unwrap_or_else(|fouls| panic!("{what}: {fouls:?}"));
    assert_eq!(total, evening.found.hands_on, "{what}");
    check_timetable(&ask, &evening.found).unwrap_or_else(|fouls| panic!("{what}: {fouls:?}"));
    total.0
}

#[test]
fn every_plan_shown_is_one_the_referee_allows() {
    let mut replayed = 0;
    for answered in PLANS.iter().filter(|a| a.json.status == 0) {
        let words = &answered.request.words;
        let evening = asked(&answered.request).unwrap_or_else(|refused| panic!("{words}: {refused:?}"));
        let shown: serde_json::Value = serde_json::from_str(&answered.json.out).unwrap();
        assert_eq!(shown["hands_on_s"], refereed(&evening, words), "{words}");
        replayed += 1;
    }
    assert!(replayed > 80, "{replayed}");
}

#[test]
fn the_plan_of_the_first_screen_is_one_the_referee_allows() {
    assert_eq!(FIRST_SCREEN.status, 0);
    refereed(&demo::evening().unwrap(), "the demo");
}
