//! Why a photo is not taken or not given.

use crate::prepare::{LARGEST_FILE, MOST_PIXELS};
use std::path::PathBuf;

/// Why a photo is not taken or not given. Nothing was kept, nothing kept earlier is touched.
#[derive(Debug, thiserror::Error)]
pub enum PhotoError {
    /// Nothing was sent.
    #[error("the file is empty; take the photo again")]
    Empty,
    /// Too many bytes.
    #[error(
        "the file has {bytes} bytes, the most that is taken is {LARGEST_FILE}; take the photo at a lower resolution"
    )]
    TooLarge {
        /// How many.
        bytes: u64,
    },
    /// Too many pixels.
    #[error(
        "the picture has {width} by {height} pixels, the most that is taken is {MOST_PIXELS} in all; take the photo at a lower resolution"
    )]
    TooManyPixels {
        /// Across.
        width: u32,
        /// Down.
        height: u32,
    },
    /// Another kind of file.
    #[error("the file is {what}; send a JPEG, PNG or WebP picture{advice}")]
    OtherKind {
        /// What it is, as far as its first bytes tell.
        what: &'static str,
        /// What to do besides.
        advice: &'static str,
    },
    /// It begins as a picture and does not go on as one.
    #[error("the picture is broken or cut off ({reason}); send it again")]
    Broken {
        /// What the decoder said.
        reason: String,
    },
    /// The picture could not be written anew.
    #[error(
        "the picture could not be made smaller ({reason}), which is a fault of this program; report this"
    )]
    NotWritten {
        /// What the encoder said.
        reason: String,
    },
    /// No room left.
    #[error("no room left on the disk for {}: the photo is not kept; make room and send it again", .path.display())]
    DiskFull {
        /// Where it should be.
        path: PathBuf,
    },
    /// The folder does not take writing, or the disk failed.
    #[error("cannot use {}: {reason}; check that this user may read and write there", .path.display())]
    File {
        /// Which.
        path: PathBuf,
        /// What the system said.
        reason: String,
    },
    /// No such photo.
    #[error("there is no photo {id} in this garage")]
    Unknown {
        /// Its id.
        id: String,
    },
    /// The file is not what was kept.
    #[error("{} is damaged: it is not what was kept under that name; restore it from a backup", .path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
    },
}
