//! Minimum-cost assignment: each row gets a column of its own and the sum of costs is least. Exact, in integers.
//!
//! The Hungarian method with shortest augmenting paths (Kuhn 1955; Jonker and Volgenant 1987), O(rows² · columns).

/// Largest cost taken, either sign: far above any use here, and no sum of it overflows.
pub const LARGEST_COST: i64 = 1_000_000_000_000_000;
/// Largest table taken, in cells; the method is cubic.
pub const LARGEST_TABLE: usize = 1_000_000;

/// Why a table was not solved.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AssignmentError {
    /// Rows of different length.
    #[error("row {row} has {columns} costs and the first has {wanted}")]
    Ragged {
        /// Which row, counted from 0.
        row: usize,
        /// Its length.
        columns: usize,
        /// The first row's.
        wanted: usize,
    },
    /// Not enough columns.
    #[error("{rows} rows need as many columns and there are {columns}")]
    TooFewColumns {
        /// Rows.
        rows: usize,
        /// Columns.
        columns: usize,
    },
    /// A cost beyond the limit.
    #[error("cost {cost} is beyond the limit of {LARGEST_COST}")]
    CostTooLarge {
        /// The cost.
        cost: i64,
    },
    /// A table beyond the limit.
    #[error("{cells} cells are over the limit of {LARGEST_TABLE}")]
    TooLarge {
        /// Cells.
        cells: usize,
    },
}

/// The best assignment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assignment {
    /// The column of each row.
    pub columns: Vec<usize>,
    /// The sum of their costs.
    pub cost: i128,
}

/// Gives each row of `costs` a different column so that the sum is least. Of equally good assignments always the
/// same one is returned for the same table.
///
/// ```
/// use refettle_facts::engine::assignment::assign;
/// let best = assign(&[vec![4, 1, 3], vec![2, 0, 5], vec![3, 2, 2]]).unwrap();
/// assert_eq!((best.columns, best.cost), (vec![1, 0, 2], 5));
/// ```
///
/// # Errors
/// [`AssignmentError`]: ragged, fewer columns than rows, or numbers beyond the limits.
pub fn assign(costs: &[Vec<i64>]) -> Result<Assignment, AssignmentError> {
    let rows = costs.len();
    let columns = costs.first().map_or(0, Vec::len);
    check(costs, rows, columns)?;
    let column_rows = augment_all(costs, rows, columns);
    let mut by_row = vec![0; rows];
    let mut cost = 0;
    for (column, row) in column_rows.iter().enumerate() {
        if let Some(row) = row {
            by_row[*row] = column;
            cost += i128::from(costs[*row][column]);
        }
    }
    Ok(Assignment {
        columns: by_row,
        cost,
    })
}

fn check(costs: &[Vec<i64>], rows: usize, columns: usize) -> Result<(), AssignmentError> {
    if let Some((row, odd)) = costs.iter().enumerate().find(|(_, r)| r.len() != columns) {
        return Err(AssignmentError::Ragged {
            row,
            columns: odd.len(),
            wanted: columns,
        });
    }
    if rows > columns {
        return Err(AssignmentError::TooFewColumns { rows, columns });
    }
    if rows.saturating_mul(columns) > LARGEST_TABLE {
        return Err(AssignmentError::TooLarge {
            cells: rows.saturating_mul(columns),
        });
    }
    let too_large = |cost: &&i64| cost.unsigned_abs() > LARGEST_COST.unsigned_abs();
    match costs.iter().flatten().find(too_large) {
        Some(cost) => Err(AssignmentError::CostTooLarge { cost: *cost }),
        None => Ok(()),
    }
}

/// Dual prices of rows and columns, kept so that no reduced cost is below zero and that of every matched pair is
/// zero; that is the proof of optimality.
struct Prices {
    row: Vec<i128>,
    column: Vec<i128>,
}

/// Adds the rows one by one, each along a shortest augmenting path. Returns the row of each column.
fn augment_all(costs: &[Vec<i64>], rows: usize, columns: usize) -> Vec<Option<usize>> {
    let mut matched: Vec<Option<usize>> = vec![None; columns];
    let mut prices = Prices {
        row: vec![0; rows],
        column: vec![0; columns],
    };
    for new_row in 0..rows {
        augment(costs, new_row, &mut matched, &mut prices);
    }
    matched
}

fn augment(costs: &[Vec<i64>], new_row: usize, matched: &mut [Option<usize>], prices: &mut Prices) {
    let columns = matched.len();
    let mut shortest: Vec<Option<i128>> = vec![None; columns];
    let mut came_from: Vec<Option<usize>> = vec![None; columns];
    let mut reached = vec![false; columns];
    // The column through which the search stands at its row; none at the start.
    let mut through: Option<usize> = None;
    let mut row = new_row;
    loop {
        let mut nearest: Option<(i128, usize)> = None;
        for column in 0..columns {
            if reached[column] {
                continue;
            }
            let reduced = i128::from(costs[row][column]) - prices.row[row] - prices.column[column];
            if shortest[column].is_none_or(|known| reduced < known) {
                shortest[column] = Some(reduced);
                came_from[column] = through;
            }
            if let Some(distance) = shortest[column]
                && nearest.is_none_or(|(best, _)| distance < best)
            {
                nearest = Some((distance, column));
            }
        }
        // There are at least as many columns as rows, so an unreached one is always left.
        let Some((step, column)) = nearest else { return };
        prices.row[new_row] += step;
        for other in 0..columns {
            if reached[other] {
                if let Some(its_row) = matched[other] {
                    prices.row[its_row] += step;
                }
                prices.column[other] -= step;
            } else if let Some(distance) = &mut shortest[other] {
                *distance -= step;
            }
        }
        reached[column] = true;
        through = Some(column);
        match matched[column] {
            Some(next) => row = next,
            None => break,
        }
    }
    // Turn the path round: each column takes the row the search came from.
    while let Some(column) = through {
        let before = came_from[column];
        matched[column] = match before {
            Some(earlier) => matched[earlier],
            None => Some(new_row),
        };
        through = before;
    }
}
