//! The hands-on task as a standard planning problem (PDDL 2.1 with action costs; Fox and Long 2003), so that
//! independent optimal solvers can be asked for the optimum.
//!
//! Everything counts but idle time. Ground operators become ground actions; only the warmth counter is a parameter.
//! The rules for the whole bike (what a stance needs, what may not be covered up, what a carried part follows) are
//! written out as conditions and conditional effects, not taken from the search.

mod formula;
mod rules;

use crate::ask::Act;
use crate::operator::{Atom, AtomIx, HeatCode, Operator, Task};
use formula::{Formula, and, not, or};
use refettle_machine::model::{Heat, HeatNeed, Machine};
use std::collections::BTreeSet;
use std::fmt::Write;

/// The two files of a planning problem.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pddl {
    /// `domain.pddl`
    pub domain: String,
    /// `problem.pddl`
    pub problem: String,
}

/// Writes a task as PDDL. `machine` only lends the names.
#[must_use]
pub fn write(task: &Task, machine: &Machine) -> Pddl {
    let writer = Writer { task, machine };
    Pddl {
        domain: writer.domain(),
        problem: writer.problem(),
    }
}

pub(crate) struct Writer<'a> {
    pub(crate) task: &'a Task,
    machine: &'a Machine,
}

/// Letters, digits and `-` only, which is all a PDDL name may hold.
fn slug(text: &str) -> String {
    text.chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() {
                c.to_ascii_lowercase()
            } else {
                '-'
            }
        })
        .collect()
}

