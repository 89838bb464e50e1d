//! The options that `plan`, `kit` and `pddl` share.

use crate::outcome::Failure;
use clap::Args;
use refettle_usecases::refused::wrong;
use refettle_usecases::request::Request;
use std::path::{Path, PathBuf};

/// What is asked.
#[derive(Args)]
pub struct Asked {
    /// A layout shipped with the tool (see: refettle layouts)
    #[arg(
        long,
        value_name = "NAME",
        conflicts_with = "sheet",
        required_unless_present = "sheet"
    )]
    layout: Option<String>,
    /// A machine sheet of your own
    #[arg(long, value_name = "FILE")]
    sheet: Option<PathBuf>,
    /// Jobs, separated by commas; none: only close up what is open
    #[arg(long, value_name = "A,B,C", value_delimiter = ',')]
    jobs: Vec<String>,
    /// How the bike stands now (JSON); whole, cold and running when left out
    #[arg(long, value_name = "FILE")]
    state: Option<PathBuf>,
    /// Stances this garage can do, separated by commas; the usual ones when left out
    #[arg(long, value_name = "S1,S2", value_delimiter = ',')]
    stances: Option<Vec<String>>,
    /// People who can help, you included
    #[arg(long, value_name = "N")]
    people: Option<u8>,
    /// Tools that are not to be had, separated by commas
    #[arg(long, value_name = "T1,T2", value_delimiter = ',')]
    without: Vec<String>,
    /// Expect corroded fixings
    #[arg(long)]
    corroded: bool,
    /// Where to end: ready or rolling
    #[arg(long, value_name = "GOAL")]
    goal: Option<String>,
    /// Answer a question about the model, question=answer; may be repeated
    #[arg(long, value_name = "Q=A")]
    answer: Vec<String>,
}

/// Largest file that is read as a sheet or a state.
const LARGEST_FILE: u64 = 4 * 1024 * 1024;

impl Asked {
    /// The request, files read.
    pub fn request(&self) -> Result<Request, Failure> {
        let read_optional = |path: &Option<PathBuf>| path.as_deref().map(read).transpose();
        let jobs = self
            .jobs
            .iter()
            .map(|j| j.trim().to_owned())
            .filter(|j| !j.is_empty())
            .collect();
        Ok(Request {
            sheet: read_optional(&self.sheet)?,
            layout: self.layout.clone(),
            jobs,
            state: read_optional(&self.state)?,
            stances: self.stances.clone(),
            people: self.people,
            without: self.without.clone(),
            corroded: self.corroded,
            goal: self.goal.clone(),
            answers: self.answer.clone(),
        })
    }
}

/// Reads a text file a person named.
pub fn read(path: &Path) -> Result<String, Failure> {
    let shown = path.display();
    let size = std::fs::metadata(path)
        .map_err(|e| wrong(format!("cannot read {shown}: {e}")))?
        .len();
    if size > LARGEST_FILE {
        return Err(wrong(format!(
            "{shown} is {size} bytes long; at most {LARGEST_FILE} are read. Is it the right file?"
        ))
        .into());
    }
    let bytes = std::fs::read(path).map_err(|e| wrong(format!("cannot read {shown}: {e}")))?;
    String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        wrong(format!("{shown} is no text: byte {at} is not UTF-8")).into()
    })
}
