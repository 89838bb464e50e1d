//! The running order as lines to draw: what is done, what is now, what comes later, and what runs beside it.
//!
//! Beside each line stand how the bike is held, how warm the engine is and what is drained or open. They are not
//! guessed: each line is added to the bike's entries as if it had been done, and the log is read again.

use crate::card_id::{self, Asked};
use crate::look::Look;
use crate::words;
use jiff::{SignedDuration, Timestamp};
use refettle_facts::time::Seconds;
use refettle_machine::ix::PartIx;
use refettle_machine::model::{Heat, Level, Machine};
use refettle_memory::Stored;
use refettle_memory::entry::{ActionAnswered, Answer, Entry};
use refettle_memory::state::{BikeNow, fold};
use refettle_plan::ask::Act;

/// When a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// Done, on record.
    Done,
    /// Next.
    Now,
    /// Later.
    Later,
}

/// One action of the running order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Done, now or later.
    pub when: When,
    /// Number of its group, counted from 1.
    pub group: usize,
    /// Kind, as in a plan's JSON.
    pub kind: &'static str,
    /// What to do.
    pub title: String,
    /// Hands-on time; nothing is said of what is done.
    pub time: Option<Seconds>,
    /// Wait afterwards.
    pub wait: Seconds,
    /// How many of the lines after it fill that wait.
    pub filled_by: usize,
    /// How the bike stands once it is done.
    pub beside: Beside,
    /// It was put off.
    pub put_off: bool,
    /// It was done another way than it should be.
    pub shortcut: bool,
    /// It was not in the plan that was adopted: something changed since.
    pub new: bool,
}

/// What runs beside the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beside {
    /// Name of the stance on the sheet.
    pub stance: String,
    /// Its title.
    pub stance_title: String,
    /// Warmth of the engine.
    pub heat: Heat,
    /// Titles of circuits that are drained, low or open.
    pub open: Vec<String>,
}

/// A part that is off between two lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tie {
    /// Which.
    pub part: String,
    /// The line it comes off at; `None` when it was off from the start.
    pub off: Option<usize>,
    /// The line it goes on at; `None` when the order leaves it off.
    pub on: Option<usize>,
}

/// The running order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunningOrder {
    /// How it stood before the first line.
    pub before: Beside,
    /// Lines.
    pub lines: Vec<Line>,
    /// Parts off between lines, longest first.
    pub ties: Vec<Tie>,
    /// What the adopted plan had and this one has no more: titles. Told once, until the next answer.
    pub dropped: Vec<String>,
}

impl Look {
    /// The running order: what was done since the bike came in, then the plan. `now` is the place in the plan of the
    /// action that is up.
    #[must_use]
    pub fn running_order(&self, now: usize) -> RunningOrder {
        let mut lines: Vec<Line> = self.done_lines();
        lines.extend(self.plan_lines(now));
        number(&mut lines);
        let mut order = RunningOrder {
            before: self.before(),
            ties: self.ties(),
            lines,
            dropped: Vec::new(),
        };
        if let Some(adopted) = &self.now.plan {
            let told = !self.entries.last().is_some_and(is_done);
            mark_changes(&mut order, &titles_of(&adopted.plan), told);
        }
        order
    }

    fn before(&self) -> Beside {
        let first = self
            .entries
            .iter()
            .position(is_done)
            .unwrap_or(self.entries.len());
        self.entries
            .get(..first)
            .and_then(|entries| fold(&self.machine, entries).ok())
            .map_or_else(
                || beside(&self.machine, &self.now),
                |now| beside(&self.machine, &now),
            )
    }

    fn done_lines(&self) -> Vec<Line> {
        let line = |done: &crate::look::Done| {
            let until = self.entries.iter().position(|stored| stored.id == done.entry);
            let entries = self.entries.get(..=until?)?;
            let now = fold(&self.machine, entries).ok()?;
            Some(Line {
                when: When::Done,
                group: 0,
                kind: words::kind(&done.act),
                title: words::title(&self.machine, &done.act),
                time: None,
                wait: Seconds::ZERO,
                filled_by: 0,
                beside: beside(&self.machine, &now),
                put_off: false,
                shortcut: done.shortcut,
                new: false,
            })
        };
        self.done.iter().filter_map(line).collect()
    }

