//! The fit desk on the command line: one command for each question.

mod arguments;

use arguments::{
    BatteryArgs, BrakeFlushArgs, BrakeMixArgs, ChainArgs, CoolantArgs, DriverArgs, OilArgs, OldRingArgs,
    PartArgs, Print, RepairArgs, RingArgs, ShimsArgs, SpeedoArgs, ThreadArgs, TorqueArgs, TyreArgs, VinArgs,
    WearArgs,
};
use clap::Subcommand;
use refettle_usecases::fit_desk::{
    OnScreen, Today, battery, brake_flush, brake_mix, chain, coolant, driver, oil, old_ring, part, repair,
    ring, shims, speedo, thread, torque, tyre, vin, wear,
};
use refettle_usecases::refused::{Refused, wrong};
use serde::Serialize;
use std::io::Read as _;

/// Longest file read; a shim sheet is refused far below it.
const LONGEST_FILE: u64 = 1_000_000;

/// The trade's computations. Every length, torque and temperature is typed with its unit.
#[derive(Debug, Clone, Subcommand)]
pub enum FitDesk {
    /// How tight: preload, torque, what limits it, what to set on the wrench
    ///
    /// The maker's figure for the model and year wins. On a critical fixing only the band it should lie in is given.
    #[command(
        after_help = "Example:\n  refettle torque --thread M10x1.25 --class 8.8 --friction 0.12 \\\n    --into cast-aluminium --engaged 12mm"
    )]
    Torque(TorqueArgs),
    /// What thread is this, by outside diameter and pitch
    #[command(
        after_help = "Examples:\n  refettle thread --od 7.9mm --tpi 24\n  refettle thread --od 9.9mm --pitch 1.25mm"
    )]
    Thread(ThreadArgs),
    /// A stripped or short thread: what it still carries, and the ways back
    #[command(
        after_help = "Example:\n  refettle repair --thread M8 --class 8.8 --into cast-aluminium --reach 12mm \\\n    --threaded 24mm --stripped 8mm --drillable 30mm"
    )]
    Repair(RepairArgs),
    /// Which driver for a cross-recess head, why it climbs out, what to try next
    #[command(after_help = "Examples:\n  refettle driver --thread M5\n  refettle driver --width 2.3mm")]
    Driver(DriverArgs),
    /// Will this O-ring do in this groove, and which sizes would
    #[command(
        after_help = "Example:\n  refettle ring --id 24.99mm --section 3.53mm --groove 25.50mm --bore 31.24mm \\\n    --width 4.57mm"
    )]
    Ring(RingArgs),
    /// What size was this flat old O-ring
    #[command(after_help = "Example:\n  refettle old-ring --id 9.9mm --thin 2.2mm --wide 2.5mm")]
    OldRing(OldRingArgs),
    /// Small parts by name or by dimension, and what might stand in
    #[command(
        after_help = "Examples:\n  refettle part washer 14x20x1.5\n  refettle part bearing --inside 15mm --outside 42mm\n  refettle part circlip-shaft --diameter 20mm\n  refettle part bulb P21/5W"
    )]
    Part(PartArgs),
    /// Is this chain done
    #[command(after_help = "Example:\n  refettle chain --size 520 --pitches 20 --length 323.0mm")]
    Chain(ChainArgs),
    /// What the speedometer shows against what is true, each pair as true:shown
    #[command(after_help = "Example:\n  refettle speedo --pair 50km/h:54km/h 100km/h:107km/h --category L3")]
    Speedo(SpeedoArgs),
    /// What a tyre's side says: size, load, speed, age; what another size does
    #[command(
        after_help = "Examples:\n  refettle tyre --size '180/55ZR17M/C 73W' --date 3603\n  refettle tyre --size 120/60-17 --instead-of 120/70-17"
    )]
    Tyre(TyreArgs),
    /// How thin is too thin, how crooked too crooked, by named scheme
    #[command(
        after_help = "Examples:\n  refettle wear --item pad --measured 1.8mm\n  refettle wear --item disc-thickness --measured 4.4mm --limit 4.5mm"
    )]
    Wear(WearArgs),
    /// At what cold a mix of ethylene glycol and water begins to freeze
    #[command(
        after_help = "Examples:\n  refettle coolant --glycol 50%vol\n  refettle coolant --coldest -20C"
    )]
    Coolant(CoolantArgs),
    /// How much fresh brake fluid a flush takes, at least and at most
    #[command(
        after_help = "Example:\n  refettle brake-flush --reservoir 40mL --line 15mL --caliper 25mL --target 95%"
    )]
    BrakeFlush(BrakeFlushArgs),
    /// May these two brake fluids be mixed, and what is the mixture
    #[command(after_help = "Example:\n  refettle brake-mix 'DOT 4' 'DOT 5.1'")]
    BrakeMix(BrakeMixArgs),
    /// How much old oil a change leaves, and how many changes until little is left
    #[command(after_help = "Example:\n  refettle oil --dry 3.2L --refill 2.4L --at-most 5%")]
    Oil(OilArgs),
    /// How full a battery is, by resting volts and temperature
    #[command(after_help = "Example:\n  refettle battery --volts 12.3V --temp 40F --type flooded")]
    Battery(BatteryArgs),
    /// What a frame number says of itself: form, check digit, model year
    #[command(after_help = "Example:\n  refettle vin 11111111111111111")]
    Vin(VinArgs),
    /// Which shim on which valve, so that the fewest are bought
    ///
    /// The sheet has a statement a line, and # begins a remark.
    #[command(
        after_help = "Example:\n  refettle shims valves.txt\n\nA sheet:\n  wanted intake 0.10mm to 0.15mm\n  valve left intake clearance 0.05mm shim 2.60mm\n  valve right intake clearance 0.20mm shim 2.50mm\n  drawer 2.55mm x2\n  buy 2.40mm to 2.80mm step 0.05mm"
    )]
    Shims(ShimsArgs),
}

