//! `refettle pddl`

use super::asked::Asked;
use crate::outcome::Failure;
use anyhow::Context;
use clap::Args;
use refettle_usecases::planning_problem;
use std::path::PathBuf;

#[derive(Args)]
pub struct Pddl {
    #[command(flatten)]
    asked: Asked,
    /// Folder to write domain.pddl and problem.pddl to
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
}

impl Pddl {
    pub fn run(&self) -> Result<String, Failure> {
        let files = planning_problem::write(&self.asked.request()?)?;
        let shown = self.out.display();
        std::fs::create_dir_all(&self.out)
            .with_context(|| format!("cannot make the folder {shown}; choose another with --out DIR"))?;
        for (name, text) in [("domain.pddl", &files.domain), ("problem.pddl", &files.problem)] {
            std::fs::write(self.out.join(name), text).with_context(|| {
                format!("cannot write {name} in {shown}; choose another folder with --out DIR")
            })?;
        }
        Ok(format!("wrote domain.pddl and problem.pddl to {shown}\n"))
    }
}
