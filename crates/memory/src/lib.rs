//! memory
