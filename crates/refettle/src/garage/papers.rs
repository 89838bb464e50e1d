//! `refettle papers`

use super::opened::{Tapped, failed, mistaken};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::bag_labels::LabelSheet;
use refettle_papers::issue::{NotIssued, PaperSize, Which, issue};
use refettle_papers::wrap::message;
use refettle_usecases::refused::wrong;
use serde::Serialize;
use std::path::PathBuf;

#[derive(Args)]
pub struct Papers {
    /// Which paper
    #[arg(value_parser = ["bench-sheet", "kit", "labels", "cover", "history", "sale"])]
    which: String,
    /// The bike, by id or title
    bike: String,
    /// The file to write
    #[arg(long, value_name = "FILE.pdf")]
    out: PathBuf,
    /// Size of paper
    #[arg(long, default_value = "a4", value_parser = ["a4", "letter"])]
    paper: String,
    /// What the labels are printed on
    #[arg(long, default_value = "plain", value_parser = ["a4-24", "letter-30", "plain"])]
    sheet: String,
    /// Limits by this scheme of the road check
    #[arg(long, value_name = "SCHEME")]
    scheme: Option<String>,
    /// To look at only: history folder and sale paper are not kept as handed over
    #[arg(long)]
    draft: bool,
    #[command(flatten)]
    tapped: Tapped,
}

/// `--json`: `refettle-papers/1`.
#[derive(Serialize)]
struct PaperView {
    format: &'static str,
    bike: String,
    paper: String,
    file: String,
    bytes: usize,
    sha256: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    entry: Option<String>,
}

impl Papers {
    pub fn run(&self) -> Result<String, Failure> {
        let mut opened = self.tapped.open()?;
        let bike = opened.bike(&self.bike)?;
        let sheet = LabelSheet::named(&self.sheet).unwrap_or_default();
        let size = self.size(sheet)?;
        let Some(which) = Which::named(&self.which, sheet) else {
            return Err(mistaken(vec![format!("'{}' is no paper", self.which)]));
        };
        let look = opened.look(&bike)?;
        let folder = self.tapped.folder()?;
        let made = issue(
            &opened.memory,
            &folder,
            &look,
            which,
            size,
            self.scheme.as_deref(),
        )
        .map_err(|error| match error {
            NotIssued::NoPlan(_) => wrong(error.to_string()).into(),
            NotIssued::Memory(error) => failed(error),
            NotIssued::Failed(error) => Failure::Ours(error.into()),
        })?;
        // The file first: a paper that could not be written was not handed over.
        std::fs::write(&self.out, &made.pdf).map_err(|error| {
            Failure::from(wrong(format!(
                "{} cannot be written: {error}; choose another place with --out",
                self.out.display()
            )))
        })?;
        let entry = if self.draft {
            None
        } else {
            let (at, tap) = (opened.at, opened.tap.clone());
            made.hand_over(&mut opened.memory, &bike, at, tap.as_ref())
                .map_err(failed)?
        };
        let view = PaperView {
            format: "refettle-papers/1",
            bike: bike.to_string(),
            paper: self.which.clone(),
            file: self.out.display().to_string(),
            bytes: made.pdf.len(),
            sha256: made.sha256(),
            entry: entry.map(|entry| entry.to_string()),
        };
        if self.tapped.json {
            return json(&view);
        }
        let kept = match &view.entry {
            Some(entry) => format!("Kept as handed over: entry {entry}, SHA-256 {}.\n", view.sha256),
            None => String::new(),
        };
        Ok(message(&format!("{}: {} bytes.\n{kept}", view.file, view.bytes)))
    }

    /// A label sheet has its own size of paper; the other one is a mistake.
    fn size(&self, sheet: LabelSheet) -> Result<PaperSize, Failure> {
        let said = PaperSize::named(&self.paper).unwrap_or_default();
        match (self.which.as_str(), sheet) {
            ("labels", LabelSheet::LetterBy30) => Ok(PaperSize::Letter),
            ("labels", LabelSheet::A4By24) if said == PaperSize::Letter => Err(mistaken(vec![
                "--sheet a4-24 is a sheet of A4; leave --paper letter out, or take --sheet letter-30"
                    .to_owned(),
            ])),
            _ => Ok(said),
        }
    }
}
