//! The garage by command line: everything can be recorded, and everything read back.

mod bench;
mod bring_in;
mod drawer;
mod log;
mod now;
mod opened;
mod orders;
mod papers;
mod road;
mod sheets;
mod tally;
mod taught;
mod typed;
mod undo;
mod yard;

pub use sheets::{SheetDiff, SheetExport, SheetImport};

use crate::outcome::Failure;
use clap::Subcommand;

#[derive(Subcommand)]
pub enum Garage {
    /// Bring a bike in, or one that is expected
    #[command(
        after_help = "Examples:\n  refettle bring-in \"The red one\" --layout naked-single --id red --data garage\n  refettle bring-in \"The next one\" --layout scooter --arrives 2031-05-09 --id next --data garage"
    )]
    BringIn(bring_in::BringIn),
    /// Record something of a bike, or of the garage
    #[command(subcommand, after_help = "Example:\n  refettle log --help")]
    Log(log::Log),
    /// "It looks like this now": catch up with work nobody recorded
    #[command(
        after_help = "Examples:\n  refettle now red --off seat,tank --data garage\n  refettle now red --on tank --note \"in the dark, last night\" --data garage"
    )]
    Now(now::Now),
    /// Take back the last thing recorded of a bike
    #[command(after_help = "Example:\n  refettle undo red --data garage")]
    Undo(undo::Undo),
    /// All bikes in the garage, and what each waits for
    #[command(after_help = "Example:\n  refettle yard --data garage")]
    Yard(yard::Yard),
    /// The next card of a bike
    #[command(after_help = "Example:\n  refettle bench red --data garage")]
    Bench(bench::Bench),
    /// What the drawer holds; with a bike, its kit against the drawer
    #[command(after_help = "Example:\n  refettle drawer --bike red --data garage")]
    Drawer(drawer::Drawer),
    /// Orders, and what is still to come
    #[command(after_help = "Example:\n  refettle orders --data garage")]
    Orders(orders::Orders),
    /// Is it safe to ride: the road check, with numbers
    #[command(
        after_help = "Examples:\n  refettle road red --data garage\n  refettle road red --answer \"tread-front=2.4 mm\" --recheck \"axle-nut=62 N·m\" --data garage"
    )]
    Road(road::Road),
    /// Papers as PDF: bench sheet, kit, labels, cover map, history folder, sale paper
    #[command(
        after_help = "Examples:\n  refettle papers history red --out history.pdf --data garage\n  refettle papers labels red --out labels.pdf --sheet a4-24 --data garage"
    )]
    Papers(papers::Papers),
    /// Money, hours and sales: what it all came to
    #[command(
        after_help = "Examples:\n  refettle tally --data garage\n  refettle tally red --data garage\n  refettle tally --year 2031 --csv --data garage"
    )]
    Tally(tally::Tally),
    /// What a bike taught: estimates against what was real, and what the next starts from
    #[command(after_help = "Example:\n  refettle taught red --data garage")]
    Taught(taught::Taught),
}

pub fn run(command: &Garage) -> Result<String, Failure> {
    match command {
        Garage::BringIn(c) => c.run(),
        Garage::Log(c) => log::run(c),
        Garage::Now(c) => c.run(),
        Garage::Undo(c) => c.run(),
        Garage::Yard(c) => c.run(),
        Garage::Bench(c) => c.run(),
        Garage::Drawer(c) => c.run(),
        Garage::Orders(c) => c.run(),
        Garage::Road(c) => c.run(),
        Garage::Papers(c) => c.run(),
        Garage::Tally(c) => c.run(),
        Garage::Taught(c) => c.run(),
    }
}
