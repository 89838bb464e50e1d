//! `refettle open`

use crate::outcome::Failure;
use anyhow::Context;
use clap::Args;
use etcetera::{AppStrategy, AppStrategyArgs, choose_app_strategy};
use std::path::PathBuf;

#[derive(Args)]
pub struct Open {
    /// Port on this machine; a free one when left out
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    port: Option<u16>,
    /// Folder for the garage's memory; the platform's own when left out
    #[arg(long, value_name = "DIR")]
    data: Option<PathBuf>,
    /// Only print the address
    #[arg(long)]
    no_browser: bool,
}

impl Open {
    pub fn run(&self) -> Result<String, Failure> {
        let data = match &self.data {
            Some(dir) => dir.clone(),
            None => data_folder()?,
        };
        refettle_web::open(refettle_web::Options {
            data,
            port: self.port,
            browser: !self.no_browser,
        })
        .map_err(anyhow::Error::from)?;
        Ok(String::new())
    }
}

/// The platform's folder for data, such as `~/.local/share/refettle`.
pub(crate) fn data_folder() -> Result<PathBuf, Failure> {
    let names = AppStrategyArgs {
        top_level_domain: String::new(),
        author: String::new(),
        app_name: "refettle".into(),
    };
    let strategy = choose_app_strategy(names)
        .context("no home folder is known here; say where to keep the memory with --data DIR")?;
    Ok(strategy.data_dir())
}
