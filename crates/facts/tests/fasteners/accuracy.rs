//! One line per formula and source: how many published rows, and how far the worst is off.

/// A comparison of one formula with one source.
pub struct Check {
    pub formula: &'static str,
    pub source: &'static str,
    pub rows: usize,
    /// Largest deviation, in the unit named.
    pub worst: f64,
    pub unit: &'static str,
}

impl Check {
    pub fn new(formula: &'static str, source: &'static str, unit: &'static str) -> Check {
        Check {
            formula,
            source,
            rows: 0,
            worst: 0.0,
            unit,
        }
    }

    /// Takes one row; the sign of the deviation does not matter.
    pub fn row(&mut self, deviation: f64) {
        assert!(
            deviation.is_finite(),
            "{}: a deviation of {deviation}",
            self.formula
        );
        self.rows += 1;
        self.worst = self.worst.max(deviation.abs());
    }

    /// Takes one row as a share of the printed value, in percent.
    pub fn percent(&mut self, computed: f64, printed: f64) {
        self.row(100.0 * (computed / printed - 1.0));
    }

    /// Prints the line (on a line of its own, whatever the test runner has begun) and holds the tolerance and the number of rows.
    pub fn hold(self, rows: usize, tolerance: f64) {
        // Three digits that mean something, however small.
        let worst = if self.worst > 0.0 && self.worst < 0.01 {
            format!("{:.2e}", self.worst)
        } else {
            format!("{:.3}", self.worst)
        };
        println!(
            "\nACCURACY\t{}\t{}\t{}\t{worst} {}",
            self.formula, self.source, self.rows, self.unit
        );
        assert_eq!(self.rows, rows, "{}: rows compared", self.formula);
        assert!(
            self.worst <= tolerance,
            "{} against {}: {} {}, tolerance {tolerance}",
            self.formula,
            self.source,
            self.worst,
            self.unit
        );
    }
}

/// Tells of a disagreement that the test around it asserts, on a line of its own.
pub fn disagrees(place: &str, what: &str) {
    println!("\nDISAGREES\t{place}\t{what}");
}