    fn plan_lines(&self, up: usize) -> Vec<Line> {
        let Ok(evening) = &self.plan else {
            return Vec::new();
        };
        let views = evening.actions();
        let mut entries = self.entries.clone();
        let mut lines = Vec::new();
        for (at, (action, view)) in evening.found.actions.iter().zip(&views).enumerate() {
            let moment =
                self.at + SignedDuration::from_secs(i64::from(view.start_s) + i64::from(view.seconds));
            if let (Some(Asked::Action(asked)), Some(last)) =
                (card_id::asked(&self.machine, &action.act), entries.last())
            {
                entries.push(imagined(last, moment, asked));
            }
            let now = fold(&self.machine, &entries).unwrap_or_else(|_| self.now.clone());
            let id = card_id::of(&self.machine, &action.act);
            let over = view.start_s + view.seconds + view.wait_s;
            let later = views.get(at + 1..).unwrap_or_default();
            let filled_by = match view.wait_s {
                0 => 0,
                _ => later.iter().take_while(|next| next.start_s < over).count(),
            };
            lines.push(Line {
                when: if at == up { When::Now } else { When::Later },
                group: 0,
                kind: view.kind,
                title: view.title.clone(),
                time: Some(action.time),
                wait: Seconds(view.wait_s),
                filled_by,
                beside: beside(&self.machine, &now),
                put_off: self.now.not_now.contains(&id),
                shortcut: false,
                new: false,
            });
        }
        lines
    }

    fn ties(&self) -> Vec<Tie> {
        let planned = self.plan.iter().flat_map(|evening| &evening.found.actions);
        let acts: Vec<Act> = self
            .done
            .iter()
            .map(|d| d.act)
            .chain(planned.map(|a| a.act))
            .collect();
        let title = |part: PartIx| {
            self.machine
                .parts
                .get(part.0)
                .map_or_else(String::new, |p| p.title.clone())
        };
        let mut ties: Vec<(Tie, PartIx)> = Vec::new();
        for (at, act) in acts.iter().enumerate() {
            match act {
                Act::TakeOff { part, .. } => ties.push((
                    Tie {
                        part: title(*part),
                        off: Some(at),
                        on: None,
                    },
                    *part,
                )),
                Act::PutOn { part, .. } => {
                    let open = ties
                        .iter_mut()
                        .rev()
                        .find(|(tie, p)| p == part && tie.on.is_none());
                    match open {
                        Some((tie, _)) => tie.on = Some(at),
                        None => ties.push((
                            Tie {
                                part: title(*part),
                                off: None,
                                on: Some(at),
                            },
                            *part,
                        )),
                    }
                }
                _ => {}
            }
        }
        let mut ties: Vec<Tie> = ties.into_iter().map(|(tie, _)| tie).collect();
        let last = acts.len();
        ties.sort_by_key(|tie| {
            let from = tie.off.map_or(0, |at| at + 1);
            let to = tie.on.unwrap_or(last) + 1;
            (std::cmp::Reverse(to - from.min(to)), from)
        });
        ties
    }
}

/// The titles of a plan's actions, in its order, as its JSON has them.
fn titles_of(plan: &serde_json::Value) -> Vec<String> {
    let actions = plan.get("actions").and_then(serde_json::Value::as_array);
    let title = |action: &serde_json::Value| action.get("title")?.as_str().map(str::to_owned);
    actions.into_iter().flatten().filter_map(title).collect()
}

/// Marks the lines that an earlier plan did not have, and says what it had that is neither done nor planned now. An
/// action that comes twice is counted twice.
fn mark_changes(order: &mut RunningOrder, before: &[String], told: bool) {
    let mut left: Vec<&String> = before.iter().collect();
    for line in &mut order.lines {
        match left.iter().position(|title| **title == line.title) {
            Some(at) => {
                left.remove(at);
            }
            // What was done before that plan was made is not in it either, and is no news.
            None => line.new = line.when != When::Done,
        }
    }
    if told {
        order.dropped = left.into_iter().cloned().collect();
    }
}

fn is_done(stored: &Stored) -> bool {
    matches!(&stored.entry, Entry::ActionAnswered(body) if body.answer.is_done())
}

/// An entry as it would be, were the action done at that moment. It is read, never recorded.
fn imagined(last: &Stored, at: Timestamp, action: refettle_memory::entry::Action) -> Stored {
    Stored {
        seq: last.seq + 1,
        id: last.id.clone(),
        bike: last.bike.clone(),
        at,
        tap: None,
        entry: Entry::ActionAnswered(ActionAnswered {
            card: card_id::of_action(&action),
            action,
            answer: Answer::Done,
            measured: Vec::new(),
        }),
    }
}

