//! `refettle layouts`

use super::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::wrap::{folded, message};
use refettle_usecases::layouts;

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
            out.push_str(&message(&format!(
                "{}: {} ({} parts)",
                layout.name, layout.title, layout.parts
            )));
            let widest = layout.jobs.iter().map(|job| job.name.len()).max().unwrap_or(0);
            for job in &layout.jobs {
                let beside = match job.excludes.as_slice() {
                    [] => String::new(),
                    others => format!(" (not beside {})", others.join(", ")),
                };
                out.push_str(&folded(
                    &format!("  {:<widest$}  ", job.name),
                    &format!("{}{beside}", job.title),
                ));
            }
            out.push('\n');
        }
        out.push_str("Next:\n  refettle plan --layout tiny-trainer --jobs oil-change\n");
        Ok(out)
    }
}
