//! The sheet a person fills in at the bench: clearances found, shims in place, shims in the drawer, shims on sale.
//!
//! Plain text, one statement a line, `#` begins a remark, every length with its unit:
//!
//! ```text
//! # four valves, measured cold
//! wanted intake  0.11mm to 0.20mm            # limits of the manual
//! wanted exhaust 0.16mm to 0.25mm aim 0.20mm # aim: where to come out, the middle when not said
//! valve 1-intake-left   intake  clearance 0.08mm shim 2.70mm
//! valve 1-intake-right  intake  clearance 0.15mm shim 2.65mm
//! valve 1-exhaust-left  exhaust clearance 0.28mm shim 2.55mm
//! valve 1-exhaust-right exhaust clearance 0.14mm shim 2.60mm
//! drawer 2.60mm                              # one shim lying there
//! drawer 2.65mm x2                           # two of them
//! buy 2.50mm to 3.30mm step 0.05mm           # what a shop has; several lines add up
//! ```
//!
//! Without a `buy` line any thickness is taken as obtainable. A `wanted` line may stand after the valves that use
//! it. All mistakes are reported together, each with its line. Start with [`parse`].

use super::valve_shim::{ShimError, WantedClearance, clearance, shim};
use crate::nearest::nearest;
use crate::quantity::{Length, QuantityError, parse_length};
use crate::small_part::Micrometres;
use std::collections::{BTreeMap, BTreeSet};

/// Most valves on one sheet.
pub const MOST_VALVES: usize = 64;
/// Most shims in the drawer, and most thicknesses on sale.
pub const MOST_SHIMS: usize = 500;
/// Longest sheet in bytes, far beyond any engine.
const LONGEST_SHEET: usize = 200_000;
const STATEMENTS: [&str; 4] = ["wanted", "valve", "drawer", "buy"];

/// One valve as found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Valve {
    /// Its name on the sheet.
    pub name: String,
    /// What the manual wants.
    pub wanted: WantedClearance,
    /// What was measured.
    pub clearance: Micrometres,
    /// The shim in place.
    pub shim: Micrometres,
}

/// What can be bought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OnSale {
    /// Any thickness.
    Any,
    /// These.
    Sizes(BTreeSet<Micrometres>),
}

/// A sheet, read whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShimSheet {
    /// Valves in the order of the sheet.
    pub valves: Vec<Valve>,
    /// Shims in the drawer, one entry each.
    pub drawer: Vec<Micrometres>,
    /// What can be bought.
    pub on_sale: OnSale,
}

/// A mistake on a sheet.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {problem}")]
pub struct SheetMistake {
    /// Counted from 1; the last line for what is missing.
    pub line: usize,
    /// What is wrong.
    pub problem: SheetProblem,
}

/// What can be wrong with a line.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SheetProblem {
    /// Begins with an unknown word.
    #[error("'{word}' is no statement{hint}; lines begin with wanted, valve, drawer or buy")]
    UnknownStatement {
        /// The word.
        word: String,
        /// A likely meaning, or empty.
        hint: String,
    },
    /// Not of the form.
    #[error("a {statement} line reads: {form}")]
    Form {
        /// Which.
        statement: &'static str,
        /// How it reads.
        form: &'static str,
    },
    /// A length that could not be read.
    #[error(transparent)]
    Length(#[from] QuantityError),
    /// A value that cannot be right.
    #[error(transparent)]
    Value(#[from] ShimError),
    /// The same name twice.
    #[error("'{name}' stands on the sheet twice")]
    Twice {
        /// The name.
        name: String,
    },
    /// A valve of a kind without wanted clearance.
    #[error("no wanted clearance for '{kind}'{hint}; add: wanted {kind} LEAST to MOST")]
    NoWanted {
        /// The kind.
        kind: String,
        /// A likely meaning, or empty.
        hint: String,
    },
    /// A count that is none.
    #[error("'{count}' is no count of shims: write x1 to x{MOST_SHIMS}")]
    Count {
        /// What was given.
        count: String,
    },
    /// A range of sizes that is none.
    #[error(
        "sizes on sale go from the thinner to the thicker in steps over zero, at most {MOST_SHIMS} of them"
    )]
    Range,
    /// No valve at all.
    #[error("no valve line: {VALVE_FORM}")]
    NoValves,
    /// Beyond a limit.
    #[error("more than {limit} {what}")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// The limit.
        limit: usize,
    },
}

