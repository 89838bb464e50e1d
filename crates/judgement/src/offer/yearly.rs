//! The number of bikes a private person may sell in a year, as the person entered it.

/// What stands beside every count.
pub const ASK: &str = "how many sales a year are allowed without a dealer's licence differs by place, and some places count motorcycles apart: ask the authority";

/// A warning when this bike's sale would be the last allowed, or one too many; `None` well before.
///
/// `sold` counts own sales of the last twelve months, `limit` is what the person was told.
#[must_use]
pub fn warning(sold: u32, limit: u32) -> Option<String> {
    let after = sold.saturating_add(1);
    if after > limit {
        Some(format!(
            "{sold} sold in twelve months and {limit} allowed: selling this one too would be past the limit you entered; {ASK}"
        ))
    } else if after == limit {
        Some(format!(
            "{sold} sold in twelve months: this one would be the last of the {limit} you entered; {ASK}"
        ))
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_allowed_and_one_too_many_are_warned_of() {
        assert_eq!(warning(2, 5), None);
        assert!(warning(4, 5).is_some_and(|w| w.contains("the last of the 5")));
        assert!(
            warning(5, 5).is_some_and(|w| w.contains("past the limit") && w.contains("ask the authority"))
        );
        assert!(warning(u32::MAX, u32::MAX).is_some());
        assert!(warning(0, 0).is_some());
    }
}
