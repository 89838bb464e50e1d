//! One screen: the lines of an answer, and those lines as text at most eighty columns wide.

use std::fmt::Display;

/// Widest line.
pub const COLUMNS: usize = 80;
/// Where the values of rows begin.
const VALUES_AT: usize = 22;

/// An answer as a person reads it: a title, then its lines in order.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Screen {
    /// What was asked.
    pub title: String,
    /// The answer, the verdict or the chief figure first.
    pub lines: Vec<Line>,
}

/// Something on a screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Line {
    /// A name and its value. A row without a name goes on with the one before it.
    Row {
        /// Its name.
        name: String,
        /// Its value, with its unit.
        value: String,
    },
    /// A heading and a point for each text.
    Points {
        /// The heading, such as [`FORMULA`].
        heading: String,
        /// The points; never none.
        texts: Vec<String>,
    },
}

/// Heading of the formula by its trade name.
pub const FORMULA: &str = "Formula";
/// Heading of what was taken for granted.
pub const ASSUMPTIONS: &str = "Rests on";
/// Heading of who says so.
pub const SOURCES: &str = "Source";
/// Heading of what can hurt.
pub const CAUTIONS: &str = "Caution";

impl Screen {
    /// Begins with a title.
    pub(super) fn titled(title: impl Display) -> Screen {
        Screen {
            title: title.to_string(),
            lines: Vec::new(),
        }
    }

    /// A name and its value.
    pub(super) fn row(&mut self, name: &str, value: impl Display) {
        self.lines.push(Line::Row {
            name: name.to_owned(),
            value: value.to_string(),
        });
    }

    /// A name and its value, where there is one.
    pub(super) fn row_if(&mut self, name: &str, value: Option<impl Display>) {
        if let Some(value) = value {
            self.row(name, value);
        }
    }

    /// A heading and a point for each text; nothing at all without texts.
    pub(super) fn points<T: AsRef<str>>(&mut self, heading: &str, texts: &[T]) {
        if texts.is_empty() {
            return;
        }
        self.lines.push(Line::Points {
            heading: heading.to_owned(),
            texts: texts.iter().map(|text| text.as_ref().to_owned()).collect(),
        });
    }

    /// As text, each line ended and none wider than [`COLUMNS`].
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = Wrapped::default();
        text.wrapped("", "  ", &self.title);
        for line in &self.lines {
            match line {
                Line::Row { name, value } => text.row(name, value),
                Line::Points { heading, texts } => {
                    text.wrapped("", "", heading);
                    for point in texts {
                        text.wrapped("  - ", "    ", point);
                    }
                }
            }
        }
        text.text
    }
}

/// Text being written, line by line.
#[derive(Debug, Default)]
struct Wrapped {
    text: String,
}

impl Wrapped {
    fn row(&mut self, name: &str, value: &str) {
        if name.chars().count() > VALUES_AT - 3 {
            // A name too long for its column has a line of its own.
            self.wrapped("  ", "  ", name);
            return self.row("", value);
        }
        let name = format!("  {name:<width$}", width = VALUES_AT - 2);
        self.wrapped(&name, &" ".repeat(VALUES_AT), value);
    }

    /// Words after `first`, later lines after `then`; a word longer than a line is cut into lines.
    fn wrapped(&mut self, first: &str, then: &str, text: &str) {
        let mut line = first.to_owned();
        let mut empty = true;
        for word in text.split_whitespace() {
            for piece in pieces(word, COLUMNS - then.chars().count()) {
                let gap = usize::from(!empty);
                if !empty && line.chars().count() + gap + piece.chars().count() > COLUMNS {
                    self.end(&line);
                    then.clone_into(&mut line);
                    empty = true;
                }
                if !empty {
                    line.push(' ');
                }
                line.push_str(&piece);
                empty = false;
            }
        }
        self.end(&line);
    }

    fn end(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }
}

fn pieces(word: &str, widest: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters
        .chunks(widest.max(1))
        .map(|piece| piece.iter().collect())
        .collect()
}

/// A number for people: at most so many decimals, no trailing zeros, no minus before nothing.
pub(crate) fn number(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        text.as_str()
    };
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// A number for JSON, to a millionth: what the conversion between units leaves behind is no information.
pub(crate) fn exact(value: f64) -> f64 {
    let tidy = (value * 1e6).round() / 1e6;
    if tidy.is_finite() { tidy + 0.0 } else { value }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_the_screen_and_no_word_is_lost() {
        let long = "x".repeat(200);
        let mut screen = Screen::titled("Title");
        screen.row("a name", format!("{} {long} end", "word ".repeat(40)));
        screen.row("a name that is longer than its column", "value");
        screen.points("why", &[long.as_str(), "short"]);
        let text = screen.text();
        assert!(text.lines().all(|line| line.chars().count() <= COLUMNS), "{text}");
        assert_eq!(text.matches("word").count(), 40);
        assert_eq!(text.chars().filter(|c| *c == 'x').count(), 400);
        assert!(text.contains("end") && text.contains("- short"));
    }

    #[test]
    fn numbers_are_written_as_people_do() {
        assert_eq!(number(17.970, 1), "18");
        assert_eq!(number(100.0, 0), "100");
        assert_eq!(number(-0.001, 2), "0");
        assert!((exact(-37.099_999_999_999_97) + 37.1).abs() < 1e-12);
        assert!(exact(f64::NAN).is_nan());
    }
}