const WANTED_FORM: &str = "wanted KIND LEAST to MOST, or wanted KIND LEAST to MOST aim CLEARANCE";
const VALVE_FORM: &str = "valve NAME KIND clearance CLEARANCE shim THICKNESS";
const DRAWER_FORM: &str = "drawer THICKNESS, or drawer THICKNESS xCOUNT";
const BUY_FORM: &str = "buy THINNEST to THICKEST step STEP, or buy THICKNESS";

/// A valve whose wanted clearance has still to be looked up.
struct ValveLine {
    line: usize,
    name: String,
    kind: String,
    clearance: Micrometres,
    shim: Micrometres,
}

#[derive(Default)]
struct Reading {
    wanted: BTreeMap<String, WantedClearance>,
    valves: Vec<ValveLine>,
    /// Kinds and names seen, also those of lines with mistakes, so that one slip is not reported twice.
    kinds_seen: BTreeSet<String>,
    names_seen: BTreeSet<String>,
    drawer: Vec<Micrometres>,
    sizes: BTreeSet<Micrometres>,
    any_buy_line: bool,
}

/// Reads a sheet.
///
/// # Errors
/// Every mistake on it, in the order of the lines.
pub fn parse(text: &str) -> Result<ShimSheet, Vec<SheetMistake>> {
    if text.len() > LONGEST_SHEET {
        let problem = SheetProblem::TooMany {
            what: "bytes on a sheet",
            limit: LONGEST_SHEET,
        };
        return Err(vec![SheetMistake { line: 1, problem }]);
    }
    let mut reading = Reading::default();
    let mut mistakes = Vec::new();
    let mut last_line = 1;
    for (line, content) in (1..).zip(text.lines()) {
        last_line = line;
        let statement = content.split('#').next().unwrap_or("");
        let words = joined_words(statement);
        let Some((first, rest)) = words.split_first() else {
            continue;
        };
        let rest: Vec<&str> = rest.iter().map(String::as_str).collect();
        if let Err(problem) = reading.take(line, first, &rest) {
            mistakes.push(SheetMistake { line, problem });
        }
    }
    reading.finish(last_line, mistakes)
}

