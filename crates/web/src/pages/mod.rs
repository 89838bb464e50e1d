//! The pages.

pub(crate) mod bench;
mod card;
pub(crate) mod frame;
pub(crate) mod kit;
pub(crate) mod order;
pub(crate) mod pair;
pub(crate) mod problem;
