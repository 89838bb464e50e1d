//! Which shim goes where: those in the engine shared out anew, the drawer used, fewest bought. Exact.
//!
//! Every valve gets a shim that brings it within its limits. Of all ways to do so the one is taken that, in this
//! order, leaves fewest valves without a shim, buys fewest, disturbs fewest valves, and comes nearest to the aims.
//! It is an assignment of valves to shims with whole-number costs, solved by [`super::assignment`].
//!
//! Turn the engine two turns by hand and measure all again before starting it. Start with [`plan`].

use super::assignment::{AssignmentError, assign};
use super::shim_sheet::{MOST_SHIMS, MOST_VALVES, OnSale, ShimSheet, Valve};
use crate::small_part::Micrometres;
use std::collections::BTreeMap;

/// Costs in micrometres off the aim. Each step outweighs all of the step below it at [`MOST_VALVES`] valves, as a
/// wanted clearance is at most 1 mm wide: 64 · 1000 < 10⁶; 64 · 10⁶ < 10⁸; 64 · 10⁸ < 10¹⁰; 64 · 10¹⁰ < 10¹³.
const DISTURB: i64 = 1_000_000;
const BUY: i64 = 100_000_000;
const UNSERVED: i64 = 10_000_000_000;
const OUT_OF_LIMITS: i64 = 10_000_000_000_000;

/// Why no plan was made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PlanError {
    /// More than the limits.
    #[error(
        "{valves} valves and {drawer} shims in the drawer; at most {MOST_VALVES} and {MOST_SHIMS} are taken"
    )]
    TooMany {
        /// Valves.
        valves: usize,
        /// Drawer.
        drawer: usize,
    },
    /// The solver refused the table.
    #[error(transparent)]
    Assignment(#[from] AssignmentError),
}

/// Where a shim comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ShimFrom {
    /// It stays where it is.
    Stays,
    /// From the valve of this name.
    Valve(String),
    /// From the drawer.
    Drawer,
    /// To be bought.
    Bought,
}

/// A valve and the shim it gets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fitted {
    /// Valve.
    pub valve: String,
    /// Clearance found.
    pub clearance_before: Micrometres,
    /// Shim found.
    pub shim_before: Micrometres,
    /// Shim to fit.
    pub shim: Micrometres,
    /// Where it comes from.
    pub from: ShimFrom,
    /// Clearance it gives, computed; to be measured.
    pub clearance_after: Micrometres,
}

/// A valve no shim at hand or on sale serves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unserved {
    /// Valve.
    pub valve: String,
    /// Thinnest shim that would serve.
    pub thinnest: Micrometres,
    /// Thickest that would.
    pub thickest: Micrometres,
}

/// A plan for all valves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShimPlan {
    /// Valves in the order of the sheet.
    pub fitted: Vec<Fitted>,
    /// Valves left without; looked for only after every other hope.
    pub unserved: Vec<Unserved>,
    /// How many of which thickness to buy.
    pub to_buy: BTreeMap<Micrometres, u32>,
    /// Shims left over from engine and drawer, thinnest first.
    pub left_over: Vec<Micrometres>,
    /// Sum over all fitted valves of how far each comes out from its aim.
    pub off_aim: Micrometres,
}

impl ShimPlan {
    /// Shims bought: the fewest that serve the most valves.
    #[must_use]
    pub fn bought(&self) -> u32 {
        self.to_buy.values().sum()
    }

    /// Valves whose shim changes.
    #[must_use]
    pub fn disturbed(&self) -> usize {
        self.fitted.iter().filter(|f| f.from != ShimFrom::Stays).count()
    }
}

/// The clearance a valve has with another shim: room less thickness; `None` when the shim does not go in.
fn clearance_with(valve: &Valve, shim: Micrometres) -> Option<Micrometres> {
    valve
        .clearance
        .0
        .checked_add(valve.shim.0)?
        .checked_sub(shim.0)
        .map(Micrometres)
}

/// How far off the aim a valve comes out with a shim; `None` out of limits.
fn off_aim(valve: &Valve, shim: Micrometres) -> Option<u32> {
    clearance_with(valve, shim)
        .filter(|clearance| valve.wanted.holds(*clearance))
        .map(|clearance| clearance.0.abs_diff(valve.wanted.aim().0))
}

/// The shim to buy for a valve: nearest to the aim, of two as near the thinner, since a tight valve burns (that
/// preference is from memory).
fn best_on_sale(valve: &Valve, on_sale: &OnSale) -> Option<Micrometres> {
    match on_sale {
        OnSale::Any => {
            let room = valve.clearance.0.checked_add(valve.shim.0)?;
            room.checked_sub(valve.wanted.aim().0)
                .filter(|left| *left > 0)
                .map(Micrometres)
        }
        OnSale::Sizes(sizes) => sizes
            .iter()
            .filter_map(|size| Some((off_aim(valve, *size)?, *size)))
            .min()
            .map(|(_, size)| size),
    }
}

