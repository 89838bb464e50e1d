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
    #[arg(long, allow_hyphen_values = true)]
    pub coldest: Option<String>,
}

impl Question for CoolantArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(coolant::answer(&coolant::CoolantRequest {
            glycol: self.glycol,
            coldest: self.coldest,
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
    pub line: String,
    /// All calipers
    #[arg(long)]
    pub caliper: String,
    /// Share of new fluid wanted
    #[arg(long, default_value = "95%")]
    pub target: String,
    /// Reservoir first: emptied or left-full
    #[arg(long)]
    pub first: Option<String>,
}

impl Question for BrakeFlushArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(brake_flush::answer(&brake_flush::BrakeFlushRequest {
            reservoir: self.reservoir,
            line: self.line,
            caliper: self.caliper,
            target: self.target,
            first: self.first,
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
