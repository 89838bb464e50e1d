//! What a machine sheet says, once read and found sound.
//!
//! `docs/machine-sheet.md` documents every key; this is the same in types. Words that carry meaning for the
//! planner:
//!
//! - a part is **fitted** when its own fixings hold it to what it is mounted on, and **on the bike** when it is
//!   fitted and what it is mounted on is on the bike too; everything is mounted on the frame in the end;
//! - a part mounted on another **rides** with it: taking the fork off with the mudguard still on takes both;
//! - a **way in** says what must not be on the bike while the part is taken off or put back;
//! - after every action each part that is off still has a way in that is clear, else it could never go back.

use crate::ix::{CircuitIx, CriticalIx, FactIx, ItemIx, PartIx, QuestionIx, StanceIx, ToolIx};
use refettle_facts::ids::{
    CircuitId, FactId, FixingId, ItemId, JobId, PartId, QuestionId, StanceId, StepId, ToolId,
};
use refettle_facts::small_part::SmallPart;
use refettle_facts::sourced::Sourced;
use refettle_facts::time::Seconds;

/// A whole machine sheet. Indices ([`crate::ix`]) are places in these tables.
#[derive(Debug, Clone, PartialEq)]
pub struct Machine {
    /// Name used on the command line, such as `small-faired-twin`.
    pub name: String,
    /// Title shown.
    pub title: String,
    /// What kind of machine this describes, and how far to trust it.
    pub about: String,
    /// Ways of holding the bike.
    pub stances: Vec<Stance>,
    /// Everything that can come off.
    pub parts: Vec<Part>,
    /// Fixings whose looseness hurts people.
    pub criticals: Vec<Critical>,
    /// Fluid circuits.
    pub circuits: Vec<Circuit>,
    /// What is true of the machine or not.
    pub facts: Vec<Fact>,
    /// Pieces of work, shared by jobs.
    pub steps: Vec<Step>,
    /// What a person asks for.
    pub jobs: Vec<Job>,
    /// "Needed on some models only".
    pub questions: Vec<Question>,
    /// What work consumes.
    pub items: Vec<Item>,
    /// Tools named by ways, steps and fixings.
    pub tools: Vec<Tool>,
    /// What must never happen beside what.
    pub exclusions: Vec<Exclusion>,
    /// Standing facts that loosening any critical fixing voids: a second look at the fixings.
    pub rechecks: Vec<FactIx>,
    /// When the engine may run.
    pub engine: EngineGuard,
    /// How long warmth lasts.
    pub heat: HeatTimes,
    /// What is loud, and which circuits may stay open overnight.
    pub tonight: crate::tonight::TonightRules,
    /// What is looked at before it is ordered.
    pub looks: Vec<crate::look::Look>,
    /// What went wrong on this bike, and what was chosen against it. None on a sheet.
    pub troubles: crate::trouble::Troubles,
}

/// "Only when this question is answered so" (or, negated, with any other answer).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Condition {
    /// Which question.
    pub question: QuestionIx,
    /// Place of the answer in [`Question::answers`].
    pub answer: usize,
    /// Holds for every *other* answer.
    pub negated: bool,
}

/// A part named by a requirement, perhaps only on some models.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartNeed {
    /// Which part.
    pub part: PartIx,
    /// Only then; always when `None`.
    pub when: Option<Condition>,
}

