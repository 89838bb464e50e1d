//! The JSON of what to keep. Frozen: keys are added, never changed; see `docs/formats.md`.

use serde::Serialize;

/// `refettle keep --json`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KeepView {
    /// `refettle-keep/1`
    pub format: &'static str,
    /// Budget, minor units.
    pub budget_minor: i64,
    /// What the parts to buy cost, minor units.
    pub cost_minor: i64,
    /// Held-up money they prevent on average, minor units.
    pub prevented_minor: i64,
    /// No choice within the budget prevents more, minor units.
    pub bound_minor: i64,
    /// `exact` or `bounded`.
    pub method: &'static str,
    /// Chance that a job of the mix finds everything there now.
    pub there_before: f64,
    /// The same once bought.
    pub there_after: f64,
    /// The parts, most money prevented first; those not worth keeping last.
    pub parts: Vec<KeepLine>,
    /// Jobs without a plan, left out.
    pub left_out: Vec<String>,
    /// What all of it rests on.
    pub why: Vec<String>,
}

/// One small part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KeepLine {
    /// Name for `--have` and `--history`.
    pub id: String,
    /// What it is: dimensions.
    pub what: String,
    /// Units in the drawer.
    pub have: u32,
    /// Units to buy.
    pub buy: u32,
    /// Price of a unit, minor units.
    pub price_minor: i64,
    /// Expected number of jobs that want it.
    pub jobs: f64,
    /// Expected number of units wanted.
    pub units: f64,
    /// Chance that those in the drawer are enough for all.
    pub enough_before: f64,
    /// The same once bought.
    pub enough_after: f64,
    /// Inputs, weights and sources.
    pub why: Vec<String>,
}
