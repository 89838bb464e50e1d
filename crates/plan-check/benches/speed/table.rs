//! Lines of the table.

/// What one question came to.
#[derive(Clone, Copy, Default)]
pub struct Line {
    /// Bound of the start, cost of the first plan, of the last, and its bound, in seconds of work.
    pub root: u32,
    pub first: u32,
    pub cost: u32,
    pub bound: u32,
    /// Milliseconds to the first plan, and in all.
    pub first_ms: f64,
    pub all_ms: f64,
    /// Cost of the plan at hand after 50 ms.
    pub at_50_ms: Option<u32>,
    pub atoms: usize,
    pub looked_at: usize,
}

impl Line {
    pub fn proven(&self) -> bool {
        self.bound >= self.cost
    }

    /// Per cent between the bound and the cost.
    pub fn gap(&self) -> f64 {
        gap(self.bound, self.cost)
    }
}

pub fn gap(bound: u32, cost: u32) -> f64 {
    if cost == 0 {
        0.0
    } else {
        100.0 * f64::from(cost.saturating_sub(bound)) / f64::from(cost)
    }
}

/// The value below or at which this part of a hundred lies.
pub fn part(values: &[f64], hundredth: usize) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let at = (sorted.len() * hundredth).div_ceil(100).max(1) - 1;
    sorted.get(at).copied().unwrap_or(0.0)
}

pub fn head() {
    println!(
        "| questions | number | proven | gap %, half / 95 % / worst | root gap % | first plan dearer % | first plan ms, half / 95 % / worst | gap at 50 ms % | all ms, half / 95 % / worst |"
    );
    println!("|---|--:|--:|--:|--:|--:|--:|--:|--:|");
}

pub fn row(name: &str, lines: &[Line]) {
    if lines.is_empty() {
        return;
    }
    let three = |pick: &dyn Fn(&Line) -> f64, digits: usize| {
        let values: Vec<f64> = lines.iter().map(pick).collect();
        format!(
            "{:.digits$} / {:.digits$} / {:.digits$}",
            part(&values, 50),
            part(&values, 95),
            part(&values, 100)
        )
    };
    let proven = lines.iter().filter(|l| l.proven()).count();
    let without = lines.iter().filter(|l| l.at_50_ms.is_none()).count();
    let early: Vec<Line> = lines.iter().filter(|l| l.at_50_ms.is_some()).copied().collect();
    let late = if without > 0 {
        format!(" ({without} without)")
    } else {
        String::new()
    };
    let at_50: Vec<f64> = early
        .iter()
        .map(|l| gap(l.bound, l.at_50_ms.unwrap_or(l.cost)))
        .collect();
    println!(
        "| {name} | {} | {proven} | {} | {} | {} | {} | {:.1} / {:.1}{late} | {} |",
        lines.len(),
        three(&|l| l.gap(), 1),
        three(&|l| gap(l.root, l.cost), 1),
        three(&|l| gap(l.cost, l.first), 1),
        three(&|l| l.first_ms, 1),
        part(&at_50, 50),
        part(&at_50, 100),
        three(&|l| l.all_ms, 1),
    );
}
