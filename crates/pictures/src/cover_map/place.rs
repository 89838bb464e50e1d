//! Which row and which place in its column each cell gets.
//!
//! A cell's row is one below the lowest of what must be off first; where a column has more in a row than fit side by
//! side, what nothing hangs under sinks a row.

use super::order;
use super::{Cell, What};
use refettle_machine::ix::PartIx;
use refettle_machine::model::REGIONS;
use std::collections::BTreeMap;

/// Cells side by side in one column.
pub(super) const ABREAST: usize = 2;

/// Where a cell is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Spot {
    pub column: usize,
    pub row: usize,
    pub place: usize,
}

/// A placed map.
#[derive(Debug, Clone)]
pub(super) struct Laid {
    pub cells: Vec<Cell>,
    pub spots: Vec<Spot>,
    /// By cell: the cells that must be off first.
    pub above: Vec<Vec<usize>>,
    pub crossings: usize,
    pub crossings_before: usize,
}

impl Laid {
    pub(super) fn row(&self, at: usize) -> usize {
        self.spots.get(at).map_or(0, |s| s.row)
    }
    pub(super) fn place(&self, at: usize) -> usize {
        self.spots.get(at).map_or(0, |s| s.place)
    }
}

/// Lays cells out.
pub(super) fn lay(cells: Vec<Cell>) -> Laid {
    let by_part: BTreeMap<PartIx, usize> = cells
        .iter()
        .enumerate()
        .filter_map(|(at, cell)| match cell.what {
            What::Part(part) => Some((part, at)),
            What::Job(_) => None,
        })
        .collect();
    let above: Vec<Vec<usize>> = cells
        .iter()
        .map(|cell| {
            cell.first
                .iter()
                .filter_map(|p| by_part.get(p).copied())
                .collect()
        })
        .collect();
    let columns: Vec<usize> = cells
        .iter()
        .map(|cell| REGIONS.iter().position(|r| *r == cell.region).unwrap_or(0))
        .collect();
    let rows = rows(&above, &columns);
    let mut spots: Vec<Spot> = Vec::new();
    for (column, row) in columns.iter().zip(&rows) {
        let place = spots
            .iter()
            .filter(|s| s.column == *column && s.row == *row)
            .count();
        spots.push(Spot {
            column: *column,
            row: *row,
            place,
        });
    }
    let ordered = order::fewest_crossings(&spots, &above);
    Laid {
        cells,
        spots: ordered.spots,
        above,
        crossings: ordered.crossings,
        crossings_before: ordered.before,
    }
}

/// By cell: its row. Parents stand above; no column has more than [`ABREAST`] in a row.
fn rows(above: &[Vec<usize>], columns: &[usize]) -> Vec<usize> {
    let n = above.len();
    let mut below = vec![0_usize; n];
    for parent in above.iter().flatten() {
        if let Some(count) = below.get_mut(*parent) {
            *count += 1;
        }
    }
    let mut rows: Vec<Option<usize>> = vec![None; n];
    let mut full: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for _ in 0..n {
        // Of those whose parents are placed, first what most hangs under, then as they come.
        let lowest = |at: usize| -> Option<usize> {
            let parents = above.get(at)?.iter().filter(|p| **p != at);
            parents
                .map(|p| rows.get(*p).copied().flatten().map(|row| row + 1))
                .try_fold(0, |most, row| row.map(|row: usize| row.max(most)))
        };
        let ready = (0..n).filter(|at| rows.get(*at).is_some_and(Option::is_none));
        let next = ready
            .clone()
            .filter_map(|at| lowest(at).map(|row| (at, row)))
            .min_by_key(|(at, row)| (*row, std::cmp::Reverse(below.get(*at).copied().unwrap_or(0)), *at))
            // A ring of wants has no beginning: its first is set down as if it wanted nothing.
            .or_else(|| ready.clone().next().map(|at| (at, 0)));
        let Some((at, mut row)) = next else { break };
        let column = columns.get(at).copied().unwrap_or(0);
        while full.get(&(column, row)).is_some_and(|n| *n >= ABREAST) {
            row += 1;
        }
        *full.entry((column, row)).or_insert(0) += 1;
        if let Some(slot) = rows.get_mut(at) {
            *slot = Some(row);
        }
    }
    rows.into_iter().map(Option::unwrap_or_default).collect()
}