/// How the bike is held.
#[derive(Debug, Clone, PartialEq)]
pub struct Stance {
    /// Permanent id.
    pub id: StanceId,
    /// Name inside the sheet.
    pub name: String,
    /// Shown.
    pub title: String,
    /// Hands-on time to bring the bike into it.
    pub enter: Seconds,
    /// Hands-on time to take the bike out of it.
    pub leave: Seconds,
    /// People needed to enter or leave it.
    pub people: u8,
    /// Stances it can be entered from; any when empty.
    pub from: Vec<StanceIx>,
    /// Parts that must be on the bike in it (and while entering and leaving).
    pub needs_on: Vec<PartIx>,
    /// Parts that must not be on the bike in it.
    pub needs_off: Vec<PartIx>,
    /// The bike may be left like this at the end of a plan.
    pub rest: bool,
    /// The bike stands on its wheels and can be rolled away.
    pub rolls: bool,
    /// Most garages have it; others must say so.
    pub usual: bool,
    /// Tools or stands it takes.
    pub tools: Vec<ToolIx>,
    /// Names of cautions in [`refettle_facts::caution`].
    pub cautions: Vec<String>,
}

/// Heat levels, coldest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Heat {
    /// Under 35 °C throughout: stood overnight.
    Cold,
    /// Can be touched and opened.
    Cool,
    /// Oil runs freely; idled some minutes.
    Warm,
    /// Straight after a run to working temperature.
    Hot,
}

/// What an action wants of the engine's heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum HeatNeed {
    /// Any heat.
    #[default]
    Any,
    /// Stone cold only.
    Cold,
    /// Cold or cool: may be touched.
    Cool,
    /// Warm or hot, when the action starts.
    Warm,
    /// Hot, when the action starts.
    Hot,
}

impl HeatNeed {
    /// Whether this level will do.
    #[must_use]
    pub fn allows(self, heat: Heat) -> bool {
        match self {
            HeatNeed::Any => true,
            HeatNeed::Cold => heat == Heat::Cold,
            HeatNeed::Cool => heat <= Heat::Cool,
            HeatNeed::Warm => heat >= Heat::Warm,
            HeatNeed::Hot => heat == Heat::Hot,
        }
    }
}

/// How long warmth lasts under work, and how long cooling takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HeatTimes {
    /// Whole minutes of work that a hot engine stays hot.
    pub hot_minutes: u32,
    /// Whole minutes of work that a warm engine stays warm.
    pub warm_minutes: u32,
    /// Wait from hot to warm.
    pub hot_to_warm: Seconds,
    /// Wait from warm to cool.
    pub warm_to_cool: Seconds,
    /// Wait from cool to stone cold.
    pub cool_to_cold: Seconds,
}

/// Something that can come off.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Permanent id.
    pub id: PartId,
    /// Name inside the sheet.
    pub name: String,
    /// Shown.
    pub title: String,
    /// Where on the machine; see [`REGIONS`].
    pub region: String,
    /// The part that carries it; the frame when `None`.
    pub mounted_on: Option<PartIx>,
    /// Exists on some models only.
    pub when: Option<Condition>,
    /// Stances in which it must not be off the bike.
    pub not_off_in: Vec<StanceIx>,
    /// Circuits that are open, and empty, once it is unfitted.
    pub opens: Vec<CircuitIx>,
    /// Facts that stop being true when it is taken off.
    pub voids: Vec<FactIx>,
    /// Must be on for the bike to stand and roll.
    pub rolling: bool,
    /// Ordinary fixings.
    pub fixings: Vec<Fixing>,
    /// Used up at each refit.
    pub single_use: Vec<Use>,
    /// What to note when it comes off (fork height, hose run, spline mark …).
    pub settings: Vec<String>,
    /// Names of cautions.
    pub cautions: Vec<String>,
    /// Advice in one sentence.
    pub note: Option<String>,
    /// Allowance for seized fixings at the first removal.
    pub seizing: Option<Seizing>,
    /// At least one.
    pub ways: Vec<Way>,
}

/// Regions of a machine, front to rear, used by pictures and bags.
pub const REGIONS: [&str; 9] = [
    "front-wheel",
    "fork",
    "bars",
    "nose",
    "tank",
    "engine",
    "belly",
    "seat",
    "rear",
];

/// How likely the fixings of a part are seized at the first removal, and what that costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seizing {
    /// Chance on an ordinary neglected bike.
    pub chance: f64,
    /// Chance on a corroded one.
    pub chance_corroded: f64,
    /// Extra time when it happens.
    pub extra: Seconds,
}

