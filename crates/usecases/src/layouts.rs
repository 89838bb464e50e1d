//! The layouts shipped with the tool.

use crate::refused::{Refused, wrong};
use crate::request::{Document, told};
use refettle_facts::nearest::nearest;
use refettle_machine::model::Machine;
use refettle_machine::{families, layouts, sheet};
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

/// The layout of this name with all its families written out: what is kept beside a bike, and what a sheet of one's
/// own starts from.
///
/// # Errors
/// [`Refused::Wrong`] when there is none; it names the nearest.
pub fn written_out(name: &str) -> Result<String, Refused> {
    sheet::written_out(text(name)?).map_err(|mistakes| wrong(mistakes.to_string()))
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

/// The family of this name, as written.
///
/// # Errors
/// [`Refused::Wrong`] when there is none; it names the nearest.
pub fn family(name: &str) -> Result<&'static str, Refused> {
    families::named(name).ok_or_else(|| {
        let names = families::ALL.iter().map(|(n, _)| *n);
        let hint = nearest(name, names)
            .map(|n| format!("; did you mean '{n}'?"))
            .unwrap_or_default();
        wrong(format!(
            "there is no family '{name}'{hint}\nall of them: refettle sheet families"
        ))
    })
}

/// Name of every family, and what it says it is about.
#[must_use]
pub fn family_list() -> Vec<(&'static str, &'static str)> {
    // A family says it on a line of its own near its top; a test reads every one of them.
    let about = |text: &'static str| {
        text.lines()
            .find_map(|line| line.strip_prefix("about = \"")?.strip_suffix('"'))
            .unwrap_or_default()
    };
    families::ALL
        .iter()
        .map(|(name, text)| (*name, about(text)))
        .collect()
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_family_says_what_it_is_about_and_is_found_by_name() {
        for (name, about) in family_list() {
            assert!(about.ends_with('.') && !about.contains('\\'), "{name}: {about}");
            assert!(family(name).is_ok());
        }
        let said = family("chain-drve").unwrap_err().to_string();
        assert!(said.contains("did you mean 'chain-drive'?"), "{said}");
    }

    #[test]
    fn what_is_kept_beside_a_bike_needs_no_family_and_is_the_same_machine() {
        for (name, _) in layouts::ALL {
            let kept = written_out(name).unwrap();
            assert!(!kept.contains("\nfamilies = "), "{name}");
            assert_eq!(read(&kept).unwrap(), layout(name).unwrap(), "{name}");
        }
    }
}
