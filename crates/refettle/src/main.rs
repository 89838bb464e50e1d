//! The command line. Parses, calls one use-case, prints; decides nothing about the trade.

mod commands;
mod fit_desk;
mod garage;
mod outcome;

use clap::Parser;
use clap::error::ErrorKind;
use std::process::ExitCode;

/// What comes off a neglected motorcycle, in which order, with what at hand.
#[derive(Parser)]
#[command(
    name = "refettle",
    version,
    max_term_width = 80,
    // One screen: no line is spent on a gap above the usage.
    help_template = "{about}\n{usage-heading} {usage}\n\n{all-args}{after-help}",
    after_help = FIT_DESK_AND_START,
    disable_help_subcommand = true
)]
struct Cli {
    #[command(subcommand)]
    command: Option<commands::Command>,
}

const FIT_DESK_AND_START: &str = "\
Fit desk, without any bike (refettle COMMAND --help says what each takes):
  fixings   torque, thread, repair, driver, spanner
  seals     ring, old-ring, part
  running   chain, gearing, speedo, cable-drive, tyre, wear
  fluids    coolant, oil, brake-fluid, brake-flush, brake-mix, dispose
  electric  battery, charging, voltage-drop
  engine    compression, shims, float-height, balance
  identity  vin

Start with: refettle layouts, then refettle plan --layout NAME --jobs A,B";

fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version are no mistakes; anything else is a wrong request.
            if !error.use_stderr() {
                return outcome::help(&error);
            }
            outcome::complain(&mistyped(&error));
            return ExitCode::from(outcome::WRONG);
        }
    };
    outcome::report(commands::run(cli.command))
}

/// What is wrong with a command line that cannot be read.
fn mistyped(error: &clap::Error) -> String {
    // The parser does not say which one.
    let unreadable = std::env::args_os().skip(1).find(|arg| arg.to_str().is_none());
    match unreadable {
        Some(arg) if error.kind() == ErrorKind::InvalidUtf8 => format!(
            "refettle: '{}' is no text: it is not UTF-8; write it in plain letters",
            arg.display()
        ),
        _ => error.render().to_string(),
    }
}
