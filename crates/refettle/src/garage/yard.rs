//! `refettle yard`

use super::opened::{Place, looked};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_papers::wrap::{folded, message};
use refettle_usecases::yard::{YardBikeView, view};

#[derive(Args)]
pub struct Yard {
    /// Also bikes that left
    #[arg(long)]
    gone: bool,
    #[command(flatten)]
    place: Place,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Yard {
    pub fn run(&self) -> Result<String, Failure> {
        let opened = self.place.open()?;
        let view = view(&opened.memory, opened.at, self.gone).map_err(looked)?;
        if self.json {
            return json(&view);
        }
        if view.bikes.is_empty() {
            return Ok("The yard is empty.\nNext:\n  refettle bring-in \"TITLE\" --layout NAME\n".to_owned());
        }
        Ok(view.bikes.iter().map(strip).collect())
    }
}

fn strip(bike: &YardBikeView) -> String {
    let mut out = message(&format!("{} ({}, {})", bike.title, bike.id, bike.layout));
    let stands = match (&bike.arrives, bike.stands) {
        (Some(day), _) => format!("expected on {day}"),
        (None, "here") => format!("{} days here", bike.days),
        (None, word) => word.to_owned(),
    };
    out.push_str(&folded("  ", &stands));
    if !bike.off.is_empty() {
        out.push_str(&folded("  off: ", &bike.off.join(", ")));
    }
    for wait in &bike.waits {
        let until = wait.until.as_ref().map_or_else(
            || " (nobody knows when)".to_owned(),
            |until| format!(" (until {until})"),
        );
        out.push_str(&folded("  waits for: ", &format!("{}{until}", wait.what)));
    }
    for (n, what) in [
        (bike.findings, "findings open"),
        (bike.troubles, "surprises open"),
        (bike.shortcuts, "shortcuts open"),
        (bike.can_hurt, "of them can hurt"),
    ] {
        if n > 0 {
            out.push_str(&folded("  ", &format!("{n} {what}")));
        }
    }
    if bike.minutes > 0 {
        out.push_str(&folded("  ", &format!("{} min on record", bike.minutes)));
    }
    out
}
