//! What an answer rests on: said with every one of them.

use super::screen::{ASSUMPTIONS, CAUTIONS, FORMULA, SOURCES, Screen};
use refettle_facts::caution;
use serde::Serialize;

/// Said where a maker prints a figure of his own.
pub const MAKER_WINS: &str = "the maker's figure for this model and year wins over this one";

/// Formula, assumptions, sources and cautions of an answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Basis {
    /// The formula by its trade name, or the kind of table.
    pub formula: &'static str,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
    /// Who says so, with how far each was opened.
    pub sources: Vec<String>,
    /// What can hurt, and whose word comes first.
    pub cautions: Vec<String>,
}

impl Basis {
    /// A formula with nothing said about it yet.
    pub(super) fn of(formula: &'static str) -> Basis {
        Basis {
            formula,
            assumptions: Vec::new(),
            sources: Vec::new(),
            cautions: Vec::new(),
        }
    }

    /// With assumptions.
    pub(super) fn assuming<T: Into<String>>(mut self, said: impl IntoIterator<Item = T>) -> Basis {
        self.assumptions.extend(said.into_iter().map(Into::into));
        self
    }

    /// With sources, each once.
    pub(super) fn from<T: Into<String>>(mut self, said: impl IntoIterator<Item = T>) -> Basis {
        for source in said {
            let source = source.into();
            if !self.sources.contains(&source) {
                self.sources.push(source);
            }
        }
        self
    }

    /// With a caution in words.
    pub(super) fn warning(mut self, said: impl Into<String>) -> Basis {
        self.cautions.push(said.into());
        self
    }

    /// With cautions in words.
    pub(super) fn warnings(mut self, said: impl IntoIterator<Item = String>) -> Basis {
        self.cautions.extend(said);
        self
    }

    /// With the usual cautions of these names; a name the table lacks is passed over.
    pub(super) fn cautioned(mut self, names: &[&str]) -> Basis {
        self.cautions
            .extend(names.iter().filter_map(|name| caution::named(name)).map(|said| {
                format!(
                    "{}: {} {} {} ({})",
                    said.title, said.risk, said.do_not, said.instead, said.source
                )
            }));
        self
    }

    pub(super) fn show(&self, screen: &mut Screen) {
        screen.points(FORMULA, &[self.formula]);
        screen.points(ASSUMPTIONS, &self.assumptions);
        screen.points(SOURCES, &self.sources);
        screen.points(CAUTIONS, &self.cautions);
    }
}
