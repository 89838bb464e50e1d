//! The phone at the bench: who may ask over the home network.
//!
//! A one-time code is shown on the machine's own screen; whoever types it, or follows the square code
//! that holds it, gets a secret of their own as a cookie. Of the secret only a hash is kept. Without it
//! nothing of the garage is reached over the network: the gate lets through the pairing page and its style alone.
//!
//! This is plain `http`: whoever can listen on the same network can read along and take the secret. It keeps out
//! guests who only know the address; it does not make a foreign network safe, and the pages say so.

pub(crate) mod code;
pub(crate) mod gate;
pub(crate) mod paired;
pub(crate) mod square;

use code::{Code, Tried};
use paired::Book;
pub use paired::{PhoneLine, PhonesError};
use std::net::SocketAddrV4;
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Instant;

/// Pairings of one garage, and the code that is open just now.
#[derive(Debug)]
pub(crate) struct Phones {
    book: Book,
    code: Mutex<Code>,
    address: SocketAddrV4,
}

impl Phones {
    pub(crate) fn new(data: &Path, address: SocketAddrV4) -> Phones {
        Phones {
            book: Book::of(data),
            code: Mutex::new(Code::default()),
            address,
        }
    }

    /// Where the network reaches this server.
    pub(crate) fn address(&self) -> SocketAddrV4 {
        self.address
    }

    pub(crate) fn book(&self) -> &Book {
        &self.book
    }

    fn code(&self) -> MutexGuard<'_, Code> {
        self.code.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Opens a new code; an earlier one is worth nothing from here on.
    pub(crate) fn fresh_code(&self) -> Result<String, PhonesError> {
        self.code().fresh(Instant::now())
    }

    /// The open code, if there is one.
    pub(crate) fn open_code(&self) -> Option<String> {
        self.code().open(Instant::now()).map(str::to_owned)
    }

    /// Tries a code; the right one is spent by it.
    pub(crate) fn try_code(&self, text: &str) -> Tried {
        self.code().attempt(text, Instant::now())
    }

    /// The address to be followed on the phone, with the code in it.
    pub(crate) fn link(&self, code: &str) -> String {
        format!("http://{}/pair?code={code}", self.address)
    }
}

/// All paired phones of the garage in this folder.
///
/// # Errors
/// [`PhonesError`] when their file cannot be read.
pub fn list(data: &Path) -> Result<Vec<PhoneLine>, PhonesError> {
    Book::of(data).lines()
}

/// Withdraws a pairing: the phone's next request is refused, also by a server that is running.
///
/// # Errors
/// [`PhonesError::NoSuchPhone`], or when the file cannot be read or written.
pub fn withdraw(data: &Path, id: &str) -> Result<PhoneLine, PhonesError> {
    Book::of(data).withdraw(id)
}
