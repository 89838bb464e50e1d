//! Papers: what is read away from a screen. For now plain text that fits 80 columns and prints as it is.
//!
//! Takes the views of the use-cases and lays them out; decides nothing about the trade.

pub mod bag_labels;
pub mod bench_sheet;
pub mod first_screen;
pub mod history_folder;
pub mod kit_checklist;
pub mod kit_list;
pub mod paper;
pub mod running_order;
pub mod sale_paper;
pub mod wrap;
