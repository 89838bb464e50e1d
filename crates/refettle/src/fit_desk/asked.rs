//! What every command of the fit desk has in common: how it is printed, and that it is answered.

use clap::Args;
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
#[derive(Debug, Clone, Args)]
pub struct Asked<Q: Args> {
    #[command(flatten)]
    pub question: Q,
    #[command(flatten)]
    pub print: Print,
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
