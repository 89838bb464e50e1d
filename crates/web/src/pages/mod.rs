//! The pages.

pub(crate) mod bench;
mod card;
pub(crate) mod frame;
pub(crate) mod kit;
pub(crate) mod order;
pub(crate) mod pair;
mod photos;
pub(crate) mod problem;
