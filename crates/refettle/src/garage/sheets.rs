//! `refettle sheet export`, `import` and `diff`: values and sources from bike to bike and from garage to garage.

use super::opened::{Place, Tapped, failed, mistaken};
use crate::commands::{json, read_text};
use crate::outcome::Failure;
use clap::Args;
use refettle_memory::Tap;
use refettle_memory::entry::Entry;
use refettle_papers::wrap::{folded, message};
use refettle_usecases::sheets::{
    Chosen, Correction, Corrections, Differs, Take, corrected, diff, import, of_bike, read, write,
};
use serde::Serialize;
use std::path::{Path, PathBuf};

#[derive(Args)]
pub struct SheetExport {
    /// The bike, by id or title
    bike: String,
    /// The whole machine sheet with the corrections in it
    #[arg(long)]
    whole: bool,
    #[command(flatten)]
    place: Place,
}

impl SheetExport {
    pub fn run(&self) -> Result<String, Failure> {
        let opened = self.place.open()?;
        let bike = opened.bike(&self.bike)?;
        let read = opened.read(&bike)?;
        let now = read.now();
        let corrections = of_bike(&now.layout, &now.book.corrections);
        if !self.whole {
            return Ok(write(&corrections));
        }
        let sheet = opened.memory.sheet(&now.sheet).map_err(failed)?;
        corrected(&sheet, &corrections).map_err(|error| mistaken(error.0))
    }
}

#[derive(Args)]
pub struct SheetImport {
    /// The file
    file: PathBuf,
    /// The bike it is for, by id or title
    bike: String,
    /// Whose value stands where the two differ; may be repeated
    #[arg(long, value_name = "PATH=ours|theirs")]
    take: Vec<String>,
    #[command(flatten)]
    tapped: Tapped,
}

/// `--json`: `refettle-sheet-imported/1`.
#[derive(Serialize)]
struct ImportedView {
    format: &'static str,
    bike: String,
    taken: Vec<String>,
    same: Vec<String>,
    kept: Vec<String>,
}

impl SheetImport {
    pub fn run(&self) -> Result<String, Failure> {
        let mut opened = self.tapped.open()?;
        let bike = opened.bike(&self.bike)?;
        let theirs = file(&self.file)?;
        let (ours, sheet) = {
            let read = opened.read(&bike)?;
            let now = read.now();
            let sheet = opened.memory.sheet(&now.sheet).map_err(failed)?;
            (of_bike(&now.layout, &now.book.corrections), sheet)
        };
        let mut mistakes = Vec::new();
        let chosen: Chosen = self
            .take
            .iter()
            .filter_map(|text| choice(text, &mut mistakes))
            .collect();
        if !mistakes.is_empty() {
            return Err(mistaken(mistakes));
        }
        let came = import(&ours, &theirs, &chosen).map_err(mistaken)?;
        // Strict: what the sheet has no place for is not taken in, and neither is anything beside it.
        let taken = came.take.iter().map(|body| {
            let correction = Correction {
                value: body.value.clone(),
                source: body.source,
                from: body.from.to_string(),
            };
            (body.path.to_string(), correction)
        });
        let would_be = Corrections {
            layout: ours.layout.clone(),
            at: ours.at.clone().into_iter().chain(taken).collect(),
        };
        corrected(&sheet, &would_be).map_err(|error| mistaken(error.0))?;
        let key = opened.tap.clone();
        for (n, body) in came.take.iter().enumerate() {
            opened.tap = key.as_ref().and_then(|tap| {
                let stem: String = tap.as_str().chars().take(58).collect();
                Tap::new(&format!("{stem}-{n}")).ok()
            });
            opened.append(&bike, &Entry::SheetCorrected(body.clone()))?;
        }
        let view = ImportedView {
            format: "refettle-sheet-imported/1",
            bike: bike.to_string(),
            taken: came.take.iter().map(|body| body.path.to_string()).collect(),
            same: came.same,
            kept: came.kept,
        };
        if self.tapped.json {
            return json(&view);
        }
        Ok(message(&format!(
            "Taken in: {}. The same already: {}. Kept as here: {}.",
            view.taken.len(),
            view.same.len(),
            view.kept.len()
        )))
    }
}

fn choice(text: &str, mistakes: &mut Vec<String>) -> Option<(String, Take)> {
    let chosen = text.rsplit_once('=').and_then(|(path, whose)| {
        let take = match whose {
            "ours" => Take::Ours,
            "theirs" => Take::Theirs,
            _ => return None,
        };
        Some((path.to_owned(), take))
    });
    if chosen.is_none() {
        mistakes.push(format!(
            "--take '{}' is no choice; write PATH=ours or PATH=theirs",
            text.chars().take(60).collect::<String>()
        ));
    }
    chosen
}

#[derive(Args)]
pub struct SheetDiff {
    /// One file
    a: PathBuf,
    /// The other
    b: PathBuf,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// `--json`: `refettle-sheet-diff/1`.
#[derive(Serialize)]
struct DiffView {
    format: &'static str,
    same: bool,
    differs: Vec<DiffersView>,
}

#[derive(Serialize)]
struct DiffersView {
    path: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    a: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    b: Option<String>,
}

impl SheetDiff {
    pub fn run(&self) -> Result<String, Failure> {
        let (a, b) = (file(&self.a)?, file(&self.b)?);
        if a.layout != b.layout {
            return Err(mistaken(vec![format!(
                "{} corrects the layout '{}', {} the layout '{}'; compare two of one layout",
                self.a.display(),
                a.layout,
                self.b.display(),
                b.layout
            )]));
        }
        let found = diff(&a, &b);
        if self.json {
            let shown = |c: &Option<Correction>| c.as_ref().map(Correction::shown);
            return json(&DiffView {
                format: "refettle-sheet-diff/1",
                same: found.is_empty(),
                differs: found
                    .iter()
                    .map(|d| DiffersView {
                        path: d.path.clone(),
                        a: shown(&d.a),
                        b: shown(&d.b),
                    })
                    .collect(),
            });
        }
        if found.is_empty() {
            return Ok("They say the same.\n".to_owned());
        }
        Ok(found.iter().map(text).collect())
    }
}

fn text(differs: &Differs) -> String {
    let mut out = message(&differs.path);
    for (sign, side) in [("- ", &differs.a), ("+ ", &differs.b)] {
        if let Some(correction) = side {
            out.push_str(&folded(&format!("  {sign}"), &correction.shown()));
        }
    }
    out
}

fn file(path: &Path) -> Result<Corrections, Failure> {
    let text = read_text(path)?;
    read(&text).map_err(|error| {
        let told = error.0.iter().map(|line| format!("{}: {line}", path.display()));
        mistaken(told.collect())
    })
}
