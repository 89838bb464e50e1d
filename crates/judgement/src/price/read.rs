//! Comparables from a table of comma-separated values. Everything wrong in it is said in one go, with its line.

use super::comparable::{Comparable, Kind, Papers, plain};
use csv::{ReaderBuilder, StringRecord, Trim};
use jiff::civil::Date;
use refettle_facts::money::Money;
use refettle_facts::nearest::nearest;
use refettle_facts::quantity::{Length, from_mm};

/// The columns there must be.
pub const NEEDED: [&str; 4] = ["kind", "date", "year", "price"];
/// The columns there may be.
pub const KNOWN: [&str; 9] = [
    "kind",
    "date",
    "year",
    "distance_km",
    "price",
    "papers",
    "condition",
    "region",
    "note",
];
/// Earliest model year that is believed: no motorcycle was sold before.
const EARLIEST: i16 = 1894;
/// Farthest any bike is believed to have run, in kilometres. Judgement, no source.
const FARTHEST_KM: f64 = 1_500_000.0;
/// Dearest price that is believed, in whole units of money. Judgement, no source.
const DEAREST: f64 = 1e9;

/// What a table holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// In the order of the table.
    pub comparables: Vec<Comparable>,
    /// What was read otherwise than written, or not at all.
    pub remarks: Vec<String>,
}

/// Reads a table. Commas separate, or semicolons where the first line has those and no comma; a cell that holds one is
/// quoted. A price may have a decimal comma.
///
/// # Errors
/// Everything wrong, each with its line.
pub fn read(text: &str, on: Date) -> Result<Table, Vec<String>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let first = text.lines().next().unwrap_or("");
    let semicolons = first.contains(';') && !first.contains(',');
    let mut reader = ReaderBuilder::new()
        .delimiter(if semicolons { b';' } else { b',' })
        .flexible(true)
        .trim(Trim::All)
        .from_reader(text.as_bytes());
    let header: Vec<String> = match reader.headers() {
        Ok(header) => header.iter().map(|h| plain(h).replace(' ', "_")).collect(),
        Err(error) => return Err(vec![format!("line 1: {error}; save the table as UTF-8 text")]),
    };
    let (mut mistakes, mut remarks) = columns(&header);
    if !mistakes.is_empty() {
        return Err(mistakes);
    }
    let mut comparables = Vec::new();
    let mut lines = Lines::new(text);
    for record in reader.records() {
        match record {
            Err(error) => mistakes.push(format!("{error}; save the table as UTF-8 text")),
            Ok(record) if record.iter().all(str::is_empty) => {}
            Ok(record) => {
                let row = Row {
                    header: &header,
                    line: record.position().map_or(0, |at| lines.of(at.byte())),
                    record: &record,
                };
                match row.comparable(on, &mut remarks) {
                    Ok(comparable) => comparables.push(comparable),
                    Err(wrong) => {
                        mistakes.extend(wrong.into_iter().map(|w| format!("line {}: {w}", row.line)));
                    }
                }
            }
        }
    }
    if !mistakes.is_empty() {
        return Err(mistakes);
    }
    remarks.extend(twice(&comparables));
    Ok(Table { comparables, remarks })
}

/// Which line a place in the text is on. The reader's own count begins a row before the line breaks that lead to it.
struct Lines<'a> {
    bytes: &'a [u8],
    at: usize,
    line: u64,
}

