//! Torque, threads, repair, drivers.

use super::asked::{Question, Told, told};
use clap::Args;
use refettle_usecases::fit_desk::{driver, repair, spanner, thread, torque};
use refettle_usecases::refused::Refused;

/// A screw, as `torque` and `repair` take it.
#[derive(Debug, Clone, Args)]
pub struct Screw {
    /// Thread, such as M10x1.25 or 5/16-24
    #[arg(long)]
    pub thread: String,
    /// Property class of the screw, such as 8.8 or A2-70
    #[arg(long)]
    pub class: String,
    /// Coefficient such as 0.12, or as-received, oiled, anti-seize, threadlocked, dry
    #[arg(long, default_value = "as-received")]
    pub friction: String,
    /// hex, flange or socket
    #[arg(long)]
    pub head: Option<String>,
    /// Its failure can hurt: brakes, steering, wheels, frame
    #[arg(long)]
    pub critical: bool,
}

/// Arguments of `torque`.
#[derive(Debug, Clone, Args)]
pub struct TorqueArgs {
    #[command(flatten)]
    pub screw: Screw,
    /// Friction under the head, where it differs from that in the thread
    #[arg(long)]
    pub head_friction: Option<String>,
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
}

impl Question for TorqueArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(torque::answer(&torque::TorqueRequest {
            thread: self.screw.thread,
            class: self.screw.class,
            friction: self.screw.friction,
            head: self.screw.head,
            critical: self.screw.critical,
            head_friction: self.head_friction,
            face: self.face,
            hole: self.hole,
            into: self.into,
            engaged: self.engaged,
            clamped: self.clamped,
            drag: self.drag,
            extension: self.extension,
            angle: self.angle,
            wrench: self.wrench,
            maker: self.maker,
        }))
    }
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
    /// Wear at most on the diameter, 0.1mm without it
    #[arg(long)]
    pub wear: Option<String>,
    /// Plating at most on the diameter, 0.016mm without it
    #[arg(long)]
    pub plating: Option<String>,
    /// Where the machine's threads are from: metric, inch or unknown
    #[arg(long)]
    pub origin: Option<String>,
    /// A thread it is said to be, to be checked
    #[arg(long)]
    pub named: Option<String>,
}

impl Question for ThreadArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(thread::answer(&thread::ThreadRequest {
            od: self.od,
            pitch: self.pitch,
            tpi: self.tpi,
            od_error: self.od_error,
            wear: self.wear,
            plating: self.plating,
            origin: self.origin,
            named: self.named,
        }))
    }
}

/// Arguments of `repair`.
#[derive(Debug, Clone, Args)]
pub struct RepairArgs {
    #[command(flatten)]
    pub screw: Screw,
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
}

impl Question for RepairArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(repair::answer(&repair::RepairRequest {
            thread: self.screw.thread,
            class: self.screw.class,
            friction: self.screw.friction,
            head: self.screw.head,
            critical: self.screw.critical,
            into: self.into,
            reach: self.reach,
            threaded: self.threaded,
            stripped: self.stripped,
            drillable: self.drillable,
            boss: self.boss,
        }))
    }
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
}

impl Question for DriverArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(driver::answer(&driver::DriverRequest {
            thread: self.thread,
            width: self.width,
        }))
    }
}

/// Arguments of `spanner`.
#[derive(Debug, Clone, Args)]
pub struct SpannerArgs {
    /// Across flats, such as 12mm or 1/2in
    #[arg(long)]
    pub size: String,
}

impl Question for SpannerArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(spanner::answer(&spanner::SpannerRequest { size: self.size }))
    }
}
