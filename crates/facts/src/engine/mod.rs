//! Engine: compression spread, valve clearance to shim, float height and carburettor balance.
//!
//! Start with [`compression`], [`valve_shim`] (one valve), [`shim_sheet`] and [`shim_plan`] (the whole head, fewest
//! shims bought) and [`spread`]. [`assignment`] is the exact solver underneath. The maker's figures win throughout.

pub mod assignment;
pub mod compression;
pub mod shim_plan;
pub mod shim_sheet;
pub mod spread;
pub mod valve_shim;
