//! `shims`: which shim on which valve, so that the fewest are bought.

use super::OnScreen;
use super::basis::Basis;
use super::screen::Screen;
use super::typed::refused;
use crate::refused::Refused;
use refettle_facts::engine::shim_plan::{ShimFrom, plan};
use refettle_facts::engine::shim_sheet::parse;
use refettle_facts::small_part::Micrometres;
use serde::Serialize;

/// One valve and its shim.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FittedView {
    /// Valve.
    pub valve: String,
    /// Clearance found.
    pub clearance_before_mm: f64,
    /// Shim found.
    pub shim_before_mm: f64,
    /// Shim to fit.
    pub shim_mm: f64,
    /// `stays`, `drawer`, `bought`, or `valve` and its name.
    pub from: String,
    /// Clearance it gives, computed.
    pub clearance_after_mm: f64,
}

/// A valve nothing serves.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct UnservedView {
    /// Valve.
    pub valve: String,
    /// Thinnest shim that would serve.
    pub thinnest_mm: f64,
    /// Thickest that would.
    pub thickest_mm: f64,
}

/// So many shims of one thickness.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToBuyView {
    /// Thickness.
    pub shim_mm: f64,
    /// How many.
    pub count: u32,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShimsView {
    /// Shims bought.
    pub bought: u32,
    /// Valves whose shim changes.
    pub disturbed: usize,
    /// What to buy.
    pub to_buy: Vec<ToBuyView>,
    /// Every valve served.
    pub fitted: Vec<FittedView>,
    /// Valves nothing serves.
    pub unserved: Vec<UnservedView>,
    /// Shims left over, thinnest first.
    pub left_over_mm: Vec<f64>,
    /// Sum of how far each valve comes out from its aim.
    pub off_aim_mm: f64,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

fn in_mm(size: Micrometres) -> f64 {
    f64::from(size.0) / 1e3
}

/// Shares the shims of a sheet out over its valves. `sheet` is the text of the file.
///
/// # Errors
/// [`Refused::Wrong`] with every mistake on the sheet.
pub fn answer(sheet: &str) -> Result<ShimsView, Refused> {
    let sheet = parse(sheet)
        .map_err(|mistakes| Refused::Wrong(mistakes.iter().map(ToString::to_string).collect()))?;
    let made = plan(&sheet).map_err(|e| refused(&e))?;
    Ok(ShimsView {
        bought: made.bought(),
        disturbed: made.disturbed(),
        to_buy: made
            .to_buy
            .iter()
            .map(|(size, count)| ToBuyView {
                shim_mm: in_mm(*size),
                count: *count,
            })
            .collect(),
        fitted: made
            .fitted
            .iter()
            .map(|fitted| FittedView {
                valve: fitted.valve.clone(),
                clearance_before_mm: in_mm(fitted.clearance_before),
                shim_before_mm: in_mm(fitted.shim_before),
                shim_mm: in_mm(fitted.shim),
                from: match &fitted.from {
                    ShimFrom::Stays => "stays".to_owned(),
                    ShimFrom::Valve(name) => format!("valve {name}"),
                    ShimFrom::Drawer => "drawer".to_owned(),
                    ShimFrom::Bought => "bought".to_owned(),
                },
                clearance_after_mm: in_mm(fitted.clearance_after),
            })
            .collect(),
        unserved: made
            .unserved
            .iter()
            .map(|valve| UnservedView {
                valve: valve.valve.clone(),
                thinnest_mm: in_mm(valve.thinnest),
                thickest_mm: in_mm(valve.thickest),
            })
            .collect(),
        left_over_mm: made.left_over.iter().copied().map(in_mm).collect(),
        off_aim_mm: in_mm(made.off_aim),
        basis: Basis::of("new shim = old shim + clearance found - clearance wanted; shared out by exact assignment")
            .assuming([
                "engine stone cold, lobe away from the valve, old shims measured with a micrometer",
                "fewest bought first, then fewest valves disturbed, then nearest to the aim",
            ])
            .from(["workshop text and an owner's worked sheet, which agree; the wanted clearances are the manual's"])
            .warning("turn the engine two turns by hand and measure all again before starting it; a valve set tight burns; the manual's clearances win"),
    })
}

impl OnScreen for ShimsView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Valve shims");
        let mm = |value: f64| super::screen::number(value, 3);
        screen.row("to buy", self.bought);
        for size in &self.to_buy {
            screen.row("", format!("{} of {} mm", size.count, mm(size.shim_mm)));
        }
        screen.row("valves disturbed", self.disturbed);
        for fitted in &self.fitted {
            screen.row(
                &fitted.valve,
                format!(
                    "{} mm for {} mm ({}): clearance {} becomes {} mm",
                    mm(fitted.shim_mm),
                    mm(fitted.shim_before_mm),
                    fitted.from,
                    mm(fitted.clearance_before_mm),
                    mm(fitted.clearance_after_mm)
                ),
            );
        }
        for valve in &self.unserved {
            screen.row(
                &valve.valve,
                format!(
                    "nothing at hand or on sale serves: {} to {} mm would",
                    mm(valve.thinnest_mm),
                    mm(valve.thickest_mm)
                ),
            );
        }
        let left: Vec<String> = self.left_over_mm.iter().map(|size| mm(*size)).collect();
        if !left.is_empty() {
            screen.row("left over", format!("{} mm", left.join(", ")));
        }
        self.basis.show(&mut screen);
        screen
    }
}
