//! `wear`: how thin is too thin, how crooked too crooked.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::quantity::{mm, parse_length};
use refettle_facts::running_gear::wear_limits::{Judged, item_named, judge, uk_tread_band};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct WearRequest {
    /// What was measured: `pad`, `disc-run-out`.
    pub item: String,
    /// The reading.
    pub measured: String,
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
    pub measured_mm: f64,
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
    let measured = typed.read("measured", &request.measured, parse_length);
    let limit = typed.read_if("limit", request.limit.as_deref(), parse_length);
    let breadth = typed.read_if("breadth", request.breadth.as_deref(), parse_length);
    if request.breadth.is_some() && item.is_some_and(|item| item.name != "tread") {
        typed.refuse("breadth: goes with tread only");
    }
    let (Some(item), Some(measured), true) = (item, measured, typed.is_right()) else {
        return Err(typed.refused());
    };
    let report = judge(item, measured, limit).map_err(|e| refused(&e))?;
    let band = breadth.map(uk_tread_band).transpose().map_err(|e| refused(&e))?;
    Ok(WearView {
        uk_tread_band_mm: band.map(|band| exact(mm(band))),
        item: item.name,
        measured_mm: exact(mm(measured)),
        passes_strictest: report.passes_strictest,
        strictest: report.strictest.map(|judged| judged.rule.scheme),
        basis: Basis::of("wear limits by named scheme")
            .assuming(["rows from memory, advice and rules for cars are shown and do not count"])
            .from(report.rules.iter().map(|judged| judged.rule.citation.to_string()))
            .warning("the maker's figure, stamped on the part or in the manual, comes first; brakes and tyres decide whether somebody stops: in doubt, renew")
            .cautioned(&["licensed-work"]),
        rules: report.rules.iter().map(rule).collect(),
    })
}

fn rule(judged: &Judged) -> WearRuleView {
    WearRuleView {
        scheme: judged.rule.scheme,
        rule: judged.rule.words,
        limit_mm: judged.rule.limit.map(|limit| exact(mm(limit))),
        counts: judged.rule.counts(),
        passes: judged.passes,
        source: judged.rule.citation.to_string(),
    }
}

impl OnScreen for WearView {
    fn text(&self) -> String {
        let mut screen = Screen::titled(format!(
            "Wear: {} of {} mm",
            self.item,
            number(self.measured_mm, 3)
        ));
        let verdict = match self.passes_strictest {
            Some(true) => "passes the strictest rule that counts",
            Some(false) => "fails the strictest rule that counts",
            None => "no row here may be called a limit: look up the maker's",
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
            let passes = match rule.passes {
                Some(true) => "passes",
                Some(false) => "fails",
                None => "by eye and hand",
            };
            let counts = if rule.counts { "" } else { " (does not count)" };
            screen.row(
                rule.scheme,
                format!("{passes}{counts}: {}; {}", rule.rule, rule.source),
            );
        }
        self.basis.show(&mut screen);
        screen.finished()
    }
}
