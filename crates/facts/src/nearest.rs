//! "Did you mean": the nearest valid name to one that is not.

/// The candidate nearest to `text`, when it is near enough to be a likely slip.
///
/// Distance is Damerau-Levenshtein (edits and swaps); near enough is at most a third of the longer name,
/// and always at least one edit. Ties go to the candidate that comes first.
pub fn nearest<'a>(text: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // A pasted page is nobody's slip, and the distance is quadratic.
    if text.len() > 80 {
        return None;
    }
    let mut best: Option<(usize, &'a str)> = None;
    for candidate in candidates {
        let distance = strsim::damerau_levenshtein(text, candidate);
        let limit = (text.chars().count().max(candidate.chars().count()) / 3).max(1);
        if distance <= limit && best.is_none_or(|(d, _)| distance < d) {
            best = Some((distance, candidate));
        }
    }
    best.map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn slips_find_their_name_and_noise_does_not() {
        let names = ["tank", "seat", "side-cover-l", "side-cover-r"];
        assert_eq!(nearest("tnak", names), Some("tank"));
        assert_eq!(nearest("side-cover", names), Some("side-cover-l"));
        assert_eq!(nearest("carburettor", names), None);
        assert_eq!(nearest(&"x".repeat(10_000), names), None);
    }
}
