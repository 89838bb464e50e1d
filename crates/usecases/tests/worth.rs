//! A tap on the jobs: what is said at once is what the planner and fresh sums say.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use refettle_judgement::worth::selection::Stand;
use refettle_usecases::evening;
use refettle_usecases::request::{Document, Request};
use refettle_usecases::worth::{Desk, WorthRequest};

fn request(layout: &str, jobs: &[&str], state: Option<&str>) -> WorthRequest {
    WorthRequest {
        bike: Request {
            layout: Some(layout.to_owned()),
            jobs: jobs.iter().map(|j| (*j).to_owned()).collect(),
            state: state.map(|text| Document {
                name: "state".to_owned(),
                text: text.to_owned(),
            }),
            ..Request::default()
        },
        price: "1800".to_owned(),
        ..WorthRequest::default()
    }
}

const HALF_APART: &str = r#"{"format":"refettle-state/1","off":["seat","side-cover-left"]}"#;
const JOBS: [&str; 6] = [
    "spark-plugs",
    "air-filter",
    "carb-clean",
    "battery",
    "oil-change",
    "oil-and-filter",
];

#[test]
fn each_job_adds_the_difference_of_two_sets() {
    let desk = Desk::open(&request("small-faired-twin", &JOBS, Some(HALF_APART))).unwrap();
    let n = desk.names().len();
    assert_eq!(n, JOBS.len());
    for set in 0u32..1 << n {
        let chosen: Vec<bool> = (0..n).map(|i| set >> i & 1 == 1).collect();
        let (sum, lines) = desk.toggled(&chosen);
        for (i, line) in lines.iter().enumerate() {
            let (mut with, mut without) = (chosen.clone(), chosen.clone());
            with[i] = true;
            without[i] = false;
            let (more, less) = (desk.toggled(&with).0, desk.toggled(&without).0);
            assert_eq!(
                line.value_minor,
                more.value_minor - less.value_minor,
                "{}",
                line.name
            );
            assert_eq!(
                line.parts_minor,
                more.parts_minor - less.parts_minor,
                "{}",
                line.name
            );
            assert_eq!(
                line.marginal_s,
                more.hands_on_s - less.hands_on_s,
                "{}",
                line.name
            );
            // Each of the three gains is rounded to a whole minor unit.
            assert!((line.gain_minor - (more.gain_minor - less.gain_minor)).abs() <= 1);
        }
        assert_eq!(sum.jobs.len(), chosen.iter().filter(|t| **t).count());
    }
}

#[test]
fn the_model_of_a_job_alone_is_its_plan() {
    let desk = Desk::open(&request("small-faired-twin", &JOBS, Some(HALF_APART))).unwrap();
    for (i, name) in desk.names().iter().enumerate() {
        let mut chosen = vec![false; JOBS.len()];
        chosen[i] = true;
        let (set, lines) = desk.toggled(&chosen);
        let request = request("small-faired-twin", &[name], Some(HALF_APART)).bike;
        let plan = evening::plan(&request).unwrap();
        assert_eq!(lines[i].alone_s, plan.found.hands_on.0, "{name}");
        // Beside the plan there is what may go wrong, and work shared with a dearer plan of another job.
        assert!(set.model_s >= plan.found.hands_on.0, "{name}");
        assert!(set.model_s <= plan.found.hands_on.0 + 3600, "{name}");
    }
}

#[test]
fn of_two_jobs_of_one_group_only_one_is_chosen_and_a_must_stays() {
    let desk = Desk::open(&request("small-faired-twin", &JOBS, None)).unwrap();
    let place = |name: &str| desk.names().iter().position(|n| *n == name).unwrap();
    let (change, filter) = (place("oil-change"), place("oil-and-filter"));
    let mut stands = vec![Stand::Open; JOBS.len()];
    let chosen = desk.chosen_at_once(&stands).unwrap();
    assert!(!(chosen[change] && chosen[filter]));
    stands[filter] = Stand::Must;
    let chosen = desk.chosen_at_once(&stands).unwrap();
    assert!(chosen[filter] && !chosen[change]);
}

#[test]
fn a_bike_that_is_apart_is_closed_up_in_every_set() {
    let whole = Desk::open(&request("small-faired-twin", &["battery"], None)).unwrap();
    let apart = Desk::open(&request("small-faired-twin", &["battery"], Some(HALF_APART))).unwrap();
    assert_eq!(whole.toggled(&[false]).0.hands_on_s, 0);
    let closing = apart.toggled(&[false]).0.hands_on_s;
    let plan = evening::plan(&request("small-faired-twin", &[], Some(HALF_APART)).bike).unwrap();
    assert_eq!(closing, plan.found.hands_on.0);
    assert!(closing > 0);
}

#[test]
fn an_answer_kept_is_told_again_without_a_plan() {
    let mut desk = Desk::open(&request("small-faired-twin", &JOBS, None)).unwrap();
    let view = desk.answer(Some(6)).unwrap();
    let chosen: Vec<bool> = desk
        .names()
        .iter()
        .map(|n| view.set.jobs.iter().any(|j| j == n))
        .collect();
    let (set, lines) = desk.toggled(&chosen);
    assert_eq!((set, lines), (view.set.clone(), view.jobs.clone()));
    assert_eq!(view.set.minutes_from, "plan");
    assert_eq!(desk.answer(Some(6)).unwrap().set, view.set);
}
