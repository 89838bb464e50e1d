//! What is assumed about causes, findings and checks.
//!
//! Every cause is there or not, independently, with prior odds; at most two are there at once. A cause that is there shows a
//! finding with a chance; a finding is there when at least one cause shows it (noisy-or without a leak: what nobody listed
//! is the "none of these" of each finding, a cause like the others). With `w` the weights of a finding, summing to one:
//!
//! - chance that cause `c` shows finding `f`: `λ(c,f) = s · w(f,c) / max over f of w(f,c)`;
//! - prior odds of `c`: `o(c) = r · max over f of w(f,c) / s`,
//!
//! where `s` is how often a cause at its plainest shows and `r` how often a bike has a finding. So `o(c) · λ(c,f) = r · w(f,c)`:
//! with one finding and one cause at a time, the chances are the weights as written.

/// A chance or share between 0 and 1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Chance(f64);

impl Chance {
    /// Takes a number as a chance when it is one.
    #[must_use]
    pub fn new(value: f64) -> Option<Chance> {
        (0.0..=1.0).contains(&value).then_some(Chance(value))
    }

    /// The number.
    #[must_use]
    pub fn value(self) -> f64 {
        self.0
    }

    /// Rounding must not carry a sum of chances over the edge.
    pub(crate) fn clamped(value: f64) -> Chance {
        Chance(value.clamp(0.0, 1.0))
    }
}

/// A weight among others: how many of a hundred such findings come from this cause. Never negative.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Weight(f64);

impl Weight {
    /// No weight.
    pub const NONE: Weight = Weight(0.0);

    /// Takes a number as a weight when it is one.
    #[must_use]
    pub fn new(value: f64) -> Option<Weight> {
        (value >= 0.0 && value.is_finite()).then_some(Weight(value))
    }

    /// The number.
    #[must_use]
    pub fn value(self) -> f64 {
        self.0
    }
}

/// A finding that was looked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// By cause.
    pub weights: Vec<Weight>,
    /// Of all its causes that are not among those told apart here.
    pub rest: Weight,
    /// It was there; otherwise it was looked for and was not.
    pub seen: bool,
}

/// A check: its outcomes, and how likely each is.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// When no cause that speaks here is there; by outcome, summing to one.
    pub otherwise: Vec<Chance>,
    /// By cause: when it is there; `None` when it does not speak.
    pub given: Vec<Option<Vec<Chance>>>,
}

/// What is assumed.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumed {
    /// By cause: nobody knows what it is; it cannot be put right by name.
    pub unknown: Vec<bool>,
    /// Findings looked for.
    pub findings: Vec<Finding>,
    /// Checks that could be made.
    pub checks: Vec<Check>,
    /// `r`, how often a bike has a finding.
    pub how_often: Chance,
    /// `s`, how often a cause at its plainest shows.
    pub shows: Chance,
}

/// Most causes that are told apart at once, so that a set of them fits a word.
pub const MOST_CAUSES: usize = 32;

/// Why assumptions make no model.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ModelError {
    /// More than are told apart at once.
    #[error("{0} causes at once, at most {MOST_CAUSES}: name fewer findings at a time")]
    TooManyCauses(usize),
    /// Nothing is known of.
    #[error("no finding that is there; name at least one")]
    NothingFound,
    /// A list is not as long as it should be, or does not sum to one.
    #[error("check {0}: chances that do not fit its outcomes or do not sum to 1")]
    Uneven(usize),
    /// A finding all of whose weights are zero.
    #[error("finding {0}: all its weights are 0; at least one must be more")]
    NoWeight(usize),
    /// Chances at which the formulas mean nothing.
    #[error("how often a cause shows and a bike has a finding must lie between 0 and 1, both left out")]
    Extreme,
}

/// Assumptions that make sense, with odds and chances worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    assumed: Assumed,
    odds: Vec<f64>,
    /// By finding, by cause.
    links: Vec<Vec<f64>>,
}

/// How far chances may be from summing to one.
const SUM_TOLERANCE: f64 = 1e-9;

