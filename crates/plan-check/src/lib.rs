//! plan-check