/// Shares shims out over the valves of a sheet.
///
/// Columns of the table: every valve's present shim, every shim in the drawer, and for each valve one shim of its own
/// to buy. Cost of a shim on a valve: micrometres off the aim, plus 10⁶ if it is not the one in place, plus 10⁸ if it
/// is bought; 10¹⁰ for staying unserved. Exactness rests on the solver, checked against a published one.
///
/// ```
/// use refettle_facts::engine::{shim_plan::plan, shim_sheet::parse};
/// let sheet = parse(
///     "wanted intake 0.10mm to 0.15mm\n\
///      valve left intake clearance 0.05mm shim 2.60mm\n\
///      valve right intake clearance 0.20mm shim 2.50mm\n\
///      buy 2.40mm to 2.80mm step 0.05mm",
/// )
/// .unwrap();
/// // Left wants 2.50 to 2.55, right 2.55 to 2.60: the right valve's 2.50 serves the left and the other way round.
/// let made = plan(&sheet).unwrap();
/// assert_eq!((made.bought(), made.disturbed()), (0, 2));
/// ```
///
/// # Errors
/// [`PlanError`] beyond the limits.
pub fn plan(sheet: &ShimSheet) -> Result<ShimPlan, PlanError> {
    let (valves, drawer) = (&sheet.valves, &sheet.drawer);
    if valves.len() > MOST_VALVES || drawer.len() > MOST_SHIMS {
        return Err(PlanError::TooMany {
            valves: valves.len(),
            drawer: drawer.len(),
        });
    }
    let to_buy: Vec<Option<Micrometres>> = valves.iter().map(|v| best_on_sale(v, &sheet.on_sale)).collect();
    let at_hand: Vec<Micrometres> = valves
        .iter()
        .map(|v| v.shim)
        .chain(drawer.iter().copied())
        .collect();
    let best = assign(&costs(valves, &at_hand, &to_buy))?;
    Ok(told(sheet, &at_hand, &to_buy, &best.columns))
}

fn costs(valves: &[Valve], at_hand: &[Micrometres], to_buy: &[Option<Micrometres>]) -> Vec<Vec<i64>> {
    let cost_at_hand = |row: usize, valve: &Valve, column: usize, shim: Micrometres| {
        let stays = if row == column { 0 } else { DISTURB };
        off_aim(valve, shim).map_or(OUT_OF_LIMITS, |off| i64::from(off) + stays)
    };
    let cost_to_buy = |row: usize, valve: &Valve, column: usize, shim: Option<Micrometres>| {
        if row != column {
            return OUT_OF_LIMITS;
        }
        shim.and_then(|shim| off_aim(valve, shim))
            .map_or(UNSERVED, |off| i64::from(off) + DISTURB + BUY)
    };
    (0..)
        .zip(valves)
        .map(|(row, valve)| {
            let hand = (0..)
                .zip(at_hand)
                .map(|(column, shim)| cost_at_hand(row, valve, column, *shim));
            let bought = (0..)
                .zip(to_buy)
                .map(|(column, shim)| cost_to_buy(row, valve, column, *shim));
            hand.chain(bought).collect()
        })
        .collect()
}

fn told(
    sheet: &ShimSheet,
    at_hand: &[Micrometres],
    to_buy: &[Option<Micrometres>],
    columns: &[usize],
) -> ShimPlan {
    let mut plan = ShimPlan {
        fitted: Vec::new(),
        unserved: Vec::new(),
        to_buy: BTreeMap::new(),
        left_over: Vec::new(),
        off_aim: Micrometres(0),
    };
    for (row, (valve, column)) in sheet.valves.iter().zip(columns).enumerate() {
        let (shim, from) = match (at_hand.get(*column), to_buy.get(row)) {
            (Some(shim), _) if *column == row => (Some(*shim), ShimFrom::Stays),
            (Some(shim), _) => {
                let from = sheet
                    .valves
                    .get(*column)
                    .map_or(ShimFrom::Drawer, |other| ShimFrom::Valve(other.name.clone()));
                (Some(*shim), from)
            }
            (None, Some(shim)) => (*shim, ShimFrom::Bought),
            (None, None) => (None, ShimFrom::Bought),
        };
        let fits = shim.and_then(|s| Some((s, clearance_with(valve, s)?, off_aim(valve, s)?)));
        match fits {
            Some((shim, clearance_after, off)) => {
                if from == ShimFrom::Bought {
                    *plan.to_buy.entry(shim).or_default() += 1;
                }
                plan.off_aim.0 = plan.off_aim.0.saturating_add(off);
                plan.fitted.push(Fitted {
                    valve: valve.name.clone(),
                    clearance_before: valve.clearance,
                    shim_before: valve.shim,
                    shim,
                    from,
                    clearance_after,
                });
            }
            None => plan.unserved.push(unserved(valve)),
        }
    }
    plan.left_over = (0..)
        .zip(at_hand)
        .filter(|(column, _)| !columns.contains(column))
        .map(|(_, shim)| *shim)
        .collect();
    plan.left_over.sort_unstable();
    plan
}

fn unserved(valve: &Valve) -> Unserved {
    let room = valve.clearance.0.saturating_add(valve.shim.0);
    Unserved {
        valve: valve.name.clone(),
        thinnest: Micrometres(room.saturating_sub(valve.wanted.most().0)),
        thickest: Micrometres(room.saturating_sub(valve.wanted.least().0)),
    }
}
