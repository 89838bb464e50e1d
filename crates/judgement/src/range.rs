//! How long it will take, as a person would believe it.
//!
//! The planner counts expected minutes of somebody who has done the work on a similar bike. Done for the first time on
//! a model it takes half as long again at least (factor 1.5 to 2.5: common practice, no source). So the range runs from
//! the plan's minutes to one and a half times them, rounded as people round.

use refettle_facts::time::Seconds;
use std::fmt;

/// From, to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Range {
    /// Somebody who has done it before.
    pub from: Seconds,
    /// Somebody doing it on this model for the first time, without bad luck.
    pub to: Seconds,
}

/// The range for a plan's hands-on time.
#[must_use]
pub fn believable(hands_on: Seconds) -> Range {
    let to = Seconds(hands_on.0.saturating_add(hands_on.0 / 2));
    Range {
        from: rounded(hands_on),
        to: rounded(to),
    }
}

/// To 5 minutes up to an hour, to a quarter of an hour up to four hours, to half an hour above.
fn rounded(span: Seconds) -> Seconds {
    let step = match span.0 {
        0..=3600 => 300,
        3601..=14_400 => 900,
        _ => 1800,
    };
    if span.0 == 0 {
        span
    } else {
        Seconds(((span.0 + step / 2) / step).max(1) * step)
    }
}

impl fmt::Display for Range {
    /// `45 to 70 min`, `2½ to 4 h`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hours = |s: Seconds| {
            let quarter = ["", "¼", "½", "¾"][(s.0 % 3600 / 900) as usize];
            match (s.0 / 3600, quarter) {
                (0, "") => "0".to_owned(),
                (0, q) => q.to_owned(),
                (h, q) => format!("{h}{q}"),
            }
        };
        if self.to.0 <= 5400 {
            let (from, to) = (self.from.0 / 60, self.to.0 / 60);
            if from == to {
                write!(f, "{from} min")
            } else {
                write!(f, "{from} to {to} min")
            }
        } else if self.from.0 < 3600 {
            write!(f, "{} min to {} h", self.from.0 / 60, hours(self.to))
        } else {
            write!(f, "{} to {} h", hours(self.from), hours(self.to))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_read_as_a_person_says_them() {
        let said = |minutes| believable(Seconds::from_minutes(minutes)).to_string();
        // 21 min and 31.5 min, to 5 min.
        assert_eq!(said(21), "20 to 30 min");
        // 45 min and 67.5 min: the second to a quarter of an hour.
        assert_eq!(said(45), "45 to 75 min");
        // 59 min and 88.5 min.
        assert_eq!(said(59), "60 to 90 min");
        // 160 min to a quarter is 2 h 45; 240 min is 4 h.
        assert_eq!(said(160), "2¾ to 4 h");
        assert_eq!(said(0), "0 min");
    }
}
