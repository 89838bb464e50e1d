//! What was worked out, as shown.

use super::answer::Weighed;
use super::prices::{Priced, further};
use super::question::weight_of;
use super::safety::not_starting;
use super::tables::{CauseRow, CheckRow, Engine};
use super::weights::{NONE, SOURCE};
use crate::causes_view::{
    AnsweredView, CauseView, CausesView, CheckView, FindingView, FixView, HeldBackView, LikelihoodView,
    NextView, OpensView, OutcomeView, PairView, ThenView, WhyView,
};
use refettle_facts::time::Seconds;
use refettle_judgement::causes::advice::Method;
use refettle_judgement::causes::policy::Move;
use refettle_judgement::causes::posterior::{Answer, Belief};
use std::collections::{BTreeMap, BTreeSet};

/// Below this a pair is not worth a word.
const PAIR_WORTH_A_WORD: f64 = 0.01;

pub(super) fn view(w: &Weighed<'_>) -> CausesView {
    let q = &w.question;
    let best = w.best_check();
    let next_check = best.and_then(|k| check(w, k, true));
    let next = next(w);
    let others = w.advice.choices.iter().filter_map(|c| match c.what {
        Move::Check(k) if Some(k) != best => check(w, k, false),
        _ => None,
    });
    let checks: Vec<CheckView> = next_check.iter().cloned().chain(others).collect();
    CausesView {
        format: "refettle-causes/1",
        machine: q.settled.machine.name.clone(),
        findings: q
            .findings
            .iter()
            .map(|(s, there)| FindingView {
                id: s.id.to_owned(),
                title: s.title.to_owned(),
                there: *there,
                must: s.must,
            })
            .collect(),
        answers: q.answers.iter().filter_map(|a| answered(w, *a)).collect(),
        causes: causes(w),
        two_at_once: w.belief.two().value(),
        pairs: pairs(w),
        cautions: cautions(w, &next, next_check.as_ref()),
        next,
        next_check,
        checks,
        held_back: held_back(w),
        method: match w.advice.method {
            Method::Exact => "exact",
            Method::Lookahead => "lookahead",
        },
        doubts: doubts(w),
        why: why(w, best),
    }
}

