//! Why a request was not carried out.

use crate::plan_view::NoPlanView;
use std::fmt;

/// Why a request was not carried out.
#[derive(Debug, Clone, PartialEq)]
pub enum Refused {
    /// The request is wrong; everything that is wrong with it, a line each.
    Wrong(Vec<String>),
    /// The request is right, and no plan exists.
    NoPlan(Box<NoPlanView>),
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refused::Wrong(lines) => f.write_str(&lines.join("\n")),
            Refused::NoPlan(view) => view.fmt(f),
        }
    }
}

impl std::error::Error for Refused {}

/// One thing wrong.
#[must_use]
pub fn wrong(line: impl Into<String>) -> Refused {
    Refused::Wrong(vec![line.into()])
}