impl Seizing {
    /// Expected extra time, rounded to a whole second.
    #[must_use]
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "chance is in 0..=1, extra below 2^32"
    )]
    pub fn expected(&self, corroded: bool) -> Seconds {
        let chance = if corroded {
            self.chance_corroded
        } else {
            self.chance
        };
        Seconds((chance * f64::from(self.extra.0)).round() as u32)
    }
}

/// One way to reach and undo a part. Several ways are an *or*.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// Shown when there are several: "from below", "tank propped".
    pub title: Option<String>,
    /// Only on some models.
    pub when: Option<Condition>,
    /// Must not be on the bike, for taking off and for putting back.
    pub off: Vec<PartNeed>,
    /// Stances it works in; any when empty. Of no account while what carries the part is itself off the bike.
    pub stances: Vec<StanceIx>,
    /// Heat for taking off; putting back is never held up by heat.
    pub heat: HeatNeed,
    /// Circuits that must be drained before taking off.
    pub drained: Vec<CircuitIx>,
    /// Facts wanted before taking off ("studs soaked").
    pub needs: Vec<FactIx>,
    /// Hands-on time to take it off.
    pub take_off: Seconds,
    /// Hands-on time to put it back.
    pub put_on: Seconds,
    /// People, for both.
    pub people: u8,
    /// Tools, for both.
    pub tools: Vec<ToolIx>,
}

/// Ordinary fixings of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixing {
    /// How many.
    pub count: u8,
    /// Thread or other fastening: `M6x1.0`, `push rivet`, `clip`.
    pub kind: String,
    /// Length with unit, as the person would write it on a bag; unknown when `None`.
    pub length: Option<String>,
    /// Drive: `hex`, `socket hex`, `cross`, `fingers`.
    pub drive: Option<String>,
    /// Across flats or driver size, with unit.
    pub across_flats: Option<String>,
    /// Tightening torque as a range or figure with unit, and where it is from.
    pub torque: Option<Sourced<String>>,
    /// Locking: `split pin`, `thread lock medium`, `tab washer` …
    pub locking: Option<String>,
    /// Place, when a part has several groups.
    pub place: Option<String>,
}

/// A fixing whose looseness hurts people: off, loose or tight, never assumed.
#[derive(Debug, Clone, PartialEq)]
pub struct Critical {
    /// Permanent id.
    pub id: FixingId,
    /// Name inside the sheet.
    pub name: String,
    /// Shown.
    pub title: String,
    /// The part it holds. Off exactly when this part is unfitted; must be loose to take the part off.
    pub part: PartIx,
    /// The fastening itself.
    pub fixing: Fixing,
    /// Slackening.
    pub loosen: Turn,
    /// Final tightening.
    pub tighten: Turn,
    /// Names of cautions.
    pub cautions: Vec<String>,
    /// Used up each time it is tightened (a split pin).
    pub single_use: Vec<Use>,
}

/// Slackening or tightening of a critical fixing. Its part must be on the bike.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// Hands-on time.
    pub time: Seconds,
    /// Stances it can be done in; any when empty.
    pub stances: Vec<StanceIx>,
    /// Parts that must be on the bike.
    pub on: Vec<PartNeed>,
    /// Parts that must not be on the bike.
    pub off: Vec<PartNeed>,
    /// Other critical fixings that must be tight, what they hold on the bike.
    pub tight: Vec<CriticalIx>,
    /// Other critical fixings that must be loose, what they hold on the bike.
    pub loose: Vec<CriticalIx>,
    /// People.
    pub people: u8,
    /// Tools.
    pub tools: Vec<ToolIx>,
}

