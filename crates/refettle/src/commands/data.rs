//! The garage's folder, as every command that keeps something takes it.

use crate::outcome::Failure;
use anyhow::Context;
use clap::Args;
use etcetera::{AppStrategy, AppStrategyArgs, choose_app_strategy};
use std::path::PathBuf;

#[derive(Args)]
pub struct Data {
    /// Folder for the garage's memory; the platform's own when left out
    #[arg(long, value_name = "DIR")]
    data: Option<PathBuf>,
}

impl Data {
    /// The folder: the one named, or the platform's own, such as `~/.local/share/refettle`.
    pub fn folder(&self) -> Result<PathBuf, Failure> {
        if let Some(dir) = &self.data {
            return Ok(dir.clone());
        }
        let names = AppStrategyArgs {
            top_level_domain: String::new(),
            author: String::new(),
            app_name: "refettle".into(),
        };
        let strategy = choose_app_strategy(names)
            .context("no home folder is known here; say where to keep the memory with --data DIR")?;
        Ok(strategy.data_dir())
    }
}
