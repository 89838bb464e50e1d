//! The web surface in process: requests in, pages out, entries looked at on the disk.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

mod answers;
mod bad_requests;
mod bring_in;
mod closing;
mod drawer;
mod evening;
mod fit_desk;
mod garage;
mod guard;
mod judging;
mod live;
mod phones;
mod photos;
mod pictures;
mod surprise;
