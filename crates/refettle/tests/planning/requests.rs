//! Requests of many kinds that make sense.

use crate::run::{Folder, Run, layouts, run};
use std::sync::LazyLock;

/// One request: what stands behind `plan` or `kit`, and the bike's state.
#[derive(Debug, Clone)]
pub struct Request {
    pub words: String,
    pub state: Option<&'static str>,
}

impl Request {
    fn new(words: impl Into<String>, state: Option<&'static str>) -> Request {
        Request {
            words: words.into(),
            state,
        }
    }

    /// Runs `command` with this request and what else is said.
    pub fn run(&self, command: &str, more: &[&str]) -> Run {
        let folder = Folder::new();
        let state = self.state.map(|text| folder.arg("state.json", text));
        let mut args: Vec<&str> = vec![command];
        args.extend(self.words.split_whitespace());
        if let Some(path) = &state {
            args.extend(["--state", path]);
        }
        args.extend(more);
        run(&args)
    }
}

const TWIN_HALF_APART: &str = r#"{"format":"refettle-state/1","machine":"small-faired-twin","engine":"has-stood",
    "off":["seat","side-cover-left","side-cover-right","fairing-left","fairing-right","lower-fairing","tank","airbox"]}"#;
const TWIN_ON_A_STAND: &str = r#"{"format":"refettle-state/1","stance":"centre-stand","off":["seat","tank"],
    "loose":["rear-axle-nut"],"levels":{"oil":"drained","coolant":"low"},"heat":"hot","answers":{"front-discs":"one"}}"#;
const TWIN_DEAD: &str = r#"{"format":"refettle-state/1","engine":"dead"}"#;
const TWIN_WAITS: &str = r#"{"format":"refettle-state/1","off":["seat","tank"],
    "awaiting":[{"part":"tank","seconds":86400}]}"#;
/// Dead, and yet warm: odd, and asked about.
const TWIN_ODD: &str =
    r#"{"format":"refettle-state/1","levels":{"tank-fuel":"drained"},"heat":"hot","engine":"dead"}"#;
const TRAINER_OPEN: &str = r#"{"format":"refettle-state/1","machine":"tiny-trainer","levels":{"oil":"drained"},
    "facts":{"oil.fresh":false}}"#;
const TRAINER_DEAD: &str = r#"{"format":"refettle-state/1","engine":"dead","heat":"warm"}"#;

/// Requests beyond one job each: several jobs, bikes half apart, garages of all kinds, requests without a plan.
pub fn mixed() -> Vec<Request> {
    const TWIN: &str = "--layout small-faired-twin";
    const TRAINER: &str = "--layout tiny-trainer";
    let twin = |words: &str, state| Request::new(format!("{TWIN} {words}"), state);
    let trainer = |words: &str, state| Request::new(format!("{TRAINER} {words}"), state);
    vec![
        twin("", None),
        twin("", Some(TWIN_HALF_APART)),
        twin("--goal rolling", Some(TWIN_HALF_APART)),
        twin("--jobs oil-and-filter,spark-plugs", None),
        twin("--jobs spark-plugs,fork-seals --corroded", None),
        twin("--jobs carb-clean,spark-plugs --people 2", Some(TWIN_HALF_APART)),
        twin("--jobs tyre-front,tyre-rear,brake-fluid-front", None),
        twin("--jobs valve-setting,coolant-change", None),
        twin("--jobs oil-change", Some(TWIN_ON_A_STAND)),
        twin("--jobs carb-clean --goal rolling", Some(TWIN_DEAD)),
        twin("--jobs compression", Some(TWIN_DEAD)),
        twin("--jobs oil-change", Some(TWIN_DEAD)),
        twin("--jobs leak-check", Some(TWIN_DEAD)),
        twin("--jobs air-filter", Some(TWIN_WAITS)),
        twin("--jobs fuel-hoses", Some(TWIN_ODD)),
        twin("--jobs swingarm-bearings --stances side-stand", None),
        twin("--jobs tyre-rear --stances side-stand --people 1", None),
        twin(
            "--jobs fork-seals --answer front-discs=one --answer mudguard-brace=outside",
            None,
        ),
        trainer("", None),
        trainer("", Some(TRAINER_OPEN)),
        trainer("--jobs oil-change,valve-check", None),
        trainer("--jobs clutch-plates,oil-change --corroded", None),
        trainer("--jobs tyre-front,tyre-rear --stances side-stand", None),
        trainer("--jobs tyre-rear --goal rolling", None),
        trainer("--jobs leak-check", Some(TRAINER_DEAD)),
        trainer("--jobs carburettor-clean", Some(TRAINER_DEAD)),
        trainer("--jobs mudguard-paint,battery-charge", None),
    ]
}

/// Of the layouts beyond those that [`mixed`] is about, one job in so many: they are planned one by one elsewhere.
const ONE_IN: usize = 8;

/// Jobs of every layout, alone.
pub fn each_job() -> Vec<Request> {
    layouts()
        .into_iter()
        .flat_map(|(layout, jobs)| {
            let every = if layout == "small-faired-twin" || layout == "tiny-trainer" {
                1
            } else {
                ONE_IN
            };
            jobs.into_iter()
                .step_by(every)
                .map(move |job| Request::new(format!("--layout {layout} --jobs {job}"), None))
        })
        .collect()
}

/// A request and what it came to.
pub struct Answered {
    pub request: Request,
    pub text: Run,
    pub json: Run,
}

fn answered(command: &str) -> Vec<Answered> {
    let all = mixed().into_iter().chain(each_job());
    all.map(|request| Answered {
        text: request.run(command, &[]),
        json: request.run(command, &["--json"]),
        request,
    })
    // A job of some models only is refused until its question is answered.
    .filter(|answered| {
        let said: Vec<&str> = answered.text.err.split_whitespace().collect();
        !said
            .join(" ")
            .contains("is not for this machine as its questions are answered")
    })
    .collect()
}

/// Every request, planned once for all tests.
pub static PLANS: LazyLock<Vec<Answered>> = LazyLock::new(|| answered("plan"));

/// Every request's kit.
pub static KITS: LazyLock<Vec<Answered>> = LazyLock::new(|| answered("kit"));

/// The first screen: what the tool alone prints.
pub static FIRST_SCREEN: LazyLock<Run> = LazyLock::new(|| run::<&str>(&[]));
