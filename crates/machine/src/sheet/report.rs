//! Where mistakes are gathered while a sheet is read.

use refettle_facts::nearest::nearest;
use std::cell::{Cell, RefCell};
use std::ops::Range;

/// From how many mistakes on no nearest name is looked for: nobody reads that far, and the search is slow.
const HINTS: usize = 200;

/// What a mistake leaves undecided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Weight {
    /// The text itself could not be read; something may be missing because of it.
    Syntax,
    /// What hangs together is not known: names, lists, whole tables.
    Structure,
    /// One value is wrong; the rest can still be judged.
    Leaf,
}

/// A mistake at a place in the text, not yet drawn.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub span: Range<usize>,
    pub message: String,
    pub expected: String,
    pub nearest: Option<String>,
    pub weight: Weight,
    /// May be there only because some of the text could not be read.
    pub by_absence: bool,
}

/// Gathers mistakes. Shared by all decoders of one reading.
#[derive(Debug, Default)]
pub(super) struct Report {
    found: RefCell<Vec<Found>>,
    /// How many were counted and not kept.
    left_out: Cell<usize>,
}

impl Report {
    pub fn add(&self, found: Found) {
        self.found.borrow_mut().push(found);
    }

    /// A mistake in one value.
    pub fn leaf(&self, span: Range<usize>, message: impl Into<String>, expected: impl Into<String>) {
        self.push(span, message.into(), expected.into(), None, Weight::Leaf, false);
    }

    /// A mistake in how things hang together.
    pub fn structure(&self, span: Range<usize>, message: impl Into<String>, expected: impl Into<String>) {
        self.push(
            span,
            message.into(),
            expected.into(),
            None,
            Weight::Structure,
            false,
        );
    }

    /// Something is not there that should be.
    pub fn absent(&self, span: Range<usize>, message: impl Into<String>, expected: impl Into<String>) {
        self.push(
            span,
            message.into(),
            expected.into(),
            None,
            Weight::Structure,
            true,
        );
    }

    /// A text that is no TOML.
    pub fn syntax(&self, span: Range<usize>, message: impl Into<String>, expected: impl Into<String>) {
        self.push(span, message.into(), expected.into(), None, Weight::Syntax, false);
    }

    /// A mistake of the sheet as a whole.
    pub fn whole(&self, message: String, expected: String) {
        self.syntax(0..0, message, expected);
    }

    /// A word that is none of the known ones.
    pub fn unknown<'w>(
        &self,
        span: Range<usize>,
        message: String,
        word: &str,
        known: impl Iterator<Item = &'w str> + Clone,
        weight: Weight,
        by_absence: bool,
    ) {
        if self.found.borrow().len() >= HINTS {
            self.push(span, message, String::new(), None, weight, by_absence);
            return;
        }
        let near = nearest(word, known.clone()).map(ToOwned::to_owned);
        self.push(span, message, one_of(known), near, weight, by_absence);
    }

    fn push(
        &self,
        span: Range<usize>,
        message: String,
        expected: String,
        nearest: Option<String>,
        weight: Weight,
        by_absence: bool,
    ) {
        self.add(Found {
            span,
            message,
            expected,
            nearest,
            weight,
            by_absence,
        });
    }

    pub fn is_empty(&self) -> bool {
        self.found.borrow().is_empty()
    }

    /// Whether what was decoded hangs together well enough to be judged as a whole.
    pub fn allows_soundness(&self) -> bool {
        self.found.borrow().iter().all(|f| f.weight == Weight::Leaf)
    }

    /// Counts mistakes that are not kept.
    pub fn leave_out(&self, more: usize) {
        self.left_out.set(self.left_out.get() + more);
    }

    /// Takes in what another report found in a text that starts at this place.
    pub fn absorb(&self, other: Report, base: usize) {
        let (found, left_out) = other.into_found();
        self.leave_out(left_out);
        for mut one in found {
            one.span = one.span.start + base..one.span.end + base;
            self.add(one);
        }
    }

    /// What was found, and how many more were left out.
    pub fn into_found(self) -> (Vec<Found>, usize) {
        (self.found.into_inner(), self.left_out.get())
    }
}

/// `one of 'a', 'b', 'c'`, cut after a dozen.
pub(super) fn one_of<'w>(known: impl Iterator<Item = &'w str> + Clone) -> String {
    const LISTED: usize = 12;
    let total = known.clone().count();
    let words: Vec<String> = known.take(LISTED).map(|w| format!("'{w}'")).collect();
    match (total, total.saturating_sub(LISTED)) {
        (0, _) => "nothing: the sheet has none".to_owned(),
        (1, _) => words.concat(),
        (_, 0) => format!("one of {}", words.join(", ")),
        (_, more) => format!("one of {} and {more} more", words.join(", ")),
    }
}
