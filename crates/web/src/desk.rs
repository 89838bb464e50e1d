//! The one open memory of a server, and the last looks at its bikes.

use crate::routes::{buy, causes, worth};
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_memory::entry::About;
use refettle_memory::{Memory, Tap};
use refettle_photos::{Album, Prepared};
use refettle_usecases::bench::{NotTaken, Reply};
use refettle_usecases::card_notes::{CardNotes, answer_noted};
use refettle_usecases::look::{Look, LookError, Read};
use refettle_usecases::photo::{self, NotKept, Sent};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

/// A connection of its own for looking whether anything was recorded, so that nobody waits for a plan in the making.
pub(crate) struct Watcher {
    pub(crate) memory: Mutex<Memory>,
}

/// Looks kept at a time: the bike in hand and those whose pages lie open beside it. Judgement, no source.
const KEPT: usize = 4;

/// A garage's memory. A bike is planned again only when an entry has been added since, by this server or another
/// program, or its engine has cooled to another level.
pub struct Desk {
    memory: Memory,
    kept: Vec<Look>,
    judgements: Judgements,
}

/// What is worked out beside the desk.
#[derive(Clone, Default)]
pub(crate) struct Judgements {
    pub(crate) causes: Arc<causes::Kept>,
    pub(crate) worth: Arc<worth::Kept>,
    pub(crate) buy: Arc<buy::Kept>,
}

impl Desk {
    /// Opens the garage in this folder.
    ///
    /// # Errors
    /// [`LookError`] when the garage's file cannot be used.
    pub fn open(dir: &Path) -> Result<Desk, LookError> {
        let memory = Memory::open(dir)?;
        // A damaged file is told before anything is served from it, not at the first page that meets the damage.
        memory.check()?;
        Ok(Desk {
            memory,
            kept: Vec::new(),
            judgements: Judgements::default(),
        })
    }

    /// Another connection to the same garage.
    pub(crate) fn watcher(&self) -> Result<Watcher, LookError> {
        Ok(Watcher {
            memory: Mutex::new(Memory::open(&self.folder())?),
        })
    }

    /// Keeps a photo of a bike.
    pub(crate) fn add_photo(
        &mut self,
        bike: &BikeId,
        photo: &Prepared,
        about: &About,
        caption: &str,
        tap: &Tap,
        at: Timestamp,
    ) -> Result<EntryId, NotKept> {
        let album = Album::of(&self.folder());
        let sent = Sent {
            bike,
            photo,
            about,
            caption,
            tap,
            at,
        };
        photo::add(&mut self.memory, &album, sent)
    }

    /// The garage's folder.
    pub(crate) fn folder(&self) -> PathBuf {
        self.memory
            .path()
            .parent()
            .map(Path::to_path_buf)
            .unwrap_or_default()
    }

    /// The memory, for what is not about one bike's plan.
    pub(crate) fn memory(&mut self) -> &mut Memory {
        &mut self.memory
    }

    /// What is worked out beside the desk.
    pub(crate) fn judgements(&self) -> Judgements {
        self.judgements.clone()
    }

    /// A bike at this moment, read but not planned.
    ///
    /// # Errors
    /// [`LookError`] when its entries cannot be read.
    pub(crate) fn read(&self, bike: &BikeId, at: Timestamp) -> Result<Read, LookError> {
        let kept = self.kept.iter().find(|look| look.bike == *bike);
        Read::of(&self.memory, bike, at, kept)
    }

    /// A bike at this moment.
    ///
    /// # Errors
    /// [`LookError`] when its entries cannot be read.
    pub fn look(&mut self, bike: &BikeId, at: Timestamp) -> Result<&Look, LookError> {
        let read = self.read(bike, at)?;
        let kept = self
            .kept
            .iter()
            .position(|look| look.bike == *bike)
            .map(|place| self.kept.remove(place));
        let look = match kept {
            Some(mut kept) if read.same_as(&kept) => {
                // Waits run out while nothing is recorded.
                kept.at = at;
                kept
            }
            _ => read.plan(),
        };
        self.kept.truncate(KEPT - 1);
        self.kept.insert(0, look);
        self.kept
            .first()
            .ok_or_else(|| LookError::Shipped("no look was kept".to_owned()))
    }

    /// Takes an answer about a bike, with what was written on its card.
    ///
    /// # Errors
    /// The outer error when the bike cannot be read, the inner when the answer is refused.
    pub fn answer(
        &mut self,
        bike: &BikeId,
        reply: Reply<'_>,
        notes: &CardNotes,
    ) -> Result<Result<EntryId, NotTaken>, LookError> {
        self.look(bike, reply.at)?;
        let Some(look) = self.kept.first() else {
            return Err(LookError::Shipped("no look was kept".to_owned()));
        };
        Ok(answer_noted(&mut self.memory, look, reply, notes))
    }
}
