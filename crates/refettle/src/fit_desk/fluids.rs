//! Coolant, brake fluid, oil, disposal.

use super::asked::{Question, Told, told};
use clap::Args;
use refettle_usecases::fit_desk::{brake_fluid, brake_flush, brake_mix, coolant, dispose, oil};
use refettle_usecases::refused::Refused;

/// Arguments of `coolant`.
#[derive(Debug, Clone, Args)]
pub struct CoolantArgs {
    /// Share of ethylene glycol, 50%vol or 50%mass
    #[arg(long)]
    pub glycol: Option<String>,
    /// The cold it must stand, such as -20C
    #[arg(long)]
    pub coldest: Option<String>,
    /// Share it should come to, such as 50%vol
    #[arg(long)]
    pub wanted: Option<String>,
    /// What the system holds, such as 2L
    #[arg(long)]
    pub system: Option<String>,
}

impl Question for CoolantArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(coolant::answer(&coolant::CoolantRequest {
            glycol: self.glycol,
            coldest: self.coldest,
            wanted: self.wanted,
            system: self.system,
        }))
    }
}

/// Arguments of `brake-fluid`.
#[derive(Debug, Clone, Args)]
pub struct BrakeFluidArgs {
    /// The fluid, such as 'DOT 4'
    pub fluid: String,
}

impl Question for BrakeFluidArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(brake_fluid::answer(&brake_fluid::BrakeFluidRequest {
            fluid: self.fluid,
        }))
    }
}

/// Arguments of `brake-flush`.
#[derive(Debug, Clone, Args)]
pub struct BrakeFlushArgs {
    /// Reservoir up to its mark
    #[arg(long)]
    pub reservoir: String,
    /// All lines
    #[arg(long)]
    pub line: Option<String>,
    /// Instead: inside diameter of the line
    #[arg(long)]
    pub line_bore: Option<String>,
    /// And its length
    #[arg(long)]
    pub line_length: Option<String>,
    /// All calipers
    #[arg(long)]
    pub caliper: String,
    /// Share of new fluid wanted
    #[arg(long, default_value = "95%")]
    pub target: String,
    /// Reservoir first: emptied or left-full
    #[arg(long)]
    pub first: Option<String>,
    /// Bore of the master cylinder, to count strokes
    #[arg(long)]
    pub master_bore: Option<String>,
    /// Its stroke
    #[arg(long)]
    pub stroke: Option<String>,
}

impl Question for BrakeFlushArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(brake_flush::answer(&brake_flush::BrakeFlushRequest {
            reservoir: self.reservoir,
            line: self.line,
            line_bore: self.line_bore,
            line_length: self.line_length,
            caliper: self.caliper,
            target: self.target,
            first: self.first,
            master_bore: self.master_bore,
            stroke: self.stroke,
        }))
    }
}

/// Arguments of `brake-mix`.
#[derive(Debug, Clone, Args)]
pub struct BrakeMixArgs {
    /// One fluid, such as 'DOT 4'
    pub one: String,
    /// The other
    pub other: String,
}

impl Question for BrakeMixArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(brake_mix::answer(&brake_mix::BrakeMixRequest {
            one: self.one,
            other: self.other,
        }))
    }
}

/// Arguments of `oil`.
#[derive(Debug, Clone, Args)]
pub struct OilArgs {
    /// The maker's quantity for a dry engine
    #[arg(long)]
    pub dry: String,
    /// The quantity after draining
    #[arg(long)]
    pub refill: String,
    /// Old oil to be left at most, such as 5%
    #[arg(long)]
    pub at_most: Option<String>,
}

impl Question for OilArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(oil::answer(&oil::OilRequest {
            dry: self.dry,
            refill: self.refill,
            at_most: self.at_most,
        }))
    }
}

/// Arguments of `dispose`.
#[derive(Debug, Clone, Args)]
pub struct DisposeArgs {
    /// used-oil, coolant, petrol, brake-fluid or battery
    pub what: String,
}

impl Question for DisposeArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(dispose::answer(&dispose::DisposeRequest { what: self.what }))
    }
}
