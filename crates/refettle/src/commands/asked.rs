//! The options that `plan`, `kit` and `pddl` share.

use crate::outcome::Failure;
use clap::{ArgGroup, Args};
use refettle_usecases::refused::wrong;
use refettle_usecases::request::{Document, Request};
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

/// What is asked.
#[derive(Args)]
#[command(group(ArgGroup::new("machine").required(true).args(["layout", "sheet"])))]
pub struct Asked {
    /// A layout shipped with the tool (see: refettle layouts)
    #[arg(long, value_name = "NAME")]
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
    /// People who can help, you included: 1 to 9, 1 when left out
    #[arg(long, value_name = "N", value_parser = people, allow_hyphen_values = true)]
    people: Option<u8>,
    /// Tools that are not to be had, separated by commas
    #[arg(long, value_name = "T1,T2", value_delimiter = ',')]
    without: Vec<String>,
    /// Expect corroded fixings
    #[arg(long)]
    corroded: bool,
    /// Where to end: ready (when left out), rolling or tonight
    #[arg(long, value_name = "GOAL")]
    goal: Option<String>,
    /// Answer a question about the model, question=answer; may be repeated
    #[arg(long, value_name = "Q=A")]
    answer: Vec<String>,
}

/// What `plan` and `kit` take besides: an evening, a look, an earlier plan.
#[derive(Args)]
pub struct Evening {
    /// Tonight: minutes until everything is put away
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    minutes: Option<u32>,
    /// Tonight: no running engine, no hammering, no grinding
    #[arg(long)]
    quiet: bool,
    /// Tonight: nobody is called
    #[arg(long)]
    alone: bool,
    /// Only the least strip that settles what to order
    #[arg(long)]
    looking: bool,
    /// An earlier plan (JSON): keep its order, say what changed
    #[arg(long, value_name = "FILE")]
    before: Option<PathBuf>,
}

impl Evening {
    /// The request with these in it.
    pub fn added(&self, request: Request) -> Result<Request, Failure> {
        Ok(Request {
            minutes: self.minutes,
            quiet: self.quiet,
            alone: self.alone,
            looking: self.looking,
            before: self.before.as_deref().map(read).transpose()?,
            ..request
        })
    }
}

/// Largest file that is read as a sheet or a state.
const LARGEST_FILE: u64 = 4 * 1024 * 1024;

impl Asked {
    /// The request, files read.
    pub fn request(&self) -> Result<Request, Failure> {
        let read_optional = |path: &Option<PathBuf>| path.as_deref().map(read).transpose();
        let trimmed = |names: &Vec<String>| names.iter().map(|n| n.trim().to_owned()).collect::<Vec<_>>();
        let mut jobs = trimmed(&self.jobs);
        jobs.retain(|j| !j.is_empty());
        Ok(Request {
            sheet: read_optional(&self.sheet)?,
            layout: self.layout.clone(),
            jobs,
            state: read_optional(&self.state)?,
            stances: self.stances.as_ref().map(trimmed),
            people: self.people,
            without: trimmed(&self.without),
            corroded: self.corroded,
            goal: self.goal.clone(),
            answers: self.answer.clone(),
            ..Request::default()
        })
    }
}

/// How many people there are: a whole number; whether so many make sense is the request's to judge.
fn people(text: &str) -> Result<u8, String> {
    text.trim()
        .parse()
        .map_err(|_| "write a whole number from 1 to 9".to_owned())
}

/// Reads a text file a person named.
pub fn read(path: &Path) -> Result<Document, Failure> {
    let shown = path.display();
    let unreadable = |e: std::io::Error| {
        let advice = match e.kind() {
            ErrorKind::NotFound => "; check the name and the folder",
            ErrorKind::IsADirectory => "; name a file in it",
            ErrorKind::PermissionDenied => "; allow it to be read",
            _ => "",
        };
        wrong(format!("cannot read {shown}: {e}{advice}"))
    };
    // Read no further than the limit: what is no plain file need not end.
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(LARGEST_FILE + 1).read_to_end(&mut bytes))
        .map_err(unreadable)?;
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(wrong(format!(
            "{shown} is longer than {LARGEST_FILE} bytes, the most that is read; is it the right file?"
        ))
        .into());
    }
    let text = String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        wrong(format!(
            "{shown} is no text: what follows its first {at} bytes is not UTF-8; save it as UTF-8"
        ))
    })?;
    Ok(Document {
        name: shown.to_string(),
        text,
    })
}
