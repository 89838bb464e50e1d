//! `refettle phones`

use super::data::Data;
use super::json;
use crate::outcome::Failure;
use clap::{Args, Subcommand};
use refettle_usecases::refused::wrong;
use refettle_web::phones::{self, PhoneLine, PhonesError};
use serde::Serialize;

#[derive(Args)]
#[command(args_conflicts_with_subcommands = true)]
pub struct Phones {
    #[command(subcommand)]
    what: Option<What>,
    #[command(flatten)]
    data: Data,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Subcommand)]
enum What {
    /// Withdraw a pairing; the phone is out at once
    #[command(after_help = "Example:\n  refettle phones withdraw 3f9a01c2")]
    Withdraw {
        /// The phone's id
        id: String,
        #[command(flatten)]
        data: Data,
    },
}

#[derive(Serialize)]
struct PhonesView {
    format: &'static str,
    phones: Vec<PhoneLine>,
}

impl Phones {
    pub fn run(&self) -> Result<String, Failure> {
        if let Some(What::Withdraw { id, data }) = &self.what {
            let gone = phones::withdraw(&data.folder()?, id).map_err(refused)?;
            return Ok(format!("{} ({}) is withdrawn.\n", gone.name, gone.id));
        }
        let phones = phones::list(&self.data.folder()?).map_err(refused)?;
        if self.json {
            return json(&PhonesView {
                format: "refettle-phones/1",
                phones,
            });
        }
        if phones.is_empty() {
            return Ok("No phone is paired. To let one in: refettle open --lan\n".to_owned());
        }
        let line = |phone: &PhoneLine| format!("{}  {}, since {:.0}\n", phone.id, phone.name, phone.since);
        Ok(phones.iter().map(line).collect())
    }
}

fn refused(error: PhonesError) -> Failure {
    match error {
        PhonesError::NoSuchPhone { .. } => wrong(error.to_string()).into(),
        other => anyhow::Error::from(other).into(),
    }
}
