//! The fit desk on the command line: one command for each question.
//!
//! A command is a variant here and a struct of what it takes in the file of its subject; both only carry text to the
//! use-case of the same name.

mod asked;
mod electrics_and_engine;
mod fasteners;
mod fluids;
mod running_gear;
mod seals_and_parts;

use asked::{Asked, Print, Question as _, Told};
use clap::Subcommand;
use electrics_and_engine::{
    BalanceArgs, BatteryArgs, ChargingArgs, CompressionArgs, FloatHeightArgs, ShimsArgs, VoltageDropArgs,
};
use fasteners::{DriverArgs, RepairArgs, SpannerArgs, ThreadArgs, TorqueArgs};
use fluids::{BrakeFluidArgs, BrakeFlushArgs, BrakeMixArgs, CoolantArgs, DisposeArgs, OilArgs};
use refettle_usecases::refused::Refused;
use running_gear::{CableDriveArgs, ChainArgs, GearingArgs, SpeedoArgs, TyreArgs, VinArgs, WearArgs};
use seals_and_parts::{OldRingArgs, PartArgs, RingArgs};

/// The trade's computations. Every length, torque and temperature is typed with its unit. The root's help names them by
/// subject, so that it stays one screen.
#[derive(Debug, Clone, Subcommand)]
pub enum FitDesk {
    /// How tight: preload, torque, what limits it, what to set on the wrench
    ///
    /// The maker's figure for the model and year wins. On a critical fixing only the band it should lie in is given.
    #[command(
        hide = true,
        after_help = "Example:\n  refettle torque --thread M10x1.25 --class 8.8 --friction 0.12 \\\n    --into cast-aluminium --engaged 12mm"
    )]
    Torque(Asked<TorqueArgs>),
    /// What thread is this, by outside diameter and pitch
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle thread --od 7.9mm --tpi 24\n  refettle thread --od 9.9mm --pitch 1.25mm"
    )]
    Thread(Asked<ThreadArgs>),
    /// A stripped or short thread: what it still carries, and the ways back
    #[command(
        hide = true,
        after_help = "Example:\n  refettle repair --thread M8 --class 8.8 --into cast-aluminium --reach 12mm \\\n    --threaded 24mm --stripped 8mm --drillable 30mm"
    )]
    Repair(Asked<RepairArgs>),
    /// Which driver for a cross-recess head, why it climbs out, what to try next
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle driver --thread M5\n  refettle driver --width 2.3mm"
    )]
    Driver(Asked<DriverArgs>),
    /// Which threads have a head of this size across flats, by standard
    #[command(hide = true, after_help = "Example:\n  refettle spanner --size 12mm")]
    Spanner(Asked<SpannerArgs>),
    /// Will this O-ring do in this groove, and which sizes would
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle ring --id 24.99mm --section 3.53mm --groove 25.50mm --bore 31.24mm \\\n    --width 4.57mm\n  refettle ring --id 24.99mm --section 3.53mm --depth 2.79mm --width 4.88mm"
    )]
    Ring(Asked<RingArgs>),
    /// What size was this flat old O-ring
    #[command(
        hide = true,
        after_help = "Example:\n  refettle old-ring --id 9.9mm --thin 2.2mm --wide 2.5mm"
    )]
    OldRing(Asked<OldRingArgs>),
    /// Small parts by name or by dimension, and what might stand in
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle part washer 14x20x1.5\n  refettle part bearing --inside 15mm --outside 42mm\n  refettle part circlip-shaft --diameter 20mm\n  refettle part circlip-shaft --free 18.5mm --thickness 1.2mm\n  refettle part split-pin --thread M12\n  refettle part washer --eyes 2\n  refettle part bulb P21/5W\n  refettle part chain --pitch 15.875mm --inside 9.53mm --roller 10.16mm"
    )]
    Part(Asked<PartArgs>),
    /// Is this chain done
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle chain --size 520 --pitches 20 --length 323.0mm\n  refettle chain --size 520 --pitches 20 --inside 312.8mm --outside 333.2mm"
    )]
    Chain(Asked<ChainArgs>),
    /// What other sprockets do; road speed at an engine speed
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle gearing --sprockets 16/45 --instead-of 15/45 --links 110\n  refettle gearing --sprockets 15/45 --primary 1.74 --gear 1.0 \\\n    --tyre 120/70-17 --revs 5000rpm"
    )]
    Gearing(Asked<GearingArgs>),
    /// What the speedometer shows against what is true, each pair as true:shown
    #[command(
        hide = true,
        after_help = "Example:\n  refettle speedo --pair 50km/h:54km/h 100km/h:107km/h --category L3"
    )]
    Speedo(Asked<SpeedoArgs>),
    /// A cable-driven instrument: what is proven good by what still works
    #[command(
        hide = true,
        after_help = "Example:\n  refettle cable-drive --works odometer --fails needle"
    )]
    CableDrive(Asked<CableDriveArgs>),
    /// What a tyre's side says: size, load, speed, age; what another size does
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle tyre --size '180/55ZR17M/C 73W' --date 3603\n  refettle tyre --size 120/60-17 --instead-of 120/70-17"
    )]
    Tyre(Asked<TyreArgs>),
    /// How thin is too thin, how crooked too crooked, by named scheme
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle wear --item pad --measured 1.8mm\n  refettle wear --item disc-thickness --measured 4.4mm --limit 4.5mm\n  refettle wear --item tread --measured 1.4mm --breadth 120mm\n  refettle wear --item wheel-bearing"
    )]
    Wear(Asked<WearArgs>),
    /// At what cold a mix of ethylene glycol and water begins to freeze
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle coolant --glycol 50%vol\n  refettle coolant --coldest -20C\n  refettle coolant --glycol 30%vol --wanted 50%vol --system 2L"
    )]
    Coolant(Asked<CoolantArgs>),
    /// Boiling points of a brake fluid, dry and wet, and what must never be mixed with it
    #[command(hide = true, after_help = "Example:\n  refettle brake-fluid 'DOT 4'")]
    BrakeFluid(Asked<BrakeFluidArgs>),
    /// How much fresh brake fluid a flush takes, at least and at most
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle brake-flush --reservoir 40mL --line 15mL --caliper 25mL --target 95%\n  refettle brake-flush --reservoir 40mL --line-bore 3.2mm --line-length 1.4m \\\n    --caliper 25mL --master-bore 14mm --stroke 15mm"
    )]
    BrakeFlush(Asked<BrakeFlushArgs>),
    /// May these two brake fluids be mixed, and what is the mixture
    #[command(hide = true, after_help = "Example:\n  refettle brake-mix 'DOT 4' 'DOT 5.1'")]
    BrakeMix(Asked<BrakeMixArgs>),
    /// How much old oil a change leaves, and how many changes until little is left
    #[command(
        hide = true,
        after_help = "Example:\n  refettle oil --dry 3.2L --refill 2.4L --at-most 5%"
    )]
    Oil(Asked<OilArgs>),
    /// Where used fluids and batteries go, and what they are kept apart from
    #[command(hide = true, after_help = "Example:\n  refettle dispose used-oil")]
    Dispose(Asked<DisposeArgs>),
    /// How full a battery is, by resting volts or the acid's gravity, and temperature
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle battery --volts 12.3V --temp 40F --type flooded\n  refettle battery --gravity 1.190 --temp 27C --type flooded"
    )]
    Battery(Asked<BatteryArgs>),
    /// Does it charge, by the volts with the engine running
    #[command(
        hide = true,
        after_help = "Example:\n  refettle charging --running 13.9V --resting 12.6V"
    )]
    Charging(Asked<ChargingArgs>),
    /// How many volts a cable or joint loses while current flows
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle voltage-drop --circuit starter-earth --across 0.15V --load on\n  refettle voltage-drop --circuit starter-feed --source 11.8V --at-load 11.1V \\\n    --load on"
    )]
    VoltageDrop(Asked<VoltageDropArgs>),
    /// How far the cylinders lie apart, and what a spoonful of oil says
    #[command(
        hide = true,
        after_help = "Examples:\n  refettle compression --read 1035kPa 720kPa\n  refettle compression --read 1035kPa 720kPa --wet 2:900kPa"
    )]
    Compression(Asked<CompressionArgs>),
    /// Are the floats as high as each other, and as the manual says
    #[command(
        hide = true,
        after_help = "Example:\n  refettle float-height --height 22.0mm 22.6mm --wanted 22mm --tolerance 0.5mm"
    )]
    FloatHeight(Asked<FloatHeightArgs>),
    /// Do the carburettors pull alike, by their intake vacuum
    #[command(
        hide = true,
        after_help = "Example:\n  refettle balance --vacuum 200mmHg 206mmHg"
    )]
    Balance(Asked<BalanceArgs>),
    /// What a frame number says of itself: form, check digit, model year
    #[command(hide = true, after_help = "Example:\n  refettle vin 11111111111111111")]
    Vin(Asked<VinArgs>),
    /// Which shim on which valve, so that the fewest are bought
    ///
    /// The sheet has a statement a line, and # begins a remark.
    #[command(
        hide = true,
        after_help = "Example:\n  refettle shims valves.txt\n\nA sheet:\n  wanted intake 0.10mm to 0.15mm\n  valve left intake clearance 0.05mm shim 2.60mm\n  valve right intake clearance 0.20mm shim 2.50mm\n  drawer 2.55mm x2\n  buy 2.40mm to 2.80mm step 0.05mm"
    )]
    Shims(Asked<ShimsArgs>),
}

