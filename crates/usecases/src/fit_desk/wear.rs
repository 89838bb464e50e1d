//! `wear`: how thin is too thin, how crooked too crooked; without a reading, what the schemes ask.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::quantity::{mm, parse_length};
use refettle_facts::running_gear::wear_limits::{Rule, item_named, judge, rules_for, uk_tread_band};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct WearRequest {
    /// What was measured: `pad`, `disc-run-out`.
    pub item: String,
    /// The reading; the rules alone without it.
    pub measured: Option<String>,
    /// What is stamped on the part or printed in the manual.
    pub limit: Option<String>,
    /// Breadth of the tread, to reckon the band that must have it.
    pub breadth: Option<String>,
}

/// One scheme's rule.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WearRuleView {
    /// Scheme.
    pub scheme: &'static str,
    /// What fails, in words.
    pub rule: &'static str,
    /// The limit, where it is a number.
    pub limit_mm: Option<f64>,
    /// Whether it counts for a motorcycle.
    pub counts: bool,
    /// Whether the reading passes, where that is a number.
    pub passes: Option<bool>,
    /// Who says so.
    pub source: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WearView {
    /// Item, tidied.
    pub item: &'static str,
    /// The reading.
    pub measured_mm: Option<f64>,
    /// Whether it passes the strictest rule that counts.
    pub passes_strictest: Option<bool>,
    /// That rule's scheme.
    pub strictest: Option<&'static str>,
    /// Width of the band of tread the UK rule asks for, where the breadth was given.
    pub uk_tread_band_mm: Option<f64>,
    /// Every rule.
    pub rules: Vec<WearRuleView>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// A reading against every rule.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &WearRequest) -> Result<WearView, Refused> {
    let mut typed = Typed::default();
    let item = typed.read("item", &request.item, item_named);
    let measured = typed.read_if("measured", request.measured.as_deref(), parse_length);
    let limit = typed.read_if("limit", request.limit.as_deref(), parse_length);
    let breadth = typed.read_if("breadth", request.breadth.as_deref(), parse_length);
    if request.breadth.is_some() && item.is_some_and(|item| item.name != "tread") {
        typed.refuse("breadth: goes with tread only");
    }
    if request.limit.is_some() && request.measured.is_none() {
        typed.refuse("limit: of which reading? add measured, such as 4.4 mm");
    }
    let (Some(item), true) = (item, typed.is_right()) else {
        return Err(typed.refused());
    };
    let report = measured
        .map(|measured| judge(item, measured, limit))
        .transpose()
        .map_err(|e| refused(&e))?;
    let rules: Vec<WearRuleView> = match &report {
        Some(report) => report
            .rules
            .iter()
            .map(|judged| rule(&judged.rule, judged.passes))
            .collect(),
        None => rules_for(item).iter().map(|listed| rule(listed, None)).collect(),
    };
    let band = breadth.map(uk_tread_band).transpose().map_err(|e| refused(&e))?;
    Ok(WearView {
        uk_tread_band_mm: band.map(|band| exact(mm(band))),
        item: item.name,
        measured_mm: measured.map(|measured| exact(mm(measured))),
        passes_strictest: report.as_ref().and_then(|report| report.passes_strictest),
        strictest: report
            .and_then(|report| report.strictest)
            .map(|judged| judged.rule.scheme),
        basis: Basis::of("wear limits by named scheme")
            .assuming(["rows from memory, advice and rules for cars are shown and do not count"])
            .from(rules.iter().map(|rule| rule.source.clone()))
            .warning("the maker's figure, stamped on the part or in the manual, comes first; brakes and tyres decide whether somebody stops: in doubt, renew")
            .cautioned(&["licensed-work"]),
        rules,
    })
}

fn rule(listed: &Rule, passes: Option<bool>) -> WearRuleView {
    WearRuleView {
        scheme: listed.scheme,
        rule: listed.words,
        limit_mm: listed.limit.map(|limit| exact(mm(limit))),
        counts: listed.counts(),
        passes,
        source: listed.citation.to_string(),
    }
}

impl OnScreen for WearView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled(match self.measured_mm {
            Some(measured) => format!("Wear: {} of {} mm", self.item, number(measured, 3)),
            None => format!("Wear: {}", self.item),
        });
        let verdict = match (self.passes_strictest, self.measured_mm) {
            (Some(true), _) => "passes the strictest rule that counts",
            (Some(false), _) => "fails the strictest rule that counts",
            (None, Some(_)) => "no row here may be called a limit: look up the maker's",
            (None, None) => "not judged: this is what the schemes ask",
        };
        screen.row("verdict", verdict);
        screen.row_if("strictest", self.strictest);
        screen.row_if(
            "UK band of tread",
            self.uk_tread_band_mm.map(|band| {
                format!(
                    "{} mm, continuous, three quarters of the breadth",
                    number(band, 1)
                )
            }),
        );
        for rule in &self.rules {
            let passes = match (rule.passes, rule.limit_mm) {
                (Some(true), _) => "passes".to_owned(),
                (Some(false), _) => "fails".to_owned(),
                (None, Some(limit)) => format!("{} mm", number(limit, 2)),
                (None, None) => "by eye and hand".to_owned(),
            };
            let counts = if rule.counts { "" } else { " (does not count)" };
            screen.row(
                rule.scheme,
                format!("{passes}{counts}: {}; {}", rule.rule, rule.source),
            );
        }
        self.basis.show(&mut screen);
        screen
    }
}
