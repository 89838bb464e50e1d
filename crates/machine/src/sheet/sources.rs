//! The texts of one reading, the sheet and the families it names, as if laid end to end.
//!
//! A place is a byte counted over all of them, so that everything after parsing deals in one kind of place and only
//! the drawing of mistakes asks which text it lies in.

use std::ops::Range;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

/// One text.
#[derive(Debug)]
pub(super) struct Source<'t> {
    /// The family it is, or none for the sheet itself.
    pub family: Option<&'t str>,
    pub text: &'t str,
    /// Where it starts among all texts.
    pub base: usize,
}

/// All texts of one reading; the sheet is the first.
#[derive(Debug)]
pub(super) struct Sources<'t> {
    all: Vec<Source<'t>>,
}

impl<'t> Sources<'t> {
    /// The sheet alone.
    pub fn of(sheet: &'t str) -> Sources<'t> {
        let sheet = Source {
            family: None,
            text: sheet,
            base: 0,
        };
        Sources { all: vec![sheet] }
    }

    /// Adds a family's text; returns where it starts.
    pub fn add(&mut self, family: &'t str, text: &'t str) -> usize {
        // One byte more than the text before it, so that a mistake at its very end is still its own.
        let base = self.all.last().map_or(0, |last| last.base + last.text.len() + 1);
        self.all.push(Source {
            family: Some(family),
            text,
            base,
        });
        base
    }

    pub fn all(&self) -> &[Source<'t>] {
        &self.all
    }
}

/// A table with all its places moved on by so many bytes.
pub(super) fn moved(table: DeTable<'_>, by: usize) -> DeTable<'_> {
    table
        .into_iter()
        .map(|(key, value)| (moved_key(key, by), moved_value(value, by)))
        .collect()
}

fn moved_key(key: Spanned<DeString<'_>>, by: usize) -> Spanned<DeString<'_>> {
    Spanned::new(on(key.span(), by), key.into_inner())
}

/// Goes down a level by calling itself: `syntax` has refused what is nested too deep.
fn moved_value(value: Spanned<DeValue<'_>>, by: usize) -> Spanned<DeValue<'_>> {
    let span = on(value.span(), by);
    let value = match value.into_inner() {
        DeValue::Table(table) => DeValue::Table(moved(table, by)),
        DeValue::Array(array) => DeValue::Array(array.into_iter().map(|v| moved_value(v, by)).collect()),
        other => other,
    };
    Spanned::new(span, value)
}

fn on(span: Range<usize>, by: usize) -> Range<usize> {
    span.start + by..span.end + by
}
