//! The web surface in process: requests in, pages out, entries looked at on the disk.

mod answers;
mod bad_requests;
mod garage;
mod guard;
