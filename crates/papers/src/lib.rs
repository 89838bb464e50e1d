//! papers
