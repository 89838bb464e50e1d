//! The fit desk on the command line: one command for each question.

use clap::{Args, Subcommand};
use refettle_usecases::fit_desk::{
    OnScreen, Today, battery, brake_flush, brake_mix, chain, coolant, driver, oil, old_ring, part, repair,
    ring, shims, speedo, thread, torque, tyre, vin, wear,
};
use refettle_usecases::refused::{Refused, wrong};
use serde::Serialize;
use std::io::Read as _;
use std::path::PathBuf;

/// Longest file read; a shim sheet is refused far below it.
const LONGEST_FILE: u64 = 1_000_000;

/// How the answer is printed.
#[derive(Debug, Clone, Copy, Args)]
pub struct Print {
    /// Print JSON instead of text
    #[arg(long)]
    pub json: bool,
}

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

/// Arguments of `torque`.
#[derive(Debug, Clone, Args)]
pub struct TorqueArgs {
    /// Thread, such as M10x1.25 or 5/16-24
    #[arg(long)]
    pub thread: String,
    /// Property class, such as 8.8 or A2-70
    #[arg(long)]
    pub class: String,
    /// Coefficient such as 0.12, or as-received, oiled, anti-seize, threadlocked, dry
    #[arg(long, default_value = "as-received")]
    pub friction: String,
    /// hex, flange or socket
    #[arg(long)]
    pub head: Option<String>,
    /// Measured outside of the bearing face, instead of a head
    #[arg(long)]
    pub face: Option<String>,
    /// Measured clearance hole
    #[arg(long)]
    pub hole: Option<String>,
    /// Metal of the tapped hole, such as cast-aluminium; a steel nut without it
    #[arg(long)]
    pub into: Option<String>,
    /// Thread engaged in it, such as 12mm
    #[arg(long)]
    pub engaged: Option<String>,
    /// Metal of the part under the head
    #[arg(long)]
    pub clamped: Option<String>,
    /// Torque of a lock nut running free
    #[arg(long)]
    pub drag: Option<String>,
    /// Extension from the wrench's square to the nut
    #[arg(long)]
    pub extension: Option<String>,
    /// Angle of the extension to the wrench, straight on without it
    #[arg(long)]
    pub angle: Option<String>,
    /// Wrench from square to the middle of the grip
    #[arg(long)]
    pub wrench: Option<String>,
    /// The maker's figure, to be checked and set on the wrench
    #[arg(long)]
    pub maker: Option<String>,
    /// Its failure can hurt: brakes, steering, wheels, frame
    #[arg(long)]
    pub critical: bool,
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `thread`.
#[derive(Debug, Clone, Args)]
pub struct ThreadArgs {
    /// Outside diameter over the crests
    #[arg(long)]
    pub od: String,
    /// Pitch, such as 1.25mm
    #[arg(long)]
    pub pitch: Option<String>,
    /// Threads in an inch, such as 24
    #[arg(long)]
    pub tpi: Option<String>,
    /// Spread of the caliper reading, such as 0.05mm
    #[arg(long)]
    pub od_error: Option<String>,
    /// Where the machine's threads are from: metric, inch or unknown
    #[arg(long)]
    pub origin: Option<String>,
    /// A thread it is said to be, to be checked
    #[arg(long)]
    pub named: Option<String>,
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `repair`.
#[derive(Debug, Clone, Args)]
pub struct RepairArgs {
    /// Thread
    #[arg(long)]
    pub thread: String,
    /// Property class of the screw
    #[arg(long)]
    pub class: String,
    /// Coefficient or condition
    #[arg(long, default_value = "as-received")]
    pub friction: String,
    /// hex, flange or socket
    #[arg(long)]
    pub head: Option<String>,
    /// Metal of the part
    #[arg(long)]
    pub into: String,
    /// How far the present screw reaches in
    #[arg(long)]
    pub reach: String,
    /// Depth of the thread in the hole
    #[arg(long)]
    pub threaded: String,
    /// Depth over which it is gone; sound but short without it
    #[arg(long)]
    pub stripped: Option<String>,
    /// Depth that may be drilled before the drill breaks through
    #[arg(long)]
    pub drillable: String,
    /// Outside of the boss
    #[arg(long)]
    pub boss: Option<String>,
    /// Its failure can hurt: brakes, steering, wheels, frame
    #[arg(long)]
    pub critical: bool,
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `driver`.
#[derive(Debug, Clone, Args)]
pub struct DriverArgs {
    /// Thread of the screw
    #[arg(long)]
    pub thread: Option<String>,
    /// Width of the recess across the wings at the bottom
    #[arg(long)]
    pub width: Option<String>,
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `ring`.
#[derive(Debug, Clone, Args)]
pub struct RingArgs {
    /// Ring inside diameter
    #[arg(long)]
    pub id: String,
    /// Ring section
    #[arg(long)]
    pub section: String,
    /// Diameter of the groove floor
    #[arg(long)]
    pub groove: String,
    /// Bore around it
    #[arg(long)]
    pub bore: String,
    /// Groove width
    #[arg(long)]
    pub width: String,
    /// The parts slide on the ring
    #[arg(long)]
    pub moving: bool,
    /// Rubber, such as NBR or EPDM
    #[arg(long)]
    pub rubber: Option<String>,
    /// Fluid it meets, such as petrol or 'DOT 4'
    #[arg(long)]
    pub fluid: Option<String>,
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `old-ring`.
#[derive(Debug, Clone, Args)]
pub struct OldRingArgs {
    /// Inside diameter, lying free
    #[arg(long)]
    pub id: String,
    /// Section where it is thinnest
    #[arg(long)]
    pub thin: String,
    /// Section across that
    #[arg(long)]
    pub wide: Option<String>,
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `part`.
#[derive(Debug, Clone, Args)]
pub struct PartArgs {
    /// washer, split-pin, circlip-shaft, circlip-bore, bearing or bulb
    pub kind: String,
    /// Its name, such as 14x20x1.5, 3.2, 6302-2RS or P21/5W
    pub name: Option<String>,
    /// Inside diameter or bore
    #[arg(long)]
    pub inside: Option<String>,
    /// Outside diameter
    #[arg(long)]
    pub outside: Option<String>,
    /// Thickness or width
    #[arg(long)]
    pub thickness: Option<String>,
    /// Shaft, bore or hole it is for
    #[arg(long)]
    pub diameter: Option<String>,
    /// Groove floor of a circlip
    #[arg(long)]
    pub groove: Option<String>,
    /// Cap of a bulb
    #[arg(long)]
    pub cap: Option<String>,
    /// Watts of a bulb
    #[arg(long)]
    pub watts: Option<String>,
    #[command(flatten)]
    pub print: Print,
}

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
    pub length: String,
    /// Teeth of the large sprocket
    #[arg(long)]
    pub teeth: Option<String>,
    /// The manual's limit, such as 2%
    #[arg(long)]
    pub limit: Option<String>,
    #[command(flatten)]
    pub print: Print,
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
    #[command(flatten)]
    pub print: Print,
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
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `wear`.
#[derive(Debug, Clone, Args)]
pub struct WearArgs {
    /// What was measured, such as pad, disc-thickness, tread
    #[arg(long)]
    pub item: String,
    /// The reading
    #[arg(long)]
    pub measured: String,
    /// What is stamped on the part or printed in the manual
    #[arg(long)]
    pub limit: Option<String>,
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `coolant`.
#[derive(Debug, Clone, Args)]
pub struct CoolantArgs {
    /// Share of ethylene glycol, 50%vol or 50%mass
    #[arg(long)]
    pub glycol: Option<String>,
    /// The cold it must stand, such as -20C
    #[arg(long, allow_hyphen_values = true)]
    pub coldest: Option<String>,
    #[command(flatten)]
    pub print: Print,
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
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `brake-mix`.
#[derive(Debug, Clone, Args)]
pub struct BrakeMixArgs {
    /// One fluid, such as 'DOT 4'
    pub one: String,
    /// The other
    pub other: String,
    #[command(flatten)]
    pub print: Print,
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
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `battery`.
#[derive(Debug, Clone, Args)]
pub struct BatteryArgs {
    /// Resting voltage
    #[arg(long)]
    pub volts: String,
    /// Its temperature
    #[arg(long, allow_hyphen_values = true)]
    pub temp: String,
    /// flooded or AGM
    #[arg(long = "type")]
    pub kind: String,
    /// Nominal voltage, 12V or 6V
    #[arg(long, default_value = "12V")]
    pub nominal: String,
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `vin`.
#[derive(Debug, Clone, Args)]
pub struct VinArgs {
    /// The number as stamped
    pub text: String,
    /// motorcycle, car or unknown
    #[arg(long)]
    pub vehicle: Option<String>,
    #[command(flatten)]
    pub print: Print,
}

/// Arguments of `shims`.
#[derive(Debug, Clone, Args)]
pub struct ShimsArgs {
    /// The sheet, or - for standard input
    pub file: PathBuf,
    #[command(flatten)]
    pub print: Print,
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
