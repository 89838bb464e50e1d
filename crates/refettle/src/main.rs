//! The command line. Parses, calls one use-case, prints; decides nothing about the trade.

mod commands;
mod fit_desk;
mod outcome;

use clap::Parser;
use std::process::ExitCode;

/// Puts neglected motorcycles in order: what comes off, in which order, with what at hand.
#[derive(Parser)]
#[command(
    name = "refettle",
    version,
    max_term_width = 80,
    disable_help_subcommand = true
)]
struct Cli {
    #[command(subcommand)]
    command: Option<commands::Command>,
}

fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version are no mistakes; anything else is a wrong request.
            let _ = error.print();
            return if error.use_stderr() {
                ExitCode::from(outcome::WRONG)
            } else {
                ExitCode::SUCCESS
            };
        }
    };
    outcome::report(commands::run(cli.command))
}