impl Writer<'_> {
    /// The predicate of an atom.
    pub(crate) fn atom(&self, a: AtomIx) -> Formula {
        let m = self.machine;
        let name = match self.task.atoms[usize::from(a)] {
            Atom::Fitted(p) => format!("fitted-{}", m.parts[p.0].name),
            Atom::OnBike(p) => format!("on-bike-{}", m.parts[p.0].name),
            Atom::Undone(p) => format!("undone-{}", m.parts[p.0].name),
            Atom::Loose(c) => format!("loose-{}", m.criticals[c.0].name),
            Atom::True(f) => format!("true-{}", m.facts[f.0].name),
            Atom::Short(c) => format!("short-{}", m.circuits[c.0].name),
            Atom::Empty(c) => format!("empty-{}", m.circuits[c.0].name),
            Atom::Here(p) => format!("here-{}", m.parts[p.0].name),
            Atom::Helper => "helper".to_owned(),
        };
        // The number keeps names apart that slugging would make the same.
        Formula::Atom(format!("a{a}-{}", slug(&name)))
    }

    pub(crate) fn at(&self, stance: usize) -> Formula {
        Formula::Atom(format!("stands-{stance}"))
    }

    fn has_helper(&self) -> bool {
        self.task.operators.iter().any(|op| op.two_people)
    }

    fn codes(&self) -> u16 {
        self.task.heat_code.code(Heat::Hot)
    }

    fn domain(&self) -> String {
        let mut out = String::from(
            "(define (domain refettle)\n  (:requirements :strips :typing :negative-preconditions :disjunctive-preconditions :conditional-effects :action-costs)\n",
        );
        if self.task.heat_matters {
            out.push_str("  (:types warmth)\n");
        }
        out.push_str("  (:predicates (begun)");
        for a in 0..self.task.atoms.len() {
            let _ = write!(out, " {}", self.atom(AtomIx::try_from(a).unwrap_or(AtomIx::MAX)));
        }
        for s in 0..self.task.holds.len() {
            let _ = write!(out, " {}", self.at(s));
        }
        if self.has_helper() {
            out.push_str(" (helper-here)");
        }
        if self.task.heat_matters {
            out.push_str(" (heat ?w - warmth)");
            for name in self.heat_moves().iter().map(|(name, _)| name) {
                let _ = write!(out, " ({name} ?w - warmth ?v - warmth)");
            }
        }
        out.push_str(")\n  (:functions (total-cost) - number)\n");
        for (i, op) in self.task.operators.iter().enumerate() {
            self.actions(&mut out, i, op);
        }
        out.push_str(")\n");
        out
    }

    fn problem(&self) -> String {
        let mut out = String::from("(define (problem evening)\n  (:domain refettle)\n");
        if self.task.heat_matters {
            out.push_str("  (:objects");
            for code in 0..=self.codes() {
                let _ = write!(out, " w{code}");
            }
            out.push_str(" - warmth)\n");
        }
        out.push_str("  (:init (begun) (= (total-cost) 0)");
        for (a, truth) in self.task.start.iter().enumerate() {
            if *truth {
                let _ = write!(out, " {}", self.atom(AtomIx::try_from(a).unwrap_or(AtomIx::MAX)));
            }
        }
        let _ = write!(out, " {}", self.at(usize::from(self.task.stance)));
        if self.task.heat_matters {
            let _ = write!(out, " (heat w{})", self.task.heat);
            for (name, pairs) in self.heat_moves() {
                for (from, to) in pairs {
                    let _ = write!(out, " ({name} w{from} w{to})");
                }
            }
        }
        let mut goal: Vec<Formula> = self.task.goal_true.iter().map(|a| self.atom(*a)).collect();
        goal.extend(self.task.goal_false.iter().map(|a| not(self.atom(*a))));
        goal.push(self.in_one_of(self.task.goal_stances));
        let _ = write!(
            out,
            ")\n  (:goal {})\n  (:metric minimize (total-cost)))\n",
            and(goal)
        );
        out
    }

    pub(crate) fn in_one_of(&self, stances: u32) -> Formula {
        let all = (0..self.task.holds.len()).fold(0u32, |m, s| m | 1 << s);
        if stances & all == all {
            return and(Vec::new());
        }
        or((0..self.task.holds.len())
            .filter(|s| stances >> s & 1 == 1)
            .map(|s| self.at(s))
            .collect())
    }

    /// What an operator with this cost does to the warmth counter, as a static relation.
    fn heat_move(&self, op: &Operator, seconds: u32) -> (String, Vec<(u16, u16)>) {
        let code: HeatCode = self.task.heat_code;
        let need = match op.heat {
            HeatNeed::Any => "any",
            HeatNeed::Cold => "cold",
            HeatNeed::Cool => "cool",
            HeatNeed::Warm => "warm",
            HeatNeed::Hot => "hot",
        };
        let word = |h: Option<Heat>| h.map_or("none".to_owned(), |h| format!("{h:?}").to_lowercase());
        let name = format!(
            "{need}-{}-leaves-{}-cools-{}",
            seconds.div_ceil(60),
            word(op.heats),
            word(op.cools)
        );
        let mut pairs = Vec::new();
        for from in 0..=self.codes() {
            let level = code.level(from);
            if !op.heat.allows(level) || op.cools.is_some_and(|to| level <= to) {
                continue;
            }
            let mut to = code.after(from, seconds);
            if let Some(left) = op.heats {
                to = to.max(code.code(left));
            }
            if let Some(cooled) = op.cools {
                to = code.code(cooled);
            }
            pairs.push((from, to));
        }
        (name, pairs)
    }

    fn heat_moves(&self) -> BTreeSet<(String, Vec<(u16, u16)>)> {
        let mut moves = BTreeSet::new();
        for op in &self.task.operators {
            for seconds in self.costs(op).into_iter().map(|c| c.seconds) {
                moves.insert(self.heat_move(op, seconds));
            }
        }
        moves
    }

    /// The variants of an operator that cost differently, with what tells them apart.
    fn costs(&self, op: &Operator) -> Vec<Variant> {
        let mut variants = vec![Variant {
            seconds: op.seconds,
            when: Vec::new(),
        }];
        if let Some((undone, extra)) = op.allowance {
            let again = variants[0].and(0, self.atom(undone));
            let first = variants[0].and(extra, not(self.atom(undone)));
            variants = vec![first, again];
        }
        if op.two_people && self.task.call_out > 0 {
            let helper = || Formula::Atom("helper-here".to_owned());
            variants = variants
                .iter()
                .flat_map(|v| [v.and(0, helper()), v.and(self.task.call_out, not(helper()))])
                .collect();
        }
        variants
    }

    fn actions(&self, out: &mut String, number: usize, op: &Operator) {
        let rules = self.rules(op);
        for (v, variant) in self.costs(op).into_iter().enumerate() {
            let mut conditions = vec![self.in_one_of(op.stances)];
            conditions.extend(op.needs.iter().map(|a| self.atom(*a)));
            conditions.extend(op.forbids.iter().map(|a| not(self.atom(*a))));
            conditions.extend(variant.when.iter().cloned());
            conditions.extend(rules.conditions.iter().cloned());
            let mut effects: Vec<String> = op.adds.iter().map(|a| self.atom(*a).to_string()).collect();
            effects.extend(op.deletes.iter().map(|a| not(self.atom(*a)).to_string()));
            effects.extend(rules.effects.iter().cloned());
            if let Some(to) = op.stands {
                for s in (0..self.task.holds.len()).filter(|s| op.stances >> s & 1 == 1) {
                    effects.push(not(self.at(s)).to_string());
                }
                effects.push(self.at(usize::from(to)).to_string());
            }
            if self.has_helper() {
                effects.push(
                    if op.two_people {
                        "(helper-here)"
                    } else {
                        "(not (helper-here))"
                    }
                    .to_owned(),
                );
            }
            let mut parameters = "";
            if self.task.heat_matters {
                parameters = "?w - warmth ?v - warmth";
                let (relation, _) = self.heat_move(op, variant.seconds);
                conditions.push(Formula::Text("(heat ?w)".to_owned()));
                conditions.push(Formula::Text(format!("({relation} ?w ?v)")));
                effects.push("(not (heat ?w)) (heat ?v)".to_owned());
            }
            let _ = write!(
                out,
                "  (:action o{number}-{v}-{}\n    :parameters ({parameters})\n    :precondition {}\n    :effect (and {} (increase (total-cost) {})))\n",
                slug(&self.title(op.act)),
                and(conditions),
                effects.join(" "),
                variant.seconds
            );
        }
    }

    fn title(&self, act: Act) -> String {
        let m = self.machine;
        match act {
            Act::TakeOff { part, .. } => format!("take-off-{}", m.parts[part.0].name),
            Act::PutOn { part, .. } => format!("put-on-{}", m.parts[part.0].name),
            Act::Loosen(c) => format!("loosen-{}", m.criticals[c.0].name),
            Act::Tighten(c) => format!("tighten-{}", m.criticals[c.0].name),
            Act::Stand(s) => format!("stand-{}", m.stances[s.0].name),
            Act::Do { step, .. } => m.steps[step.0].name.clone(),
            Act::Cool(h) => format!("let-cool-{h:?}"),
            Act::Await(p) => format!("await-{}", m.parts[p.0].name),
        }
    }
}

struct Variant {
    seconds: u32,
    when: Vec<Formula>,
}

impl Variant {
    fn and(&self, seconds: u32, when: Formula) -> Variant {
        Variant {
            seconds: self.seconds + seconds,
            when: self.when.iter().cloned().chain([when]).collect(),
        }
    }
}
