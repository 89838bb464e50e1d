//! The pages.

pub(crate) mod all;
pub(crate) mod bench;
pub(crate) mod bring_in;
mod card;
pub(crate) mod cover;
mod form;
pub(crate) mod frame;
pub(crate) mod jobs;
pub(crate) mod kit;
pub(crate) mod more;
pub(crate) mod now;
pub(crate) mod order;
pub(crate) mod outline;
pub(crate) mod pair;
pub(crate) mod papers;
mod photos;
pub(crate) mod problem;
pub(crate) mod road;
pub(crate) mod shortcuts;
pub(crate) mod tonight;
mod undo;
pub(crate) mod walk_round;
pub(crate) mod yard;
