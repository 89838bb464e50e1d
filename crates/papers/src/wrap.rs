//! Text folded to a width, with what follows the first line set in.

use unicode_width::UnicodeWidthStr;

/// Columns of a terminal and of a printed page.
pub(crate) const COLUMNS: usize = 80;

/// Folds a text at spaces: the first line starts with `first`, the others with as many spaces.
#[must_use]
pub fn folded(first: &str, text: &str) -> String {
    let indent = " ".repeat(first.width());
    let mut out = first.to_owned();
    let mut used = first.width();
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && used + 1 + word.width() > COLUMNS {
            out.push('\n');
            out.push_str(&indent);
            used = indent.len();
            empty = true;
        }
        if !empty {
            out.push(' ');
            used += 1;
        }
        out.push_str(word);
        used += word.width();
        empty = false;
    }
    out.push('\n');
    out
}

/// Folds the lines of a message that are too long for a terminal, keeping how far each is set in; lines that fit stay as
/// they are. A word without spaces, such as a path, is never broken.
#[must_use]
pub fn message(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        if line.width() <= COLUMNS {
            out.push_str(line);
            out.push('\n');
            continue;
        }
        let words = line.trim_start();
        let indent = line.get(..line.len() - words.len()).unwrap_or_default();
        let mut used = 0;
        for word in words.split(' ') {
            if used > 0 && used + 1 + word.width() > COLUMNS {
                out.push_str(&format!("\n{indent}  {word}"));
                used = indent.width() + 2 + word.width();
            } else {
                let before = if used == 0 { indent } else { " " };
                out.push_str(before);
                out.push_str(word);
                used += before.width() + word.width();
            }
        }
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_stays_in_its_columns_and_loses_no_word() {
        let long = "word ".repeat(40);
        let text = format!(
            "short\n\n   |   ^^^ stays\n    {}\n{}",
            long.trim(),
            "x".repeat(90)
        );
        let out = message(&text);
        assert!(
            out.contains("   |   ^^^ stays\n") && out.starts_with("short\n\n"),
            "{out}"
        );
        assert_eq!(out.matches("word").count(), 40);
        assert!(
            out.lines().all(|l| l.width() <= COLUMNS || l.starts_with("xxx")),
            "{out}"
        );
        assert!(
            out.lines()
                .filter(|l| l.contains("word"))
                .skip(1)
                .all(|l| l.starts_with("      word")),
            "{out}"
        );
    }

    #[test]
    fn folded_text_stays_in_its_columns() {
        let text = "word ".repeat(60);
        let out = folded("   1  ", &text);
        assert!(out.lines().all(|l| l.width() <= COLUMNS), "{out}");
        assert_eq!(out.matches("word").count(), 60);
    }
}
