//! The pages.

pub(crate) mod all;
pub(crate) mod bench;
pub(crate) mod buy;
mod card;
pub(crate) mod causes;
pub(crate) mod cover;
pub(crate) mod frame;
pub(crate) mod judging;
pub(crate) mod kit;
pub(crate) mod more;
pub(crate) mod order;
pub(crate) mod outline;
pub(crate) mod pair;
pub(crate) mod papers;
mod photos;
pub(crate) mod price;
pub(crate) mod problem;
pub(crate) mod road;
pub(crate) mod sell;
pub(crate) mod shortcuts;
pub(crate) mod worth;
pub(crate) mod tally;
pub(crate) mod taught;
mod timer;
pub(crate) mod trouble;
pub(crate) mod yard;
