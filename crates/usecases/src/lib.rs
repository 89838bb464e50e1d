//! What the surfaces can ask and tell: one set of use-cases over the pure core and the memory.
//!
//! A surface never decides anything about the trade. It hands what a person typed to a use-case here and shows what
//! comes back. [`request`] turns typed names into a question to the planner, [`evening`] answers it whole, and the
//! `…_view` modules are the frozen JSON of `docs/formats.md`.

pub mod bags;
pub mod bench;
pub mod bench_view;
pub mod card;
pub mod card_id;
pub mod demo;
pub mod demo_bike;
pub mod drawer;
pub mod evening;
pub mod fit_desk;
pub mod history;
pub mod kit_desk;
pub mod kit_view;
pub mod layouts;
pub mod look;
pub mod money_words;
pub mod orders;
pub mod plan_view;
pub mod planning_problem;
pub mod refused;
pub mod request;
pub mod road;
pub mod running_order;
pub mod seen;
pub mod shortcuts;
pub mod told;
pub mod words;
pub mod yard;
