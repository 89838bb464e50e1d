//! A bike as it stands now, and the plan from here: what every page of it is made from.
//!
//! The plan is made anew from the state after each answer, never patched. The same entries and the same warmth of the
//! engine give the same plan, so a surface may keep a [`Look`] until one of the two changes.

use crate::card_id;
use crate::changes_view::{self, ChangesView};
use crate::corrected::{self, NotCorrected};
use crate::evening::{Evening, plan_after, plan_settled};
use crate::plan_view::NoPlanView;
use crate::refused::Refused;
use crate::request::{Request, Settled, Standing};
use crate::surprise;
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_machine::model::{Heat, Machine};
use refettle_machine::trouble::{Trouble, Wanted, lay_each};
use refettle_memory::entry::{Entry, SheetCorrected};
use refettle_memory::state::{BikeNow, FoldError, book, fold, standing_entries};
use refettle_memory::{Memory, MemoryError, Stored};
use refettle_plan::ask::{Act, Goal};
use refettle_plan::changes::changes;
use refettle_plan::first::may_come_first;

/// Why a bike cannot be looked at.
#[derive(Debug, thiserror::Error)]
pub enum LookError {
    /// What the garage's file says.
    #[error(transparent)]
    Memory(#[from] MemoryError),
    /// The entries make no state.
    #[error(transparent)]
    Fold(#[from] FoldError),
    /// The bike's own sheet does not read.
    #[error("this bike's machine sheet cannot be read: {0}")]
    Sheet(String),
    /// Something shipped with the program is not as it should be: our fault.
    #[error("the demo bike cannot be made, which is a fault of this program: {0}; report this")]
    Shipped(String),
}

/// Why an entry would not do on this bike.
#[derive(Debug, thiserror::Error)]
pub enum NotTakenUp {
    /// It names what the sheet has not.
    #[error(transparent)]
    Fold(#[from] FoldError),
    /// It corrects the sheet to what is none.
    #[error(transparent)]
    Corrected(#[from] NotCorrected),
    /// What the garage's file says.
    #[error(transparent)]
    Memory(#[from] MemoryError),
}

/// Something done, on record.
#[derive(Debug, Clone, PartialEq)]
pub struct Done {
    /// Its entry.
    pub entry: EntryId,
    /// When.
    pub at: Timestamp,
    /// What, as a plan says it.
    pub act: Act,
    /// Done another way than it should be.
    pub shortcut: bool,
}

/// A bike now.
#[derive(Debug, Clone)]
pub struct Look {
    /// Which.
    pub bike: BikeId,
    /// Its machine, with the bike's corrections of its sheet.
    pub machine: Machine,
    /// Those corrections, in order.
    pub corrections: Vec<SheetCorrected>,
    /// Corrections that do not fit the sheet, each with why: the layout's value stands.
    pub not_corrected: Vec<String>,
    /// How its entries leave it.
    pub now: BikeNow,
    /// The moment this was looked at.
    pub at: Timestamp,
    /// The engine's warmth at that moment.
    pub heat: Heat,
    /// All entries.
    pub entries: Vec<Stored>,
    /// What was done on record and not taken back, in order.
    pub done: Vec<Done>,
    /// The plan from here, or why there is none.
    pub plan: Result<Evening, NoPlanView>,
    /// By action of the plan: whether it may be done now, ahead of those before it.
    pub may_come_first: Vec<bool>,
    /// What the surprises met change, against the plan as it would be without them. The rest keeps the order it had.
    pub changed: Option<ChangesView>,
    /// What was chosen against surprises and lies over the machine.
    pub laid: Vec<(Trouble, Wanted)>,
}

/// A bike read but not planned.
#[derive(Debug, Clone)]
pub struct Read {
    bike: BikeId,
    machine: Machine,
    corrections: Vec<SheetCorrected>,
    not_corrected: Vec<String>,
    now: BikeNow,
    at: Timestamp,
    entries: Vec<Stored>,
    laid: Vec<(Trouble, Wanted)>,
}

impl Read {
    /// Reads a bike as it stands at this moment. An earlier look at it spares reading its sheet again.
    ///
    /// # Errors
    /// [`LookError`] when its entries or its sheet cannot be read.
    pub fn of(
        memory: &Memory,
        bike: &BikeId,
        at: Timestamp,
        before: Option<&Look>,
    ) -> Result<Read, LookError> {
        let entries = memory.entries(bike)?;
        let Some(Entry::BikeBroughtIn(first)) = entries.first().map(|stored| &stored.entry) else {
            return Err(FoldError::NoBeginning.into());
        };
        let book = book(&entries);
        let corrections = corrected::standing(&entries);
        let before = before.filter(|look| look.now.sheet == first.sheet && look.corrections == corrections);
        let as_before = before
            .filter(|look| surprise::chosen(&look.machine, &entries, &book) == look.laid)
            .map(|look| {
                (
                    look.machine.clone(),
                    look.laid.clone(),
                    look.not_corrected.clone(),
                )
            });
        let (machine, laid, not_corrected) = match as_before {
            Some(all) => all,
            None => {
                let text = memory.sheet(&first.sheet)?;
                let of_bike =
                    corrected::of_bike(&text, &corrections).map_err(|e| LookError::Sheet(e.to_string()))?;
                let laid = surprise::chosen(&of_bike.machine, &entries, &book);
                let machine =
                    lay_each(&of_bike.machine, &laid).map_err(|e| LookError::Sheet(e.join("; ")))?;
                (machine, laid, of_bike.left_out)
            }
        };
        let now = fold(&machine, &entries)?;
        Ok(Read {
            bike: bike.clone(),
            machine,
            corrections,
            not_corrected,
            now,
            at,
            entries,
            laid,
        })
    }

    /// Whether a look made earlier still holds: no entry since, and the engine as warm as it was.
    #[must_use]
    pub fn same_as(&self, look: &Look) -> bool {
        self.now.last == look.now.last && self.heat() == look.heat && self.bike == look.bike
    }

    /// Which bike.
    #[must_use]
    pub fn bike(&self) -> &BikeId {
        &self.bike
    }

    /// All its entries.
    #[must_use]
    pub fn entries(&self) -> &[Stored] {
        &self.entries
    }

    /// Its machine.
    #[must_use]
    pub fn machine(&self) -> &Machine {
        &self.machine
    }

    /// How its entries leave it.
    #[must_use]
    pub fn now(&self) -> &BikeNow {
        &self.now
    }

    /// Whether this bike's entries still make a state with one more: an entry that names what the sheet has not would
    /// leave the bike unreadable, and a correction must leave a sound sheet.
    ///
    /// # Errors
    /// [`NotTakenUp`] naming what the sheet has not, or what a correction would do to it.
    pub fn takes(&self, memory: &Memory, entry: &Entry) -> Result<(), NotTakenUp> {
        let Some(last) = self.entries.last() else {
            return Err(FoldError::NoBeginning.into());
        };
        let mut entries = self.entries.clone();
        entries.push(Stored {
            seq: last.seq + 1,
            tap: None,
            entry: entry.clone(),
            ..last.clone()
        });
        if !matches!(entry, Entry::SheetCorrected(_)) {
            return Ok(fold(&self.machine, &entries).map(|_| ())?);
        }
        let text = memory.sheet(&self.now.sheet)?;
        let of_bike = corrected::of_bike(&text, &corrected::standing(&entries))?;
        // One that did not fit before does not hinder another.
        let mut new = of_bike.left_out.into_iter();
        match new.find(|told| !self.not_corrected.contains(told)) {
            Some(told) => Err(NotCorrected(vec![told]).into()),
            None => Ok(fold(&of_bike.machine, &entries).map(|_| ())?),
        }
    }

    fn heat(&self) -> Heat {
        self.now.at(&self.machine, self.at).heat
    }

    /// Plans from here.
    #[must_use]
    pub fn plan(self) -> Look {
        let settled = self.settled();
        let heat = settled.state.heat;
        let (plan, changed) = planned(settled);
        let may_come_first = plan.as_ref().map_or_else(
            |_| Vec::new(),
            |evening| may_come_first(&evening.settled.ask(), &evening.found),
        );
        let done = done(&self.machine, &self.entries);
        Look {
            bike: self.bike,
            machine: self.machine,
            corrections: self.corrections,
            not_corrected: self.not_corrected,
            now: self.now,
            at: self.at,
            heat,
            entries: self.entries,
            done,
            plan,
            may_come_first,
            changed,
            laid: self.laid,
        }
    }

    /// What a judgement about this bike is asked with: how it stands now, and the jobs it is in for.
    #[must_use]
    pub fn request(&self) -> Request {
        let settled = self.settled();
        let name =
            |j: &refettle_machine::ix::JobIx| settled.machine.jobs.get(j.0).map(|job| job.name.clone());
        Request {
            jobs: settled.jobs.iter().filter_map(name).collect(),
            standing: Some(Box::new(Standing {
                machine: settled.machine.clone(),
                state: settled.state.clone(),
                garage: settled.garage.clone(),
            })),
            ..Request::default()
        }
    }

    /// What is asked of the planner: everything wanted, from how it stands now.
    pub(crate) fn settled(&self) -> Settled {
        let mut state = self.now.at(&self.machine, self.at);
        // What an open shortcut puts in doubt is to be proven again: its closing test comes into the plan.
        state
            .facts
            .extend(self.now.doubted().into_iter().map(|fact| (fact, false)));
        let mut jobs: Vec<_> = self
            .now
            .jobs
            .iter()
            .copied()
            .filter(|j| {
                let job = self.machine.jobs.get(j.0);
                job.is_some_and(|job| state.holds(&self.machine, job.when.as_ref()))
            })
            .collect();
        jobs.sort_unstable();
        jobs.dedup();
        Settled {
            machine: self.machine.clone(),
            state,
            garage: self.now.garage.clone(),
            jobs,
            goal: Goal::Ready,
            doubts: Vec::new(),
        }
    }
}

/// The plan from here, and what the surprises met change in it.
fn planned(settled: Settled) -> (Result<Evening, NoPlanView>, Option<ChangesView>) {
    let told = |refused| match refused {
        Refused::NoPlan(view) => *view,
        Refused::Wrong(lines) => NoPlanView {
            format: "refettle-no-plan/1",
            causes: lines,
            would_help: Vec::new(),
            certain: true,
        },
    };
    if settled.machine.troubles.list.is_empty() {
        return (plan_settled(settled).map_err(told), None);
    }
    // Everything has the same place on the machine nothing is asked of, so that its plan can be kept to.
    let calm = Settled {
        machine: surprise::without_wants(&settled.machine, None),
        ..settled.clone()
    };
    let Ok(before) = plan_settled(calm) else {
        return (plan_settled(settled).map_err(told), None);
    };
    let left = &before.found.actions;
    let acts: Vec<Act> = left.iter().map(|action| action.act).collect();
    match plan_after(settled, &acts) {
        Ok(evening) => {
            let what = changes(&evening.settled.ask(), left, &evening.found);
            let view = changes_view::view(&evening.settled.machine, &evening.found, &what, false);
            let news = !what.added.is_empty() || !what.dropped.is_empty();
            (Ok(evening), news.then_some(view))
        }
        Err(refused) => (Err(told(refused)), None),
    }
}

/// What was done on record. What was taken back was not done.
fn done(machine: &Machine, entries: &[Stored]) -> Vec<Done> {
    standing_entries(entries)
        .filter_map(|stored| match &stored.entry {
            Entry::ActionAnswered(body) if body.answer.is_done() => Some(Done {
                entry: stored.id.clone(),
                at: stored.at,
                act: card_id::act(machine, &body.action)?,
                shortcut: body.answer != refettle_memory::entry::Answer::Done,
            }),
            _ => None,
        })
        .collect()
}
