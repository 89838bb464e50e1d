//! What a command comes to: text for a person, and an exit status for a script.

use refettle_papers::wrap::message;
use refettle_usecases::refused::Refused;
use std::fmt;
use std::io::Write;
use std::process::ExitCode;

/// The request is wrong.
pub const WRONG: u8 = 2;
/// The request is right, and no plan exists.
pub const NO_PLAN: u8 = 3;
/// Our fault.
pub const OURS: u8 = 1;

/// Why a command failed.
#[derive(Debug)]
pub enum Failure {
    /// The person's request could not be met; `json` is printed to standard output when it was asked for.
    Refused { refused: Refused, json: bool },
    /// Ours, or the machine's.
    Ours(anyhow::Error),
}

impl From<anyhow::Error> for Failure {
    fn from(error: anyhow::Error) -> Failure {
        Failure::Ours(error)
    }
}

impl From<Refused> for Failure {
    fn from(refused: Refused) -> Failure {
        Failure::Refused { refused, json: false }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Failure::Refused { refused, .. } => refused.fmt(f),
            Failure::Ours(error) => write!(f, "{error:#}"),
        }
    }
}

/// Prints what a command came to, and gives its exit status.
pub fn report(outcome: Result<String, Failure>) -> ExitCode {
    match outcome {
        Ok(text) => print(&text, ExitCode::SUCCESS),
        Err(failure) => {
            if let Failure::Refused {
                refused: Refused::NoPlan(view),
                json: true,
            } = &failure
                && let Ok(text) = serde_json::to_string_pretty(view)
            {
                return print(&format!("{text}\n"), ExitCode::from(NO_PLAN));
            }
            complain(&format!("refettle: {failure}"));
            ExitCode::from(match failure {
                Failure::Refused {
                    refused: Refused::Wrong(_),
                    ..
                } => WRONG,
                Failure::Refused {
                    refused: Refused::NoPlan(_),
                    ..
                } => NO_PLAN,
                Failure::Ours(_) => OURS,
            })
        }
    }
}

/// Says on standard error what is wrong; when nobody listens there either, the exit status still tells.
pub fn complain(text: &str) {
    let _ = std::io::stderr()
        .lock()
        .write_all(message(&harmless(text)).as_bytes());
}

/// Longest word repeated in a complaint, in characters: longer than the paths people have, shorter than a screen.
/// Judgement, no source.
const LONGEST_WORD: usize = 400;

/// What was typed may hold what steers a terminal, or a book: neither is repeated.
fn harmless(text: &str) -> String {
    let mut out = String::new();
    let mut word = 0;
    for c in text.chars() {
        word = if c.is_whitespace() { 0 } else { word + 1 };
        match word {
            0..=LONGEST_WORD if c.is_control() && c != '\n' => out.push('\u{fffd}'),
            0..=LONGEST_WORD => out.push(c),
            n if n == LONGEST_WORD + 1 => out.push('…'),
            _ => {}
        }
    }
    out
}

/// Prints help or the version. The parser does not fold a long line of usage.
pub fn help(asked: &clap::Error) -> ExitCode {
    let plain = asked.render().to_string();
    let folded = message(&plain);
    if folded.trim_end() == plain.trim_end() {
        let _ = asked.print();
        ExitCode::SUCCESS
    } else {
        print(&folded, ExitCode::SUCCESS)
    }
}

/// Writes to standard output; a reader that has gone away (`| head`) is no failure.
fn print(text: &str, status: ExitCode) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            complain(&format!(
                "refettle: cannot write the answer: {error}; make room, or write it elsewhere"
            ));
            ExitCode::from(OURS)
        }
        _ => status,
    }
}
