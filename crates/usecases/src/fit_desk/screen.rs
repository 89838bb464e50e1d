//! One screen of text, at most eighty columns wide.

use std::fmt::Display;

/// Widest line.
pub const COLUMNS: usize = 80;
/// Where the values of [`Screen::row`] begin.
const VALUES_AT: usize = 22;

/// Text being written, line by line.
#[derive(Debug, Default)]
pub(super) struct Screen {
    text: String,
}

impl Screen {
    /// Begins with a title.
    pub(super) fn titled(title: impl Display) -> Screen {
        let mut screen = Screen::default();
        screen.wrapped("", "  ", &title.to_string());
        screen
    }

    /// A name and its value.
    pub(super) fn row(&mut self, name: &str, value: impl Display) {
        if name.chars().count() > VALUES_AT - 3 {
            // A name too long for its column has a line of its own.
            self.wrapped("  ", "  ", name);
            return self.row("", value);
        }
        let name = format!("  {name:<width$}", width = VALUES_AT - 2);
        self.wrapped(&name, &" ".repeat(VALUES_AT), &value.to_string());
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
        self.wrapped("", "", heading);
        for text in texts {
            self.wrapped("  - ", "    ", text.as_ref());
        }
    }

    /// The whole text, each line ended.
    pub(super) fn finished(self) -> String {
        self.text
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
        let text = screen.finished();
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