fn name(w: &Weighed<'_>, cause: usize) -> &'static str {
    w.question.causes.get(cause).map_or(NONE, |c| c.id)
}

/// By cause: its share; what nobody listed is one.
fn shares(w: &Weighed<'_>, belief: &Belief) -> BTreeMap<String, f64> {
    let mut shares: BTreeMap<String, f64> = BTreeMap::new();
    for cause in 0..w.model.causes() {
        *shares.entry(name(w, cause).to_owned()).or_default() += belief.share(cause).value();
    }
    shares
}

fn causes(w: &Weighed<'_>) -> Vec<CauseView> {
    let q = &w.question;
    let shares = shares(w, &w.belief);
    let share = |id: &str| shares.get(id).copied().unwrap_or(0.0);
    let weights = |id: &str| {
        let there = q.findings.iter().filter(|(_, there)| *there);
        there
            .map(|(s, _)| (s.id.to_owned(), weight_of(&q.weights, s, id)))
            .collect()
    };
    let known = q.causes.len();
    let mut views: Vec<CauseView> = q
        .causes
        .iter()
        .enumerate()
        .map(|(c, row)| CauseView {
            id: row.id.to_owned(),
            title: row.title.to_owned(),
            probability: share(row.id),
            there: w.belief.there(c).value(),
            weights: weights(row.id),
            fix: w.prices.repairs.get(c).map(|priced| fix(w, c, row, priced)),
        })
        .collect();
    let unlisted = w.belief.sets().filter(|(set, _)| set.iter().any(|c| *c >= known));
    views.push(CauseView {
        id: NONE.to_owned(),
        title: "None of these".to_owned(),
        probability: share(NONE),
        there: unlisted.map(|(_, p)| p.value()).sum(),
        weights: weights(NONE),
        fix: None,
    });
    views.sort_by(|a, b| b.probability.total_cmp(&a.probability).then(a.id.cmp(&b.id)));
    views
}

fn fix(w: &Weighed<'_>, place: usize, row: &CauseRow, priced: &Priced) -> FixView {
    let machine = &w.question.settled.machine;
    let chosen = w.advice.choices.iter().find(|c| c.what == Move::Repair(place));
    FixView {
        what: row.fix.to_owned(),
        job: priced
            .job
            .and_then(|j| machine.jobs.get(j.0))
            .map(|j| j.name.clone()),
        seconds: priced.now().0,
        proven: priced.proven,
        by_table: priced.by_table,
        parts_low: row.low.0,
        parts_high: row.high.0,
        expected_s: chosen.map(|c| c.expected.rounded().0),
        cautions: row.cautions.iter().map(|c| (*c).to_owned()).collect(),
        source: row.source.to_owned(),
    }
}

fn pairs(w: &Weighed<'_>) -> Vec<PairView> {
    let mut pairs: Vec<PairView> = w
        .belief
        .sets()
        .filter_map(|(set, p)| match set {
            [a, b] if p.value() >= PAIR_WORTH_A_WORD => Some(PairView {
                causes: [name(w, *a).to_owned(), name(w, *b).to_owned()],
                probability: p.value(),
            }),
            _ => None,
        })
        .collect();
    pairs.sort_by(|a, b| {
        b.probability
            .total_cmp(&a.probability)
            .then(a.causes.cmp(&b.causes))
    });
    pairs
}

fn answered(w: &Weighed<'_>, answer: Answer) -> Option<AnsweredView> {
    let check = w.question.checks.get(answer.check)?;
    let (outcome, title) = check.outcomes.get(answer.outcome)?;
    Some(AnsweredView {
        check: check.id.to_owned(),
        title: check.title.to_owned(),
        outcome: (*outcome).to_owned(),
        outcome_title: (*title).to_owned(),
    })
}

fn named(w: &Weighed<'_>, what: Move) -> ThenView {
    let (kind, id, title) = match what {
        Move::Check(k) => {
            let row = w.question.checks.get(k);
            (
                "check",
                row.map_or("", |r| r.id),
                row.map_or("", |r| r.title).to_owned(),
            )
        }
        Move::Repair(c) => {
            let row = w.question.causes.get(c);
            let title = row.map_or(String::new(), |r| format!("{}: {}", r.title, r.fix));
            ("repair", name(w, c), title)
        }
        Move::Further => (
            "look-further",
            NONE,
            "Look further, for something not listed".to_owned(),
        ),
    };
    ThenView {
        kind,
        id: id.to_owned(),
        title,
    }
}

fn next(w: &Weighed<'_>) -> NextView {
    let (what, expected, why) = match (w.first, w.advice.choices.first()) {
        (Some(k), _) => (
            Move::Check(k),
            None,
            "safety, not cost: oil, petrol and free turning are known before anything but a hand turns the engine".to_owned(),
        ),
        (None, Some(choice)) => (
            choice.what,
            Some(choice.expected.rounded()),
            told_why(w, choice.what, choice.now, choice.expected.rounded()),
        ),
        (None, None) => (Move::Further, None, "nothing else is left".to_owned()),
    };
    let named = named(w, what);
    NextView {
        kind: named.kind,
        id: named.id,
        title: named.title,
        expected_s: expected.map(|s| s.0),
        why,
    }
}

/// What it costs now, where it leads, and what the best of the other kind would lead to.
fn told_why(w: &Weighed<'_>, what: Move, now: Seconds, expected: Seconds) -> String {
    let is_check = |m: Move| matches!(m, Move::Check(_));
    let other = w
        .advice
        .choices
        .iter()
        .find(|c| is_check(c.what) != is_check(what));
    let beside = other.map_or(String::new(), |c| {
        let said = if is_check(what) {
            "without another check"
        } else {
            "with another check first"
        };
        format!(", {} {said}", c.expected.rounded())
    });
    format!(
        "{now} now; to a working bike, money counted as time, {expected} are to be expected this way{beside}"
    )
}

fn opens(w: &Weighed<'_>, priced: &Priced) -> Vec<OpensView> {
    let part = |(part, time): &(refettle_machine::ix::PartIx, Seconds)| {
        let part = w.question.settled.machine.parts.get(part.0)?;
        Some(OpensView {
            part: part.id.to_string(),
            title: part.title.clone(),
            seconds: time.0,
        })
    };
    priced.opens.iter().filter_map(part).collect()
}

const fn engine_word(engine: Engine) -> &'static str {
    match engine {
        Engine::Any => "still",
        Engine::Pressed => "pressed",
        Engine::Cranked => "cranked",
        Engine::Runs => "runs",
        Engine::Rides => "rides",
    }
}

fn check(w: &Weighed<'_>, k: usize, with_then: bool) -> Option<CheckView> {
    let row: &CheckRow = w.question.checks.get(k)?;
    // What safety wants is told even where the planner found no way to it as the bike stands.
    let unpriced = Priced {
        own: Seconds::from_minutes(row.minutes),
        by_table: true,
        ..Priced::default()
    };
    let priced = w
        .prices
        .checks
        .get(k)
        .and_then(Option::as_ref)
        .unwrap_or(&unpriced);
    let safety = w.safety.pending.contains(&k);
    let choice = w
        .advice
        .choices
        .iter()
        .find(|c| c.what == Move::Check(k) && !safety);
    let outcomes = row.outcomes.iter().enumerate().map(|(o, (id, title))| {
        let answer = Answer { check: k, outcome: o };
        let then = w.after(answer);
        OutcomeView {
            id: (*id).to_owned(),
            title: (*title).to_owned(),
            probability: w.belief.outcome(&w.model, k, o).value(),
            causes: then.map(|belief| shares(w, &belief)).unwrap_or_default(),
            then: (with_then && !safety)
                .then(|| w.then(answer))
                .flatten()
                .map(|m| named(w, m)),
        }
    });
    Some(CheckView {
        id: row.id.to_owned(),
        title: row.title.to_owned(),
        seconds: priced.now().0,
        own_s: priced.own.0,
        opens: opens(w, priced),
        proven: priced.proven,
        expected_s: choice.map(|c| c.expected.rounded().0),
        safety,
        engine: engine_word(row.engine),
        tools: row.tools.iter().map(|t| (*t).to_owned()).collect(),
        cautions: row.cautions.iter().map(|c| (*c).to_owned()).collect(),
        why: choice.map_or_else(
            || "wanted before the engine is cranked".to_owned(),
            |c| told_why(w, c.what, c.now, c.expected.rounded()),
        ),
        source: row.source.to_owned(),
        outcomes: outcomes.collect(),
    })
}

