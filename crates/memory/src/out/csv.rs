//! Comma-separated values (RFC 4180).

use std::borrow::Cow;

/// A text as one cell: quoted where it must be. A cell that a spreadsheet would take for a formula gets an apostrophe
/// in front, so that a note typed at the bench is never run.
#[must_use]
pub fn cell(text: &str) -> Cow<'_, str> {
    let formula = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if formula || text.contains([',', '"', '\n', '\r']) {
        let guard = if formula { "'" } else { "" };
        Cow::Owned(format!("\"{guard}{}\"", text.replace('"', "\"\"")))
    } else {
        Cow::Borrowed(text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Reads one line of RFC 4180 cells.
    fn read(line: &str) -> Vec<String> {
        let mut cells = vec![String::new()];
        let (mut quoted, mut chars) = (false, line.chars().peekable());
        while let Some(c) = chars.next() {
            match c {
                '"' if quoted && chars.peek() == Some(&'"') => {
                    chars.next();
                    cells.last_mut().unwrap().push('"');
                }
                '"' => quoted = !quoted,
                ',' if !quoted => cells.push(String::new()),
                c => cells.last_mut().unwrap().push(c),
            }
        }
        assert!(!quoted);
        cells
    }

    proptest! {
        #[test]
        fn every_text_reads_back_and_none_is_a_formula(texts in prop::collection::vec("[=+@a\"',\n\r\t -]{0,6}|\\PC{0,12}", 1..5)) {
            let line = texts.iter().map(|t| cell(t)).collect::<Vec<_>>().join(",");
            let back = read(&line);
            prop_assert_eq!(back.len(), texts.len());
            for (back, text) in back.iter().zip(&texts) {
                let guarded = format!("'{text}");
                prop_assert!(back == text || *back == guarded);
                prop_assert!(!back.starts_with(['=', '+', '-', '@', '\t', '\r']));
            }
        }
    }
}
