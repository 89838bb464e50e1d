//! The fit desk as a table: every question with the fields it asks for, and the use-case that answers it.
//!
//! One page shows them all ([`crate::pages::fit_desk`]) and one reader takes what was typed ([`Typed`]). A question and a
//! field are named as on the command line; a number typed bare gets the unit chosen beside it.

mod electrics_and_engine;
mod fasteners;
mod fluids;
mod running_gear;
mod seals_and_parts;
mod typed;

use maud::Markup;
use refettle_usecases::fit_desk::screen::Screen;
use refettle_usecases::refused::Refused;
pub(crate) use typed::{Typed, Wrong, unit_field};

/// What is asked about together, with its heading.
pub(crate) struct Group {
    /// Such as `Fixings`.
    pub(crate) title: &'static str,
    /// Its questions, the most asked first.
    pub(crate) questions: &'static [Question],
}

/// All groups, as the command line's help has them.
pub(crate) const GROUPS: [&Group; 7] = [
    &fasteners::GROUP,
    &seals_and_parts::GROUP,
    &running_gear::GROUP,
    &fluids::GROUP,
    &electrics_and_engine::ELECTRICS,
    &electrics_and_engine::ENGINE,
    &running_gear::IDENTITY,
];

/// An answer, or everything that is wrong with what was typed.
pub(crate) type Answer = Result<Screen, Refused>;

/// One question.
pub(crate) struct Question {
    /// The command's name, and the last part of the page's path.
    pub(crate) name: &'static str,
    /// As a person asks.
    pub(crate) asks: &'static str,
    /// What is needed for it.
    pub(crate) needs: &'static str,
    /// What is typed, the indispensable first.
    pub(crate) fields: &'static [Field],
    /// The use-case.
    pub(crate) answer: fn(&Typed<'_>) -> Answer,
    /// A picture of the answer, where there is one.
    pub(crate) picture: Option<fn(&Typed<'_>) -> Option<Markup>>,
}

/// Something to type or choose.
pub(crate) struct Field {
    /// As on the command line.
    pub(crate) name: &'static str,
    /// Shown.
    pub(crate) label: &'static str,
    /// How it is typed.
    pub(crate) kind: Kind,
    /// What must, may and seldom is given.
    pub(crate) want: Want,
    /// What is typed, by example.
    pub(crate) such_as: &'static str,
}

/// Whether a field is given.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Want {
    /// There is no answer without it.
    Must,
    /// With it there is another answer, or it is one of several that will do.
    May,
    /// Seldom: folded away.
    Seldom,
}

/// How a field is typed.
#[derive(Clone, Copy)]
pub(crate) enum Kind {
    /// One number; the units it may be in, the usual first, or none.
    Number(&'static [&'static str]),
    /// Several numbers, blanks between them.
    Numbers(&'static [&'static str]),
    /// Words and marks.
    Words,
    /// One of these.
    OneOf(fn() -> Vec<String>),
    /// Any of these.
    AnyOf(fn() -> Vec<String>),
    /// Yes or no.
    Tick,
    /// Several lines.
    Sheet,
}

pub(crate) const LENGTH: &[&str] = &["mm", "in"];
const VOLUME: &[&str] = &["mL", "L"];
const LITRES: &[&str] = &["L", "mL", "qt"];
const VOLTS: &[&str] = &["V", "mV"];
const CELSIUS: &[&str] = &["°C", "°F"];
const TORQUE: &[&str] = &["N·m", "lbf·ft", "kgf·m"];
const SHARE: &[&str] = &["%"];
const BARE: &[&str] = &[];

impl Field {
    const fn new(
        name: &'static str,
        label: &'static str,
        kind: Kind,
        such_as: &'static str,
        want: Want,
    ) -> Field {
        Field {
            name,
            label,
            kind,
            want,
            such_as,
        }
    }

    /// There is no answer without it.
    const fn must(name: &'static str, label: &'static str, kind: Kind, such_as: &'static str) -> Field {
        Field::new(name, label, kind, such_as, Want::Must)
    }

    /// With it there is another answer.
    const fn may(name: &'static str, label: &'static str, kind: Kind, such_as: &'static str) -> Field {
        Field::new(name, label, kind, such_as, Want::May)
    }

    /// Folded away.
    const fn seldom(name: &'static str, label: &'static str, kind: Kind, such_as: &'static str) -> Field {
        Field::new(name, label, kind, such_as, Want::Seldom)
    }
}

impl Question {
    const fn new(
        name: &'static str,
        asks: &'static str,
        needs: &'static str,
        fields: &'static [Field],
        answer: fn(&Typed<'_>) -> Answer,
    ) -> Question {
        Question {
            name,
            asks,
            needs,
            fields,
            answer,
            picture: None,
        }
    }
}

/// The question of this name.
pub(crate) fn question(name: &str) -> Option<&'static Question> {
    GROUPS
        .iter()
        .flat_map(|group| group.questions)
        .find(|question| question.name == name)
}

/// Words to choose from.
fn words(list: &[&str]) -> Vec<String> {
    list.iter().map(|word| (*word).to_owned()).collect()
}
