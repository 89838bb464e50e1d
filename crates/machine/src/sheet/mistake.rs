//! Mistakes as a person reads them: place, excerpt with a caret, what was expected, the nearest valid name.

use super::report::{Found, Report, Weight};
use super::sources::{Source, Sources};
use std::fmt;

/// How many mistakes are kept and shown.
pub const SHOWN: usize = 100;

/// Longest excerpt, in characters: fits a terminal of 80 columns beside the line number.
const EXCERPT: usize = 66;

/// Columns of a narrow terminal.
const WIDTH: usize = 80;

/// One mistake in a sheet, or in a family it names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mistake {
    /// The family's file, `chain-drive.toml`; none when it is in the sheet itself.
    pub family: Option<String>,
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, counted in characters.
    pub column: usize,
    /// The line, or the stretch of it around the place when it is long; control characters replaced.
    pub excerpt: String,
    /// Where in the excerpt the marked text starts, in characters from 0.
    pub caret: usize,
    /// How many characters are marked, 1 or more.
    pub marked: usize,
    /// What is wrong.
    pub message: String,
    /// What would do.
    pub expected: String,
    /// The nearest valid name, where one is near.
    pub nearest: Option<String>,
}

impl fmt::Display for Mistake {
    /// At most 80 columns wide, as far as single words allow.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let file = self
            .family
            .as_ref()
            .map(|file| format!("family {file}, "))
            .unwrap_or_default();
        let said = format!(
            "{file}line {}, column {}: {}",
            self.line, self.column, self.message
        );
        f.write_str(&wrapped(&said, "", "    "))?;
        if !self.excerpt.is_empty() {
            write!(f, "\n{:>5} | {}", self.line, self.excerpt)?;
            write!(
                f,
                "\n      | {}{}",
                " ".repeat(self.caret),
                "^".repeat(self.marked)
            )?;
        }
        let near = self
            .nearest
            .as_ref()
            .map(|near| format!("did you mean '{near}'?"));
        let expected = (!self.expected.is_empty()).then(|| format!("expected {}", self.expected));
        for help in expected.into_iter().chain(near) {
            write!(f, "\n{}", wrapped(&help, "        ", "        "))?;
        }
        Ok(())
    }
}

/// Breaks a text between words so that lines fit [`WIDTH`].
fn wrapped(text: &str, first: &str, next: &str) -> String {
    let mut lines = String::from(first);
    let mut column = first.chars().count();
    let mut fresh = true;
    for word in text.split(' ') {
        let length = word.chars().count();
        if !fresh && column + 1 + length > WIDTH {
            lines.push('\n');
            lines.push_str(next);
            column = next.chars().count();
            fresh = true;
        }
        if !fresh {
            lines.push(' ');
            column += 1;
        }
        lines.push_str(word);
        column += length;
        fresh = false;
    }
    lines
}

/// Every mistake of a sheet, by place. Never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mistakes {
    /// The first [`SHOWN`] of them.
    pub shown: Vec<Mistake>,
    /// How many more there are.
    pub more: usize,
    /// Whether every check was made. Otherwise some wait until these mistakes are mended: a name may only seem
    /// to be missing because its line could not be read.
    pub complete: bool,
}

impl Mistakes {
    /// How many there are in all.
    #[must_use]
    pub fn count(&self) -> usize {
        self.shown.len() + self.more
    }
}

impl fmt::Display for Mistakes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for mistake in &self.shown {
            writeln!(f, "{mistake}\n")?;
        }
        match self.count() {
            1 => write!(f, "1 mistake; the sheet was not loaded")?,
            n => write!(f, "{n} mistakes; the sheet was not loaded")?,
        }
        if self.more > 0 {
            write!(f, "; {} more are not shown", self.more)?;
        }
        if !self.complete {
            write!(
                f,
                "; whether everything can be reached is looked at once these are mended"
            )?;
        }
        Ok(())
    }
}

impl std::error::Error for Mistakes {}

