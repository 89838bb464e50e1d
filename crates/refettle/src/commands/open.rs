//! `refettle open`

use super::data::Data;
use crate::outcome::Failure;
use clap::Args;
use refettle_web::Network;
use std::net::Ipv4Addr;

#[derive(Args)]
pub struct Open {
    /// Port on this machine; a free one when left out
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    port: Option<u16>,
    #[command(flatten)]
    data: Data,
    /// Only print the address
    #[arg(long)]
    no_browser: bool,
    /// Let phones on the home network in, once they are paired; --lan=ADDRESS when this machine has several
    #[arg(long, value_name = "ADDRESS", require_equals = true, num_args = 0..=1)]
    lan: Option<Option<Ipv4Addr>>,
}

impl Open {
    pub fn run(&self) -> Result<String, Failure> {
        refettle_web::open(refettle_web::Options {
            data: self.data.folder()?,
            port: self.port,
            browser: !self.no_browser,
            network: match self.lan {
                None => Network::Shut,
                Some(None) => Network::Found,
                Some(Some(address)) => Network::At(address),
            },
        })
        .map_err(anyhow::Error::from)?;
        Ok(String::new())
    }
}
