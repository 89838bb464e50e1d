//! What is left costs at least this much.
//!
//! From a state, work out what no plan can do without (landmarks: Hoffmann, Porteous and Sebastia 2004, cited from
//! memory): a wanted atom that is untrue and that only one group of operators makes true calls for one operator of
//! that group; whatever all of the group need, delete or forbid calls for more. Each group is charged once, at its
//! cheapest, and once more where the order of things forces it to be done twice ([`orders`]). An atom that several groups
//! can make is charged the cheapest of them, less what was charged for the same group before. On top comes the shortest
//! walk over stances that meets every stance the charged groups want, a warm-up that none of the charged runs can be,
//! and one call for the second person. No execution is charged twice ([`choice`] prices what two ways in add), so the sum
//! never exceeds the true cost.

mod along;
mod choice;
mod groups;
mod orders;
mod walk;

use crate::bits::Bits;
use crate::ground::{Cost, Ground, State};
use choice::Choices;
pub(crate) use groups::{Group, Groups, Makers};
use orders::Orders;
use std::sync::Arc;
use walk::Walks;

/// The bound, with its working memory.
pub(crate) struct Bound<const W: usize> {
    ground: Arc<Ground<W>>,
    pub(crate) groups: Groups<W>,
    walks: Walks,
    choices: Choices,
    orders: Orders,
    stamp: u32,
    charged: Vec<u32>,
    shared: Vec<u32>,
    /// Of the groups shared: what of their cost is not charged yet.
    left: Vec<u32>,
    pending: Vec<usize>,
    /// Every group charged for the last state asked about.
    taken: Vec<usize>,
    several: Vec<(bool, usize)>,
    /// Of the last state asked about: whether a warm-up was asked for, the seconds of stance changes charged, and the
    /// sets of stances the charged groups want.
    warmed: bool,
    /// Groups that may have to be executed again so that a run counted before leaves the engine warm.
    for_warmth: Vec<usize>,
    walked: u32,
    stances: u32,
}

impl<const W: usize> Bound<W> {
    pub(crate) fn new(ground: &Arc<Ground<W>>) -> Self {
        let groups = Groups::new(ground);
        let n = groups.groups.len();
        let choices = Choices::new(ground, &groups);
        let orders = Orders::new(ground, &groups);
        let walks = Walks::new(
            &ground.task,
            &groups.groups.iter().map(|g| g.stances).collect::<Vec<_>>(),
        );
        Bound {
            ground: Arc::clone(ground),
            groups,
            walks,
            choices,
            orders,
            stamp: 0,
            charged: vec![0; n],
            shared: vec![0; n],
            left: vec![0; n],
            pending: Vec::new(),
            taken: Vec::new(),
            several: Vec::new(),
            warmed: false,
            for_warmth: Vec::new(),
            walked: 0,
            stances: 0,
        }
    }

    /// Whether the last state asked about cannot do without this group.
    pub(crate) fn is_landmark(&self, group: usize) -> bool {
        self.charged[group] == self.stamp
    }

    /// Whether the last bound leaves out of account that this group might be executed: an execution comes on top.
    pub(crate) fn leaves_out(&self, group: usize) -> bool {
        let counted = self.charged[group] == self.stamp
            || self.shared[group] == self.stamp
            || self.choices.has_priced(group, self.stamp)
            || self.for_warmth.contains(&group)
            || (self.warmed && self.groups.groups[group].heats.is_some());
        !counted
    }

    /// Whether the last bound counts one execution of this group, so that a second one comes on top.
    pub(crate) fn counts_once(&self, group: usize) -> bool {
        let perhaps_again = self.orders.twice.contains(&group)
            || self.for_warmth.contains(&group)
            || (self.warmed && self.groups.groups[group].heats.is_some());
        self.is_landmark(group) && !perhaps_again
    }

