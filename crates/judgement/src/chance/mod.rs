//! Numbers of chance that several judgements need: Student's t, and draws that are the same for the same seed.

pub mod draws;
pub mod student;
