//! Papers: what is read away from a screen. For now plain text that fits 80 columns and prints as it is.
//!
//! Takes the views of the use-cases and lays them out; decides nothing about the trade.

pub mod bag_labels;
pub mod bench_sheet;
pub mod causes;
pub mod cover_sheet;
pub mod first_screen;
pub mod history_folder;
pub mod issue;
pub mod keep_list;
pub mod kit_checklist;
pub mod kit_list;
pub mod offer_note;
pub mod paper;
pub mod price_note;
pub mod road_list;
pub mod running_order;
pub mod sale_paper;
pub mod tally_list;
pub mod taught_list;
pub mod trouble_sheet;
pub mod worth_sheet;
pub mod wrap;
