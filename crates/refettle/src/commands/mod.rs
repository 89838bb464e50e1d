//! The commands, one file each.

mod asked;
mod demo;
mod kit;
mod layouts;
mod open;
mod pddl;
mod plan;
mod sheet;
mod trouble;

use crate::outcome::Failure;
use clap::Subcommand;

#[derive(Subcommand)]
pub enum Command {
    /// Show the layouts shipped with the tool and their jobs
    #[command(after_help = "Example:\n  refettle layouts")]
    Layouts(layouts::Layouts),
    /// Plan jobs: what comes off, in which order, the bike standing how
    #[command(
        after_help = "Examples:\n  refettle plan --layout small-faired-twin --jobs oil-and-filter,spark-plugs\n  refettle plan --sheet my-bike.toml --state my-bike.json --goal rolling\n  refettle plan --layout small-faired-twin --jobs spark-plugs --goal tonight --minutes 90 --quiet"
    )]
    Plan(plan::Plan),
    /// Everything to have at hand before the first bolt is turned
    #[command(after_help = "Example:\n  refettle kit --layout small-faired-twin --jobs fork-seals")]
    Kit(kit::Kit),
    /// Something seized, snapped, stripped: what can be done, and what it costs from here
    #[command(
        after_help = "Examples:\n  refettle trouble --layout small-faired-twin --jobs oil-and-filter --at exhaust --kind snapped\n  refettle trouble --layout tiny-trainer --at seat --kind rounded --option bite-on-socket --out bike.json"
    )]
    Trouble(trouble::Trouble),
    /// Open the bench in a web browser on this machine
    #[command(after_help = "Example:\n  refettle open")]
    Open(open::Open),
    /// Work with a machine sheet
    #[command(
        subcommand,
        after_help = "Example:\n  refettle sheet show small-faired-twin > my-bike.toml"
    )]
    Sheet(sheet::Sheet),
    /// Write the hands-on task as a standard planning problem (PDDL)
    #[command(after_help = "Example:\n  refettle pddl --layout tiny-trainer --jobs oil-change --out task")]
    Pddl(pddl::Pddl),
    /// One question at the bench, one answer
    #[command(flatten)]
    FitDesk(crate::fit_desk::FitDesk),
}

/// Runs a command; without one, shows the demo.
pub fn run(command: Option<Command>) -> Result<String, Failure> {
    match command {
        None => demo::run(),
        Some(Command::Layouts(c)) => c.run(),
        Some(Command::Sheet(c)) => c.run(),
        Some(Command::Plan(c)) => c.run(),
        Some(Command::Kit(c)) => c.run(),
        Some(Command::Trouble(c)) => c.run(),
        Some(Command::Open(c)) => c.run(),
        Some(Command::Pddl(c)) => c.run(),
        Some(Command::FitDesk(c)) => fit_desk(&c),
    }
}

fn fit_desk(command: &crate::fit_desk::FitDesk) -> Result<String, Failure> {
    let (view, text) = crate::fit_desk::answer(command)?;
    if command.print().json {
        json(&view)
    } else {
        Ok(text)
    }
}

/// A view as JSON, ending with a line break.
fn json<T: serde::Serialize>(view: &T) -> Result<String, Failure> {
    let text = serde_json::to_string_pretty(view).map_err(anyhow::Error::from)?;
    Ok(format!("{text}\n"))
}
