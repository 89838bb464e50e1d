//! Likely causes as shown: `refettle causes --json`, and page and paper from the same.

use serde::Serialize;
use std::collections::BTreeMap;

/// Likely causes of what was found, and what to do next.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CausesView {
    /// Always `refettle-causes/1`.
    pub format: &'static str,
    /// Name of the machine sheet.
    pub machine: String,
    /// What was looked for.
    pub findings: Vec<FindingView>,
    /// Answers so far, in the order of the table of checks.
    pub answers: Vec<AnsweredView>,
    /// Causes, the likeliest first.
    pub causes: Vec<CauseView>,
    /// Chance that two causes are there at once.
    pub two_at_once: f64,
    /// Pairs worth a word, the likeliest first.
    pub pairs: Vec<PairView>,
    /// What costs least from here: a check, a repair without another check, or looking further.
    pub next: NextView,
    /// The best check; `null` when none is left that could tell anything.
    pub next_check: Option<CheckView>,
    /// All checks that could be made now, the best first; of those after the first, without what their answers would do.
    pub checks: Vec<CheckView>,
    /// Checks that must wait, and why.
    pub held_back: Vec<HeldBackView>,
    /// `exact`, or two moves of `lookahead`.
    pub method: &'static str,
    /// What looks odd, or could not be priced.
    pub doubts: Vec<String>,
    /// Names of the cautions of the best check and the next repair.
    pub cautions: Vec<String>,
    /// What every number rests on.
    pub why: WhyView,
}

/// A finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FindingView {
    /// Permanent id.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// It is there; otherwise it was looked for and is not.
    pub there: bool,
    /// Not ridden before it is put right.
    pub must: bool,
}

/// An answer given.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AnsweredView {
    /// Permanent id of the check.
    pub check: String,
    /// The check as a person reads it.
    pub title: String,
    /// Permanent id of the outcome.
    pub outcome: String,
    /// The outcome as a person reads it.
    pub outcome_title: String,
}

/// A cause.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CauseView {
    /// Permanent id; `none-of-these` for what nobody listed.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// Its share: all shares sum to one; of two causes at once each counts half.
    pub probability: f64,
    /// Chance that it is there, alone or with another.
    pub there: f64,
    /// By finding: its weight among the causes of that finding.
    pub weights: BTreeMap<String, f64>,
    /// What puts it right; left out for what nobody listed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fix: Option<FixView>,
}

/// What puts a cause right.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FixView {
    /// In words.
    pub what: String,
    /// The job that does it; left out where the machine has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub job: Option<String>,
    /// Hands-on time from the state now.
    pub seconds: u32,
    /// The planner proved that no order takes less.
    pub proven: bool,
    /// The planner has no plan for it now; the time is only the table's.
    pub by_table: bool,
    /// Cheapest parts, minor units of the US dollar.
    pub parts_low: i64,
    /// Dearest parts.
    pub parts_high: i64,
    /// Expected time to a working bike, money turned into time, when it is put right now without another check; left
    /// out where it is out of the question.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expected_s: Option<u32>,
    /// Names of cautions.
    pub cautions: Vec<String>,
    /// Where minutes and prices are from.
    pub source: String,
}

/// Two causes at once.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PairView {
    /// Their ids.
    pub causes: [String; 2],
    /// Chance that both are there.
    pub probability: f64,
}

/// What to do next.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NextView {
    /// `check`, `repair` or `look-further`.
    pub kind: &'static str,
    /// Id of the check or the cause; `none-of-these` for looking further.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// Expected time to a working bike this way, money turned into time; left out where safety, not cost, comes first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expected_s: Option<u32>,
    /// Why this and nothing else.
    pub why: String,
}

/// A check that could be made now.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckView {
    /// Permanent id.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// Hands-on time from the state now, opening and closing included.
    pub seconds: u32,
    /// Of that, the check itself.
    pub own_s: u32,
    /// What comes off for it that is on now and stays on otherwise.
    pub opens: Vec<OpensView>,
    /// The planner proved that no order takes less.
    pub proven: bool,
    /// Expected time to a working bike when this is done first; left out where safety, not cost, comes first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expected_s: Option<u32>,
    /// Safety wants it before the engine may be cranked.
    pub safety: bool,
    /// What the engine does meanwhile: `still`, `pressed`, `cranked`, `runs` or `rides`.
    pub engine: &'static str,
    /// Tools in words.
    pub tools: Vec<String>,
    /// Names of cautions.
    pub cautions: Vec<String>,
    /// Why it may come next.
    pub why: String,
    /// Where it is from.
    pub source: String,
    /// What may come out.
    pub outcomes: Vec<OutcomeView>,
}

/// Something that comes off.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OpensView {
    /// Permanent id of the part.
    pub part: String,
    /// As a person reads it.
    pub title: String,
    /// Off and on again.
    pub seconds: u32,
}

/// What may come out of a check.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OutcomeView {
    /// Permanent id.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// Chance of it as things stand.
    pub probability: f64,
    /// By cause, in the order of `causes`: its share then, a ghost bar beside the bar.
    pub causes: BTreeMap<String, f64>,
    /// What would come next; left out where it was not looked into.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub then: Option<ThenView>,
}

/// What would come next.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ThenView {
    /// `check`, `repair` or `look-further`.
    pub kind: &'static str,
    /// Id of the check or the cause.
    pub id: String,
    /// As a person reads it.
    pub title: String,
}

/// A check that must wait.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HeldBackView {
    /// Permanent id.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// Why it waits.
    pub why: String,
}

/// What every number rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WhyView {
    /// How often a bike that comes in has a given finding.
    pub how_often: f64,
    /// How often a cause that is there shows its plainest finding.
    pub shows: f64,
    /// What an hour is worth, minor units.
    pub hour: i64,
    /// What finding something nobody listed takes, whole seconds.
    pub further_s: u32,
    /// That, and mending it at the price of the dearest repair listed, money turned into time; whole seconds.
    pub further_mended_s: u32,
    /// What trying the bike after a repair takes, whole seconds.
    pub trial_s: u32,
    /// Where these figures are from.
    pub source: String,
    /// Where the weights of each finding are from.
    pub weights: BTreeMap<String, String>,
    /// What each answer and each outcome of the best check was reckoned with.
    pub likelihoods: Vec<LikelihoodView>,
    /// The formula, in words.
    pub formula: &'static str,
}

/// One row of chances.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LikelihoodView {
    /// Id of the check.
    pub check: String,
    /// Id of the cause; `otherwise` for every cause without a row, and none of these.
    pub cause: String,
    /// By outcome.
    pub chances: BTreeMap<String, f64>,
    /// Where from.
    pub source: String,
}

/// What can be asked about: `refettle causes --layout NAME --json` without a finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FindingsView {
    /// Always `refettle-findings/1`.
    pub format: &'static str,
    /// Name of the machine sheet.
    pub machine: String,
    /// Findings for this machine.
    pub findings: Vec<FindingLineView>,
}

/// One finding that can be asked about.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FindingLineView {
    /// Permanent id.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// Not ridden before it is put right.
    pub must: bool,
    /// How many causes it has on this machine, none of these left out.
    pub causes: usize,
    /// How many checks tell them apart.
    pub checks: usize,
}
