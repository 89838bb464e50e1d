//! Battery, charging, voltage drop, compression, floats, balance, shims.

use super::asked::{Question, Told, told};
use clap::Args;
use refettle_usecases::fit_desk::{
    balance, battery, charging, compression, float_height, shims, voltage_drop,
};
use refettle_usecases::refused::{Refused, wrong};
use std::io::Read as _;
use std::path::{Path, PathBuf};

/// Arguments of `battery`.
#[derive(Debug, Clone, Args)]
pub struct BatteryArgs {
    /// Resting voltage
    #[arg(long)]
    pub volts: Option<String>,
    /// Instead: specific gravity of the acid, such as 1.190
    #[arg(long)]
    pub gravity: Option<String>,
    /// Its temperature
    #[arg(long)]
    pub temp: String,
    /// flooded or AGM
    #[arg(long = "type")]
    pub kind: String,
    /// Nominal voltage, 12V or 6V
    #[arg(long, default_value = "12V")]
    pub nominal: String,
}

impl Question for BatteryArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(battery::answer(&battery::BatteryRequest {
            volts: self.volts,
            gravity: self.gravity,
            temp: self.temp,
            kind: self.kind,
            nominal: Some(self.nominal),
        }))
    }
}

/// Arguments of `charging`.
#[derive(Debug, Clone, Args)]
pub struct ChargingArgs {
    /// Volts at the battery posts, engine running
    #[arg(long)]
    pub running: String,
    /// Volts before starting
    #[arg(long)]
    pub resting: Option<String>,
    /// Nominal voltage, 12V or 6V
    #[arg(long, default_value = "12V")]
    pub nominal: String,
}

impl Question for ChargingArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(charging::answer(&charging::ChargingRequest {
            running: self.running,
            resting: self.resting,
            nominal: Some(self.nominal),
        }))
    }
}

/// Arguments of `voltage-drop`.
#[derive(Debug, Clone, Args)]
pub struct VoltageDropArgs {
    /// connection, starter-earth, starter-feed or lighting-or-ignition
    #[arg(long)]
    pub circuit: String,
    /// Volts read across the cable or joint
    #[arg(long)]
    pub across: Option<String>,
    /// Or volts at its source end
    #[arg(long)]
    pub source: Option<String>,
    /// And at its load end
    #[arg(long)]
    pub at_load: Option<String>,
    /// on or off: whether the load worked while it was read
    #[arg(long)]
    pub load: String,
}

impl Question for VoltageDropArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(voltage_drop::answer(&voltage_drop::VoltageDropRequest {
            circuit: self.circuit,
            across: self.across,
            source: self.source,
            at_load: self.at_load,
            load: self.load,
        }))
    }
}

/// Arguments of `compression`.
#[derive(Debug, Clone, Args)]
pub struct CompressionArgs {
    /// Readings, cylinder by cylinder, such as 1035kPa 1000kPa
    #[arg(long, required = true, num_args = 1..)]
    pub read: Vec<String>,
    /// With oil in, cylinder first, such as 2:900kPa
    #[arg(long, num_args = 1..)]
    pub wet: Vec<String>,
}

impl Question for CompressionArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(compression::answer(&compression::CompressionRequest {
            reads: self.read,
            wet: self.wet,
        }))
    }
}

/// Arguments of `float-height`.
#[derive(Debug, Clone, Args)]
pub struct FloatHeightArgs {
    /// Heights, carburettor by carburettor, such as 22mm 22.5mm
    #[arg(long, required = true, num_args = 1..)]
    pub height: Vec<String>,
    /// The manual's height
    #[arg(long)]
    pub wanted: Option<String>,
    /// What it allows either way
    #[arg(long)]
    pub tolerance: Option<String>,
}

impl Question for FloatHeightArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(float_height::answer(&float_height::FloatHeightRequest {
            heights: self.height,
            wanted: self.wanted,
            tolerance: self.tolerance,
        }))
    }
}

/// Arguments of `balance`.
#[derive(Debug, Clone, Args)]
pub struct BalanceArgs {
    /// Intake vacuums, cylinder by cylinder, such as 200mmHg 210mmHg
    #[arg(long, required = true, num_args = 1..)]
    pub vacuum: Vec<String>,
    /// The manual's limit of their spread
    #[arg(long)]
    pub limit: Option<String>,
}

impl Question for BalanceArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(balance::answer(&balance::BalanceRequest {
            vacuums: self.vacuum,
            limit: self.limit,
        }))
    }
}

/// Arguments of `shims`.
#[derive(Debug, Clone, Args)]
pub struct ShimsArgs {
    /// The sheet, or - for standard input
    pub file: PathBuf,
}

impl Question for ShimsArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(shims::answer(&sheet(&self.file)?))
    }
}

/// Longest file read; a shim sheet is refused far below it.
const LONGEST_FILE: u64 = 1_000_000;

/// The text of a sheet.
fn sheet(file: &Path) -> Result<String, Refused> {
    let unread = |e: std::io::Error| {
        wrong(format!(
            "'{}' cannot be read: {e}; name a file, or - for standard input",
            file.display()
        ))
    };
    let mut text = String::new();
    let read = if file.as_os_str() == "-" {
        std::io::stdin().take(LONGEST_FILE).read_to_string(&mut text)
    } else {
        std::fs::File::open(file).and_then(|open| open.take(LONGEST_FILE).read_to_string(&mut text))
    };
    read.map_err(unread)?;
    Ok(text)
}