/// A fluid circuit.
#[derive(Debug, Clone, PartialEq)]
pub struct Circuit {
    /// Permanent id.
    pub id: CircuitId,
    /// Name inside the sheet.
    pub name: String,
    /// Shown.
    pub title: String,
    /// What it holds.
    pub fluid: String,
    /// How much, with unit and source.
    pub quantity: Option<Sourced<String>>,
    /// Facts that draining or opening it makes untrue, and that a finished bike must have again.
    pub proofs: Vec<FactIx>,
}

/// How full a circuit is. "Open" is not here: it is open while a part that opens it is unfitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// As it should be.
    Full,
    /// Something is missing; must be topped up.
    Low,
    /// Empty.
    Drained,
}

/// Something that is true of the machine or not.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// Permanent id.
    pub id: FactId,
    /// Name inside the sheet, such as `sump.seen-dry`.
    pub name: String,
    /// Shown.
    pub title: String,
    /// True of a whole bike until something voids it, and wanted again before the bike is ready.
    pub standing: bool,
}

/// A piece of work.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Permanent id.
    pub id: StepId,
    /// Name inside the sheet.
    pub name: String,
    /// Shown.
    pub title: String,
    /// Advice in one or two sentences.
    pub note: Option<String>,
    /// Only on some models.
    pub when: Option<Condition>,
    /// Only for an engine that runs, or only for one that does not.
    pub engine_must: EngineMust,
    /// Must not be on the bike.
    pub off: Vec<PartNeed>,
    /// Must be on the bike.
    pub on: Vec<PartNeed>,
    /// Critical fixings that must be tight, what they hold on the bike.
    pub tight: Vec<CriticalIx>,
    /// Critical fixings that must be loose, what they hold on the bike.
    pub loose: Vec<CriticalIx>,
    /// Stances it can be done in; any when empty. Not looked at for bench work.
    pub stances: Vec<StanceIx>,
    /// Done at the bench, whatever the stance.
    pub bench: bool,
    /// Heat wanted at the start.
    pub heat: HeatNeed,
    /// What it costs more without that warmth, when the engine does not run; `None`: it cannot be done then.
    pub cold_extra: Option<Seconds>,
    /// The engine runs: [`EngineGuard`] applies.
    pub runs_engine: bool,
    /// Heat the engine is left with.
    pub leaves: Option<Heat>,
    /// Circuits that must be full.
    pub full: Vec<CircuitIx>,
    /// Circuits that must be drained.
    pub drained: Vec<CircuitIx>,
    /// Circuits it drains (must not be drained already).
    pub drains: Vec<CircuitIx>,
    /// Circuits it fills: they must not be full, nor open.
    pub fills: Vec<CircuitIx>,
    /// Facts it needs.
    pub needs: Vec<FactIx>,
    /// Facts it makes, once its wait is over.
    pub makes: Vec<FactIx>,
    /// Facts it voids.
    pub voids: Vec<FactIx>,
    /// Hands-on time.
    pub hands_on: Seconds,
    /// Waiting afterwards, before what it makes is true.
    pub wait: Seconds,
    /// What must not be done during the wait.
    pub meanwhile_not: Vec<Beside>,
    /// What it does to the room.
    pub does: Vec<Hazard>,
    /// People.
    pub people: u8,
    /// Tools.
    pub tools: Vec<ToolIx>,
    /// What it uses up.
    pub consumes: Vec<Use>,
    /// What it measures.
    pub measures: Vec<Measure>,
    /// Names of cautions.
    pub cautions: Vec<String>,
}

/// Which engines a step is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum EngineMust {
    /// Any.
    #[default]
    Any,
    /// Only when the engine can be run.
    Run,
    /// Only when it cannot.
    BeDead,
}

/// What an action does to the air and the things around it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hazard {
    /// Open flame.
    Flame,
    /// Hot air gun.
    HeatGun,
    /// Sparks (an arc, a bridged terminal).
    Sparks,
    /// Grinding.
    Grinding,
    /// Charging a battery.
    Charging,
    /// A running engine.
    Engine,
}