impl FitDesk {
    /// Whether JSON was asked for.
    #[must_use]
    pub fn print(&self) -> Print {
        match self {
            FitDesk::Torque(a) => a.print,
            FitDesk::Thread(a) => a.print,
            FitDesk::Repair(a) => a.print,
            FitDesk::Driver(a) => a.print,
            FitDesk::Ring(a) => a.print,
            FitDesk::OldRing(a) => a.print,
            FitDesk::Part(a) => a.print,
            FitDesk::Chain(a) => a.print,
            FitDesk::Speedo(a) => a.print,
            FitDesk::Tyre(a) => a.print,
            FitDesk::Wear(a) => a.print,
            FitDesk::Coolant(a) => a.print,
            FitDesk::BrakeFlush(a) => a.print,
            FitDesk::BrakeMix(a) => a.print,
            FitDesk::Oil(a) => a.print,
            FitDesk::Battery(a) => a.print,
            FitDesk::Vin(a) => a.print,
            FitDesk::Shims(a) => a.print,
        }
    }
}

/// The answer to a command, as JSON and as text.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(command: &FitDesk) -> Result<(serde_json::Value, String), Refused> {
    match command.clone() {
        FitDesk::Torque(a) => told(&torque::answer(&torque_request(a))?),
        FitDesk::Thread(a) => told(&thread::answer(&thread::ThreadRequest {
            od: a.od,
            pitch: a.pitch,
            tpi: a.tpi,
            od_error: a.od_error,
            origin: a.origin,
            named: a.named,
        })?),
        FitDesk::Repair(a) => told(&repair::answer(&repair_request(a))?),
        FitDesk::Driver(a) => told(&driver::answer(&driver::DriverRequest {
            thread: a.thread,
            width: a.width,
        })?),
        FitDesk::Ring(a) => told(&ring::answer(&ring::RingRequest {
            id: a.id,
            section: a.section,
            groove: a.groove,
            bore: a.bore,
            width: a.width,
            moving: a.moving,
            rubber: a.rubber,
            fluid: a.fluid,
        })?),
        FitDesk::OldRing(a) => told(&old_ring::answer(&old_ring::OldRingRequest {
            id: a.id,
            thin: a.thin,
            wide: a.wide,
        })?),
        FitDesk::Part(a) => told(&part::answer(&part_request(a))?),
        FitDesk::Chain(a) => told(&chain::answer(&chain::ChainRequest {
            size: a.size,
            pitches: a.pitches,
            length: a.length,
            teeth: a.teeth,
            limit: a.limit,
        })?),
        FitDesk::Speedo(a) => told(&speedo::answer(&speedo::SpeedoRequest {
            pairs: a.pair,
            category: a.category,
        })?),
        FitDesk::Tyre(a) => told(&tyre::answer(&tyre::TyreRequest {
            size: a.size,
            date: a.date,
            instead_of: a.instead_of,
            today: today(),
        })?),
        FitDesk::Wear(a) => told(&wear::answer(&wear::WearRequest {
            item: a.item,
            measured: a.measured,
            limit: a.limit,
        })?),
        FitDesk::Coolant(a) => told(&coolant::answer(&coolant::CoolantRequest {
            glycol: a.glycol,
            coldest: a.coldest,
        })?),
        FitDesk::BrakeFlush(a) => told(&brake_flush::answer(&brake_flush::BrakeFlushRequest {
            reservoir: a.reservoir,
            line: a.line,
            caliper: a.caliper,
            target: a.target,
            first: a.first,
        })?),
        FitDesk::BrakeMix(a) => told(&brake_mix::answer(&brake_mix::BrakeMixRequest {
            one: a.one,
            other: a.other,
        })?),
        FitDesk::Oil(a) => told(&oil::answer(&oil::OilRequest {
            dry: a.dry,
            refill: a.refill,
            at_most: a.at_most,
        })?),
        FitDesk::Battery(a) => told(&battery::answer(&battery::BatteryRequest {
            volts: a.volts,
            temp: a.temp,
            kind: a.kind,
            nominal: Some(a.nominal),
        })?),
        FitDesk::Vin(a) => told(&vin::answer(&vin::VinRequest {
            text: a.text,
            vehicle: a.vehicle,
            today: today(),
        })?),
        FitDesk::Shims(a) => told(&shims::answer(&sheet(&a.file)?)?),
    }
}

