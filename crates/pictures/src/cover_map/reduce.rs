//! A line only where it says something: what is wanted by what is wanted is not said again.

use super::{Cell, What};
use refettle_machine::ix::PartIx;
use std::collections::{BTreeMap, BTreeSet};

/// Leaves of each cell's firsts those that no other of its firsts wants, directly or not.
pub(super) fn transitively(cells: &mut [Cell]) {
    let wants: BTreeMap<PartIx, Vec<PartIx>> = cells
        .iter()
        .filter_map(|cell| match cell.what {
            What::Part(part) => Some((part, cell.first.clone())),
            What::Job(_) => None,
        })
        .collect();
    for cell in cells {
        let covered: BTreeSet<PartIx> = cell.first.iter().flat_map(|f| behind(*f, &wants)).collect();
        cell.first.retain(|f| !covered.contains(f));
    }
}

/// Everything a part wants off, at any remove. A ring of wants ends where it began.
fn behind(part: PartIx, wants: &BTreeMap<PartIx, Vec<PartIx>>) -> BTreeSet<PartIx> {
    let mut seen: BTreeSet<PartIx> = BTreeSet::new();
    let mut next: Vec<PartIx> = wants.get(&part).cloned().unwrap_or_default();
    while let Some(at) = next.pop() {
        if at != part && seen.insert(at) {
            next.extend(wants.get(&at).into_iter().flatten());
        }
    }
    seen
}
