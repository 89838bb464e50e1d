//! The garage's memory: one SQLite file, `garage.sqlite`, in a folder of its own.
//!
//! Entries are only ever added; how a bike stands is computed from them. Nothing is acknowledged before it is
//! on the disk. What is left out: a clock and a network (moments are passed in), and every judgement about the
//! trade beyond "what does this answer change on the machine".
//!
//! Start at [`Memory`]: [`open`](Memory::open) it, [`append`](Memory::append) an [`entry`](entry::Entry), read
//! [`entries`](Memory::entries) back, and [`fold`](state::fold) them into how the bike stands.

mod digest;
pub mod entry;
pub mod error;
mod file;
mod fresh;
mod invented;
mod lists;
mod lock;
mod log;
mod migrate;
pub mod out;
mod personal;
mod read;
mod sheets;
mod since;
pub mod state;
mod strips;
mod tally;
mod tap;
mod waits;
mod yard;

pub use digest::hash_of;
pub use error::MemoryError;
pub use file::{FILE_NAME, Memory};
pub use fresh::{fresh_bike_id, fresh_tap};
pub use invented::{INVENTED, is_invented};
pub use lock::ServerLock;
pub use log::{LONGEST_BODY, NewEntry, Stored};
pub use personal::{LONGEST_PERSONAL, PersonalId, PersonalIdError};
pub use sheets::{SheetHash, SheetHashError};
pub use strips::Strip;
pub use tally::{TallyLine, TallyWhat};
pub use tap::{Tap, TapError};
pub use waits::WaitsFor;
pub use yard::YardLine;
