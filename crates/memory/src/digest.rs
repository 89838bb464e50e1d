//! Content hashes.

use sha2::{Digest, Sha256};

/// SHA-256 (FIPS 180-4) of these bytes, as 64 lower-case hexadecimal digits.
#[must_use]
pub fn hash_of(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
