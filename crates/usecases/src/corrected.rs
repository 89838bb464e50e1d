//! A bike's machine sheet with the bike's corrections written in.
//!
//! A correction names a value in the sheet's own words, `critical.axle-nut.torque`, and says what it is on this bike and
//! how that is known. It is written into the sheet's text, and the text is read again by the strict reader: what comes
//! out is a sound machine or none. Values change, things do not: a part, fixing, circuit, step or way neither comes nor
//! goes by a correction, so that every entry made before still means the same.

use crate::layouts;
use refettle_machine::model::Machine;
use refettle_memory::Stored;
use refettle_memory::entry::{Entry, SheetCorrected};
use refettle_memory::state::standing_entries;
use toml::de::{DeTable, DeValue};
use toml::{Table, Value};

/// Why corrections cannot be written into a sheet: everything that is wrong.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", .0.join("\n"))]
pub struct NotCorrected(pub Vec<String>);

/// The tables that are things, each under a name of its own.
const THINGS: [&str; 10] = [
    "question", "tool", "item", "fact", "circuit", "stance", "part", "critical", "step", "job",
];

/// Other tables that are named each.
const ALSO_NAMED: [&str; 2] = ["exclusion", "fixing"];

/// Values that carry their source, though written as a mere text in a correction.
const SOURCED: [&str; 2] = ["torque", "quantity"];

/// The sheet's text with corrections in it, in the order they were made, sound by the strict reader.
///
/// A number in a path counts in a list from 0: `part.tank.way.0.minutes`; `critical.axle-nut.torque` is short for
/// `critical.axle-nut.fixing.torque`. A torque or quantity, and a value in a table
/// that says its source, such as `item.fork-seal.part.outside`, takes the correction's own source. A size where there
/// were candidates takes their place.
///
/// # Errors
/// [`NotCorrected`]: all paths that name no value of the sheet, or else all that the strict reader says.
pub fn corrected<'c>(
    sheet: &str,
    corrections: impl IntoIterator<Item = &'c SheetCorrected>,
) -> Result<String, NotCorrected> {
    let (text, _) = read_corrected(sheet, corrections)?;
    Ok(text)
}

/// As [`corrected`], with the machine that was read.
fn read_corrected<'c>(
    sheet: &str,
    corrections: impl IntoIterator<Item = &'c SheetCorrected>,
) -> Result<(String, Machine), NotCorrected> {
    let mut table: Table =
        toml::from_str(sheet).map_err(|e| NotCorrected(vec![format!("the sheet is no TOML: {e}")]))?;
    let wrong: Vec<String> = corrections
        .into_iter()
        .filter_map(|body| put(&mut table, body).err())
        .collect();
    if !wrong.is_empty() {
        return Err(NotCorrected(wrong));
    }
    let text = written(sheet, table)?;
    let machine = layouts::read(&text).map_err(|e| NotCorrected(vec![e.to_string()]))?;
    Ok((text, machine))
}

/// The sheet as text, its things in the order they had: the order of a sheet counts where it names several.
fn written(sheet: &str, mut table: Table) -> Result<String, NotCorrected> {
    let unreadable = |e: toml::de::Error| NotCorrected(vec![format!("the sheet is no TOML: {e}")]);
    let unwritable =
        |e: toml::ser::Error| NotCorrected(vec![format!("the corrected sheet cannot be written: {e}")]);
    let parsed = DeTable::parse(sheet).map_err(unreadable)?;
    let mut order: Vec<(usize, String, String)> = Vec::new();
    for (kind, things) in parsed.get_ref() {
        let kind: &str = kind.get_ref();
        if (THINGS.contains(&kind) || ALSO_NAMED.contains(&kind))
            && let DeValue::Table(things) = things.get_ref()
        {
            let places = things.keys().map(|name| {
                let text: &str = name.get_ref();
                (name.span().start, kind.to_owned(), text.to_owned())
            });
            order.extend(places);
        }
    }
    order.sort();
    let mut pieces = Vec::new();
    for (_, kind, name) in order {
        let Some(Value::Table(things)) = table.get_mut(&kind) else {
            continue;
        };
        if let Some(thing) = things.remove(&name) {
            let of_kind = Table::from_iter([(name, thing)]);
            pieces.push(Table::from_iter([(kind, Value::Table(of_kind))]));
        }
    }
    table.retain(|_, value| !value.as_table().is_some_and(Table::is_empty));
    let mut text = toml::to_string(&table).map_err(unwritable)?;
    for piece in pieces {
        text.push('\n');
        text.push_str(&toml::to_string(&piece).map_err(unwritable)?);
    }
    Ok(text)
}

/// What a bike's corrections come to.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct OfBike {
    /// The machine with them in it.
    pub machine: Machine,
    /// Those that could not be written in, each with why; the sheet's own value stands there.
    pub left_out: Vec<String>,
}

/// A bike's machine with its corrections. One that does not fit its sheet, as an entry taken over from elsewhere may
/// not, is left out and told: the bike stays readable, and never shows a value half applied.
pub(crate) fn of_bike(sheet: &str, corrections: &[SheetCorrected]) -> Result<OfBike, NotCorrected> {
    if let Ok((_, machine)) = read_corrected(sheet, corrections) {
        return Ok(OfBike {
            machine,
            left_out: Vec::new(),
        });
    }
    let mut fits: Vec<&SheetCorrected> = Vec::new();
    let mut left_out = Vec::new();
    for body in corrections {
        fits.push(body);
        if let Err(why) = corrected(sheet, fits.iter().copied()) {
            fits.pop();
            left_out.push(format!("{} is as the layout has it: {why}", body.path));
        }
    }
    let (_, machine) = read_corrected(sheet, fits)?;
    Ok(OfBike { machine, left_out })
}

