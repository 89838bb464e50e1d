//! The order of cells within their row and column that makes lines cross least.
//!
//! Cells never leave their column or row. Barycentres of what stands above give a first order; then neighbours are
//! swapped as long as that takes a crossing away; where there are few enough orders, all are tried.

use super::draw::WIDE;
use super::place::Spot;
use super::route::{Grid, crossings};
use refettle_machine::model::REGIONS;

/// Orders that are all tried: up to two to the power of this.
const FEW: u32 = 10;

/// Spots with few crossings.
pub(super) struct Ordered {
    pub spots: Vec<Spot>,
    pub crossings: usize,
    pub before: usize,
}

/// The best order found; never worse than the one given.
pub(super) fn fewest_crossings(start: &[Spot], above: &[Vec<usize>]) -> Ordered {
    let count = |spots: &[Spot]| count(spots, above);
    let before = count(start);
    let mut best = (before, start.to_vec());
    for candidate in [start.to_vec(), by_barycentre(start, above)] {
        let swapped = swap_while_better(candidate, &count);
        if swapped.0 < best.0 {
            best = swapped;
        }
    }
    let pairs = neighbours(start);
    if best.0 > 0 && u32::try_from(pairs.len()).is_ok_and(|n| n <= FEW) {
        for chosen in 1..(1_usize << pairs.len()) {
            let mut spots = start.to_vec();
            for (bit, pair) in pairs.iter().enumerate() {
                if chosen & (1 << bit) != 0 {
                    swap(&mut spots, *pair);
                }
            }
            let n = count(&spots);
            if n < best.0 {
                best = (n, spots);
            }
        }
    }
    Ordered {
        spots: best.1,
        crossings: best.0,
        before,
    }
}

/// Crossings of the whole map's picture with cells at these spots.
pub(super) fn count(spots: &[Spot], above: &[Vec<usize>]) -> usize {
    let columns: Vec<usize> = (0..REGIONS.len()).collect();
    crossings(&Grid::new(spots, above, &columns, WIDE).bundles(spots, above))
}

/// Cells side by side in one row of one column.
pub(super) fn neighbours(spots: &[Spot]) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    for (i, a) in spots.iter().enumerate() {
        for (j, b) in spots.iter().enumerate() {
            if a.column == b.column && a.row == b.row && a.place + 1 == b.place {
                out.push((i, j));
            }
        }
    }
    out
}

pub(super) fn swap(spots: &mut [Spot], (i, j): (usize, usize)) {
    let (Some(a), Some(b)) = (spots.get(i).copied(), spots.get(j).copied()) else {
        return;
    };
    if let Some(slot) = spots.get_mut(i) {
        slot.place = b.place;
    }
    if let Some(slot) = spots.get_mut(j) {
        slot.place = a.place;
    }
}

fn swap_while_better(mut spots: Vec<Spot>, count: &dyn Fn(&[Spot]) -> usize) -> (usize, Vec<Spot>) {
    let mut best = count(&spots);
    loop {
        let mut better = false;
        for pair in neighbours(&spots) {
            swap(&mut spots, pair);
            let n = count(&spots);
            if n < best {
                best = n;
                better = true;
            } else {
                swap(&mut spots, pair);
            }
        }
        if !better {
            return (best, spots);
        }
    }
}

/// Sorts each row of each column by the mean place of what stands above.
fn by_barycentre(start: &[Spot], above: &[Vec<usize>]) -> Vec<Spot> {
    let mut spots = start.to_vec();
    let lowest = spots.iter().map(|s| s.row).max().unwrap_or(0);
    for row in 1..=lowest {
        for pair in neighbours(&spots) {
            let mean = |at: usize| -> Option<f64> {
                let parents: Vec<f64> = above
                    .get(at)?
                    .iter()
                    .filter_map(|p| spots.get(*p))
                    .map(|s| f64::from(u32::try_from(s.column * 2 + s.place).unwrap_or(0)))
                    .collect();
                let n = f64::from(u32::try_from(parents.len()).ok()?);
                (n > 0.0).then(|| parents.iter().sum::<f64>() / n)
            };
            let in_row = spots.get(pair.0).is_some_and(|s| s.row == row);
            if let (true, Some(a), Some(b)) = (in_row, mean(pair.0), mean(pair.1))
                && a > b
            {
                swap(&mut spots, pair);
            }
        }
    }
    spots
}
