//! Two ways in are an *or*: what the choice between them costs at least.
//!
//! A group is charged its cheapest way, as if that way had nothing in front of it. Here the cheapest pair of a way
//! off and a way on is found, with what else must come off for it priced in, unless that is charged already. What one
//! choice has priced, no other choice prices again, so nothing is counted twice.

use super::groups::Groups;
use crate::ground::{Ground, State};
use std::collections::BTreeSet;

/// One way: its seconds, and what else must come off for it (places in [`Choices::parts`]).
struct Way {
    seconds: u32,
    extras: Vec<usize>,
}

/// A part that can be reached in ways that differ in what they need off.
struct Choice {
    off_group: Option<usize>,
    on_group: Option<usize>,
    off: Vec<Way>,
    on: Vec<Way>,
}

/// What pricing an extra part takes.
struct Extra {
    on: usize,
    off_group: usize,
    on_group: usize,
    /// It has to be on at the end; only then is putting it back priced.
    goes_back: bool,
}

pub(crate) struct Choices {
    choices: Vec<Choice>,
    extras: Vec<Extra>,
    /// Stamp of the last state in which an extra was priced.
    priced: Vec<u32>,
}

impl Choices {
    pub(crate) fn new<const W: usize>(ground: &Ground<W>, groups: &Groups<W>) -> Self {
        let n = ground.parts.len();
        let group_of = |part: usize, on: bool| {
            ground
                .moves
                .iter()
                .position(|m| *m == Some((part, on)))
                .and_then(|at| groups.of_op[at])
        };
        // Only parts on the frame are priced: one that rides can leave the bike with its carrier.
        let extras: Vec<Extra> = (0..n)
            .filter(|p| ground.parts[*p].carrier_on.is_none())
            .filter_map(|p| {
                let (off_group, on_group) = (group_of(p, false)?, group_of(p, true)?);
                Some(Extra {
                    on: ground.parts[p].on,
                    off_group,
                    on_group,
                    goes_back: ground.goal_true.has(ground.parts[p].fitted),
                })
            })
            .collect();
        let place = |on: usize| extras.iter().position(|e| e.on == on);
        let closure = |blockers: &[usize]| {
            let mut all = BTreeSet::new();
            let mut queue: Vec<usize> = blockers.iter().filter_map(|b| place(*b)).collect();
            while let Some(e) = queue.pop() {
                if all.insert(e) {
                    queue.extend(
                        groups.groups[extras[e].off_group]
                            .forbids
                            .iter()
                            .filter_map(place),
                    );
                }
            }
            all.into_iter().collect::<Vec<usize>>()
        };
        let ways = |part: usize, on: bool| {
            (0..ground.ops.len())
                .filter(|at| ground.moves[*at] == Some((part, on)))
                .map(|at| Way {
                    seconds: ground.task.operators[at].seconds,
                    extras: closure(
                        &ground.ops[at]
                            .forbids
                            .iter()
                            // That it is off itself is what putting it on starts from, nothing that covers it.
                            .filter(|a| *a != ground.parts[part].fitted)
                            .collect::<Vec<_>>(),
                    ),
                })
                .collect::<Vec<Way>>()
        };
        let choices = (0..n)
            .map(|p| Choice {
                off_group: group_of(p, false),
                on_group: group_of(p, true),
                off: ways(p, false),
                on: ways(p, true),
            })
            .filter(|c| {
                differ(&c.off) || differ(&c.on) || c.off.iter().zip(&c.on).any(|(a, b)| a.extras != b.extras)
            })
            .collect();
        let priced = vec![0; extras.len()];
        Choices {
            choices,
            extras,
            priced,
        }
    }

    /// Whether a choice priced this group in the state of this stamp.
    pub(crate) fn has_priced(&self, group: usize, stamp: u32) -> bool {
        let of_group = |e: &Extra| e.off_group == group || e.on_group == group;
        self.extras
            .iter()
            .zip(&self.priced)
            .any(|(e, priced)| *priced == stamp && of_group(e))
    }

    /// What the choices cost beyond what is charged. `charged` tells which groups are; `stamp` is new for each state.
    pub(crate) fn beyond<const W: usize>(
        &mut self,
        groups: &Groups<W>,
        s: &State<W>,
        stamp: u32,
        charged: &dyn Fn(usize) -> bool,
        shared: &dyn Fn(usize) -> bool,
    ) -> u32 {
        let mut sum = 0;
        for choice in &self.choices {
            let off = choice.off_group.is_some_and(charged);
            let on = choice.on_group.is_some_and(charged);
            let price = |extras: &mut dyn Iterator<Item = usize>| -> u32 {
                extras
                    .map(|e| {
                        let x = &self.extras[e];
                        if !s.bits.has(x.on) || self.priced[e] == stamp || charged(x.off_group) {
                            return 0;
                        }
                        let put_on = if !x.goes_back || charged(x.on_group) {
                            0
                        } else {
                            groups.groups[x.on_group].seconds
                        };
                        groups.groups[x.off_group].seconds + put_on
                    })
                    .sum()
            };
            let alone = |ways: &[Way]| ways.iter().map(|w| w.seconds).min().unwrap_or(0);
            let one = |ways: &[Way]| {
                ways.iter()
                    .map(|w| w.seconds + price(&mut w.extras.iter().copied()))
                    .min()
                    .unwrap_or(0)
            };
            let (least, counted) = match (off, on) {
                (false, false) => continue,
                (true, false) => (one(&choice.off), alone(&choice.off)),
                (false, true) => (one(&choice.on), alone(&choice.on)),
                (true, true) => {
                    let pairs = choice
                        .off
                        .iter()
                        .flat_map(|a| choice.on.iter().map(move |b| (a, b)));
                    let least = pairs
                        .map(|(a, b)| {
                            let both: BTreeSet<usize> = a.extras.iter().chain(&b.extras).copied().collect();
                            a.seconds + b.seconds + price(&mut both.into_iter())
                        })
                        .min()
                        .unwrap_or(0);
                    (least, alone(&choice.off) + alone(&choice.on))
                }
            };
            let beyond = least.saturating_sub(counted);
            if beyond == 0 {
                continue;
            }
            // Something another "one of several" was charged for may be among these: then leave this choice alone.
            let touched: BTreeSet<usize> = choice
                .off
                .iter()
                .chain(&choice.on)
                .flat_map(|w| w.extras.iter().copied())
                .collect();
            let groups_touched: Vec<usize> = touched
                .iter()
                .flat_map(|e| [self.extras[*e].off_group, self.extras[*e].on_group])
                .filter(|g| !charged(*g))
                .collect();
            if groups_touched.iter().any(|g| shared(*g)) {
                continue;
            }
            for e in touched {
                self.priced[e] = stamp;
            }
            sum += beyond;
        }
        sum
    }
}

fn differ(ways: &[Way]) -> bool {
    ways.windows(2).any(|w| w[0].extras != w[1].extras)
}
