//! The one open memory of a server, and the last look at the bike.

use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_memory::Memory;
use refettle_usecases::bench::{NotTaken, Reply, answer};
use refettle_usecases::demo_bike;
use refettle_usecases::look::{Look, LookError, Read};
use std::path::{Path, PathBuf};
use std::sync::Mutex;

/// A connection of its own for looking whether anything was recorded, so that nobody waits for a plan in the making.
pub(crate) struct Watcher {
    pub(crate) memory: Mutex<Memory>,
    pub(crate) bike: BikeId,
}

/// A garage's memory with the bike on the bench. Planning is done again only when an entry has been added since, by
/// this server or another program, or the engine has cooled to another level.
pub struct Desk {
    memory: Memory,
    bike: BikeId,
    kept: Option<Look>,
}

impl Desk {
    /// Opens the garage in this folder and makes sure the demo bike is there.
    ///
    /// # Errors
    /// [`LookError`] when the garage's file cannot be used.
    pub fn open(dir: &Path, at: Timestamp) -> Result<Desk, LookError> {
        let mut memory = Memory::open(dir)?;
        demo_bike::ensure(&mut memory, at)?;
        Ok(Desk {
            memory,
            bike: demo_bike::bike()?,
            kept: None,
        })
    }

    /// Another connection to the same garage.
    pub(crate) fn watcher(&self) -> Result<Watcher, LookError> {
        Ok(Watcher {
            memory: Mutex::new(Memory::open(&self.folder())?),
            bike: self.bike.clone(),
        })
    }

    /// The garage's folder.
    pub(crate) fn folder(&self) -> PathBuf {
        self.memory
            .path()
            .parent()
            .map(Path::to_path_buf)
            .unwrap_or_default()
    }

    /// The bike at this moment.
    ///
    /// # Errors
    /// [`LookError`] when its entries cannot be read.
    pub fn look(&mut self, at: Timestamp) -> Result<&Look, LookError> {
        let read = Read::of(&self.memory, &self.bike, at, self.kept.as_ref())?;
        let look = match self.kept.take() {
            Some(mut kept) if read.same_as(&kept) => {
                // Waits run out while nothing is recorded.
                kept.at = at;
                kept
            }
            _ => read.plan(),
        };
        Ok(self.kept.insert(look))
    }

    /// Takes an answer.
    ///
    /// # Errors
    /// The outer error when the bike cannot be read, the inner when the answer is refused.
    pub fn answer(&mut self, reply: Reply<'_>) -> Result<Result<EntryId, NotTaken>, LookError> {
        self.look(reply.at)?;
        let Some(look) = self.kept.as_ref() else {
            return Err(LookError::Shipped("no look was kept".to_owned()));
        };
        Ok(answer(&mut self.memory, look, reply))
    }
}
