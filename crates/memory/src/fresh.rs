//! New ids: random, so that two devices, or two garages merged later, never make the same one.

use crate::error::MemoryError;
use crate::tap::Tap;
use refettle_facts::ids::{BikeId, EntryId};
use std::fmt::Write;

/// 16 random bytes as 32 hexadecimal digits: 128 bits never collide in a garage's life.
pub(crate) fn fresh() -> Result<String, MemoryError> {
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes).map_err(|error| MemoryError::NoRandom {
        reason: error.to_string(),
    })?;
    Ok(bytes.iter().fold(String::with_capacity(32), |mut text, byte| {
        // Writing to a String cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    }))
}

fn no_id(error: &refettle_facts::ids::IdError) -> MemoryError {
    MemoryError::NoRandom {
        reason: error.to_string(),
    }
}

/// A new id for a bike that comes in.
///
/// # Errors
/// [`MemoryError::NoRandom`] when the system gives no random bytes.
pub fn fresh_bike_id() -> Result<BikeId, MemoryError> {
    BikeId::new(&fresh()?).map_err(|error| no_id(&error))
}

/// A new id for an entry.
pub(crate) fn fresh_entry_id() -> Result<EntryId, MemoryError> {
    EntryId::new(&fresh()?).map_err(|error| no_id(&error))
}

/// A key for a tap that nobody repeats: one made by a command typed once.
///
/// # Errors
/// [`MemoryError::NoRandom`] when the system gives no random bytes.
pub fn fresh_tap() -> Result<Tap, MemoryError> {
    Tap::new(&fresh()?).map_err(|error| MemoryError::NoRandom {
        reason: error.to_string(),
    })
}
