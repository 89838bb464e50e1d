//! Text folded to a width, with what follows the first line set in.

use unicode_width::UnicodeWidthStr;

/// Columns of a terminal and of a printed page.
pub(crate) const COLUMNS: usize = 80;

/// Folds a text at spaces: the first line starts with `first`, the others with as many spaces.
pub(crate) fn folded(first: &str, text: &str) -> String {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folded_text_stays_in_its_columns() {
        let text = "word ".repeat(60);
        let out = folded("   1  ", &text);
        assert!(out.lines().all(|l| l.width() <= COLUMNS), "{out}");
        assert_eq!(out.matches("word").count(), 60);
    }
}
