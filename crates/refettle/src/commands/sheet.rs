//! `refettle sheet`

use super::asked::read;
use crate::outcome::Failure;
use clap::Subcommand;
use refettle_usecases::layouts;
use std::path::PathBuf;

#[derive(Subcommand)]
pub enum Sheet {
    /// Read a machine sheet and say everything that is wrong with it
    #[command(after_help = "Example:\n  refettle sheet check my-bike.toml")]
    Check {
        /// The sheet
        file: PathBuf,
    },
    /// Print a layout as TOML, to start a sheet of your own from
    #[command(after_help = "Example:\n  refettle sheet show small-faired-twin > my-bike.toml")]
    Show {
        /// Name of a layout
        layout: String,
    },
}

impl Sheet {
    pub fn run(&self) -> Result<String, Failure> {
        match self {
            Sheet::Check { file } => {
                let machine = layouts::read_document(&read(file)?)?;
                Ok(format!(
                    "{}: sound; {} parts, {} critical fixings, {} steps, {} jobs\n",
                    machine.name,
                    machine.parts.len(),
                    machine.criticals.len(),
                    machine.steps.len(),
                    machine.jobs.len()
                ))
            }
            Sheet::Show { layout } => Ok(layouts::text(layout)?.to_owned()),
        }
    }
}
