//! The commands, one file each.

mod asked;
mod causes;
pub(crate) mod data;
mod demo;
mod keep;
mod kit;
mod layouts;
mod offer;
mod open;
mod out_and_back;
mod pddl;
mod phones;
mod plan;
mod price;
mod sheet;
mod trouble;
mod worth;

use crate::outcome::Failure;
use clap::Subcommand;

#[derive(Subcommand)]
pub enum Command {
    /// Show the layouts shipped with the tool and their jobs
    #[command(after_help = "Example:\n  refettle layouts")]
    Layouts(layouts::Layouts),
    /// Plan jobs: what comes off, in which order, the bike standing how
    #[command(
        after_help = "Examples:\n  refettle plan --layout small-faired-twin --jobs oil-and-filter,spark-plugs\n  refettle plan --sheet my-bike.toml --state my-bike.json --goal rolling\n  refettle plan --layout tiny-trainer --jobs oil-change --looking"
    )]
    Plan(plan::Plan),
    /// Everything to have at hand before the first bolt is turned
    #[command(after_help = "Example:\n  refettle kit --layout small-faired-twin --jobs fork-seals")]
    Kit(kit::Kit),
    /// Likely causes of what was found, and the next best check
    #[command(
        after_help = "Examples:\n  refettle causes --layout small-faired-twin\n  refettle causes --layout small-faired-twin --finding speedo-needle-dead --answer counter-turns=turns"
    )]
    Causes(causes::Causes),
    /// Which jobs pay: the set that gains most, minutes from the planner
    #[command(
        mut_arg("jobs", |arg| arg.help("Jobs on offer, separated by commas; all when left out")),
        after_help = "Examples:\n  refettle worth --layout tiny-trainer --price 900 --must oil-change\n  refettle worth --sheet my-bike.toml --state my-bike.json --price 1800 --hours 20"
    )]
    Worth(worth::Worth),
    /// Which small parts to keep: those that hold up least money within a budget
    #[command(after_help = "Example:\n  refettle keep --bikes tiny-trainer=4 --budget 30")]
    Keep(keep::Keep),
    /// What a bike fetches, by the comparables you noted
    #[command(
        after_help = "Example:\n  refettle price --comparables prices.csv --year 2008 --distance 31000km\n\nThe table's first line names its columns: kind,date,year,distance_km,price,papers,note\n(and condition,region where you noted them). kind is asked, sold or bid not met; a bid\nnever counts."
    )]
    Price(price::Price),
    /// Look at a bike to buy: the most to pay, and what to check first
    #[command(
        after_help = "Example:\n  refettle offer --layout small-faired-twin --year 2008 --distance 31000km \\\n    --stood-years 3 --storage indoors --price-clean 2600 --seen frame-number=ok"
    )]
    Offer(offer::Offer),
    /// Something seized, snapped, stripped: what can be done, and what it costs from here
    #[command(
        after_help = "Examples:\n  refettle trouble --layout small-faired-twin --jobs oil-and-filter --at exhaust --kind snapped\n  refettle trouble --layout tiny-trainer --at seat --kind rounded --option bite-on-socket --out bike.json"
    )]
    Trouble(trouble::Trouble),
    /// Open the bench in a web browser on this machine
    #[command(after_help = "Examples:\n  refettle open\n  refettle open --lan")]
    Open(open::Open),
    /// List the phones let in over the home network
    #[command(after_help = "Examples:\n  refettle phones\n  refettle phones withdraw 3f9a01c2")]
    Phones(phones::Phones),
    /// Write the whole garage out as plain text and photos
    #[command(after_help = "Example:\n  refettle export my-garage")]
    Export(out_and_back::Export),
    /// Take an export in; what is here already counts once
    #[command(after_help = "Example:\n  refettle import my-garage --data elsewhere")]
    Import(out_and_back::Import),
    /// Write the whole garage into one file, also while it is open
    #[command(after_help = "Example:\n  refettle backup garage-monday.backup")]
    Backup(out_and_back::Backup),
    /// Put a backup in the garage's place, which is copied aside first
    #[command(after_help = "Example:\n  refettle restore garage-monday.backup")]
    Restore(out_and_back::Restore),
    /// List personal data, or erase some of it for good
    #[command(
        after_help = "Examples:\n  refettle forget\n  refettle forget 0123456789abcdef0123456789abcdef"
    )]
    Forget(out_and_back::Forget),
    /// Work with a machine sheet
    #[command(
        subcommand,
        after_help = "Example:\n  refettle sheet show small-faired-twin > my-bike.toml"
    )]
    Sheet(sheet::Sheet),
    /// Write the hands-on task as a standard planning problem (PDDL)
    #[command(after_help = "Example:\n  refettle pddl --layout tiny-trainer --jobs oil-change --out task")]
    Pddl(pddl::Pddl),
    /// The garage: bikes, what is recorded of them, what comes next
    #[command(flatten)]
    Garage(crate::garage::Garage),
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
        Some(Command::Causes(c)) => c.run(),
        Some(Command::Worth(c)) => c.run(),
        Some(Command::Keep(c)) => c.run(),
        Some(Command::Price(c)) => c.run(),
        Some(Command::Offer(c)) => c.run(),
        Some(Command::Trouble(c)) => c.run(),
        Some(Command::Open(c)) => c.run(),
        Some(Command::Phones(c)) => c.run(),
        Some(Command::Export(c)) => c.run(),
        Some(Command::Import(c)) => c.run(),
        Some(Command::Backup(c)) => c.run(),
        Some(Command::Restore(c)) => c.run(),
        Some(Command::Forget(c)) => c.run(),
        Some(Command::Pddl(c)) => c.run(),
        Some(Command::Garage(c)) => crate::garage::run(&c),
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
pub(crate) fn json<T: serde::Serialize>(view: &T) -> Result<String, Failure> {
    let text = serde_json::to_string_pretty(view).map_err(anyhow::Error::from)?;
    Ok(format!("{text}\n"))
}

/// A text file a person named.
pub(crate) fn read_text(path: &std::path::Path) -> Result<String, Failure> {
    asked::read(path).map(|document| document.text)
}
