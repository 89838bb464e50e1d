//! Photos beside the garage's file: checked, turned upright, made small enough to look at, and stripped of where and
//! with what they were taken.
//!
//! A picture that comes in is decoded within limits and written anew, so that nothing of the file that came survives
//! but its pixels: no place, no time, no owner, no hidden second picture. Start at [`prepare`], then
//! [`Album::keep`]. A photo is named by the hash of its own bytes and by nothing else; no name that came from outside
//! ever becomes a path. What is left out: what a photo is about, which is an entry of the memory.

mod album;
mod error;
mod id;
mod prepare;

pub use album::{Album, FOLDER};
pub use error::PhotoError;
pub use id::{PhotoId, PhotoIdError, View};
pub use prepare::{LARGEST_FILE, LONGEST_SIDE, MOST_PIXELS, Prepared, SMALL_SIDE, prepare};
