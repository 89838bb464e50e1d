//! `refettle offer`

use super::asked::Asked;
use super::json;
use super::price::day;
use crate::outcome::Failure;
use clap::Args;
use jiff::civil::Date;
use refettle_papers::offer_note;
use refettle_usecases::offer_sum::OfferRequest;
use refettle_usecases::offer_view::offer;

#[derive(Args)]
pub struct Offer {
    #[command(flatten)]
    machine: Asked,
    /// Model year
    #[arg(long, value_name = "YEAR", allow_negative_numbers = true)]
    year: i16,
    /// What it has run, such as 31000km or 19000mi
    #[arg(long, value_name = "DISTANCE", allow_hyphen_values = true)]
    distance: String,
    /// Years it stood
    #[arg(long, value_name = "YEARS", allow_negative_numbers = true)]
    stood_years: f64,
    /// Where it stood: heated, indoors, covered or outside
    #[arg(long, value_name = "WORD")]
    storage: String,
    /// The engine: heard-running, said-to-run, not-known (when left out) or dead
    #[arg(long, value_name = "WORD")]
    story: Option<String>,
    /// Something looked at, ITEM=ok or ITEM=bad; may be repeated
    #[arg(long, value_name = "ITEM=ANSWER")]
    seen: Vec<String>,
    /// A chance of your own, ITEM=30%; may be repeated
    #[arg(long, value_name = "ITEM=CHANCE")]
    chance: Vec<String>,
    /// What it fetches in order
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    price_clean: String,
    /// Four in five like it fetch between, LOW..HIGH (see: refettle price)
    #[arg(long, value_name = "LOW..HIGH", allow_hyphen_values = true)]
    price_band: Option<String>,
    /// An offer to judge; the most to pay when left out
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    offer: Option<String>,
    /// Chance of loss you accept
    #[arg(
        long,
        value_name = "CHANCE",
        default_value = "20%",
        allow_hyphen_values = true
    )]
    loss_chance: String,
    /// Earnings wanted, your own hours paid
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    earn: Option<String>,
    /// What fetching it costs
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    transport: Option<String>,
    /// Your own hour; 25 when left out
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    hour: Option<String>,
    /// Bikes you sold in the last twelve months
    #[arg(long, value_name = "N", default_value_t = 0, allow_negative_numbers = true)]
    sold: u32,
    /// Sales a year allowed without a licence where you live: ask the authority
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    sale_limit: Option<u32>,
    /// Month in which most is paid, 1 to 12; 5 when left out, 11 in the south
    #[arg(
        long,
        value_name = "MONTH",
        default_value_t = 5,
        allow_negative_numbers = true
    )]
    best_month: i8,
    /// The day, such as 2026-05-15; today when left out
    #[arg(long, value_name = "DATE")]
    on: Option<Date>,
    /// Seed of the simulation: the same seed, the same answer
    #[arg(long, value_name = "N", default_value_t = 1, allow_negative_numbers = true)]
    seed: u64,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Offer {
    pub fn run(&self) -> Result<String, Failure> {
        let view = offer(&OfferRequest {
            machine: self.machine.request()?,
            year: self.year,
            distance: self.distance.clone(),
            stood_years: self.stood_years,
            storage: self.storage.clone(),
            story: self.story.clone(),
            seen: self.seen.clone(),
            chances: self.chance.clone(),
            price_clean: self.price_clean.clone(),
            price_band: self.price_band.clone(),
            offer: self.offer.clone(),
            loss_chance: self.loss_chance.clone(),
            earn: self.earn.clone(),
            transport: self.transport.clone(),
            hour: self.hour.clone(),
            sold: self.sold,
            sale_limit: self.sale_limit,
            on: day(self.on),
            best_month: self.best_month,
            seed: self.seed,
        })?;
        if self.json {
            json(&view)
        } else {
            Ok(offer_note::text(&view))
        }
    }
}
