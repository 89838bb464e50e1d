//! `refettle causes`

use super::asked::read;
use super::json;
use crate::outcome::Failure;
use clap::{ArgGroup, Args};
use refettle_papers::causes as paper;
use refettle_usecases::causes::answer;
use refettle_usecases::causes::list;
use refettle_usecases::causes::question::CausesRequest;
use refettle_usecases::request::Request;
use std::path::PathBuf;

#[derive(Args)]
#[command(group(ArgGroup::new("machine").required(true).args(["layout", "sheet"])))]
pub struct Causes {
    /// A layout shipped with the tool (see: refettle layouts)
    #[arg(long, value_name = "NAME")]
    layout: Option<String>,
    /// A machine sheet of your own
    #[arg(long, value_name = "FILE")]
    sheet: Option<PathBuf>,
    /// What was found, separated by commas; none: list what can be asked about
    #[arg(long, value_name = "ID,ID", value_delimiter = ',')]
    finding: Vec<String>,
    /// What was looked for and is not there, separated by commas
    #[arg(long, value_name = "ID,ID", value_delimiter = ',')]
    not_found: Vec<String>,
    /// Answer a check, check=outcome, or a question about the model; repeatable
    #[arg(long, value_name = "CHECK=OUTCOME")]
    answer: Vec<String>,
    /// How the bike stands now (JSON); whole, cold and running when left out
    #[arg(long, value_name = "FILE")]
    state: Option<PathBuf>,
    /// Jobs planned already: what comes off for them is no cost of a check
    #[arg(long, value_name = "A,B,C", value_delimiter = ',')]
    jobs: Vec<String>,
    /// Stances this garage can do, separated by commas; the usual ones when left out
    #[arg(long, value_name = "S1,S2", value_delimiter = ',')]
    stances: Option<Vec<String>>,
    /// Weights of your own (TOML)
    #[arg(long, value_name = "FILE")]
    weights: Option<PathBuf>,
    /// Say what every number rests on
    #[arg(long)]
    why: bool,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Causes {
    pub fn run(&self) -> Result<String, Failure> {
        let optional = |path: &Option<PathBuf>| path.as_deref().map(read).transpose();
        let trimmed = |names: &[String]| {
            let names = names.iter().map(|n| n.trim().to_owned());
            names.filter(|n| !n.is_empty()).collect::<Vec<_>>()
        };
        let bike = Request {
            sheet: optional(&self.sheet)?,
            layout: self.layout.clone(),
            jobs: trimmed(&self.jobs),
            state: optional(&self.state)?,
            stances: self.stances.as_deref().map(trimmed),
            answers: self.answer.clone(),
            ..Request::default()
        };
        let (findings, not_found) = (trimmed(&self.finding), trimmed(&self.not_found));
        if findings.is_empty() && not_found.is_empty() {
            let view = list::findings(&bike)?;
            return if self.json {
                json(&view)
            } else {
                Ok(paper::findings(&view))
            };
        }
        let view = answer::causes(&CausesRequest {
            bike,
            findings,
            not_found,
            weights: optional(&self.weights)?,
        })?;
        if self.json {
            json(&view)
        } else {
            Ok(paper::text(&view, self.why))
        }
    }
}
