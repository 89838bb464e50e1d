//! Conditions, simplified a little while they are built.

use std::fmt;

#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Formula {
    Atom(String),
    /// A ready-made condition in one pair of brackets.
    Text(String),
    Not(Box<Formula>),
    And(Vec<Formula>),
    Or(Vec<Formula>),
}

pub(crate) fn not(f: Formula) -> Formula {
    match f {
        Formula::Not(inner) => *inner,
        Formula::And(list) => or(list.into_iter().map(not).collect()),
        Formula::Or(list) => and(list.into_iter().map(not).collect()),
        other => Formula::Not(Box::new(other)),
    }
}

pub(crate) fn and(list: Vec<Formula>) -> Formula {
    let mut flat = Vec::new();
    for f in list {
        match f {
            Formula::And(inner) => flat.extend(inner),
            Formula::Or(ref inner) if inner.is_empty() => return Formula::Or(Vec::new()),
            other => flat.push(other),
        }
    }
    if flat.len() == 1 {
        flat.remove(0)
    } else {
        Formula::And(flat)
    }
}

pub(crate) fn or(list: Vec<Formula>) -> Formula {
    let mut flat = Vec::new();
    for f in list {
        match f {
            Formula::Or(inner) => flat.extend(inner),
            Formula::And(ref inner) if inner.is_empty() => return Formula::And(Vec::new()),
            other => flat.push(other),
        }
    }
    if flat.len() == 1 {
        flat.remove(0)
    } else {
        Formula::Or(flat)
    }
}

impl fmt::Display for Formula {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let list = |f: &mut fmt::Formatter<'_>, word: &str, list: &[Formula]| {
            write!(f, "({word}")?;
            list.iter().try_for_each(|item| write!(f, " {item}"))?;
            f.write_str(")")
        };
        match self {
            Formula::Atom(name) => write!(f, "({name})"),
            Formula::Text(text) => f.write_str(text),
            Formula::Not(inner) => write!(f, "(not {inner})"),
            // Never true: `begun` is true from the start and stays so.
            Formula::Or(l) if l.is_empty() => f.write_str("(not (begun))"),
            Formula::And(l) if l.is_empty() => f.write_str("(begun)"),
            Formula::And(l) => list(f, "and", l),
            Formula::Or(l) => list(f, "or", l),
        }
    }
}
