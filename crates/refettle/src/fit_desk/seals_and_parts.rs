//! O-rings and small parts.

use super::asked::{Question, Told, told};
use clap::Args;
use refettle_usecases::fit_desk::{old_ring, part, ring};
use refettle_usecases::refused::Refused;

/// Arguments of `ring`.
#[derive(Debug, Clone, Args)]
pub struct RingArgs {
    /// Ring inside diameter
    #[arg(long)]
    pub id: String,
    /// Ring section
    #[arg(long)]
    pub section: String,
    /// Diameter of the groove floor; a tolerance may follow, 30mm+0/-0.1mm
    #[arg(long)]
    pub groove: Option<String>,
    /// Bore around it: groove in the inner part
    #[arg(long)]
    pub bore: Option<String>,
    /// Rod through it: groove in the outer part
    #[arg(long)]
    pub rod: Option<String>,
    /// Depth of a groove in a face, gap included
    #[arg(long)]
    pub depth: Option<String>,
    /// Inner wall of a face groove that the ring is held on
    #[arg(long)]
    pub held_on: Option<String>,
    /// Groove width
    #[arg(long)]
    pub width: String,
    /// How far a dimension without a tolerance may be out, 0.03mm without it
    #[arg(long)]
    pub doubt: Option<String>,
    /// The parts slide on the ring
    #[arg(long)]
    pub moving: bool,
    /// Rubber, such as NBR or EPDM
    #[arg(long)]
    pub rubber: Option<String>,
    /// Fluid it meets, such as petrol or 'DOT 4'
    #[arg(long)]
    pub fluid: Option<String>,
}

impl Question for RingArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(ring::answer(&ring::RingRequest {
            id: self.id,
            section: self.section,
            groove: self.groove,
            bore: self.bore,
            rod: self.rod,
            depth: self.depth,
            held_on: self.held_on,
            width: self.width,
            doubt: self.doubt,
            moving: self.moving,
            rubber: self.rubber,
            fluid: self.fluid,
        }))
    }
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
}

impl Question for OldRingArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(old_ring::answer(&old_ring::OldRingRequest {
            id: self.id,
            thin: self.thin,
            wide: self.wide,
        }))
    }
}

/// Arguments of `part`.
#[derive(Debug, Clone, Args)]
pub struct PartArgs {
    /// washer, split-pin, castle-nut, circlip-shaft, circlip-bore, bearing, bulb or chain
    pub kind: String,
    /// Its name, such as 14x20x1.5, 3.2, M12, 6302-2RS, P21/5W or 520
    pub name: Option<String>,
    /// Inside diameter or bore; of a chain, width between the inner plates
    #[arg(long)]
    pub inside: Option<String>,
    /// Outside diameter; of a split pin, its body
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
    /// Free diameter of a loose circlip, with its thickness
    #[arg(long)]
    pub free: Option<String>,
    /// Thread of a castle nut or of what a washer seals
    #[arg(long)]
    pub thread: Option<String>,
    /// Hose eyes on one banjo bolt, to count its washers
    #[arg(long)]
    pub eyes: Option<String>,
    /// Pitch of a chain
    #[arg(long)]
    pub pitch: Option<String>,
    /// Roller diameter of a chain
    #[arg(long)]
    pub roller: Option<String>,
    /// Cap of a bulb
    #[arg(long)]
    pub cap: Option<String>,
    /// Watts of a bulb
    #[arg(long)]
    pub watts: Option<String>,
}

impl Question for PartArgs {
    fn answer(self) -> Result<Told, Refused> {
        told(part::answer(&part::PartRequest {
            kind: self.kind,
            name: self.name,
            inside: self.inside,
            outside: self.outside,
            thickness: self.thickness,
            diameter: self.diameter,
            groove: self.groove,
            free: self.free,
            thread: self.thread,
            eyes: self.eyes,
            pitch: self.pitch,
            roller: self.roller,
            cap: self.cap,
            watts: self.watts,
        }))
    }
}
