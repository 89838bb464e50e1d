//! The garage's folder, the moment, and the key of a tap: what every command here is given.

use crate::commands::data::Data;
use crate::outcome::Failure;
use clap::Args;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_memory::entry::{Day, Entry, GARAGE};
use refettle_memory::{Memory, MemoryError, NewEntry, Tap};
use refettle_usecases::look::{Look, LookError, Read};
use refettle_usecases::refused::{Refused, wrong};
use refettle_usecases::yard;
use std::path::PathBuf;

/// Where the garage's memory is, and when it is.
#[derive(Args)]
pub struct Place {
    #[command(flatten)]
    data: Data,
    /// The moment, such as 2031-05-01T18:30:00Z; now when left out
    #[arg(long, value_name = "MOMENT", value_parser = moment)]
    at: Option<Timestamp>,
}

/// What is recorded, once.
#[derive(Args)]
pub struct Tapped {
    #[command(flatten)]
    place: Place,
    /// Your own key, 8 to 64 letters and digits: repeated with it, it counts once
    #[arg(long, value_name = "KEY", value_parser = tap)]
    tap: Option<Tap>,
    /// Print JSON
    #[arg(long)]
    pub json: bool,
}

fn moment(text: &str) -> Result<Timestamp, String> {
    text.parse()
        .map_err(|_| "write it as 2031-05-01T18:30:00Z".to_owned())
}

fn tap(text: &str) -> Result<Tap, String> {
    Tap::new(text).map_err(|e| e.to_string())
}

/// The garage, open.
pub struct Opened {
    pub memory: Memory,
    pub at: Timestamp,
    pub tap: Option<Tap>,
}

impl Place {
    pub fn open(&self) -> Result<Opened, Failure> {
        Ok(Opened {
            memory: Memory::open(&self.data.folder()?).map_err(failed)?,
            at: self.at.unwrap_or_else(Timestamp::now),
            tap: None,
        })
    }
}

impl Tapped {
    /// The garage's folder.
    pub fn folder(&self) -> Result<PathBuf, Failure> {
        self.place.data.folder()
    }

    pub fn open(&self) -> Result<Opened, Failure> {
        Ok(Opened {
            tap: self.tap.clone(),
            ..self.place.open()?
        })
    }
}

impl Opened {
    /// The bike a person means.
    pub fn bike(&self, named: &str) -> Result<BikeId, Failure> {
        let bikes = self.memory.bikes().map_err(failed)?;
        Ok(yard::find(&bikes, named)?)
    }

    /// The bike, or the garage itself.
    pub fn subject(&self, named: &str) -> Result<BikeId, Failure> {
        if named == GARAGE {
            BikeId::new(GARAGE).map_err(|e| Failure::Ours(e.into()))
        } else {
            self.bike(named)
        }
    }

    /// Reads a bike without planning.
    pub fn read(&self, bike: &BikeId) -> Result<Read, Failure> {
        Read::of(&self.memory, bike, self.at, None).map_err(looked)
    }

    /// Reads a bike and plans from here.
    pub fn look(&self, bike: &BikeId) -> Result<Look, Failure> {
        Ok(self.read(bike)?.plan())
    }

    /// The day it is where this machine is.
    pub fn today(&self) -> Day {
        Day(TimeZone::system().to_datetime(self.at).date())
    }

    /// Records an entry.
    pub fn append(&mut self, subject: &BikeId, entry: &Entry) -> Result<EntryId, Failure> {
        self.memory
            .append_new(NewEntry {
                bike: subject,
                at: self.at,
                tap: self.tap.as_ref(),
                seen: None,
                entry,
            })
            .map_err(failed)
    }
}

/// What the person can put right is a wrong request; the rest is the machine's or ours.
pub fn failed(error: MemoryError) -> Failure {
    match error {
        MemoryError::UnknownBike { .. }
        | MemoryError::BikeIsHere { .. }
        | MemoryError::CannotUndo { .. }
        | MemoryError::Stale { .. }
        | MemoryError::TapReused { .. }
        | MemoryError::NoSuchEntry { .. }
        | MemoryError::WrongSubject { .. }
        | MemoryError::NotKeepable { .. } => wrong(error.to_string()).into(),
        other => Failure::Ours(other.into()),
    }
}

pub fn looked(error: LookError) -> Failure {
    match error {
        LookError::Memory(error) => failed(error),
        other => Failure::Ours(other.into()),
    }
}

/// Mistakes, all at once.
pub fn mistaken(mistakes: Vec<String>) -> Failure {
    Refused::Wrong(mistakes).into()
}
