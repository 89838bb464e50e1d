//! `repair`: a stripped or short thread, what it still carries and the ways back.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::screw::Screw;
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::fasteners::material;
use refettle_facts::fasteners::repair::{Damaged, Method, Repair, repairs};
use refettle_facts::fasteners::torque::{FixingUse, MAKER_WINS};
use refettle_facts::quantity::{from_mm, mm, parse_length};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RepairRequest {
    /// Thread.
    pub thread: String,
    /// Property class of the screw.
    pub class: String,
    /// Coefficient or condition.
    pub friction: String,
    /// Head; a hexagon without it.
    pub head: Option<String>,
    /// Metal of the part.
    pub into: String,
    /// How far the present screw reaches in.
    pub reach: String,
    /// Depth of the thread in the hole.
    pub threaded: String,
    /// Depth over which it is gone; none without it: sound, but short.
    pub stripped: Option<String>,
    /// Depth that may be drilled.
    pub drillable: String,
    /// Outside of the boss.
    pub boss: Option<String>,
    /// Whether its failure can hurt.
    pub critical: bool,
}

/// One way back.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WayView {
    /// Which, in words.
    pub way: String,
    /// Drill.
    pub drill_mm: Option<f64>,
    /// Tap.
    pub tap: String,
    /// Thread engaged afterwards.
    pub engaged_mm: f64,
    /// Preload it is good for.
    pub preload_kn: f64,
    /// Share of what the screw could carry.
    pub share_pct: f64,
    /// Torque for it.
    pub torque_nm: Option<f64>,
    /// Why it cannot be done here.
    pub refused: Option<String>,
    /// What to watch.
    pub notes: Vec<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RepairView {
    /// Thread, tidied.
    pub thread: &'static str,
    /// Preload the screw could carry.
    pub wanted_kn: f64,
    /// Preload what is left of the thread is good for.
    pub left_kn: f64,
    /// That as a share.
    pub left_pct: f64,
    /// Ways back, gentlest first.
    pub ways: Vec<WayView>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// What is left, and every way back.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &RepairRequest) -> Result<RepairView, Refused> {
    let mut typed = Typed::default();
    let damaged = damaged(request, &mut typed);
    let (Some(damaged), true) = (damaged, typed.is_right()) else {
        return Err(typed.refused());
    };
    let found = repairs(&damaged).map_err(|e| refused(&e))?;
    let mut basis = Basis::of(
        "pull-out of a tapped hole, one third of the pitch cylinder in shear (NASA RP-1228 as reprinted)",
    )
    .assuming([damaged.material.basis.clone(), damaged.friction.basis.clone()])
    .from([format!(
        "{} ({})",
        damaged.strength.source, damaged.strength.status
    )])
    .warning(MAKER_WINS);
    for caution in &found.cautions {
        basis = basis.warning(*caution);
    }
    Ok(RepairView {
        thread: damaged.thread.name,
        wanted_kn: exact(found.wanted.value / 1e3),
        left_kn: exact(found.left.value / 1e3),
        left_pct: exact(found.left_share.value * 100.0),
        ways: found.ways.iter().map(way).collect(),
        basis: basis.cautioned(&["eyes"]),
    })
}

fn damaged(request: &RepairRequest, typed: &mut Typed) -> Option<Damaged> {
    let screw = Screw::read(
        typed,
        &request.thread,
        &request.class,
        &request.friction,
        request.head.as_deref(),
    );
    let material = typed.read("into", &request.into, material::named);
    let reach = typed.read("reach", &request.reach, parse_length);
    let threaded = typed.read("threaded", &request.threaded, parse_length);
    let stripped = typed.read_if("stripped", request.stripped.as_deref(), parse_length);
    let drillable = typed.read("drillable", &request.drillable, parse_length);
    let boss = typed.read_if("boss", request.boss.as_deref(), parse_length);
    let screw = screw?;
    Some(Damaged {
        thread: screw.thread,
        strength: screw.strength,
        friction: screw.friction,
        head: screw.head,
        material: material?,
        reach: reach?,
        threaded: threaded?,
        stripped: stripped.unwrap_or_else(|| from_mm(0.0)),
        drillable: drillable?,
        boss,
        fixing: if request.critical {
            FixingUse::Critical
        } else {
            FixingUse::Ordinary
        },
    })
}

fn way(repair: &Repair) -> WayView {
    WayView {
        way: match repair.method {
            Method::LongerScrew { by } => format!("screw {} mm longer", number(mm(by), 1)),
            Method::WireInsert { length } => format!("wire thread insert, {} mm long", number(mm(length), 1)),
            Method::Oversize { thread } => format!("next size up, {}", thread.name),
        },
        drill_mm: repair.drill.map(|drill| exact(mm(drill))),
        tap: repair.tap.clone(),
        engaged_mm: exact(mm(repair.engaged)),
        preload_kn: exact(repair.preload.value / 1e3),
        share_pct: exact(repair.share.value * 100.0),
        torque_nm: repair.torque.map(|torque| exact(torque.value)),
        refused: repair.refused.clone(),
        notes: repair.notes.clone(),
    }
}

impl OnScreen for RepairView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled(format!("Repair of {}", self.thread));
        screen.row(
            "left",
            format!(
                "{} kN of {} kN the screw could carry: {} %",
                number(self.left_kn, 1),
                number(self.wanted_kn, 1),
                number(self.left_pct, 0)
            ),
        );
        let ways: Vec<String> = self.ways.iter().map(WayView::words).collect();
        screen.points("Ways back, gentlest first", &ways);
        self.basis.show(&mut screen);
        screen
    }
}

impl WayView {
    fn words(&self) -> String {
        if let Some(refused) = &self.refused {
            return format!("{}: not here: {refused}", self.way);
        }
        let mut said = format!(
            "{}: tap {}, {} mm engaged, {} kN ({} % of the screw)",
            self.way,
            self.tap,
            number(self.engaged_mm, 1),
            number(self.preload_kn, 1),
            number(self.share_pct, 0)
        );
        if let Some(drill) = self.drill_mm {
            said.push_str(&format!(", drill {} mm", number(drill, 2)));
        }
        if let Some(torque) = self.torque_nm {
            said.push_str(&format!(", {} N·m at most", number(torque, 1)));
        }
        for note in &self.notes {
            said.push_str("; ");
            said.push_str(note);
        }
        said
    }
}
