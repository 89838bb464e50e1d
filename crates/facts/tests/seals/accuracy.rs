//! Counts checks, holds each to its tolerance and tells the worst deviation.

pub struct Accuracy {
    formula: &'static str,
    source: &'static str,
    unit: &'static str,
    checks: usize,
    worst: f64,
}

impl Accuracy {
    pub fn of(formula: &'static str, source: &'static str, unit: &'static str) -> Accuracy {
        Accuracy {
            formula,
            source,
            unit,
            checks: 0,
            worst: 0.0,
        }
    }

    /// One check: `got` within `tolerance` of `wanted`.
    pub fn see(&mut self, what: &str, got: f64, wanted: f64, tolerance: f64) {
        let off = (got - wanted).abs();
        assert!(
            off <= tolerance,
            "{}: {what}: got {got}, wanted {wanted} within {tolerance}",
            self.formula
        );
        self.checks += 1;
        self.worst = self.worst.max(off);
    }

    /// Prints the line; `at_least` checks must have been made.
    pub fn tell(self, at_least: usize) {
        assert!(
            self.checks >= at_least,
            "{}: {} checks",
            self.formula,
            self.checks
        );
        println!(
            "ACCURACY\t{}\t{}\t{}\t{:.3} {}",
            self.formula, self.source, self.checks, self.worst, self.unit
        );
    }
}

/// Tells of a disagreement that the test around it asserts, on a line of its own.
pub fn disagrees(place: &str, what: &str) {
    println!("\nDISAGREES\t{place}\t{what}");
}