    /// What the stance changes cost beyond those charged when the bike is brought elsewhere, and work of this group is
    /// still to come.
    pub(crate) fn walk_away_before(&mut self, stance: u8, group: usize) -> u32 {
        let wanted = self.walks.not_met_in(stance, self.stances) | self.walks.mask_of(group);
        let from = usize::from(stance);
        let around = self.walks.neighbours(from);
        let least = around
            .into_iter()
            .filter_map(|(to, seconds)| self.walks.shortest(to, wanted).map(|rest| seconds + rest))
            .min();
        least.map_or(u32::MAX, |walk| walk.saturating_sub(self.walked))
    }

    /// Least cost from here to the goal; `None` when there is no way at all.
    pub(crate) fn least(&mut self, s: &State<W>) -> Option<Cost> {
        self.stamp += 1;
        self.pending.clear();
        self.taken.clear();
        self.several.clear();
        let mut seen = (Bits::<W>::EMPTY, Bits::<W>::EMPTY);
        let mut cost = Cost::default();
        let mut wants = Wants::default();
        let truths = self.ground.goal_true.minus(&s.bits);
        let untruths = self.ground.goal_false.and(&s.bits);
        self.call_for(&truths, &untruths, &mut seen, &s.bits)?;
        loop {
            while let Some(at) = self.pending.pop() {
                self.taken.push(at);
                let g = &self.groups.groups[at];
                cost.hands_on += g.seconds;
                if let Some((undone, extra)) = g.allowance
                    && !s.bits.has(undone)
                {
                    cost.hands_on += extra;
                }
                wants.note(g, at, self.walks.mask_of(at));
                // Needed now, or true now but lost by this group and wanted at the end.
                let truths = g.needs.minus(&s.bits).or(&g.deletes.and(&self.ground.goal_true));
                let untruths = g.forbids.and(&s.bits).or(&g.adds.and(&self.ground.goal_false));
                self.call_for(&truths, &untruths, &mut seen, &s.bits)?;
            }
            // Any run that warms the engine needs at least this.
            if wants
                .warmth
                .is_some_and(|need| !need.allows(self.ground.heat_code.level(s.heat)))
                && !wants.warmed
            {
                wants.warmed = true;
                let truths = self.groups.warming_needs.minus(&s.bits);
                self.call_for(&truths, &Bits::EMPTY, &mut seen, &s.bits)?;
                continue;
            }
            let (stamp, charged) = (self.stamp, &mut self.charged);
            self.orders
                .follow(&s.bits, s.stance, &self.taken, &|g| charged[g] == stamp)?;
            for group in self.orders.once.iter().copied() {
                if charged[group] != stamp {
                    charged[group] = stamp;
                    self.pending.push(group);
                }
            }
            if self.pending.is_empty() {
                break;
            }
        }
        let again = |g: &usize| self.groups.groups[*g].seconds;
        cost.hands_on += self.orders.twice.iter().map(again).sum::<u32>();
        cost.hands_on += self.cheapest_of_several(s);
        let (stamp, charged, shared) = (self.stamp, &self.charged, &self.shared);
        cost.hands_on += self
            .choices
            .beyond(&self.groups, s, stamp, &|g| charged[g] == stamp, &|g| {
                shared[g] == stamp
            });
        cost.hands_on += self.warm_up(&wants)?;
        let around = self.walks.shortest(s.stance, wants.stances)?;
        self.walked = around.max(self.orders.walk);
        self.stances = wants.stances;
        self.warmed = wants.warmed;
        cost.hands_on += self.walked;
        if wants.second_person && !s.helper {
            cost.hands_on += self.ground.task.call_out;
        }
        if wants.cold && s.heat > 0 {
            cost.idle += self
                .ground
                .heat_code
                .idle(s.heat.min(1), refettle_machine::model::Heat::Cold);
        }
        Some(cost)
    }

