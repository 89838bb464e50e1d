//! Axes: round figures to stand at a line, and where they stand.

/// A stretch of figures drawn onto a stretch of the picture.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Axis {
    from: f64,
    to: f64,
    start: f64,
    end: f64,
}

impl Axis {
    /// Figures from `from` to `to` onto places from `start` to `end`; a stretch of nothing is widened to one about it.
    pub(crate) fn new((from, to): (f64, f64), (start, end): (f64, f64)) -> Axis {
        let (from, to) = if to - from > 1e-9 * from.abs().max(to.abs()) {
            (from, to)
        } else {
            (from - 1.0, to + 1.0)
        };
        Axis { from, to, start, end }
    }

    /// Where a figure stands, to a tenth; one beyond the ends stands at the end.
    pub(crate) fn at(&self, figure: f64) -> f64 {
        let share = ((figure - self.from) / (self.to - self.from)).clamp(0.0, 1.0);
        ((self.end - self.start).mul_add(share, self.start) * 10.0).round() / 10.0
    }

    /// Round figures on the stretch: ones, twos or fives of a power of ten, at most so many.
    pub(crate) fn ticks(&self, most: u32) -> Vec<f64> {
        let rough = (self.to - self.from) / f64::from(most.max(1));
        let power = 10f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0]
            .into_iter()
            .map(|s| s * power)
            .find(|s| *s >= rough)
            .unwrap_or(10.0 * power);
        let first = (self.from / step).ceil();
        (0..=most)
            .map(|i| (first + f64::from(i)) * step)
            .take_while(|v| *v <= self.to + 1e-9 * step)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_on_the_stretch() {
        let ticks = Axis::new((1_744.0, 3_587.0), (0.0, 100.0)).ticks(5);
        assert_eq!(
            ticks.iter().map(|t| t.round()).collect::<Vec<_>>(),
            [2_000.0, 2_500.0, 3_000.0, 3_500.0]
        );
        let small = Axis::new((-0.02, 0.05), (0.0, 1.0)).ticks(4);
        assert!(small.len() >= 3 && small.iter().all(|t| (-0.021..=0.051).contains(t)));
    }

    #[test]
    fn a_stretch_of_nothing_still_has_places() {
        let axis = Axis::new((5.0, 5.0), (0.0, 10.0));
        assert!((axis.at(5.0) - 5.0).abs() < 1e-9 && !axis.ticks(4).is_empty());
        // Beyond the ends, at the ends.
        assert!(axis.at(1e9) <= 10.0 && axis.at(-1e9) >= 0.0);
    }
}
