//! O-rings: will this ring do in this groove, which size would, and what was the flat old one?
//!
//! Start with [`desk::ring_in_groove`] (one ring, one measured groove, a verdict with its reason) or, with
//! tolerances of one's own, [`fit::fit`]. The formulas are in [`ring`], the limits with their sources in
//! [`limits`], the standard sizes in [`sizes`], the sizes that would serve a groove in [`serving`], rubber
//! against fluid in [`material`], and measuring an old ring in [`old_ring`].
//!
//! What is left out: pressure, extrusion gaps, back-up rings, temperature and wear of moving rings. A seal on
//! which a life hangs (brake and clutch hydraulics) is bought by the machine's own part number, never by size.

pub mod desk;
pub mod dimension;
pub mod error;
pub mod fit;
pub mod gland;
pub mod limits;
pub mod material;
pub mod old_ring;
pub mod ring;
pub mod serving;
pub mod sizes;
mod verdict;

pub use error::SealError;
pub use fit::{RingFit, Spread};
pub use gland::{Duty, Gland};
pub use verdict::{Reason, Verdict};
