//! The web page: the bench, the running order and the kit, served by this program on this machine.
//!
//! It binds to the machine's own address only, answers only to its own name, loads nothing from elsewhere and works
//! without scripts. Every page is made from one [`refettle_usecases::look::Look`]; an answer is on the disk before it
//! is acknowledged. Trade decisions are not made here: they are in the use-cases.
//!
//! Start at [`open`], which a command calls, or [`serve`]; [`router`] is the whole surface in one value, for tests.

mod bench_form;
mod desk;
mod drawing;
mod error;
mod guard;
mod pages;
mod picture_routes;
mod respond;
mod router;
mod serve;

pub use desk::Desk;
pub use error::WebError;
pub use router::router;
pub use serve::{Options, Serve, open, serve};
