//! What each command of the fit desk takes. Everything stays text as typed; the use-cases read it.

use clap::Args;
use std::path::PathBuf;

/// How the answer is printed.
#[derive(Debug, Clone, Copy, Args)]
pub struct Print {
    /// Print JSON instead of text
    #[arg(long)]
    pub json: bool,
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