impl Model {
    /// Makes a model.
    ///
    /// # Errors
    /// [`ModelError`] when the assumptions contradict themselves.
    pub fn new(assumed: Assumed) -> Result<Model, ModelError> {
        let causes = assumed.unknown.len();
        if causes > MOST_CAUSES {
            return Err(ModelError::TooManyCauses(causes));
        }
        if !assumed.findings.iter().any(|f| f.seen) {
            return Err(ModelError::NothingFound);
        }
        let inside = |c: Chance| c.value() > 0.0 && c.value() < 1.0;
        if !inside(assumed.how_often) || !inside(assumed.shows) {
            return Err(ModelError::Extreme);
        }
        for (n, check) in assumed.checks.iter().enumerate() {
            let sound = |row: &Vec<Chance>| {
                let sum: f64 = row.iter().map(|c| c.value()).sum();
                row.len() == check.otherwise.len() && (sum - 1.0).abs() < SUM_TOLERANCE
            };
            let rows = check.given.iter().flatten();
            if check.given.len() != causes || !sound(&check.otherwise) || !rows.into_iter().all(sound) {
                return Err(ModelError::Uneven(n));
            }
        }
        let shares = shares(&assumed, causes)?;
        let top: Vec<f64> = (0..causes)
            .map(|c| shares.iter().map(|f| f[c]).fold(0.0, f64::max))
            .collect();
        let (often, shows) = (assumed.how_often.value(), assumed.shows.value());
        let odds = top.iter().map(|w| often * w / shows).collect();
        let link = |w: f64, top: f64| if top > 0.0 { shows * w / top } else { 0.0 };
        let links = shares
            .iter()
            .map(|f| f.iter().zip(&top).map(|(w, top)| link(*w, *top)).collect())
            .collect();
        Ok(Model { assumed, odds, links })
    }

    /// How many causes there are.
    #[must_use]
    pub fn causes(&self) -> usize {
        self.assumed.unknown.len()
    }

    /// What was assumed.
    #[must_use]
    pub fn assumed(&self) -> &Assumed {
        &self.assumed
    }

    /// Prior odds of a cause; 0 for one there is not.
    #[must_use]
    pub fn odds(&self, cause: usize) -> f64 {
        self.odds.get(cause).copied().unwrap_or(0.0)
    }

    /// Chance that a cause that is there shows a finding.
    #[must_use]
    pub fn link(&self, finding: usize, cause: usize) -> Chance {
        let link = self.links.get(finding).and_then(|f| f.get(cause));
        Chance::clamped(link.copied().unwrap_or(0.0))
    }

    /// How likely an outcome is when exactly these causes are there: the mean over those that speak in this check, and
    /// the usual chance when none does.
    #[must_use]
    pub fn likely(&self, check: usize, outcome: usize, there: &[usize]) -> Chance {
        let Some(check) = self.assumed.checks.get(check) else {
            return Chance(0.0);
        };
        let at = |row: &Vec<Chance>| row.get(outcome).map_or(0.0, |c| c.value());
        let speak: Vec<f64> = there
            .iter()
            .filter_map(|c| check.given.get(*c)?.as_ref().map(at))
            .collect();
        if speak.is_empty() {
            return Chance::clamped(at(&check.otherwise));
        }
        #[allow(clippy::cast_precision_loss, reason = "at most two")]
        let n = speak.len() as f64;
        Chance::clamped(speak.iter().sum::<f64>() / n)
    }
}

/// The weights of each finding, summing to one.
fn shares(assumed: &Assumed, causes: usize) -> Result<Vec<Vec<f64>>, ModelError> {
    let mut shares = Vec::new();
    for (n, finding) in assumed.findings.iter().enumerate() {
        let sum = finding.weights.iter().map(|w| w.value()).sum::<f64>() + finding.rest.value();
        if sum <= 0.0 || finding.weights.len() != causes {
            return Err(ModelError::NoWeight(n));
        }
        shares.push(finding.weights.iter().map(|w| w.value() / sum).collect());
    }
    Ok(shares)
}