fn held_back(w: &Weighed<'_>) -> Vec<HeldBackView> {
    let q = &w.question;
    let unanswered = |k: &usize| !q.answers.iter().any(|a| a.check == *k);
    let mut held = Vec::new();
    for (k, row) in q.checks.iter().enumerate().filter(|(k, _)| unanswered(k)) {
        let first = |at: &usize| q.checks.get(*at).map_or(String::new(), |c| c.title.to_owned());
        let why = if row.engine >= Engine::Pressed && !w.safety.bad.is_empty() {
            let bad: Vec<String> = w.safety.bad.iter().map(first).collect();
            format!("put right first, then answer it anew: {}", bad.join("; "))
        } else if row.engine >= Engine::Pressed && !w.safety.pending.is_empty() {
            let pending: Vec<String> = w.safety.pending.iter().map(first).collect();
            format!("first: {}", pending.join("; "))
        } else if w.prices.checks.get(k).is_some_and(Option::is_none) && !w.safety.pending.contains(&k) {
            "there is no way to it as bike and garage are".to_owned()
        } else {
            continue;
        };
        held.push(HeldBackView {
            id: row.id.to_owned(),
            title: row.title.to_owned(),
            why,
        });
    }
    held
}

fn doubts(w: &Weighed<'_>) -> Vec<String> {
    let mut doubts = w.question.settled.doubts.clone();
    if !w.prices.base_planned {
        doubts.push(
            "there is no plan as bike and garage are, so times are the table's, access left out".to_owned(),
        );
    }
    if not_starting(&w.question) {
        doubts.push(
            "priced as an engine that does not run, whatever the state says: the finding says so".to_owned(),
        );
    }
    doubts
}

fn cautions(w: &Weighed<'_>, next: &NextView, check: Option<&CheckView>) -> Vec<String> {
    let mut names: BTreeSet<String> = check.iter().flat_map(|c| c.cautions.clone()).collect();
    if next.kind == "repair" {
        let row = w.question.causes.iter().find(|c| c.id == next.id);
        names.extend(
            row.iter()
                .flat_map(|c| c.cautions.iter().map(|n| (*n).to_owned())),
        );
    }
    names.into_iter().collect()
}

fn why(w: &Weighed<'_>, best: Option<usize>) -> WhyView {
    let q = &w.question;
    let spoken: BTreeSet<usize> = q.answers.iter().map(|a| a.check).chain(best).collect();
    let mut likelihoods = Vec::new();
    for row in spoken.iter().filter_map(|k| q.checks.get(*k)) {
        let chances = |values: &[f64]| {
            let ids = row.outcomes.iter().map(|(id, _)| (*id).to_owned());
            ids.zip(values.iter().copied()).collect()
        };
        let line = |cause: &str, values: &[f64], source: &str| LikelihoodView {
            check: row.id.to_owned(),
            cause: cause.to_owned(),
            chances: chances(values),
            source: source.to_owned(),
        };
        likelihoods.push(line("otherwise", &row.otherwise, SOURCE));
        let rows = q.causes.iter().filter_map(|c| Some((c.id, row.given.get(c.id)?)));
        likelihoods.extend(rows.map(|(cause, (values, source))| line(cause, values, source)));
    }
    WhyView {
        how_often: q.weights.how_often,
        shows: q.weights.shows,
        hour: q.weights.hour.0,
        further_s: q.weights.further.0,
        further_mended_s: further(q, &w.prices).0,
        trial_s: q.weights.trial.0,
        source: SOURCE.to_owned(),
        weights: q
            .findings
            .iter()
            .map(|(s, _)| {
                let own = q.weights.changed.contains_key(s.id);
                let source = if own { "your own weights, the others: " } else { "" };
                (s.id.to_owned(), format!("{source}{}", s.source))
            })
            .collect(),
        likelihoods,
        formula: "chance of a set of at most two causes ∝ prior odds of its causes × chance that they show the findings × chances \
                  of the answers given them",
    }
}
