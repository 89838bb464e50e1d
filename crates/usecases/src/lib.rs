//! What the surfaces can ask and tell: one set of use-cases over the pure core and the memory.
//!
//! A surface never decides anything about the trade. It hands what a person typed to a use-case here and shows what
//! comes back. [`request`] turns typed names into a question to the planner, [`evening`] answers it whole, and the
//! `…_view` modules are the frozen JSON of `docs/formats.md`.

pub mod amount;
pub mod asked;
pub mod bags;
pub mod before;
pub mod bench;
pub mod bench_view;
pub mod card;
pub mod card_id;
pub mod causes;
pub mod causes_view;
pub mod changes_view;
pub mod corrected;
pub mod demo;
pub mod demo_bike;
pub mod demo_yard;
pub mod drawer;
pub mod evening;
pub mod fit_desk;
mod held;
pub mod history;
pub mod keep;
pub mod keep_view;
pub mod kit_desk;
pub mod kit_view;
pub mod layouts;
pub mod look;
pub mod looking;
pub mod money_words;
pub mod offer_sum;
pub mod offer_view;
pub mod orders;
pub mod out_and_back;
pub mod photo;
pub mod plan_view;
pub mod planning_problem;
pub mod pointed;
pub mod price_view;
pub mod refused;
pub mod request;
pub mod road;
pub mod running_order;
pub mod seen;
pub mod shortcuts;
pub mod told;
pub mod tonight;
pub mod trouble;
pub mod typed;
pub mod words;
pub mod worth;
pub mod worth_view;
mod worth_why;
pub mod yard;
