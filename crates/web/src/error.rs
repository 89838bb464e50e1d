//! Why the server does not start or stops.

use refettle_usecases::look::LookError;
use std::net::SocketAddr;

/// Why the server does not start or stops.
#[derive(Debug, thiserror::Error)]
pub enum WebError {
    /// The garage's file, or the demo bike in it.
    #[error(transparent)]
    Garage(#[from] LookError),
    /// The address is taken or not to be had.
    #[error(
        "cannot serve on {address}: {reason}; choose another port with --port, or leave it out to get a free one"
    )]
    Bind {
        /// Where.
        address: SocketAddr,
        /// What the system said.
        reason: String,
    },
    /// No address on a home network.
    #[error(
        "this machine has no address on a home network ({0}); connect it, name its address with --lan=ADDRESS, or leave --lan out"
    )]
    NoNetwork(String),
    /// The pairings cannot be used.
    #[error(transparent)]
    Phones(#[from] crate::phones::PhonesError),
    /// The system refused something else.
    #[error("the server stopped: {0}; start it again, all answers so far are kept")]
    System(String),
}

impl From<refettle_memory::MemoryError> for WebError {
    fn from(error: refettle_memory::MemoryError) -> WebError {
        WebError::Garage(LookError::Memory(error))
    }
}