fn told<V: Serialize + OnScreen>(view: &V) -> Result<(serde_json::Value, String), Refused> {
    let json = serde_json::to_value(view)
        .map_err(|e| wrong(format!("the answer cannot be written as JSON: {e}")))?;
    Ok((json, view.text()))
}

fn torque_request(a: TorqueArgs) -> torque::TorqueRequest {
    torque::TorqueRequest {
        thread: a.thread,
        class: a.class,
        friction: a.friction,
        head: a.head,
        face: a.face,
        hole: a.hole,
        into: a.into,
        engaged: a.engaged,
        clamped: a.clamped,
        drag: a.drag,
        extension: a.extension,
        angle: a.angle,
        wrench: a.wrench,
        maker: a.maker,
        critical: a.critical,
    }
}

fn repair_request(a: RepairArgs) -> repair::RepairRequest {
    repair::RepairRequest {
        thread: a.thread,
        class: a.class,
        friction: a.friction,
        head: a.head,
        into: a.into,
        reach: a.reach,
        threaded: a.threaded,
        stripped: a.stripped,
        drillable: a.drillable,
        boss: a.boss,
        critical: a.critical,
    }
}

fn part_request(a: PartArgs) -> part::PartRequest {
    part::PartRequest {
        kind: a.kind,
        name: a.name,
        inside: a.inside,
        outside: a.outside,
        thickness: a.thickness,
        diameter: a.diameter,
        groove: a.groove,
        cap: a.cap,
        watts: a.watts,
    }
}

fn today() -> Today {
    let now = jiff::ZonedDateTime::now();
    Today {
        year: now.year().unsigned_abs(),
        month: now.month().unsigned_abs(),
        day: now.day().unsigned_abs(),
    }
}

/// The text of a sheet.
fn sheet(file: &std::path::Path) -> Result<String, Refused> {
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