/// The corrections of a bike that stand, in order.
pub(crate) fn standing(entries: &[Stored]) -> Vec<SheetCorrected> {
    standing_entries(entries)
        .filter_map(|stored| match &stored.entry {
            Entry::SheetCorrected(body) => Some(body.clone()),
            _ => None,
        })
        .collect()
}

/// Writes one correction in.
fn put(sheet: &mut Table, body: &SheetCorrected) -> Result<(), String> {
    let path = body.path.to_string();
    let told = |why: String| format!("'{path}': {why}");
    let mut names: Vec<&str> = path.split('.').collect();
    // A critical fixing is one fixing, and its torque is spoken of as its own.
    if let ["critical", _, "torque", ..] = names[..] {
        names.insert(2, "fixing");
    }
    let Some((last, to)) = names.split_last() else {
        return Err(told("that is no path".to_owned()));
    };
    let least = if names.first().is_some_and(|first| THINGS.contains(first)) {
        3
    } else {
        2
    };
    if names.len() < least || *last == "id" {
        return Err(told(
            "that is no value of the sheet; name one, such as critical.rear-axle-nut.torque or \
             part.seat.way.0.minutes"
                .to_owned(),
        ));
    }
    let value = match &body.value {
        None => None,
        Some(value) => {
            Some(Value::try_from(value).map_err(|e| told(format!("a sheet cannot hold that: {e}")))?)
        }
    };
    let mut here = Place::Table(sheet);
    for name in to {
        here = here.step(name).map_err(told)?;
    }
    match here {
        Place::List(list) => into_list(list, last, value).map_err(told),
        Place::Table(table) => into_table(table, last, value, body).map_err(told),
    }
}

fn into_list(list: &mut [Value], at: &str, value: Option<Value>) -> Result<(), String> {
    let many = list.len();
    let slot = at.parse::<usize>().ok().and_then(|at| list.get_mut(at));
    let slot = slot.ok_or_else(|| format!("the list has {many} places, counted from 0, and no '{at}'"))?;
    match value {
        Some(value) if !slot.is_table() && !value.is_table() => {
            *slot = value;
            Ok(())
        }
        Some(_) => Err("things on a list are not replaced; name the value in it".to_owned()),
        None => Err("nothing is taken out of a list: entries count in it".to_owned()),
    }
}

fn into_table(
    table: &mut Table,
    key: &str,
    value: Option<Value>,
    body: &SheetCorrected,
) -> Result<(), String> {
    let things = |value: Option<&Value>| {
        value
            .and_then(Value::as_array)
            .is_some_and(|list| list.iter().any(Value::is_table))
    };
    // Candidates are sizes, no things that entries speak of.
    if key != "candidates" && (things(table.get(key)) || things(value.as_ref())) {
        return Err("that is a list of things; name a value in it, such as way.0.minutes".to_owned());
    }
    let Some(value) = value else {
        return match table.remove(key) {
            Some(_) => Ok(()),
            None => Err("the sheet has nothing there to take out".to_owned()),
        };
    };
    let written = |table: &mut Table| {
        table.insert("source".to_owned(), Value::String(body.source.word().to_owned()));
        table.insert("from".to_owned(), Value::String(body.from.to_string()));
    };
    let says_source = |table: &Table| table.contains_key("source") && table.contains_key("from");
    let value = match value {
        Value::Table(mut inner) if key == "part" || SOURCED.contains(&key) => {
            written(&mut inner);
            Value::Table(inner)
        }
        plain if !plain.is_table() && SOURCED.contains(&key) => {
            let mut inner = Table::new();
            inner.insert("value".to_owned(), plain);
            written(&mut inner);
            Value::Table(inner)
        }
        other => other,
    };
    if key == "part" && table.remove("candidates").is_some() {
        // The size is known now: it is looked at no more. Whether it is wanted at all still may be.
        let looks = table.get("look").and_then(Value::as_table);
        if looks.and_then(|look| look.get("settles")).and_then(Value::as_str) == Some("size") {
            table.remove("look");
        }
    }
    table.insert(key.to_owned(), value);
    if says_source(table) && key != "source" && key != "from" {
        written(table);
    }
    Ok(())
}

enum Place<'a> {
    Table(&'a mut Table),
    List(&'a mut Vec<Value>),
}

impl<'a> Place<'a> {
    fn step(self, name: &str) -> Result<Place<'a>, String> {
        let none = || format!("the sheet has no '{name}' there");
        let value = match self {
            Place::Table(table) => table.get_mut(name).ok_or_else(none)?,
            Place::List(list) => {
                let at: usize = name.parse().map_err(|_| none())?;
                list.get_mut(at).ok_or_else(none)?
            }
        };
        match value {
            Value::Table(table) => Ok(Place::Table(table)),
            Value::Array(list) => Ok(Place::List(list)),
            _ => Err(format!("'{name}' is a value, nothing lies under it")),
        }
    }
}
