//! What a person types, read: words of lists, readings, names of the bike's own sheet.

use clap::Args;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use refettle_facts::ids::EntryId;
use refettle_facts::nearest::nearest;
use refettle_machine::model::{Machine, REGIONS};
use refettle_memory::entry::{About, Amount, BagLine, Currency, Measured, Number, Reading, Words};
use refettle_usecases::money_words;

/// A word of a list.
pub fn word<T: Copy + Send + Sync + 'static>(
    all: &'static [(&'static str, T)],
) -> impl TypedValueParser<Value = T> {
    PossibleValuesParser::new(all.iter().map(|(word, _)| *word)).try_map(move |text| {
        all.iter()
            .find(|(word, _)| *word == text)
            .map(|(_, value)| *value)
            .ok_or("no such word")
    })
}

pub fn entry_id(text: &str) -> Result<EntryId, String> {
    EntryId::new(text).map_err(|e| e.to_string())
}

/// `25 mm`, or a bare number.
pub fn reading(text: &str) -> Result<Reading, String> {
    let (value, unit) = text.trim().split_once(' ').unwrap_or((text.trim(), ""));
    let value = Number::new(value).map_err(|e| e.to_string())?;
    Ok(Reading {
        value,
        unit: unit.trim().to_owned(),
    })
}

/// `inlet clearance=0.10 mm`.
pub fn measured(text: &str) -> Result<Measured, String> {
    let (what, read) = text
        .split_once('=')
        .ok_or_else(|| format!("'{text}' is no measurement; write what=0.10 mm"))?;
    let what = Words::new(what.trim()).map_err(|e| e.to_string())?;
    let Reading { value, unit } = reading(read)?;
    Ok(Measured {
        what: what.to_string(),
        value,
        unit,
    })
}

/// `2 x M6 x 25`.
pub fn bag_line(text: &str) -> Result<BagLine, String> {
    let wrong = || format!("'{text}' is nothing for a bag; write how many and what: 2 x M6 x 25");
    let (count, what) = text.split_once(['x', '×']).ok_or_else(wrong)?;
    Ok(BagLine {
        count: count.trim().parse().map_err(|_| wrong())?,
        what: Words::new(what.trim()).map_err(|e| e.to_string())?,
    })
}

/// What on the bike is meant; the bike as a whole when nothing is said.
#[derive(Args)]
pub struct AboutArgs {
    /// A part of the bike
    #[arg(long, value_name = "PART", group = "about")]
    part: Option<String>,
    /// A critical fixing
    #[arg(long, value_name = "FIXING", group = "about")]
    fixing: Option<String>,
    /// A circuit
    #[arg(long, value_name = "CIRCUIT", group = "about")]
    circuit: Option<String>,
    /// A step of work
    #[arg(long, value_name = "STEP", group = "about")]
    step: Option<String>,
    /// A region of the machine
    #[arg(long, value_name = "REGION", group = "about")]
    region: Option<String>,
    /// A job
    #[arg(long, value_name = "JOB", group = "about")]
    job: Option<String>,
    /// A group of a part's ordinary fixings, counted from 0: part=group
    #[arg(long, value_name = "PART=N", group = "about")]
    fixings: Option<String>,
    /// A bag, by its number
    #[arg(long, value_name = "N", group = "about")]
    of_bag: Option<u16>,
    /// Something recorded, by its entry
    #[arg(long, value_name = "ENTRY", group = "about", value_parser = entry_id)]
    of_entry: Option<EntryId>,
}

impl AboutArgs {
    /// What is meant, and whether anything was said at all.
    pub fn read(&self, names: &Names<'_>, mistakes: &mut Vec<String>) -> Option<About> {
        if let Some(part) = &self.part {
            return names.part(part, mistakes).map(|part| About::Part { part });
        }
        if let Some(fixing) = &self.fixing {
            return names
                .fixing(fixing, mistakes)
                .map(|fixing| About::Fixing { fixing });
        }
        if let Some(circuit) = &self.circuit {
            return names
                .circuit(circuit, mistakes)
                .map(|circuit| About::Circuit { circuit });
        }
        if let Some(step) = &self.step {
            return names.step(step, mistakes).map(|step| About::Step { step });
        }
        if let Some(job) = &self.job {
            return names.job(job, mistakes).map(|job| About::Job { job });
        }
        if let Some(region) = &self.region {
            if REGIONS.contains(&region.as_str()) {
                return Some(About::Region {
                    region: region.clone(),
                });
            }
            mistakes.push(format!(
                "there is no region '{region}'; write one of {}",
                REGIONS.join(", ")
            ));
            return None;
        }
        if let Some(typed) = &self.fixings {
            let group = typed
                .split_once('=')
                .and_then(|(part, n)| Some((part, n.parse().ok()?)));
            let Some((part, group)) = group else {
                mistakes.push(format!(
                    "'{typed}' is no group of fixings; write part=group, such as tank=0"
                ));
                return None;
            };
            return names
                .part(part, mistakes)
                .map(|part| About::Fixings { part, group });
        }
        if let Some(bag) = self.of_bag {
            return Some(About::Bag { bag });
        }
        self.of_entry.clone().map(|entry| About::Entry { entry })
    }
}

/// Names of the bike's own sheet.
pub struct Names<'a> {
    pub machine: &'a Machine,
}

macro_rules! named {
    ($($fun:ident, $table:ident, $Id:ident, $what:literal;)+) => {
        impl Names<'_> {
            $(
                /// The permanent id behind a name or id of the sheet.
                pub fn $fun(&self, name: &str, mistakes: &mut Vec<String>) -> Option<refettle_facts::ids::$Id> {
                    let table = &self.machine.$table;
                    let found = table.iter().find(|t| t.name == name || t.id.as_str() == name);
                    if found.is_none() {
                        let names = table.iter().map(|t| t.name.as_str());
                        let hint = nearest(name, names).map_or_else(
                            || format!("this machine's sheet names its own: refettle sheet show {}", self.machine.name),
                            |near| format!("did you mean '{near}'?"),
                        );
                        mistakes.push(format!(concat!("there is no ", $what, " '{}'; {}"), name, hint));
                    }
                    found.map(|t| t.id.clone())
                }
            )+
        }
    };
}

named!(
    part, parts, PartId, "part";
    fixing, criticals, FixingId, "critical fixing";
    circuit, circuits, CircuitId, "circuit";
    step, steps, StepId, "step";
    job, jobs, JobId, "job";
    stance, stances, StanceId, "stance";
    fact, facts, FactId, "fact";
    tool, tools, ToolId, "tool";
    item, items, ItemId, "item";
);

/// Money as typed, in this currency.
pub fn amount(text: &str, currency: Option<&Currency>, mistakes: &mut Vec<String>) -> Option<Amount> {
    let Some(currency) = currency else {
        mistakes.push(format!(
            "'{text}' is of no currency; add --currency EUR, or set it once: refettle log settings --currency EUR"
        ));
        return None;
    };
    money_words::read(text, currency)
        .map_err(|e| mistakes.push(e.to_string()))
        .ok()
}