impl<'a> Lines<'a> {
    const fn new(text: &'a str) -> Lines<'a> {
        Lines {
            bytes: text.as_bytes(),
            at: 0,
            line: 1,
        }
    }

    /// The line of the first byte from here on that is no line break; places are asked for in order.
    fn of(&mut self, byte: u64) -> u64 {
        let asked = usize::try_from(byte).unwrap_or(usize::MAX);
        while let Some(b) = self.bytes.get(self.at) {
            if self.at >= asked && !matches!(b, b'\r' | b'\n') {
                break;
            }
            self.line += u64::from(*b == b'\n');
            self.at += 1;
        }
        self.line
    }
}

fn columns(header: &[String]) -> (Vec<String>, Vec<String>) {
    let missing = NEEDED.iter().filter(|n| !header.iter().any(|h| h == *n));
    let mut mistakes: Vec<String> = missing
        .map(|n| {
            format!(
                "line 1: there is no column '{n}'; the first line names the columns: {}",
                KNOWN.join(",")
            )
        })
        .collect();
    let mut remarks = Vec::new();
    for (at, name) in header.iter().enumerate() {
        if header.iter().take(at).any(|h| h == name) && !name.is_empty() {
            mistakes.push(format!(
                "line 1: the column '{name}' is there twice; leave one out"
            ));
        } else if !KNOWN.contains(&name.as_str()) {
            let hint = nearest(name, KNOWN.iter().copied())
                .map_or_else(String::new, |n| format!("; did you mean '{n}'?"));
            remarks.push(format!("the column '{name}' is not known and was not read{hint}"));
        }
    }
    (mistakes, remarks)
}

/// The same bike advertised twice makes the band too narrow.
fn twice(comparables: &[Comparable]) -> Vec<String> {
    let mut remarks = Vec::new();
    for (at, one) in comparables.iter().enumerate() {
        let same = |c: &&Comparable| {
            (c.kind, c.date, c.year, c.price) == (one.kind, one.date, one.year, one.price)
                && c.distance == one.distance
        };
        if let Some(before) = comparables.iter().take(at).find(same) {
            remarks.push(format!(
                "lines {} and {} say the same; if it is one bike, leave one out: counted twice it makes the band too narrow",
                before.line, one.line
            ));
        }
    }
    remarks
}

struct Row<'a> {
    header: &'a [String],
    line: u64,
    record: &'a StringRecord,
}

impl Row<'_> {
    fn cell(&self, name: &str) -> &str {
        let at = self.header.iter().position(|h| h == name);
        at.and_then(|at| self.record.get(at)).unwrap_or("")
    }

    fn comparable(&self, on: Date, remarks: &mut Vec<String>) -> Result<Comparable, Vec<String>> {
        let mut wrong = Vec::new();
        if self.record.len() > self.header.len() {
            wrong.push(format!(
                "it has {} cells and the first line {}; put quotes round a cell that holds a comma",
                self.record.len(),
                self.header.len()
            ));
        }
        let kind = Kind::read(self.cell("kind"));
        if kind.is_none() {
            wrong.push(format!(
                "kind '{}' is none; write asked, sold or bid not met",
                shown(self.cell("kind"))
            ));
        }
        let date = noted(day(self.cell("date"), on), &mut wrong);
        let year = noted(model_year(self.cell("year"), on), &mut wrong);
        let price = noted(price(self.cell("price")), &mut wrong);
        let distance = noted(distance(self.cell("distance_km")), &mut wrong);
        let typed = self.cell("papers");
        let papers = Papers::read(typed);
        if papers.is_none() && !matches!(typed, "" | "-" | "?") && plain(typed) != "unknown" {
            remarks.push(format!(
                "line {}: papers '{}' is not known here and taken as not said; write clean, rebuilt, salvage or missing",
                self.line,
                shown(typed)
            ));
        }
        match (kind, date, year, price, distance, wrong.is_empty()) {
            (Some(kind), Some(date), Some(year), Some(price), Some(distance), true) => Ok(Comparable {
                line: self.line,
                kind,
                date,
                year,
                distance,
                price,
                papers,
                condition: word(self.cell("condition")),
                region: word(self.cell("region")),
                note: self.cell("note").to_owned(),
            }),
            _ => Err(wrong),
        }
    }
}

/// What was read, or why not among what is wrong.
fn noted<T>(read: Result<T, String>, wrong: &mut Vec<String>) -> Option<T> {
    read.map_err(|why| wrong.push(why)).ok()
}

fn word(cell: &str) -> Option<String> {
    Some(plain(cell)).filter(|w| !w.is_empty())
}

/// As much of a cell as a message needs.
fn shown(cell: &str) -> String {
    cell.chars().take(40).collect()
}

fn day(cell: &str, on: Date) -> Result<Date, String> {
    let date: Date = cell
        .parse()
        .map_err(|_| format!("date '{}' is none; write it as {on}", shown(cell)))?;
    if date > on {
        return Err(format!(
            "date {date} is after {on}, the day the bike is priced for; correct it or price for a later day"
        ));
    }
    Ok(date)
}

