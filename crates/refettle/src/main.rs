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
    // One screen: the commands in groups, two or three on a line; each one's own help says the rest.
    help_template = "{about}\n{usage-heading} {usage}\n\n{after-help}",
    after_help = COMMANDS,
    disable_help_subcommand = true
)]
struct Cli {
    #[command(subcommand)]
    command: Option<commands::Command>,
}

const COMMANDS: &str = "\
Every command says what it takes, with an example: refettle COMMAND --help

Work on a kind of machine:
  layouts, sheet    layouts shipped with the tool; a machine sheet of your own
  plan, kit         what comes off, in which order; what to have at hand first
  causes, trouble   likely causes and the next check; seized, snapped, stripped
  worth, keep       which jobs pay; which small parts to keep
  price, offer      what a bike fetches; the most to pay for one
  pddl              the hands-on task as a standard planning problem

Your garage:
  open, phones      the bench in a web browser; phones let in
  bring-in, yard    a bike comes in; all bikes, and what each waits for
  bench, now, undo  the next card; how it looks now; take back the last thing
  log               record anything: answers, findings, minutes, money
  drawer, orders    what you hold; what is to come
  road, papers      is it safe, with numbers; papers to print
  tally, taught     money and hours; what a bike taught
  export, import    the garage out as plain text and photos; and in again
  backup, restore   the garage out as one file; and in its place again
  forget            list personal data, or erase some of it for good

Fit desk, without any bike:
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

#[cfg(test)]
mod tests {
    use super::{COMMANDS, Cli};
    use clap::CommandFactory;

    #[test]
    fn every_command_is_on_the_first_help_screen() {
        let words: Vec<&str> = COMMANDS
            .lines()
            .filter(|line| line.starts_with("  "))
            .flat_map(|line| line.split([' ', ',']))
            .collect();
        let cli = Cli::command();
        let missing: Vec<&str> = cli
            .get_subcommands()
            .map(clap::Command::get_name)
            .filter(|name| !words.contains(name))
            .collect();
        assert!(missing.is_empty(), "{missing:?}");
        assert!(COMMANDS.lines().all(|line| line.chars().count() <= 80));
    }
}