/// Turns what was found into mistakes with lines, columns and excerpts.
pub(super) fn locate(sources: &Sources<'_>, report: Report) -> Mistakes {
    let (mut found, left_out) = report.into_found();
    let complete = found.iter().all(|f| f.weight == Weight::Leaf);
    let texts: Vec<Lines<'_>> = sources.all().iter().map(Lines::of).collect();
    if found.iter().any(|f| f.weight == Weight::Syntax) {
        drop_consequences(&mut found, &texts);
    }
    found.sort_by(|a, b| (a.span.start, a.span.end, &a.message).cmp(&(b.span.start, b.span.end, &b.message)));
    found.dedup_by(|a, b| a.span == b.span && a.message == b.message);
    let total = found.len();
    let shown: Vec<Mistake> = found
        .into_iter()
        .take(SHOWN)
        .filter_map(|f| Some(lines_at(&texts, f.span.start)?.draw(f)))
        .collect();
    Mistakes {
        more: total - shown.len() + left_out,
        shown,
        complete,
    }
}

/// The text in which a place lies.
fn lines_at<'l, 't>(texts: &'l [Lines<'t>], at: usize) -> Option<&'l Lines<'t>> {
    texts.iter().rev().find(|lines| lines.base <= at)
}

/// Beside text that could not be read, leaves out what may be its consequence: things that are missing, and
/// other mistakes on the same line.
fn drop_consequences(found: &mut Vec<Found>, texts: &[Lines<'_>]) {
    let line_of = |at: usize| lines_at(texts, at).map(|lines| (lines.base, lines.line_of(at)));
    let broken: std::collections::BTreeSet<Option<(usize, usize)>> = found
        .iter()
        .filter(|f| f.weight == Weight::Syntax)
        .map(|f| line_of(f.span.start))
        .collect();
    found
        .retain(|f| f.weight == Weight::Syntax || !(f.by_absence || broken.contains(&line_of(f.span.start))));
}

/// Where the lines of a text start, counted over all texts.
struct Lines<'t> {
    family: Option<&'t str>,
    text: &'t str,
    base: usize,
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    fn of(source: &Source<'t>) -> Lines<'t> {
        let after_ends = source.text.bytes().enumerate().filter(|(_, b)| *b == b'\n');
        let starts = std::iter::once(0)
            .chain(after_ends.map(|(at, _)| at + 1))
            .map(|start| source.base + start)
            .collect();
        Lines {
            family: source.family,
            text: source.text,
            base: source.base,
            starts,
        }
    }

    /// Line, from 0, of a byte of the text.
    fn line_of(&self, at: usize) -> usize {
        self.starts
            .partition_point(|start| *start <= at)
            .saturating_sub(1)
    }

    fn draw(&self, found: Found) -> Mistake {
        let line = self.line_of(found.span.start.min(self.base + self.text.len()));
        let start = self.starts.get(line).copied().unwrap_or(self.base);
        let rest = self.text.get(start - self.base..).unwrap_or("");
        let mut whole = rest.split('\n').next().unwrap_or("");
        whole = whole.strip_suffix('\r').unwrap_or(whole);
        // A byte order mark is no character of the first line.
        let mark = if line == 0 && whole.starts_with('\u{feff}') {
            '\u{feff}'.len_utf8()
        } else {
            0
        };
        let whole = whole.get(mark..).unwrap_or("");
        let chars_to = |at: usize| {
            whole
                .char_indices()
                .take_while(|(offset, _)| start + mark + offset < at)
                .count()
        };
        let column = chars_to(found.span.start);
        let length = whole.chars().count();
        let marked = chars_to(found.span.end).saturating_sub(column).max(1);
        let shift = if length <= EXCERPT {
            0
        } else {
            column.saturating_sub(EXCERPT / 3).min(length - EXCERPT)
        };
        let excerpt: String = whole.chars().skip(shift).take(EXCERPT).map(printable).collect();
        let caret = (column - shift).min(EXCERPT);
        Mistake {
            family: self.family.map(|name| format!("{name}.toml")),
            line: line + 1,
            column: column + 1,
            caret,
            marked: marked.min(EXCERPT.saturating_sub(caret).max(1)),
            excerpt,
            message: found.message.chars().map(printable).collect(),
            expected: found.expected,
            nearest: found.nearest,
        }
    }
}

/// A character that does nothing to a terminal: tabs become a space, controls and direction marks a sign.
fn printable(c: char) -> char {
    match c {
        '\t' => ' ',
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{feff}' => {
            '\u{fffd}'
        }
        c if c.is_control() => '\u{fffd}',
        c => c,
    }
}
