//! How wide words are, and breaking them into lines, where nothing measures them for us.

/// Width of a text in ems, never less than the widest common system face (DejaVu Sans) sets it. Advance widths from
/// memory, rounded up.
pub(crate) fn ems(text: &str) -> f64 {
    text.chars().map(em).sum()
}

fn em(c: char) -> f64 {
    match c {
        'i' | 'l' | 'j' | '\'' | '|' => 0.29,
        ' ' | ',' | '.' | ':' | ';' => 0.34,
        'f' | 't' | 'r' | '!' | '(' | ')' | '-' | '/' | 'I' | 'J' => 0.42,
        's' | 'z' | 'c' | 'k' | 'v' | 'x' | 'y' => 0.60,
        'm' | 'w' | 'M' | 'W' | '%' | '@' => 1.0,
        'A'..='Z' => 0.79,
        _ => 0.65,
    }
}

/// Lines no wider than so many ems, broken between words and after hyphens; a longer word is broken where it must be.
/// What does not fit the last line ends in an ellipsis.
pub(crate) fn wrap(text: &str, width: f64, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let joined = lines.last().map(|line| format!("{line} {word}"));
        match (joined, lines.last_mut()) {
            (Some(joined), Some(line)) if ems(&joined) <= width => *line = joined,
            _ => lines.extend(pieces(word, width)),
        }
    }
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            while !last.is_empty() && ems(last) + 1.0 > width {
                last.pop();
            }
            last.push('…');
        }
    }
    lines
}

fn pieces(word: &str, width: f64) -> Vec<String> {
    let mut out = vec![String::new()];
    for c in word.chars() {
        if let Some(last) = out.last_mut() {
            if !last.is_empty() && ems(last) + em(c) > width {
                out.push(c.to_string());
            } else {
                last.push(c);
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn lines_break_between_words() {
        assert_eq!(wrap("drain the engine oil", 6.0, 9), ["drain the", "engine oil"]);
        assert!(wrap("", 5.0, 3).is_empty());
        assert_eq!(wrap("one two three four", 3.2, 2), ["one", "two…"]);
    }

    proptest! {
        #[test]
        fn no_line_is_wider_than_asked(text in "[ -~]{0,60}", width in 2.0_f64..30.0, most in 1_usize..5) {
            let lines = wrap(&text, width, most);
            prop_assert!(lines.len() <= most);
            for line in &lines {
                prop_assert!(ems(line) <= width + 1e-9, "{line} is {} wide", ems(line));
            }
        }
    }
}
