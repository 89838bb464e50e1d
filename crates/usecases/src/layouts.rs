//! The layouts shipped with the tool.

use crate::refused::{Refused, wrong};
use crate::request::{Document, told};
use refettle_facts::nearest::nearest;
use refettle_machine::model::Machine;
use refettle_machine::{layouts, sheet};
use serde::Serialize;

/// `refettle layouts --json`.
#[derive(Debug, Clone, Serialize)]
pub struct LayoutsView {
    /// Every layout.
    pub layouts: Vec<LayoutView>,
}

/// One layout.
#[derive(Debug, Clone, Serialize)]
pub struct LayoutView {
    /// Name on the command line.
    pub name: String,
    /// Title.
    pub title: String,
    /// How far to trust it.
    pub about: String,
    /// Number of parts.
    pub parts: usize,
    /// Jobs that can be asked for.
    pub jobs: Vec<JobView>,
}

/// One job.
#[derive(Debug, Clone, Serialize)]
pub struct JobView {
    /// Name on the command line.
    pub name: String,
    /// Title.
    pub title: String,
    /// Jobs that make no sense beside it.
    pub excludes: Vec<String>,
}

/// The layout of this name, read.
///
/// # Errors
/// [`Refused::Wrong`] when there is none; it names the nearest.
pub fn layout(name: &str) -> Result<Machine, Refused> {
    read(text(name)?)
}

/// The layout of this name, as written.
///
/// # Errors
/// [`Refused::Wrong`] when there is none; it names the nearest.
pub fn text(name: &str) -> Result<&'static str, Refused> {
    layouts::named(name).ok_or_else(|| {
        let names: Vec<&str> = layouts::ALL.iter().map(|(n, _)| *n).collect();
        let hint = nearest(name, names.iter().copied())
            .map(|n| format!("; did you mean '{n}'?"))
            .unwrap_or_default();
        wrong(format!(
            "there is no layout '{name}'{hint}\nlayouts: {}",
            names.join(", ")
        ))
    })
}

/// Reads a machine sheet.
///
/// # Errors
/// [`Refused::Wrong`] with every mistake in it.
pub fn read(text: &str) -> Result<Machine, Refused> {
    sheet::read(text).map_err(|mistakes| wrong(mistakes.to_string()))
}

/// Reads a machine sheet of a person's own.
///
/// # Errors
/// [`Refused::Wrong`] with every mistake in it, under its name.
pub fn read_document(document: &Document) -> Result<Machine, Refused> {
    sheet::read(&document.text).map_err(|mistakes| wrong(told(document, &mistakes)))
}

/// All layouts, for listing.
///
/// # Errors
/// [`Refused::Wrong`] if a shipped layout does not read, which a test excludes.
pub fn list() -> Result<LayoutsView, Refused> {
    let mut all = Vec::new();
    for (name, text) in layouts::ALL {
        let machine = read(text)?;
        all.push(LayoutView {
            name: (*name).to_owned(),
            title: machine.title.clone(),
            about: machine.about.clone(),
            parts: machine.parts.len(),
            jobs: machine
                .jobs
                .iter()
                .map(|j| JobView {
                    name: j.name.clone(),
                    title: j.title.clone(),
                    excludes: j.excludes.clone(),
                })
                .collect(),
        });
    }
    Ok(LayoutsView { layouts: all })
}
