//! `dispose`: where used fluids and batteries go, and what they are never mixed with.

use super::OnScreen;
use super::basis::Basis;
use super::screen::Screen;
use super::typed::{Typed, one_of};
use crate::refused::Refused;
use refettle_facts::fluids::disposal::{CAUTIONS, Waste, rules};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DisposeRequest {
    /// `used-oil`, `coolant`, `petrol`, `brake-fluid`, `battery`.
    pub what: String,
}

/// One rule.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DisposalRuleView {
    /// What to do or not to do.
    pub rule: &'static str,
    /// Who says so.
    pub source: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DisposeView {
    /// What it is, tidied.
    pub what: &'static str,
    /// The rules.
    pub rules: Vec<DisposalRuleView>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

const WASTES: [(&str, Waste); 5] = [
    ("used-oil", Waste::UsedOil),
    ("coolant", Waste::Coolant),
    ("petrol", Waste::Petrol),
    ("brake-fluid", Waste::BrakeFluid),
    ("battery", Waste::Battery),
];

/// The rules for one kind of waste.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &DisposeRequest) -> Result<DisposeView, Refused> {
    let mut typed = Typed::default();
    let Some(waste) = typed.read("what", &request.what, |text| one_of(text, &WASTES)) else {
        return Err(typed.refused());
    };
    Ok(DisposeView {
        what: WASTES
            .iter()
            .find(|(_, w)| *w == waste)
            .map_or("", |(word, _)| *word),
        rules: rules(waste)
            .map(|rule| DisposalRuleView {
                rule: rule.rule,
                source: rule.provenance.to_string(),
            })
            .collect(),
        basis: Basis::of("disposal rules that public bodies have in common")
            .assuming([
                "kept apart, in a marked container with a tight lid, out of reach of children and animals",
            ])
            .from(rules(waste).map(|rule| rule.provenance.to_string()))
            .warning("local law decides where it goes; never a drain, the ground or the household bin")
            .cautioned(&CAUTIONS),
    })
}

impl OnScreen for DisposeView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled(format!("Disposal: {}", self.what));
        let rules: Vec<&str> = self.rules.iter().map(|rule| rule.rule).collect();
        screen.points("Rules", &rules);
        self.basis.show(&mut screen);
        screen
    }
}
