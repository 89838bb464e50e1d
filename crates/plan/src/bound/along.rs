//! What is known along a chain of forced orders: how atoms change to and fro, and where the bike has to stand.

use crate::ground::Ground;

/// Places of the patterns in [`Patterns`]: "true", "true, untrue", … and "untrue", "untrue, true", …
const FROM_TRUE: usize = 0;
const FROM_UNTRUE: usize = 4;

/// By pattern: the atoms that go through it along some chain of forced orders.
#[derive(Clone, Copy, Default)]
pub(super) struct Patterns([u128; 8]);

impl Patterns {
    pub(super) fn join(&mut self, other: &Patterns) {
        self.0.iter_mut().zip(other.0).for_each(|(a, b)| *a |= b);
    }

    /// Next in the chain these are untrue, those true.
    pub(super) fn then(&mut self, moment: &Moment) {
        let before = self.0;
        let (t, u) = (moment.truths, moment.untruths);
        self.0[0] |= t;
        self.0[1] |= before[0] & u;
        self.0[2] |= before[1] & t;
        self.0[3] |= before[2] & u;
        self.0[4] |= u;
        self.0[5] |= before[4] & t;
        self.0[6] |= before[5] & u;
        self.0[7] |= before[6] & t;
    }

    /// Atoms that become untrue (way 0), or true (way 1), at least so many times, from what is true now.
    pub(super) fn changes(&self, now: u128, way: usize, times: usize) -> u128 {
        let pattern = |from: usize, length: usize| self.0[from + length - 1];
        let (same, other) = (2 * times - 1, 2 * times);
        if way == 1 {
            (!now & pattern(FROM_TRUE, same)) | (now & pattern(FROM_UNTRUE, other))
        } else {
            (now & pattern(FROM_UNTRUE, same)) | (!now & pattern(FROM_TRUE, other))
        }
    }
}

/// Stances up to this many are followed.
pub(super) const STANCES: usize = 8;
pub(super) const NEVER: u32 = u32::MAX / 4;

/// Seconds from stance to stance, by as many changes as it takes.
pub(super) type Apart = [[u32; STANCES]; STANCES];

/// By stance: least seconds of stance changes to have done what comes along some chain, and to stand so.
#[derive(Clone, Copy)]
pub(super) struct Walk(pub(super) [u32; STANCES]);

impl Walk {
    /// The dearest chain counts.
    pub(super) fn join(&mut self, other: &Walk) {
        self.0.iter_mut().zip(other.0).for_each(|(a, b)| *a = (*a).max(b));
    }
}

/// Patterns and walk along the chains up to a moment.
#[derive(Clone, Copy)]
pub(super) struct Along {
    pub(super) patterns: Patterns,
    pub(super) walk: Walk,
}

impl Along {
    pub(super) fn join(&mut self, other: &Along) {
        self.patterns.join(&other.patterns);
        self.walk.join(&other.walk);
    }

    /// After an execution of a group.
    pub(super) fn past(mut self, around: &Around, apart: &Apart) -> Along {
        self.patterns.then(&around.before);
        self.patterns.then(&around.after);
        if let Some(stances) = around.stances {
            let mut walk = Walk([NEVER; STANCES]);
            for s in (0..STANCES).filter(|s| stances >> s & 1 == 1) {
                let here = self.walk.0[s];
                for (to, seconds) in apart[s].iter().enumerate() {
                    walk.0[to] = walk.0[to].min(here.saturating_add(*seconds)).min(NEVER);
                }
            }
            self.walk = walk;
        }
        self
    }
}

/// What is true, and untrue, at a moment.
#[derive(Clone, Copy, Default)]
pub(super) struct Moment {
    pub(super) truths: u128,
    pub(super) untruths: u128,
}

/// What holds just before and just after a group is executed.
#[derive(Clone, Copy, Default)]
pub(super) struct Around {
    pub(super) before: Moment,
    pub(super) after: Moment,
    /// Stances it can be done in; `None`: any.
    pub(super) stances: Option<u32>,
}

/// Least seconds from every stance to every other (Floyd 1962, Warshall 1962). All none where there are more stances
/// than are followed.
pub(super) fn apart<const W: usize>(ground: &Ground<W>) -> Apart {
    let n = ground.task.holds.len();
    if n > STANCES {
        return [[0; STANCES]; STANCES];
    }
    let mut apart = [[NEVER; STANCES]; STANCES];
    for op in &ground.task.operators {
        if let Some(to) = op.stands {
            for from in (0..n).filter(|s| op.stances >> s & 1 == 1) {
                let best = &mut apart[from][usize::from(to)];
                *best = op.seconds.min(*best);
            }
        }
    }
    for (s, row) in apart.iter_mut().enumerate() {
        row[s] = 0;
    }
    for over in 0..n {
        for from in 0..n {
            for to in 0..n {
                let way = apart[from][over].saturating_add(apart[over][to]);
                apart[from][to] = apart[from][to].min(way);
            }
        }
    }
    apart
}