impl Hazard {
    /// All, with the word used on sheets.
    pub const ALL: [(&'static str, Hazard); 6] = [
        ("flame", Hazard::Flame),
        ("heat-gun", Hazard::HeatGun),
        ("sparks", Hazard::Sparks),
        ("grinding", Hazard::Grinding),
        ("charging", Hazard::Charging),
        ("engine", Hazard::Engine),
    ];

    /// The word used on sheets.
    #[must_use]
    pub fn word(self) -> &'static str {
        Hazard::ALL
            .iter()
            .find(|(_, h)| *h == self)
            .map_or("?", |(word, _)| word)
    }
}

/// What a wait may forbid beside itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Beside {
    /// A hazard.
    Hazard(Hazard),
    /// Changing the stance ("do not move the bike").
    Moving,
}

/// What must never happen beside what, also while something waits.
#[derive(Debug, Clone, PartialEq)]
pub struct Exclusion {
    /// Name inside the sheet.
    pub name: String,
    /// The rule in words.
    pub title: String,
    /// Forbidden …
    pub forbids: Vec<Hazard>,
    /// … while one of these parts is not on the bike,
    pub while_off: Vec<PartIx>,
    /// … or one of these circuits is open,
    pub while_open: Vec<CircuitIx>,
    /// … or one of these facts is true,
    pub while_true: Vec<FactIx>,
    /// … unless one of these facts is true ("tank outside").
    pub unless: Vec<FactIx>,
}

/// When the engine may run: one guard for the whole sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct EngineGuard {
    /// Parts that must be on the bike.
    pub on: Vec<PartNeed>,
    /// Critical fixings that must be tight, what they hold on the bike.
    pub tight: Vec<CriticalIx>,
    /// Circuits that must be full.
    pub full: Vec<CircuitIx>,
    /// Facts wanted before a bike that has stood is cranked. Taken as true when the engine is known to run.
    pub needs: Vec<FactIx>,
    /// How it gets its fuel: one of these.
    pub fuel: Vec<FuelWay>,
    /// Stances in which it may run; any when empty.
    pub stances: Vec<StanceIx>,
    /// Names of cautions.
    pub cautions: Vec<String>,
}

/// One way to feed a running engine.
#[derive(Debug, Clone, PartialEq)]
pub struct FuelWay {
    /// Name: `tank`, `bottle`.
    pub name: String,
    /// Parts that must be on the bike for it.
    pub on: Vec<PartNeed>,
    /// Time to rig it, each run.
    pub extra: Seconds,
    /// Tools it takes.
    pub tools: Vec<ToolIx>,
}

/// A job: the facts it wants.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// Permanent id.
    pub id: JobId,
    /// Name inside the sheet and on the command line.
    pub name: String,
    /// Shown.
    pub title: String,
    /// Why one would do it, in a sentence.
    pub note: Option<String>,
    /// Facts wanted.
    pub wants: Vec<FactIx>,
    /// Names of jobs that make no sense beside it.
    pub excludes: Vec<String>,
    /// Only on some models.
    pub when: Option<Condition>,
}

/// "Needed on some models only".
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Permanent id.
    pub id: QuestionId,
    /// Name inside the sheet.
    pub name: String,
    /// The question as asked.
    pub title: String,
    /// Possible answers.
    pub answers: Vec<String>,
    /// Place of the answer taken when nobody answered.
    pub default: usize,
}

/// What work consumes.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Permanent id.
    pub id: ItemId,
    /// Name inside the sheet.
    pub name: String,
    /// Shown.
    pub title: String,
    /// What it is.
    pub what: ItemKind,
    /// Unit in which it is counted.
    pub unit: ItemUnit,
}

