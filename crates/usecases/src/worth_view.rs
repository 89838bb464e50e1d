//! The JSON of what pays. Frozen: keys are added, never changed; see `docs/formats.md`.

use serde::Serialize;

/// `refettle worth --json`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorthView {
    /// `refettle-worth/1`
    pub format: &'static str,
    /// Name of the machine sheet.
    pub machine: String,
    /// What the bike fetches with everything done, minor units.
    pub clean_price_minor: i64,
    /// What an hour of one's own is worth, minor units.
    pub rate_minor_per_hour: i64,
    /// Cap on hands-on time, whole seconds.
    pub cap_s: Option<u32>,
    /// Cap on money, minor units.
    pub cap_minor: Option<i64>,
    /// The jobs on offer, in the order of the sheet.
    pub jobs: Vec<JobLine>,
    /// The chosen set.
    pub set: SetView,
    /// The chosen set is proven best under the planner's costs.
    pub proven: bool,
    /// No set within the caps gains more, minor units.
    pub bound_minor: i64,
    /// How much more another set could gain at most, minor units.
    pub gap_minor: i64,
    /// The choice is proven best with minutes of the model of shared work.
    pub model_proven: bool,
    /// What else could be done with the bike.
    pub beside: Vec<WayOut>,
    /// Jobs set apart.
    pub set_aside: Vec<SetAside>,
    /// Items without a price, counted as costing nothing.
    pub unpriced: Vec<String>,
    /// What looks odd, to be asked about.
    pub doubts: Vec<String>,
    /// What all of it rests on.
    pub why: Vec<String>,
}

/// One job.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JobLine {
    /// Name on the command line.
    pub name: String,
    /// As a person reads it.
    pub title: String,
    /// `must`, `chosen`, `left`.
    pub stand: &'static str,
    /// What it adds beside the chosen others, minor units.
    pub value_minor: i64,
    /// Hands-on time it adds to the chosen others, whole seconds.
    pub marginal_s: u32,
    /// Money it adds to what the others cost, minor units.
    pub parts_minor: i64,
    /// What it gains beside the chosen others, minor units.
    pub gain_minor: i64,
    /// `plan` or `model`.
    pub minutes_from: &'static str,
    /// Hands-on time alone, whole seconds.
    pub alone_s: u32,
    /// Inputs, weights and sources.
    pub why: Vec<String>,
}

/// What a set of jobs comes to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SetView {
    /// Names of the jobs, in the order of the sheet.
    pub jobs: Vec<String>,
    /// Sum of what they add, minor units.
    pub value_minor: i64,
    /// Money, minor units.
    pub parts_minor: i64,
    /// Hands-on time, whole seconds.
    pub hands_on_s: u32,
    /// Value less money less time at the rate, minor units.
    pub gain_minor: i64,
    /// `plan` or `model`.
    pub minutes_from: &'static str,
    /// Hands-on time by the model of shared work, whole seconds.
    pub model_s: u32,
    /// Gain by the model of shared work, minor units.
    pub model_gain_minor: i64,
    /// Within the caps.
    pub within_caps: bool,
    /// What the bike would fetch, minor units.
    pub price_minor: i64,
    /// What is left of it after money, time and the hours to sell it at the rate, minor units.
    pub left_over_minor: i64,
}

/// What else could be done with the bike.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WayOut {
    /// `as-it-stands`, `stop-here`, `for-parts`.
    pub way: &'static str,
    /// As a person reads it.
    pub title: String,
    /// What it would fetch, minor units.
    pub price_minor: i64,
    /// Money, minor units.
    pub parts_minor: i64,
    /// Hands-on time, whole seconds.
    pub hands_on_s: u32,
    /// Hours to sell it, whole seconds.
    pub selling_s: u32,
    /// What is left, minor units.
    pub left_over_minor: i64,
    /// Inputs, weights and sources.
    pub why: Vec<String>,
}

/// A job set apart.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SetAside {
    /// Name on the command line.
    pub name: String,
    /// `done` or `no-plan`.
    pub because: &'static str,
}
