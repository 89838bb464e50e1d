//! `refettle trouble`

use super::asked::Asked;
use super::json;
use crate::outcome::Failure;
use anyhow::Context;
use clap::Args;
use refettle_papers::trouble_sheet;
use refettle_usecases::trouble;
use std::path::PathBuf;

#[derive(Args)]
pub struct Trouble {
    #[command(flatten)]
    asked: Asked,
    /// Where: a part, a critical fixing, a circuit (its drain plug); PART:2 is its second kind of fixing
    #[arg(long, value_name = "PART")]
    at: String,
    /// seized, snapped, stripped, rounded, missing, wrong-part or worn
    #[arg(long)]
    kind: String,
    /// The option chosen; with --out
    #[arg(long, value_name = "NAME", requires = "out")]
    option: Option<String>,
    /// File for the state with the option in it
    #[arg(long, value_name = "FILE", requires = "option")]
    out: Option<PathBuf>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Trouble {
    pub fn run(&self) -> Result<String, Failure> {
        let asked = trouble::asked(&self.asked.request()?, self.at.trim(), self.kind.trim())?;
        if let (Some(option), Some(out)) = (&self.option, &self.out) {
            let text = asked.state_with(option.trim())?;
            let shown = out.display();
            std::fs::write(out, text)
                .with_context(|| format!("cannot write {shown}; choose another file with --out FILE"))?;
            if !self.json {
                return Ok(format!("wrote {shown}; plan from it with --state {shown}\n"));
            }
        }
        let view = asked.view()?;
        if self.json {
            json(&view)
        } else {
            Ok(trouble_sheet::text(&view))
        }
    }
}
