//! The pictures: drawn by our own code as SVG, from data, each readable as text as well.
//!
//! Pure: machine, state and plan in, markup out; no file, clock or network. [`outline`] is the machine seen from the
//! side, [`cover_map`] what covers what, [`seal_fit`] a ring in its groove. Shapes carry classes only; [`STYLE`] says what ink is, from the colours of
//! the page around it, so that a picture is the same on a screen, in the dark and on paper.

pub mod cover_map;
mod geometry;
pub mod outline;
pub mod seal_fit;
mod text;

/// The style sheet of every picture here. It wants `--ink`, `--soft`, `--sheet`, `--paper`, `--now` and `--on-now`.
pub const STYLE: &str = include_str!("pictures.css");
