//! Chain, gearing, instruments, tyres, wear limits, frame number.

use super::asked::{Question, Told, told};
use clap::Args;
use refettle_usecases::fit_desk::{Today, cable_drive, chain, gearing, speedo, tyre, vin, wear};
use refettle_usecases::refused::Refused;

/// Arguments of `chain`.
#[derive(Debug, Clone, Args)]
pub struct ChainArgs {
    /// Size, such as 520
    #[arg(long)]
    pub size: String,
    /// Pitches measured over, one less than the pins
    #[arg(long)]
    pub pitches: String,
    /// Pin centre to pin centre over them
    #[arg(long)]
    pub length: Option<String>,
    /// Instead: inside the end rollers, by caliper
    #[arg(long)]
    pub inside: Option<String>,
    /// And outside the end rollers
    #[arg(long)]
    pub outside: Option<String>,
    /// Teeth of the large sprocket
    #[arg(long)]
    pub teeth: Option<String>,
    /// The manual's limit, such as 2%
    #[arg(long)]
    pub limit: Option<String>,
}

impl Question for ChainArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(chain::answer(&chain::ChainRequest {
            size: self.size,
            pitches: self.pitches,
            length: self.length,
            inside: self.inside,
            outside: self.outside,
            teeth: self.teeth,
            limit: self.limit,
        }))
    }
}

/// Arguments of `gearing`.
#[derive(Debug, Clone, Args)]
pub struct GearingArgs {
    /// Teeth in front and behind, such as 15/45
    #[arg(long)]
    pub sprockets: Option<String>,
    /// The pair before the change
    #[arg(long)]
    pub instead_of: Option<String>,
    /// Links of the chain, to count when teeth and links meet again
    #[arg(long)]
    pub links: Option<String>,
    /// Final reduction of a shaft or belt, instead of sprockets
    #[arg(long = "final")]
    pub final_drive: Option<String>,
    /// Primary reduction, such as 1.74 or 73/42
    #[arg(long)]
    pub primary: Option<String>,
    /// Reduction of the gear engaged
    #[arg(long)]
    pub gear: Option<String>,
    /// Size of the driven tyre
    #[arg(long)]
    pub tyre: Option<String>,
    /// Rolling circumference, measured, instead of the size
    #[arg(long)]
    pub rolling: Option<String>,
    /// Engine speed, such as 5000rpm
    #[arg(long)]
    pub revs: Option<String>,
}

impl Question for GearingArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(gearing::answer(&gearing::GearingRequest {
            sprockets: self.sprockets,
            instead_of: self.instead_of,
            links: self.links,
            final_drive: self.final_drive,
            primary: self.primary,
            gear: self.gear,
            tyre: self.tyre,
            rolling: self.rolling,
            revs: self.revs,
        }))
    }
}

/// Arguments of `speedo`.
#[derive(Debug, Clone, Args)]
pub struct SpeedoArgs {
    /// True and shown speed, such as 50km/h:54km/h; several may follow
    #[arg(long, required = true, num_args = 1..)]
    pub pair: Vec<String>,
    /// Vehicle category of UN R39, such as L3
    #[arg(long)]
    pub category: Option<String>,
}

impl Question for SpeedoArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(speedo::answer(&speedo::SpeedoRequest {
            pairs: self.pair,
            category: self.category,
        }))
    }
}

/// Arguments of `cable-drive`.
#[derive(Debug, Clone, Args)]
pub struct CableDriveArgs {
    /// What works: odometer, trip, needle, inner-at-top, hub-drive, inner-whole, stub-free, needle-from-stub, odometer-from-stub
    #[arg(long, num_args = 1..)]
    pub works: Vec<String>,
    /// What does not, of the same
    #[arg(long, num_args = 1..)]
    pub fails: Vec<String>,
}

impl Question for CableDriveArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(cable_drive::answer(&cable_drive::CableDriveRequest {
            works: self.works,
            fails: self.fails,
        }))
    }
}

/// Arguments of `tyre`.
#[derive(Debug, Clone, Args)]
pub struct TyreArgs {
    /// Size as moulded
    #[arg(long)]
    pub size: String,
    /// Date code, or the DOT number that ends in it
    #[arg(long)]
    pub date: Option<String>,
    /// The size the machine's papers name
    #[arg(long)]
    pub instead_of: Option<String>,
}

impl Question for TyreArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(tyre::answer(&tyre::TyreRequest {
            size: self.size,
            date: self.date,
            instead_of: self.instead_of,
            today: today(),
        }))
    }
}

/// Arguments of `wear`.
#[derive(Debug, Clone, Args)]
pub struct WearArgs {
    /// What was measured, such as pad, disc-thickness, tread
    #[arg(long)]
    pub item: String,
    /// The reading; what the schemes ask without it
    #[arg(long)]
    pub measured: Option<String>,
    /// What is stamped on the part or printed in the manual
    #[arg(long)]
    pub limit: Option<String>,
    /// Breadth of the tread, for the band that must have it
    #[arg(long)]
    pub breadth: Option<String>,
}

impl Question for WearArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(wear::answer(&wear::WearRequest {
            item: self.item,
            measured: self.measured,
            limit: self.limit,
            breadth: self.breadth,
        }))
    }
}

/// Arguments of `vin`.
#[derive(Debug, Clone, Args)]
pub struct VinArgs {
    /// The number as stamped
    pub text: String,
    /// motorcycle, car or unknown
    #[arg(long)]
    pub vehicle: Option<String>,
}

impl Question for VinArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(vin::answer(&vin::VinRequest {
            text: self.text,
            vehicle: self.vehicle,
            today: today(),
        }))
    }
}

/// The day by this machine's clock.
fn today() -> Today {
    let now = jiff::ZonedDateTime::now();
    Today {
        year: now.year().unsigned_abs(),
        month: now.month().unsigned_abs(),
        day: now.day().unsigned_abs(),
    }
}
