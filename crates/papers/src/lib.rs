//! Papers: what is read away from a screen. For now plain text that fits 80 columns and prints as it is.
//!
//! Takes the views of the use-cases and lays them out; decides nothing about the trade.

pub mod first_screen;
pub mod kit_list;
pub mod running_order;
pub mod trouble_sheet;
pub mod wrap;
