//! Papers as PDF: a template, the data that goes into it, and pictures, typeset in memory.
//!
//! No file, clock or network: fonts and templates are built in, the moment of issue is data. What a person typed enters
//! a template as data only, never as markup.
//!
//! Start at [`Sheet`]: say which [`Template`], give it the data, and [`typeset`](Sheet::typeset) it.

mod engine;
mod qr;
mod template;

pub use engine::{Failed, Picture, Sheet};
pub use qr::{TooLong, code_svg};
pub use template::{PaperSize, Template};