    fn call_for(
        &mut self,
        truths: &Bits<W>,
        untruths: &Bits<W>,
        seen: &mut (Bits<W>, Bits<W>),
        now: &Bits<W>,
    ) -> Option<()> {
        // What all of several makers need has to come about as well.
        let mut more = (Bits::<W>::EMPTY, Bits::<W>::EMPTY);
        for (wanted, set, seen) in [
            (true, truths.minus(&seen.0), &mut seen.0),
            (false, untruths.minus(&seen.1), &mut seen.1),
        ] {
            *seen = seen.or(&set);
            for a in set.iter() {
                match self.groups.makers(wanted, a) {
                    Makers::Nobody => return None,
                    Makers::One(group) => {
                        let group = *group;
                        if self.charged[group] != self.stamp {
                            self.charged[group] = self.stamp;
                            self.pending.push(group);
                        }
                    }
                    Makers::Several(_) => {
                        self.several.push((wanted, a));
                        let common = self.groups.common(wanted, a);
                        more.0 = more.0.or(&common.0);
                        more.1 = more.1.or(&common.1);
                    }
                }
            }
        }
        let (truths, untruths) = (more.0.minus(now), more.1.and(now));
        if truths.within(&seen.0) && untruths.within(&seen.1) {
            return Some(());
        }
        self.call_for(&truths, &untruths, seen, now)
    }

    /// Atoms that several groups can make: the cheapest of them is charged, less what was charged for the same group
    /// before. (Uniform costs shared out among landmarks: Karpas and Domshlak 2009, cited from memory.)
    fn cheapest_of_several(&mut self, s: &State<W>) -> u32 {
        let mut sum = 0;
        for (wanted, a) in std::mem::take(&mut self.several) {
            let Makers::Several(list) = self.groups.makers(wanted, a) else {
                continue;
            };
            if list.iter().any(|g| self.charged[*g] == self.stamp) {
                continue;
            }
            for g in list {
                if self.shared[*g] != self.stamp {
                    self.shared[*g] = self.stamp;
                    let group = &self.groups.groups[*g];
                    let extra = group.allowance.filter(|(undone, _)| !s.bits.has(*undone));
                    self.left[*g] = group.seconds + extra.map_or(0, |(_, e)| e);
                }
            }
            let least = list.iter().map(|g| self.left[*g]).min().unwrap_or(0);
            list.iter().for_each(|g| self.left[*g] -= least);
            sum += least;
        }
        sum
    }

    /// When something wants warmth: a run beyond those charged, or what it costs more to have a charged run before it.
    fn warm_up(&mut self, wants: &Wants) -> Option<u32> {
        self.for_warmth.clear();
        let (Some(wanting), true) = (wants.wanting, wants.warmed) else {
            return Some(0);
        };
        let need = wants.warmth?;
        let all = &self.groups.groups;
        let warms = |g: &usize| all[*g].heats.is_some_and(|h| need.allows(h));
        // The second execution of a run that has to come twice is charged already, and may be the one that warms.
        if self.orders.twice.iter().any(warms) {
            return Some(0);
        }
        let mut least = (0..all.len()).filter(warms).map(|g| all[g].seconds).min()?;
        for run in (0..all.len()).filter(warms) {
            let charged = self.charged[run] == self.stamp;
            let counted = charged || self.shared[run] == self.stamp;
            if !counted || self.groups.only_after(run, wanting) {
                continue;
            }
            let beyond = if charged {
                self.orders.twice_if_warmed_by(run, wanting)
            } else {
                &[]
            };
            self.for_warmth.extend_from_slice(beyond);
            least = least.min(beyond.iter().map(|g| all[*g].seconds).sum());
        }
        Some(least)
    }
}

#[derive(Default)]
struct Wants {
    stances: u32,
    warmth: Option<refettle_machine::model::HeatNeed>,
    wanting: Option<usize>,
    warmed: bool,
    cold: bool,
    second_person: bool,
}

impl Wants {
    fn note<const W: usize>(&mut self, g: &Group<W>, at: usize, mask: u32) {
        use refettle_machine::model::HeatNeed;
        self.stances |= mask;
        self.second_person |= g.two_people;
        match g.heat {
            HeatNeed::Warm | HeatNeed::Hot if self.wanting.is_none_or(|w| at < w) => {
                self.warmth = Some(g.heat);
                self.wanting = Some(at);
            }
            HeatNeed::Cold => self.cold = true,
            _ => {}
        }
    }
}
