//! What a tyre's side wall says: size, load and speed, date of making; and what size does to the road.
//!
//! Start with [`size_code`] (`180/55ZR17 M/C 73W`; the letters of `MT90-16` are in
//! [`width_letter`]), [`load_and_speed`], [`date_code`] and [`circumference`].
//! Tread depth is in [`super::wear_limits`].

pub mod circumference;
pub mod date_code;
pub mod load_and_speed;
pub mod size_code;
pub mod width_letter;
