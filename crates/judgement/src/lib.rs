//! judgement
