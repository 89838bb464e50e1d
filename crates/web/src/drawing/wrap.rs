//! Breaking words into lines where nothing measures them for us.

/// Lines of at most `most` characters, broken between words; a longer word stands alone.
pub(crate) fn wrap(text: &str, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_between_words_and_keep_every_word() {
        assert_eq!(wrap("drain the engine oil", 10), ["drain the", "engine oil"]);
        assert_eq!(wrap("  a   b ", 10), ["a b"]);
        assert_eq!(wrap("carburettors on", 5), ["carburettors", "on"]);
        assert!(wrap("", 5).is_empty());
    }
}
