//! The pages.

pub(crate) mod all;
pub(crate) mod bench;
mod card;
pub(crate) mod cover;
pub(crate) mod drawer;
pub(crate) mod fit_desk;
pub(crate) mod frame;
pub(crate) mod kit;
pub(crate) mod more;
pub(crate) mod order;
pub(crate) mod outline;
pub(crate) mod pair;
pub(crate) mod papers;
mod photos;
pub(crate) mod problem;
pub(crate) mod road;
pub(crate) mod shortcuts;
pub(crate) mod yard;