/// The same for the question of every command.
macro_rules! of_each {
    ($command:expr, $asked:ident => $what:expr) => {
        match $command {
            FitDesk::Torque($asked) => $what,
            FitDesk::Thread($asked) => $what,
            FitDesk::Repair($asked) => $what,
            FitDesk::Driver($asked) => $what,
            FitDesk::Spanner($asked) => $what,
            FitDesk::Ring($asked) => $what,
            FitDesk::OldRing($asked) => $what,
            FitDesk::Part($asked) => $what,
            FitDesk::Chain($asked) => $what,
            FitDesk::Gearing($asked) => $what,
            FitDesk::Speedo($asked) => $what,
            FitDesk::CableDrive($asked) => $what,
            FitDesk::Tyre($asked) => $what,
            FitDesk::Wear($asked) => $what,
            FitDesk::Coolant($asked) => $what,
            FitDesk::BrakeFluid($asked) => $what,
            FitDesk::BrakeFlush($asked) => $what,
            FitDesk::BrakeMix($asked) => $what,
            FitDesk::Oil($asked) => $what,
            FitDesk::Dispose($asked) => $what,
            FitDesk::Battery($asked) => $what,
            FitDesk::Charging($asked) => $what,
            FitDesk::VoltageDrop($asked) => $what,
            FitDesk::Compression($asked) => $what,
            FitDesk::FloatHeight($asked) => $what,
            FitDesk::Balance($asked) => $what,
            FitDesk::Vin($asked) => $what,
            FitDesk::Shims($asked) => $what,
        }
    };
}

impl FitDesk {
    /// Whether JSON was asked for.
    #[must_use]
    pub fn print(&self) -> Print {
        of_each!(self, asked => asked.print)
    }
}

/// The answer to a command, as JSON and as text.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(command: &FitDesk) -> Result<Told, Refused> {
    of_each!(command.clone(), asked => asked.question.answer())
}
