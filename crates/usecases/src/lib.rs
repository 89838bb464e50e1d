//! usecases
