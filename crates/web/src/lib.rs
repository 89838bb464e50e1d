//! The web pages: the yard, each bike's bench, running order and kit, served by this program on this machine.
//!
//! It binds to the machine's own address only unless asked to let the home network in, where nothing is reached without
//! a paired phone's secret ([`phones`]). It answers only to its own name, loads nothing from elsewhere and works without
//! scripts. Every page is made from one [`refettle_usecases::look::Look`]; an answer is on the disk before it
//! is acknowledged. Trade decisions are not made here: they are in the use-cases.
//!
//! Start at [`open`], which a command calls; [`router`] and [`routers`] are the whole surface in one value, for tests.

mod bench_form;
mod bounded;
mod desk;
pub mod drawing;
mod error;
mod fit_desk;
mod guard;
mod judged;
mod lan;
mod listen;
mod live;
mod pages;
mod phone_page;
pub mod phones;
mod photo_page;
mod respond;
mod router;
mod routes;
mod serve;

pub use desk::Desk;
pub use error::WebError;
pub use router::{Sides, router, routers};
pub use serve::{Network, Options, open};
