//! Repeatable chance: the same seed throws the same numbers, on every machine.

/// A sequence of numbers fixed by its seed: `SplitMix64`, from G. L. Steele, D. Lea and C. H. Flood, "Fast
/// splittable pseudorandom number generators", OOPSLA 2014.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// Starts the sequence of this seed.
    #[must_use]
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from 0 to `n - 1`; 0 when `n` is 0. The lowest numbers come up a hair too often, which does not
    /// matter here.
    pub fn below(&mut self, n: usize) -> usize {
        let n = u64::try_from(n.max(1)).unwrap_or(u64::MAX);
        usize::try_from(self.next() % n).unwrap_or(0)
    }

    /// A number from `least` to `most`, both included.
    pub fn between(&mut self, least: usize, most: usize) -> usize {
        least + self.below(most.saturating_sub(least) + 1)
    }

    /// True so many times in a hundred.
    pub fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    /// One of these; none when there is none.
    pub fn pick<T: Copy>(&mut self, of: &[T]) -> Option<T> {
        of.get(self.below(of.len())).copied()
    }

    /// So many of the numbers below `n` as chance has it, each with the same chance, in order.
    pub fn some_below(&mut self, n: usize, percent: usize) -> Vec<usize> {
        (0..n).filter(|_| self.chance(percent)).collect()
    }

    /// One number below `n`, in a list, so many times in a hundred; else an empty list.
    pub fn perhaps_one_below(&mut self, n: usize, percent: usize) -> Vec<usize> {
        if n > 0 && self.chance(percent) {
            vec![self.below(n)]
        } else {
            Vec::new()
        }
    }
}
