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
    /// Print a layout as TOML with all its families written out, to start a sheet of your own from
    #[command(after_help = "Example:\n  refettle sheet show small-faired-twin > my-bike.toml")]
    Show {
        /// Name of a layout
        layout: String,
    },
    /// List the families a sheet may name, or print one
    #[command(after_help = "Example:\n  refettle sheet families chain-drive")]
    Families {
        /// Name of a family
        name: Option<String>,
    },
    /// Write down how a bike's sheet differs from its layout: values and sources, nothing personal
    #[command(
        after_help = "Examples:\n  refettle sheet export red --data garage > twin.toml\n  refettle sheet export red --whole --data garage > my-bike.toml"
    )]
    Export(crate::garage::SheetExport),
    /// Take another garage's values in; what is said otherwise here is chosen one by one
    #[command(
        after_help = "Example:\n  refettle sheet import twin.toml red --take circuit.oil.quantity=theirs --data garage"
    )]
    Import(crate::garage::SheetImport),
    /// Show where two such files differ
    #[command(after_help = "Example:\n  refettle sheet diff mine.toml theirs.toml")]
    Diff(crate::garage::SheetDiff),
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
            Sheet::Families { name: Some(name) } => Ok(layouts::family(name)?.to_owned()),
            Sheet::Families { name: None } => Ok(layouts::family_list()
                .into_iter()
                .map(|(name, about)| format!("{name}\n    {about}\n"))
                .collect()),
            Sheet::Show { layout } => Ok(layouts::written_out(layout)?),
            Sheet::Export(c) => c.run(),
            Sheet::Import(c) => c.run(),
            Sheet::Diff(c) => c.run(),
        }
    }
}