/// The words of a line, a number and a unit written apart (`2.70 mm`) joined again.
fn joined_words(statement: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in statement.split_whitespace() {
        let is_unit = ["mm", "cm", "um", "µm", "in", "thou"].contains(&word);
        // A valve may be named `1` and its kind `in`: its first two words are names, not a length.
        let is_name = words.len() < 3
            && words
                .first()
                .is_some_and(|first| first.eq_ignore_ascii_case("valve"));
        match words.last_mut() {
            Some(before) if is_unit && !is_name && before.ends_with(|c: char| c.is_ascii_digit()) => {
                before.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

fn shown(word: &str) -> String {
    word.chars().take(40).collect()
}

impl Reading {
    fn take(&mut self, line: usize, first: &str, rest: &[&str]) -> Result<(), SheetProblem> {
        match first.to_ascii_lowercase().as_str() {
            "wanted" => self.wanted(rest),
            "valve" => self.valve(line, rest),
            "drawer" => self.drawer(rest),
            "buy" => self.buy(rest),
            _ => Err(SheetProblem::UnknownStatement {
                word: shown(first),
                hint: nearest(first, STATEMENTS)
                    .map(|near| format!(", did you mean '{near}'"))
                    .unwrap_or_default(),
            }),
        }
    }

    fn wanted(&mut self, rest: &[&str]) -> Result<(), SheetProblem> {
        let (kind, least, most, aim) = match rest {
            [kind, least, "to", most] => (kind, least, most, None),
            [kind, least, "to", most, "aim", aim] => (kind, least, most, Some(aim)),
            _ => {
                return Err(SheetProblem::Form {
                    statement: "wanted",
                    form: WANTED_FORM,
                });
            }
        };
        if !self.kinds_seen.insert((*kind).to_owned()) {
            return Err(SheetProblem::Twice { name: shown(kind) });
        }
        let aim: Option<Length> = aim.map(|a| parse_length(a)).transpose()?;
        let wanted = WantedClearance::new(parse_length(least)?, parse_length(most)?, aim)?;
        self.wanted.insert((*kind).to_owned(), wanted);
        Ok(())
    }

    fn valve(&mut self, line: usize, rest: &[&str]) -> Result<(), SheetProblem> {
        let [name, kind, "clearance", found, "shim", thickness] = rest else {
            return Err(SheetProblem::Form {
                statement: "valve",
                form: VALVE_FORM,
            });
        };
        if !self.names_seen.insert((*name).to_owned()) {
            return Err(SheetProblem::Twice { name: shown(name) });
        }
        if self.valves.len() >= MOST_VALVES {
            return Err(SheetProblem::TooMany {
                what: "valves",
                limit: MOST_VALVES,
            });
        }
        self.valves.push(ValveLine {
            line,
            name: (*name).to_owned(),
            kind: (*kind).to_owned(),
            clearance: clearance(parse_length(found)?)?,
            shim: shim(parse_length(thickness)?)?,
        });
        Ok(())
    }

    fn drawer(&mut self, rest: &[&str]) -> Result<(), SheetProblem> {
        let (thickness, count) = match rest {
            [thickness] => (thickness, 1),
            [thickness, count] => {
                let number = count
                    .strip_prefix('x')
                    .and_then(|n| n.parse::<usize>().ok())
                    .filter(|n| (1..=MOST_SHIMS).contains(n))
                    .ok_or_else(|| SheetProblem::Count { count: shown(count) })?;
                (thickness, number)
            }
            _ => {
                return Err(SheetProblem::Form {
                    statement: "drawer",
                    form: DRAWER_FORM,
                });
            }
        };
        let thickness = shim(parse_length(thickness)?)?;
        if self.drawer.len() + count > MOST_SHIMS {
            return Err(SheetProblem::TooMany {
                what: "shims in the drawer",
                limit: MOST_SHIMS,
            });
        }
        self.drawer.extend(std::iter::repeat_n(thickness, count));
        Ok(())
    }

    fn buy(&mut self, rest: &[&str]) -> Result<(), SheetProblem> {
        self.any_buy_line = true;
        let sizes: Vec<Micrometres> = match rest {
            [thickness] => vec![shim(parse_length(thickness)?)?],
            [thinnest, "to", thickest, "step", step] => {
                let (from, to) = (shim(parse_length(thinnest)?)?, shim(parse_length(thickest)?)?);
                let step = Micrometres::from_length(parse_length(step)?).map_or(0, |s| s.0);
                let stride = usize::try_from(step).ok().filter(|s| *s > 0);
                let (true, Some(stride)) = (from <= to, stride) else {
                    return Err(SheetProblem::Range);
                };
                // One more than the limit is enough to see that it is passed.
                (from.0..=to.0)
                    .step_by(stride)
                    .take(MOST_SHIMS + 1)
                    .map(Micrometres)
                    .collect()
            }
            _ => {
                return Err(SheetProblem::Form {
                    statement: "buy",
                    form: BUY_FORM,
                });
            }
        };
        if self.sizes.len() + sizes.len() > MOST_SHIMS {
            return Err(SheetProblem::Range);
        }
        self.sizes.extend(sizes);
        Ok(())
    }

    fn finish(
        self,
        last_line: usize,
        mut mistakes: Vec<SheetMistake>,
    ) -> Result<ShimSheet, Vec<SheetMistake>> {
        let mut valves = Vec::new();
        for found in self.valves {
            match self.wanted.get(&found.kind) {
                Some(wanted) => valves.push(Valve {
                    name: found.name,
                    wanted: *wanted,
                    clearance: found.clearance,
                    shim: found.shim,
                }),
                // A wanted line with a mistake of its own has been reported already.
                None if self.kinds_seen.contains(&found.kind) => {}
                None => mistakes.push(SheetMistake {
                    line: found.line,
                    problem: SheetProblem::NoWanted {
                        hint: nearest(&found.kind, self.kinds_seen.iter().map(String::as_str))
                            .map(|near| format!(", did you mean '{near}'"))
                            .unwrap_or_default(),
                        kind: shown(&found.kind),
                    },
                }),
            }
        }
        if self.names_seen.is_empty() && mistakes.is_empty() {
            mistakes.push(SheetMistake {
                line: last_line,
                problem: SheetProblem::NoValves,
            });
        }
        if mistakes.is_empty() {
            Ok(ShimSheet {
                valves,
                drawer: self.drawer,
                on_sale: if self.any_buy_line {
                    OnSale::Sizes(self.sizes)
                } else {
                    OnSale::Any
                },
            })
        } else {
            mistakes.sort_by_key(|m| m.line);
            Err(mistakes)
        }
    }
}
