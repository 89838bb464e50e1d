//! Reads a machine sheet.
