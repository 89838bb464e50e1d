//! A set of small numbers in a fixed number of words: the planner's states are made of these.

/// `W` words of 64 bits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Bits<const W: usize>(pub(crate) [u64; W]);

impl<const W: usize> Bits<W> {
    pub(crate) const EMPTY: Self = Bits([0; W]);

    pub(crate) fn has(&self, bit: usize) -> bool {
        self.0[bit / 64] >> (bit % 64) & 1 == 1
    }

    pub(crate) fn set(&mut self, bit: usize) {
        self.0[bit / 64] |= 1 << (bit % 64);
    }

    pub(crate) fn clear(&mut self, bit: usize) {
        self.0[bit / 64] &= !(1 << (bit % 64));
    }

    pub(crate) fn put(&mut self, bit: usize, value: bool) {
        if value { self.set(bit) } else { self.clear(bit) }
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.0.iter().all(|w| *w == 0)
    }

    pub(crate) fn meets(&self, other: &Self) -> bool {
        (0..W).any(|i| self.0[i] & other.0[i] != 0)
    }

    pub(crate) fn within(&self, other: &Self) -> bool {
        (0..W).all(|i| self.0[i] & !other.0[i] == 0)
    }

    pub(crate) fn or(&self, other: &Self) -> Self {
        Bits(std::array::from_fn(|i| self.0[i] | other.0[i]))
    }

    pub(crate) fn and(&self, other: &Self) -> Self {
        Bits(std::array::from_fn(|i| self.0[i] & other.0[i]))
    }

    pub(crate) fn minus(&self, other: &Self) -> Self {
        Bits(std::array::from_fn(|i| self.0[i] & !other.0[i]))
    }

    /// The numbers in the set, smallest first.
    pub(crate) fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        self.0.iter().enumerate().flat_map(|(i, word)| {
            let mut rest = *word;
            std::iter::from_fn(move || {
                if rest == 0 {
                    return None;
                }
                let bit = rest.trailing_zeros() as usize;
                rest &= rest - 1;
                Some(i * 64 + bit)
            })
        })
    }
}
