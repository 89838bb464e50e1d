//! `refettle layouts`

use super::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_usecases::layouts;
use std::fmt::Write;

#[derive(Args)]
pub struct Layouts {
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Layouts {
    pub fn run(&self) -> Result<String, Failure> {
        let view = layouts::list()?;
        if self.json {
            return json(&view);
        }
        let mut out = String::new();
        for layout in &view.layouts {
            let _ = writeln!(
                out,
                "{}: {}, {} parts, {} jobs",
                layout.name,
                layout.title,
                layout.parts,
                layout.jobs.len()
            );
            for job in &layout.jobs {
                let _ = writeln!(out, "  {:<24} {}", job.name, job.title);
                if !job.excludes.is_empty() {
                    let _ = writeln!(out, "  {:<24} (not beside {})", "", job.excludes.join(", "));
                }
            }
            out.push('\n');
        }
        Ok(out)
    }
}