/// What an item is.
#[derive(Debug, Clone, PartialEq)]
pub enum ItemKind {
    /// A small part of known dimensions.
    Known(Sourced<SmallPart>),
    /// A small part whose size this sheet does not know: candidates with chances that sum to at most one.
    Candidates(Vec<(SmallPart, f64)>),
    /// A fluid by specification.
    Fluid(String),
    /// A part bought for this machine by its frame number.
    ByFrameNumber,
    /// A workshop consumable (rag, grease, cleaner).
    Consumable,
}

/// Unit in which an item is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ItemUnit {
    /// Pieces.
    Piece,
    /// Millilitres.
    Millilitre,
    /// Millimetres of hose.
    Millimetre,
    /// Grams.
    Gram,
}

impl ItemUnit {
    /// The symbol shown after the number; empty for pieces.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            ItemUnit::Piece => "",
            ItemUnit::Millilitre => "ml",
            ItemUnit::Millimetre => "mm",
            ItemUnit::Gram => "g",
        }
    }
}

/// So many of an item.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Use {
    /// What.
    pub item: ItemIx,
    /// How many of its unit.
    pub n: u32,
}

/// What a step measures, and the limits it is held against.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// What is measured.
    pub what: String,
    /// Unit symbol.
    pub unit: String,
    /// Lowest that will do.
    pub least: Option<f64>,
    /// Highest that will do.
    pub most: Option<f64>,
    /// Where the limits are from.
    pub source: Sourced<()>,
}

/// A tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Tool {
    /// Permanent id.
    pub id: ToolId,
    /// Name inside the sheet.
    pub name: String,
    /// Shown.
    pub title: String,
    /// Not in most home garages: to make, borrow or buy.
    pub special: bool,
}

impl Machine {
    /// The part of this name or id.
    #[must_use]
    pub fn part(&self, name: &str) -> Option<PartIx> {
        self.parts
            .iter()
            .position(|p| p.name == name || p.id.as_str() == name)
            .map(PartIx)
    }

    /// The stance of this name or id.
    #[must_use]
    pub fn stance(&self, name: &str) -> Option<StanceIx> {
        self.stances
            .iter()
            .position(|s| s.name == name || s.id.as_str() == name)
            .map(StanceIx)
    }

    /// The fact of this name or id.
    #[must_use]
    pub fn fact(&self, name: &str) -> Option<FactIx> {
        self.facts
            .iter()
            .position(|f| f.name == name || f.id.as_str() == name)
            .map(FactIx)
    }

    /// The circuit of this name or id.
    #[must_use]
    pub fn circuit(&self, name: &str) -> Option<CircuitIx> {
        self.circuits
            .iter()
            .position(|c| c.name == name || c.id.as_str() == name)
            .map(CircuitIx)
    }

    /// The critical fixing of this name or id.
    #[must_use]
    pub fn critical(&self, name: &str) -> Option<CriticalIx> {
        self.criticals
            .iter()
            .position(|c| c.name == name || c.id.as_str() == name)
            .map(CriticalIx)
    }

    /// The job of this name or id.
    #[must_use]
    pub fn job(&self, name: &str) -> Option<crate::ix::JobIx> {
        self.jobs
            .iter()
            .position(|j| j.name == name || j.id.as_str() == name)
            .map(crate::ix::JobIx)
    }

    /// The step of this name or id.
    #[must_use]
    pub fn step(&self, name: &str) -> Option<crate::ix::StepIx> {
        self.steps
            .iter()
            .position(|s| s.name == name || s.id.as_str() == name)
            .map(crate::ix::StepIx)
    }

    /// The question of this name or id.
    #[must_use]
    pub fn question(&self, name: &str) -> Option<QuestionIx> {
        self.questions
            .iter()
            .position(|q| q.name == name || q.id.as_str() == name)
            .map(QuestionIx)
    }

    /// The tool of this name or id.
    #[must_use]
    pub fn tool(&self, name: &str) -> Option<ToolIx> {
        self.tools
            .iter()
            .position(|t| t.name == name || t.id.as_str() == name)
            .map(ToolIx)
    }
}