fn model_year(cell: &str, on: Date) -> Result<i16, String> {
    let latest = on.year().saturating_add(1);
    match cell.parse::<i16>() {
        Ok(year) if (EARLIEST..=latest).contains(&year) => Ok(year),
        _ => Err(format!(
            "year '{}' is no model year; write one from {EARLIEST} to {latest}",
            shown(cell)
        )),
    }
}

fn price(cell: &str) -> Result<Money, String> {
    let price = amount(cell).map_err(|why| format!("price {why}"))?;
    if price.0 <= 0 {
        return Err(format!(
            "price '{}' cannot be; write one from 0.01 to {DEAREST:.0}",
            shown(cell)
        ));
    }
    Ok(price)
}

/// An amount of money as people type it: nought, or more.
///
/// # Errors
/// What is wrong with it, and what to write.
pub fn amount(text: &str) -> Result<Money, String> {
    let value = number(text)?;
    if !(0.0..=DEAREST).contains(&value) {
        return Err(format!(
            "'{}' cannot be; write an amount from 0 to {DEAREST:.0}",
            shown(text)
        ));
    }
    Ok(super::fit::money(value * 100.0))
}

fn distance(cell: &str) -> Result<Option<Length>, String> {
    if matches!(cell, "" | "-" | "?") {
        return Ok(None);
    }
    let km = number(cell).map_err(|why| format!("distance_km {why}"))?;
    if !(0.0..=FARTHEST_KM).contains(&km) {
        return Err(format!(
            "distance_km '{}' cannot be; write one from 0 to {FARTHEST_KM:.0}",
            shown(cell)
        ));
    }
    Ok(Some(from_mm(km * 1e6)))
}

/// A number as people type it: `2450`, `2450.50`, `2450,50`, `2 450`, `2,450.50`, `2.450,50`, `2,450`.
///
/// Three digits after a lone comma are thousands, as in a price nobody writes with three decimals. Three after a lone
/// point, one to three before it, are either: that is asked about, not guessed.
pub(crate) fn number(cell: &str) -> Result<f64, String> {
    let bad = || {
        format!(
            "'{}' is no number; write digits alone, such as 2450 or 2450.50",
            shown(cell)
        )
    };
    let typed: String = cell
        .chars()
        .filter(|c| !matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\''))
        .collect();
    let digits = typed.strip_prefix('-').unwrap_or(&typed);
    if digits.is_empty()
        || !digits
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
    {
        return Err(bad());
    }
    let (points, commas) = (digits.matches('.').count(), digits.matches(',').count());
    let in_threes = |whole: &str, mark: char| {
        let mut groups = whole.split(mark);
        groups.next().is_some_and(|g| (1..=3).contains(&g.len())) && groups.all(|g| g.len() == 3)
    };
    let plain_form = match (points, commas) {
        (0, 0) => digits.to_owned(),
        (1, 0) => match digits.split_once('.') {
            Some((whole, part))
                if part.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0') =>
            {
                return Err(format!(
                    "'{}' may be {whole}{part} or {whole} and a part; write {whole}{part} or {whole}.{part}0",
                    shown(cell)
                ));
            }
            _ => digits.to_owned(),
        },
        (0, 1) if in_threes(digits, ',') && !digits.starts_with('0') => digits.replace(',', ""),
        (0, 1) => digits.replace(',', "."),
        (_, 0) if in_threes(digits, '.') => digits.replace('.', ""),
        (0, _) if in_threes(digits, ',') => digits.replace(',', ""),
        (1, _) => match digits.split_once('.') {
            Some((whole, part)) if in_threes(whole, ',') && !part.contains(',') => {
                format!("{}.{part}", whole.replace(',', ""))
            }
            _ => decimal_comma(digits).ok_or_else(bad)?,
        },
        _ => decimal_comma(digits).ok_or_else(bad)?,
    };
    let value: f64 = plain_form.parse().map_err(|_| bad())?;
    Ok(if typed.starts_with('-') { -value } else { value })
}

/// `2.450,50` as `2450.50`; `None` when it is not of that form.
fn decimal_comma(digits: &str) -> Option<String> {
    let (whole, part) = digits.split_once(',')?;
    let mut groups = whole.split('.');
    let right = groups.next().is_some_and(|g| (1..=3).contains(&g.len())) && groups.all(|g| g.len() == 3);
    (right && !part.contains(['.', ','])).then(|| format!("{}.{part}", whole.replace('.', "")))
}
