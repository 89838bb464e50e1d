//! A photo from a file.

use super::super::opened::{Tapped, failed, mistaken};
use super::super::typed::{AboutArgs, Names};
use super::answered;
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_memory::entry::About;
use refettle_memory::fresh_tap;
use refettle_photos::{Album, LARGEST_FILE, PhotoError, prepare};
use refettle_usecases::photo::{NotKept, Sent, add};
use std::io::Read;
use std::path::PathBuf;

#[derive(Args)]
pub struct Photo {
    /// The bike, by id or title
    bike: String,
    /// The picture: JPEG, PNG or WebP
    file: PathBuf,
    #[command(flatten)]
    about: AboutArgs,
    /// What it shows, in your words
    #[arg(long, value_name = "WORDS", default_value = "")]
    caption: String,
    #[command(flatten)]
    tapped: Tapped,
}

impl Photo {
    pub fn run(&self) -> Result<String, Failure> {
        let mut opened = self.tapped.open()?;
        let bike = opened.bike(&self.bike)?;
        let read = opened.read(&bike)?;
        let mut mistakes = Vec::new();
        let about = self.about.read(
            &Names {
                machine: read.machine(),
            },
            &mut mistakes,
        );
        let photo = self
            .bytes()
            .and_then(|bytes| prepare(&bytes).map_err(|e| format!("{}: {e}", self.file.display())))
            .map_err(|why| mistakes.push(why))
            .ok();
        let Some(photo) = photo.filter(|_| mistakes.is_empty()) else {
            return Err(mistaken(mistakes));
        };
        let tap = match &opened.tap {
            Some(tap) => tap.clone(),
            None => fresh_tap().map_err(failed)?,
        };
        let sent = Sent {
            bike: &bike,
            photo: &photo,
            about: &about.unwrap_or(About::Bike {}),
            caption: &self.caption,
            tap: &tap,
            at: opened.at,
        };
        let album = Album::of(&self.tapped.folder()?);
        let id = add(&mut opened.memory, &album, sent).map_err(|error| match error {
            NotKept::Memory(error) => failed(error),
            NotKept::Caption(why) => mistaken(vec![format!("--caption: {why}")]),
            NotKept::Photo(error) => kept(error),
        })?;
        if self.tapped.json {
            return json(&answered(&bike, &id));
        }
        Ok(format!("Photo kept.\nentry {id}\n"))
    }

    /// The file, read no further than one byte over what is taken.
    fn bytes(&self) -> Result<Vec<u8>, String> {
        let told = |e: std::io::Error| format!("{} cannot be read: {e}", self.file.display());
        let file = std::fs::File::open(&self.file).map_err(told)?;
        let mut bytes = Vec::new();
        file.take(LARGEST_FILE as u64 + 1)
            .read_to_end(&mut bytes)
            .map_err(told)?;
        Ok(bytes)
    }
}

/// A photo that was looked over and could not be kept: the folder or the disk.
fn kept(error: PhotoError) -> Failure {
    Failure::Ours(error.into())
}
