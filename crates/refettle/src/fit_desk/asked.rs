//! What every command of the fit desk has in common: how it is printed, and that it is answered.

use clap::{Arg, ArgMatches, Args, Command, FromArgMatches};
use refettle_usecases::fit_desk::OnScreen;
use refettle_usecases::refused::{Refused, wrong};
use serde::Serialize;

/// An answer as JSON and as text.
pub type Told = (serde_json::Value, String);

/// How the answer is printed.
#[derive(Debug, Clone, Copy, Args)]
pub struct Print {
    /// Print JSON instead of text
    #[arg(long)]
    pub json: bool,
}

/// A question with how its answer is printed.
#[derive(Debug, Clone)]
pub struct Asked<Q> {
    pub question: Q,
    pub print: Print,
}

impl<Q: Args> Args for Asked<Q> {
    /// The arguments of the question, of which a single value may begin with a minus: `-3mm` is a length that cannot
    /// be, to be refused as such and not as an unknown option.
    fn augment_args(command: Command) -> Command {
        let single = |arg: &Arg| {
            let values = arg.get_num_args().map_or(1, |range| range.max_values());
            arg.get_action().takes_values() && !arg.is_positional() && values == 1
        };
        Print::augment_args(Q::augment_args(command).mut_args(|arg| {
            let minus = single(&arg);
            if minus { arg.allow_hyphen_values(true) } else { arg }
        }))
    }

    fn augment_args_for_update(command: Command) -> Command {
        Asked::<Q>::augment_args(command)
    }
}

impl<Q: FromArgMatches> FromArgMatches for Asked<Q> {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Asked<Q>, clap::Error> {
        Ok(Asked {
            question: Q::from_arg_matches(matches)?,
            print: Print::from_arg_matches(matches)?,
        })
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        self.question.update_from_arg_matches(matches)?;
        self.print.update_from_arg_matches(matches)
    }
}

/// A question as typed: everything stays text, and the use-case reads it.
pub trait Question: Args {
    /// The answer.
    ///
    /// # Errors
    /// [`Refused::Wrong`] with everything that is wrong with the request.
    fn answer(self) -> Result<Told, Refused>;
}

/// A view as both.
///
/// # Errors
/// [`Refused::Wrong`] as the use-case gave it, or when the answer cannot be JSON.
pub fn told<V: Serialize + OnScreen>(answer: Result<V, Refused>) -> Result<Told, Refused> {
    let view = answer?;
    let json = serde_json::to_value(&view)
        .map_err(|e| wrong(format!("the answer cannot be written as JSON: {e}")))?;
    Ok((json, view.text()))
}
