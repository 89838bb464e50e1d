//! A small generator of chance (splitmix64, Steele, Lea and Flood 2014), so that a run can be repeated.

pub struct Chance(pub u64);

impl Chance {
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to below `n`, 0 for an empty range.
    pub fn below(&mut self, n: usize) -> usize {
        let n = u64::try_from(n.max(1)).unwrap_or(1);
        usize::try_from(self.bits() % n).unwrap_or(0)
    }

    /// From `from` to `to`, both included.
    pub fn between(&mut self, from: i64, to: i64) -> i64 {
        from + i64::try_from(self.below(usize::try_from(to - from + 1).unwrap_or(1))).unwrap_or(0)
    }

    /// True so many times in a hundred.
    pub fn often(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }
}
