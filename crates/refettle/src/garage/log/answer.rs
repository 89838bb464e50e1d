//! Cards, jobs, what the garage can do, questions, the plan; and any entry as JSON.

use super::super::opened::{Tapped, failed, mistaken};
use super::super::typed::{entry_id, measured, word};
use super::{answered, says};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_facts::ids::EntryId;
use refettle_memory::entry::{
    self, Entry, GarageSet, JobsChosen, Measured, PlanAdopted, QuestionAnswered, Words,
};
use refettle_memory::fresh_tap;
use refettle_usecases::bench::{NotTaken, Reply, answer_measured};

#[derive(Debug, Clone, Copy)]
enum Said {
    Done,
    Wrong,
    AnotherWay,
    NotNow,
}

const SAID: &[(&str, Said)] = &[
    ("done", Said::Done),
    ("wrong", Said::Wrong),
    ("another-way", Said::AnotherWay),
    ("not-now", Said::NotNow),
];

#[derive(Args)]
pub struct Answer {
    /// The bike, by id or title
    bike: String,
    /// The card's id, as the bench shows it
    card: String,
    /// What you say to it
    #[arg(value_parser = word(SAID))]
    said: Said,
    /// What is wrong, or how it was done
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    /// What was measured with it; may be repeated
    #[arg(long, value_name = "WHAT=VALUE", value_parser = measured)]
    measured: Vec<Measured>,
    /// The last entry you had seen: refused if something newer was recorded
    #[arg(long, value_name = "ENTRY", value_parser = entry_id)]
    seen: Option<EntryId>,
    #[command(flatten)]
    tapped: Tapped,
}

impl Answer {
    pub fn run(&self) -> Result<String, Failure> {
        let mut opened = self.tapped.open()?;
        let bike = opened.bike(&self.bike)?;
        let look = opened.look(&bike)?;
        let note = || {
            self.note
                .as_ref()
                .map(ToString::to_string)
                .ok_or_else(|| mistaken(vec!["say what, with --note \"…\"".to_owned()]))
        };
        let answer = match self.said {
            Said::Done => entry::Answer::Done,
            Said::Wrong => entry::Answer::SomethingWrong { note: note()? },
            Said::AnotherWay => entry::Answer::DoneAnotherWay { note: note()? },
            Said::NotNow => entry::Answer::NotNow,
        };
        let tap = match &opened.tap {
            Some(tap) => tap.clone(),
            None => fresh_tap().map_err(failed)?,
        };
        // A repeat of a tap that counted already is told so, however the bike stands by now.
        if let Some(stored) = look.entries.iter().find(|s| s.tap.as_ref() == Some(&tap)) {
            return self.told(&bike, &stored.id);
        }
        let reply = Reply {
            card: &self.card,
            answer: &answer,
            seen: self.seen.as_ref().unwrap_or(&look.now.last),
            tap: &tap,
            at: opened.at,
        };
        let id = answer_measured(&mut opened.memory, &look, reply, &self.measured).map_err(|e| match e {
            NotTaken::Memory(error) => failed(error),
            NotTaken::Stale { since } => {
                let mut lines = vec![NotTaken::Stale { since: Vec::new() }.to_string()];
                lines.push("recorded since:".to_owned());
                lines.extend(since.iter().map(|line| format!("  {line}")));
                mistaken(lines)
            }
            other => mistaken(vec![other.to_string()]),
        })?;
        self.told(&bike, &id)
    }

    fn told(&self, bike: &refettle_facts::ids::BikeId, id: &EntryId) -> Result<String, Failure> {
        if self.tapped.json {
            json(&answered(bike, id))
        } else {
            Ok(format!("Recorded.\nentry {id}\n"))
        }
    }
}

