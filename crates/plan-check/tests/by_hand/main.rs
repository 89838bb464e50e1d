//! Plans whose minutes were worked on paper first.
//!
//! Each test says the sum in a comment: every action with its minutes, and why nothing cheaper exists. The machine is
//! the invented trainer of `layouts/tiny-trainer.toml`, as it is or with a little more on its sheet, or one made up
//! for the case. [`case::Case::plan`] lets the independent referee and brute force judge every plan made here.

mod allowances;
#[cfg(test)]
mod calm;
mod carburettor;
#[cfg(test)]
mod case;
mod closing;
mod engine;
#[cfg(test)]
mod evening;
#[cfg(test)]
mod looking;
mod oil;
#[cfg(test)]
mod plan;
mod questions;
#[cfg(test)]
mod trouble;
mod twice;
mod waits;
mod warmth;
mod wheels;