fn beside(machine: &Machine, now: &BikeNow) -> Beside {
    let state = &now.state;
    let stance = machine.stances.get(state.stance.0);
    let opened = |place: usize| {
        state
            .off
            .iter()
            .filter_map(|p| machine.parts.get(p.0))
            .any(|p| p.opens.iter().any(|c| c.0 == place))
    };
    let open = |place: &usize| {
        let level = state.level(refettle_machine::ix::CircuitIx(*place));
        level != Level::Full || opened(*place)
    };
    Beside {
        stance: stance.map_or_else(String::new, |s| s.name.clone()),
        stance_title: stance.map_or_else(String::new, |s| s.title.clone()),
        heat: state.heat,
        open: (0..machine.circuits.len())
            .filter(open)
            .filter_map(|place| machine.circuits.get(place))
            .map(|c| c.title.clone())
            .collect(),
    }
}

/// Most lines of one group: what a person keeps in mind. Judgement, no source.
const LONGEST_GROUP: usize = 6;

/// Groups lines as a person works: parts that come off one after another are one group, so are parts that go on,
/// fixings slackened, fixings tightened; each step and each stance is one of its own. Done, now and later never share
/// a group, and a wait ends one.
fn number(lines: &mut [Line]) {
    let mut group = 0;
    let mut length = 0;
    let mut last: Option<(&'static str, When, bool)> = None;
    for line in lines.iter_mut() {
        let alike = matches!(line.kind, "take-off" | "put-on" | "loosen" | "tighten");
        let same = last == Some((line.kind, line.when, false));
        if !(alike && same && length < LONGEST_GROUP) {
            group += 1;
            length = 0;
        }
        length += 1;
        line.group = group;
        last = Some((line.kind, line.when, line.wait > Seconds::ZERO));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(when: When, title: &str) -> Line {
        let beside = Beside {
            stance: String::new(),
            stance_title: String::new(),
            heat: Heat::Cold,
            open: Vec::new(),
        };
        Line {
            when,
            group: 1,
            kind: "do",
            title: title.to_owned(),
            time: None,
            wait: Seconds::ZERO,
            filled_by: 0,
            beside,
            put_off: false,
            shortcut: false,
            new: false,
        }
    }

    fn marked(lines: Vec<Line>, before: &[&str], told: bool) -> (Vec<bool>, Vec<String>) {
        let before: Vec<String> = before.iter().map(|t| (*t).to_owned()).collect();
        let mut order = RunningOrder {
            before: line(When::Done, "").beside,
            lines,
            ties: Vec::new(),
            dropped: Vec::new(),
        };
        mark_changes(&mut order, &before, told);
        (order.lines.iter().map(|l| l.new).collect(), order.dropped)
    }

    #[test]
    fn a_line_the_adopted_plan_did_not_have_is_new_and_what_it_had_is_told_once() {
        let lines = || {
            vec![
                line(When::Done, "seat off"),
                line(When::Now, "drill the bolt out"),
                line(When::Later, "seat on"),
            ]
        };
        let before = ["seat off", "cover off", "seat on"];
        assert_eq!(
            marked(lines(), &before, true),
            (vec![false, true, false], vec!["cover off".to_owned()])
        );
        assert_eq!(marked(lines(), &before, false).1, Vec::<String>::new());
        // Twice planned and once left is once dropped, and twice left where once planned is new the second time.
        let twice = vec![line(When::Later, "seat off"), line(When::Later, "seat off")];
        assert_eq!(marked(twice, &["seat off"], true), (vec![false, true], vec![]));
        assert_eq!(
            marked(
                vec![line(When::Later, "seat off")],
                &["seat off", "seat off"],
                true
            )
            .1
            .len(),
            1
        );
    }

    #[test]
    fn titles_are_read_from_a_plan_s_json_and_nothing_from_what_is_no_plan() {
        let plan =
            serde_json::json!({"actions": [{"title": "a", "kind": "do"}, {"kind": "do"}, {"title": "b"}]});
        assert_eq!(titles_of(&plan), ["a", "b"]);
        assert!(titles_of(&serde_json::json!([1, 2])).is_empty());
    }
}
