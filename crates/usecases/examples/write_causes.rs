//! Writes causes, findings and checks as numbers, with what they came to, for `reference-checks/causes.py`.
//!
//! One JSON object a line: the assumptions, some answers, and by cause the chance that it is there. First every shipped
//! finding on every layout, then pairs of findings, then as many made-up models as asked for.
//!
//! ```sh
//! cargo run -p refettle-usecases --example write_causes -- 300 > models.jsonl
//! ```

use refettle_judgement::causes::model::{Assumed, Chance, Check, Finding, Model, Weight};
use refettle_judgement::causes::posterior::{Answer, Belief};
use refettle_usecases::causes::list;
use refettle_usecases::causes::question::{CausesRequest, settle_causes};
use refettle_usecases::causes::tables::{Tables, shipped};
use refettle_usecases::layouts;
use refettle_usecases::request::Request;
use serde_json::{Value, json};
use std::error::Error;

/// Marsaglia's xorshift: the same models every time.
struct Random(u64);

impl Random {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 40).unwrap_or(0) % n
    }

    fn unit(&mut self) -> f64 {
        f64::from(u32::try_from(self.below(1 << 20)).unwrap_or(0)) / f64::from(1 << 20)
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    let made_up: usize = std::env::args().nth(1).map_or(Ok(300), |n| n.parse())?;
    let tables = shipped()?;
    let mut random = Random(0x5eed_5eed_5eed_5eed);
    for layout in layouts::list()?.layouts {
        let bike = Request {
            layout: Some(layout.name.clone()),
            ..Request::default()
        };
        let findings: Vec<String> = list::findings(&bike)?
            .findings
            .into_iter()
            .map(|f| f.id)
            .collect();
        for finding in &findings {
            some(&tables, &bike, &[finding], &[], &mut random)?;
        }
        for _ in 0..6 {
            let mut other = || findings[random.below(findings.len())].clone();
            let (a, b, c) = (other(), other(), other());
            if a != b && b != c && a != c {
                some(&tables, &bike, &[&a, &b], &[], &mut random)?;
                some(&tables, &bike, &[&a], &[&c], &mut random)?;
            }
        }
    }
    for n in 0..made_up {
        let model = Model::new(assumed(&mut random))?;
        let answers = answers(&model, &mut random, 3);
        write(&format!("made-up {n}"), &model, &answers);
    }
    Ok(())
}

/// A shipped question without answers, and with some.
fn some(
    tables: &Tables,
    bike: &Request,
    there: &[&String],
    not_there: &[&String],
    random: &mut Random,
) -> Result<(), Box<dyn Error>> {
    let request = CausesRequest {
        bike: bike.clone(),
        findings: there.iter().map(|f| (*f).clone()).collect(),
        not_found: not_there.iter().map(|f| (*f).clone()).collect(),
        weights: None,
    };
    let model = settle_causes(tables, &request)?.model()?;
    let name = format!(
        "{} {there:?} not {not_there:?}",
        bike.layout.as_deref().unwrap_or_default()
    );
    write(&name, &model, &[]);
    for _ in 0..2 {
        let answers = answers(&model, random, 3);
        write(&name, &model, &answers);
    }
    Ok(())
}

fn answers(model: &Model, random: &mut Random, most: usize) -> Vec<Answer> {
    let checks = &model.assumed().checks;
    let mut answers: Vec<Answer> = Vec::new();
    while answers.len() < most.min(checks.len()) {
        let check = random.below(checks.len());
        if !answers.iter().any(|a| a.check == check) {
            let outcome = random.below(checks[check].otherwise.len());
            answers.push(Answer { check, outcome });
        }
    }
    answers
}

fn write(name: &str, model: &Model, answers: &[Answer]) {
    let numbers = |row: &[Chance]| row.iter().map(|c| c.value()).collect::<Vec<_>>();
    let assumed = model.assumed();
    let belief = Belief::after(model, answers);
    let there = belief.as_ref().map(|b| {
        (0..model.causes())
            .map(|c| b.there(c).value())
            .collect::<Vec<_>>()
    });
    let checks: Vec<Value> = answers
        .iter()
        .map(|a| {
            let check = &assumed.checks[a.check];
            json!({
                "outcome": a.outcome,
                "otherwise": numbers(&check.otherwise),
                "given": check.given.iter().map(|row| row.as_deref().map(numbers)).collect::<Vec<_>>(),
            })
        })
        .collect();
    let findings: Vec<Value> = assumed
        .findings
        .iter()
        .map(|f| json!({"seen": f.seen, "rest": f.rest.value(), "weights": f.weights.iter().map(|w| w.value()).collect::<Vec<_>>()}))
        .collect();
    let line = json!({
        "name": name,
        "how_often": assumed.how_often.value(),
        "shows": assumed.shows.value(),
        "findings": findings,
        "answered": checks,
        "there": there,
        "two": belief.map(|b| b.two().value()),
    });
    println!("{line}");
}

fn row(random: &mut Random, outcomes: usize) -> Vec<Chance> {
    let raw: Vec<f64> = (0..outcomes).map(|_| random.unit().powi(2) + 0.01).collect();
    let sum: f64 = raw.iter().sum();
    raw.iter().filter_map(|p| Chance::new(p / sum)).collect()
}

/// Three to eight causes, one to three findings, three or four checks.
fn assumed(random: &mut Random) -> Assumed {
    let (causes, findings) = (3 + random.below(6), 1 + random.below(3));
    let mut weights = Vec::new();
    for f in 0..findings {
        let row = (0..causes).map(|c| {
            let listed = c == f % causes || random.below(3) > 0;
            Weight::new(if listed { 1.0 + 50.0 * random.unit() } else { 0.0 }).unwrap_or(Weight::NONE)
        });
        weights.push(row.collect::<Vec<_>>());
    }
    let seen: Vec<bool> = (0..findings).map(|f| f == 0 || random.below(3) > 0).collect();
    let checks = (0..3 + random.below(2)).map(|_| {
        let outcomes = 2 + random.below(3);
        Check {
            otherwise: row(random, outcomes),
            given: (0..causes)
                .map(|_| (random.below(2) == 0).then(|| row(random, outcomes)))
                .collect(),
        }
    });
    Assumed {
        unknown: vec![false; causes],
        checks: checks.collect(),
        findings: weights
            .into_iter()
            .zip(seen)
            .map(|(weights, seen)| Finding {
                weights,
                seen,
                rest: Weight::new(10.0).unwrap_or(Weight::NONE),
            })
            .collect(),
        how_often: Chance::new(0.1).unwrap_or_else(|| unreachable!("a tenth is a chance")),
        shows: Chance::new(0.8).unwrap_or_else(|| unreachable!("four fifths are a chance")),
    }
}