#[derive(Args)]
pub struct Jobs {
    /// The bike, by id or title
    bike: String,
    /// All jobs wanted, separated by commas; none: only close up
    #[arg(long, value_name = "A,B", value_delimiter = ',')]
    jobs: Vec<String>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Jobs, |this, telling| {
    let jobs: Vec<_> = this
        .jobs
        .iter()
        .filter(|job| !job.trim().is_empty())
        .map(|job| telling.named(|names, mistakes| names.job(job.trim(), mistakes)))
        .collect();
    Some(Entry::JobsChosen(JobsChosen {
        jobs: jobs.into_iter().collect::<Option<_>>()?,
    }))
});

#[derive(Args)]
pub struct GarageIs {
    /// The bike, by id or title
    bike: String,
    /// Stances this garage can do; the usual ones when left out
    #[arg(long, value_name = "S1,S2", value_delimiter = ',')]
    stances: Option<Vec<String>>,
    /// People who can help, you included
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=9))]
    people: u8,
    /// Tools that are not to be had
    #[arg(long, value_name = "T1,T2", value_delimiter = ',')]
    without: Vec<String>,
    /// Expect corroded fixings
    #[arg(long)]
    corroded: bool,
    #[command(flatten)]
    tapped: Tapped,
}

says!(GarageIs, |this, telling| {
    let stances: Option<Vec<_>> = match &this.stances {
        None => telling.machine.map(|m| {
            m.stances
                .iter()
                .filter(|s| s.usual)
                .map(|s| s.id.clone())
                .collect()
        }),
        Some(typed) => {
            let read: Vec<_> = typed
                .iter()
                .map(|s| telling.named(|names, mistakes| names.stance(s.trim(), mistakes)))
                .collect();
            read.into_iter().collect()
        }
    };
    let without: Vec<_> = this
        .without
        .iter()
        .map(|t| telling.named(|names, mistakes| names.tool(t.trim(), mistakes)))
        .collect();
    Some(Entry::GarageSet(GarageSet {
        stances: stances?,
        people: this.people,
        call_out_s: None,
        without: without.into_iter().collect::<Option<_>>()?,
        corroded: this.corroded,
    }))
});

#[derive(Args)]
pub struct Question {
    /// The bike, by id or title
    bike: String,
    /// question=answer
    answer: String,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Question, |this, telling| {
    let Some((name, answer)) = this.answer.split_once('=') else {
        telling
            .mistakes
            .push(format!("'{}' is no answer; write question=answer", this.answer));
        return None;
    };
    let machine = telling.machine?;
    let Some(question) = machine.question(name).and_then(|q| machine.questions.get(q.0)) else {
        let names: Vec<&str> = machine.questions.iter().map(|q| q.name.as_str()).collect();
        telling.mistakes.push(format!(
            "there is no question '{name}'; this machine has {}",
            names.join(", ")
        ));
        return None;
    };
    if !question.answers.iter().any(|a| a == answer) {
        telling.mistakes.push(format!(
            "'{answer}' is no answer to '{name}'; write one of {}",
            question.answers.join(", ")
        ));
        return None;
    }
    Some(Entry::QuestionAnswered(QuestionAnswered {
        question: question.id.clone(),
        answer: answer.to_owned(),
    }))
});

#[derive(Args)]
pub struct Adopt {
    /// The bike, by id or title
    bike: String,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Adopt, |_this, telling| {
    let look = telling
        .opened
        .look(telling.subject)
        .map_err(|e| telling.mistakes.push(e.to_string()))
        .ok()?;
    match &look.plan {
        Ok(evening) => serde_json::to_value(evening.without_questions())
            .map(|plan| Entry::PlanAdopted(PlanAdopted { plan }))
            .map_err(|e| telling.mistakes.push(e.to_string()))
            .ok(),
        Err(none) => {
            telling.mistakes.push(none.to_string());
            None
        }
    }
});

#[derive(Args)]
pub struct Any {
    /// The bike, by id or title; or garage
    bike: String,
    /// Its kind, such as setting-noted
    kind: String,
    /// Its body
    body: String,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Any, |this, telling| {
    Entry::from_json(&this.kind, &this.body)
        .map_err(|e| {
            telling
                .mistakes
                .push(format!("'{}': {e}; docs/entries.md has every kind", this.kind));
        })
        .ok()
});
