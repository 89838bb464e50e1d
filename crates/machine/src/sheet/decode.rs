//! A cursor over one table: takes keys out by type, reports what is not as it should be, and goes on.

use super::keys::Keys;
use super::names::Names;
use super::report::{Found, Report, Weight, one_of};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Longest text of one value, in characters: a paragraph.
const LONGEST_TEXT: usize = 2_000;

/// One table of the sheet while it is decoded.
pub(super) struct Table<'a> {
    entries: &'a DeTable<'a>,
    /// Where the table is, for what is missing in it.
    pub span: Range<usize>,
    /// What it is, in words: `part 'tank'`.
    pub what: String,
    pub names: &'a Names<'a>,
    pub report: &'a Report,
}

impl<'a> Table<'a> {
    /// Opens a table and reports the keys it should not have.
    pub fn new(
        entries: &'a DeTable<'a>,
        span: Range<usize>,
        what: impl Into<String>,
        keys: Keys,
        names: &'a Names<'a>,
        report: &'a Report,
    ) -> Table<'a> {
        let what = what.into();
        for (key, _) in entries {
            let word: &str = key.get_ref();
            if !keys.contains(&word) {
                let message = format!("{what} has no key '{}'", cut(word));
                report.unknown(
                    key.span(),
                    message,
                    word,
                    keys.iter().copied(),
                    Weight::Structure,
                    false,
                );
            }
        }
        Table {
            entries,
            span,
            what,
            names,
            report,
        }
    }

    /// The value of a key, if it is there.
    pub fn get(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.entries
            .iter()
            .find(|(k, _)| k.get_ref() == key)
            .map(|(_, v)| v)
    }

    pub fn has(&self, key: &str) -> bool {
        self.get(key).is_some()
    }

    /// Place of a key's value, or of the table when it is not there.
    pub fn span_of(&self, key: &str) -> Range<usize> {
        self.get(key).map_or(self.span.clone(), Spanned::span)
    }

    /// The value of a key that must be there.
    pub fn required(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        let value = self.get(key);
        if value.is_none() {
            self.missing(key);
        }
        value
    }

    pub fn missing(&self, key: &str) {
        self.report.absent(
            self.span.clone(),
            format!("{} has no '{key}'", self.what),
            format!("a key '{key}'"),
        );
    }

    /// Reports one wrong value.
    pub fn wrong(&self, key: &str, message: &str, expected: &str) {
        self.report.leaf(self.span_of(key), message, expected);
    }

    /// Reports a value of another type than wanted.
    pub fn wrong_type(&self, value: &Spanned<DeValue<'_>>, key: &str, expected: &str) {
        self.report.structure(
            value.span(),
            format!("'{key}' is {}", type_word(value.get_ref())),
            expected,
        );
    }

    /// A text that must be there and not be empty.
    pub fn text(&self, key: &str) -> Option<String> {
        let value = self.required(key)?;
        self.as_text(value, key)
    }

    /// A text that may be left out.
    pub fn text_if_any(&self, key: &str) -> Option<String> {
        let value = self.get(key)?;
        self.as_text(value, key)
    }

    /// A text that may be left out or empty.
    pub fn text_or_empty(&self, key: &str) -> String {
        self.text_if_any(key).unwrap_or_default()
    }

    /// A value as a text of one paragraph.
    pub fn as_text(&self, value: &Spanned<DeValue<'_>>, key: &str) -> Option<String> {
        let DeValue::String(text) = value.get_ref() else {
            self.wrong_type(value, key, "a text in quotes");
            return None;
        };
        if text.trim().is_empty() {
            self.report
                .leaf(value.span(), format!("'{key}' is empty"), "some words");
            return None;
        }
        let length = text.chars().count();
        if length > LONGEST_TEXT {
            self.report.leaf(
                value.span(),
                format!("'{key}' is {length} characters long"),
                format!("at most {LONGEST_TEXT}"),
            );
            return None;
        }
        Some(text.to_string())
    }

    /// A name as the sheet's own: lower-case letters, digits, `-` and `.`.
    pub fn name(&self, key: &str) -> Option<String> {
        let value = self.required(key)?;
        let text = self.as_text(value, key)?;
        super::names::is_name(&text, value.span(), self.report).then_some(text)
    }

    /// True or false.
    pub fn flag(&self, key: &str, default: bool) -> bool {
        match self.get(key) {
            None => default,
            Some(value) => match value.get_ref() {
                DeValue::Boolean(flag) => *flag,
                _ => {
                    self.wrong_type(value, key, "true or false");
                    default
                }
            },
        }
    }

    /// One word out of a few.
    pub fn word<T: Copy>(&self, key: &str, words: &[(&str, T)]) -> Option<T> {
        let value = self.get(key)?;
        self.as_word(value, key, words)
    }

    pub fn as_word<T: Copy>(
        &self,
        value: &Spanned<DeValue<'_>>,
        key: &str,
        words: &[(&str, T)],
    ) -> Option<T> {
        let DeValue::String(text) = value.get_ref() else {
            self.wrong_type(value, key, &one_of(words.iter().map(|(w, _)| *w)));
            return None;
        };
        let found = words
            .iter()
            .find(|(word, _)| word == text)
            .map(|(_, meaning)| *meaning);
        if found.is_none() {
            let message = format!("'{}' is no {key}", cut(text));
            let known = words.iter().map(|(w, _)| *w);
            self.report
                .unknown(value.span(), message, text, known, Weight::Leaf, false);
        }
        found
    }

    /// The elements of a list that may be left out. A list that is no list is reported and read as empty.
    pub fn list(&self, key: &str) -> &'a [Spanned<DeValue<'a>>] {
        let Some(value) = self.get(key) else {
            return &[];
        };
        match value.get_ref() {
            DeValue::Array(array) => array,
            _ => {
                self.wrong_type(value, key, "a list in square brackets");
                &[]
            }
        }
    }

    /// A table inside this one.
    pub fn inner(&self, key: &str, what: &str, keys: Keys) -> Option<Table<'a>> {
        let value = self.get(key)?;
        self.as_table(value, key, what, keys)
    }

    /// A table inside this one that must be there.
    pub fn inner_required(&self, key: &str, what: &str, keys: Keys) -> Option<Table<'a>> {
        let value = self.required(key)?;
        self.as_table(value, key, what, keys)
    }

    pub fn as_table(
        &self,
        value: &'a Spanned<DeValue<'a>>,
        key: &str,
        what: &str,
        keys: Keys,
    ) -> Option<Table<'a>> {
        match value.get_ref() {
            DeValue::Table(entries) => {
                let what = format!("{what} of {}", self.what);
                Some(Table::new(
                    entries,
                    value.span(),
                    what,
                    keys,
                    self.names,
                    self.report,
                ))
            }
            _ => {
                self.wrong_type(value, key, "a table in braces");
                None
            }
        }
    }

    /// The tables of a list of tables.
    pub fn tables(&self, key: &str, what: &str, keys: Keys) -> Vec<Table<'a>> {
        self.list(key)
            .iter()
            .filter_map(|value| self.as_table(value, key, what, keys))
            .collect()
    }

    /// Reports something said twice.
    pub fn twice(&self, span: Range<usize>, said: &str) {
        self.report.add(Found {
            span,
            message: format!("'{}' is named twice", cut(said)),
            expected: "each once".to_owned(),
            nearest: None,
            weight: Weight::Leaf,
            by_absence: false,
        });
    }
}

/// A word cut to a length that can be shown in a line.
pub(super) fn cut(word: &str) -> String {
    const LONGEST: usize = 40;
    let mut short: String = word.chars().take(LONGEST).collect();
    if word.chars().nth(LONGEST).is_some() {
        short.push('…');
    }
    short
}

/// What a value is, in words.
pub(super) fn type_word(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
