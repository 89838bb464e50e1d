//! A stripped or short thread: what it still carries, and the ways back, each with drill, tap, length and strength.
//!
//! Entry: [`repairs`]. The ways, gentlest first: a longer screw into sound thread below; a wire thread insert;
//! the next size up. The strength of each is that of the tapped hole in the part ([`pull_out`]) against the load
//! the screw itself could carry, so that a share of 100 % means as strong as the screw.
//!
//! A wire thread insert sits in a hole tapped with the same pitch and a larger diameter: outside
//! `d + 1.299038 P`, pitch diameter `d + 0.649519 P`, hole `d + 0.216506 P` (the thread whose hole is filled by a wire
//! of the screw's own profile; geometry from memory, unverified: the insert maker's drill and tap win).

use super::bearing::Head;
use super::friction::Friction;
use super::material::Material;
use super::preload::at_yield_share;
use super::repair_ways;
use super::strength::Strength;
use super::stripping::{full_engagement, pull_out};
use super::table::said_mm;
use super::thread::Thread;
use super::torque::{FixingUse, MOST_ENGAGED};
use crate::quantity::{Force, Length, Ratio, Torque};

/// Insert lengths sold, in diameters of the screw (common practice, no source).
pub const INSERT_LENGTHS: [f64; 5] = [1.0, 1.5, 2.0, 2.5, 3.0];
/// Depth at the bottom of a blind hole that a tap leaves without full thread, in pitches (common practice for a
/// bottoming tap, no source).
pub const TAP_LEAD: f64 = 2.0;
/// Least outside of a boss against the outside of the thread cut in it (common practice, no source).
pub const BOSS_SHARE: f64 = 1.5;
/// Said with every repair.
pub const CAUTIONS: [&str; 3] = [
    "drill on a drill press or through a guide bush, never freehand: a crooked repair is worse than a pulled thread",
    "grease on drill and tap, vacuum every chip: chips in an engine end it; glasses on",
    "a repaired thread is never stronger than the casting around it: look for cracks first",
];
/// Said with a critical fixing.
pub const CRITICAL: &str = "critical fixing: this is for a machine shop or a new part, by the maker's manual and local law; no torque is given";

/// What is left of a thread in a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Damaged {
    /// The thread.
    pub thread: Thread,
    /// The screw's class.
    pub strength: Strength,
    /// How the screw goes in.
    pub friction: Friction,
    /// Its head.
    pub head: Head,
    /// What is tapped.
    pub material: Material,
    /// How far the present screw reaches into the hole.
    pub reach: Length,
    /// Depth of the thread in the hole, from its mouth.
    pub threaded: Length,
    /// Depth from the mouth over which the thread is gone; zero where the thread is sound but short.
    pub stripped: Length,
    /// Depth the part allows to be drilled before the drill breaks through.
    pub drillable: Length,
    /// Outside of the boss around the hole, where measured.
    pub boss: Option<Length>,
    /// What the screw holds.
    pub fixing: FixingUse,
}

/// A way back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Method {
    /// A longer screw of the same thread.
    LongerScrew {
        /// How much longer.
        by: Length,
    },
    /// A wire thread insert of the same thread.
    WireInsert {
        /// Nominal length of the insert.
        length: Length,
    },
    /// The next size up.
    Oversize {
        /// The new thread.
        thread: Thread,
    },
}

/// One way back, worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Repair {
    /// Which way.
    pub method: Method,
    /// Drill for the hole; `None` where nothing is drilled.
    pub drill: Option<Length>,
    /// Tap to use, in words.
    pub tap: String,
    /// Thread engaged afterwards, as for [`Tapped::engaged`](super::torque::Tapped::engaged).
    pub engaged: Length,
    /// Preload the repaired hole is good for, or the screw where that is less.
    pub preload: Force,
    /// That preload as a share of what the present screw could carry.
    pub share: Ratio,
    /// Torque for it; `None` on a critical fixing, where it cannot be done, and for a head the table lacks.
    pub torque: Option<Torque>,
    /// Why it cannot be done here, if it cannot.
    pub refused: Option<String>,
    /// What to watch.
    pub notes: Vec<String>,
}

/// What is left and what can be done.
#[derive(Debug, Clone, PartialEq)]
pub struct Repairs {
    /// Preload the present screw could carry in a strong thread.
    pub wanted: Force,
    /// Preload what is left of the thread is good for with the present screw; zero when nothing full is left.
    pub left: Force,
    /// That as a share of `wanted`, 1 at most.
    pub left_share: Ratio,
    /// The ways back, gentlest first; those that do not fit say why.
    pub ways: Vec<Repair>,
    /// What to watch on all of them.
    pub cautions: Vec<&'static str>,
}

/// Why no repair was worked out.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RepairError {
    /// Pipe threads seal.
    #[error("{thread} is a pipe thread: a thread that must seal is repaired by a machine shop or a new part")]
    PipeThread {
        /// Thread.
        thread: &'static str,
    },
    /// A depth that cannot be.
    #[error("{what} of {mm} mm on {thread}; between 0 and {most_mm} mm is taken")]
    Depth {
        /// Which.
        what: &'static str,
        /// What was given.
        mm: String,
        /// Thread.
        thread: &'static str,
        /// Most taken.
        most_mm: String,
    },
    /// Two depths contradict.
    #[error("{shorter} of {shorter_mm} mm is more than {longer} of {longer_mm} mm; measure both again")]
    Contradiction {
        /// The one that must be less.
        shorter: &'static str,
        /// Its value.
        shorter_mm: String,
        /// The one that must be more.
        longer: &'static str,
        /// Its value.
        longer_mm: String,
    },
    /// The boss is smaller than its hole.
    #[error("a boss of {boss_mm} mm around {thread}; it must be larger than the thread's {thread_mm} mm")]
    Boss {
        /// Boss given.
        boss_mm: String,
        /// Thread.
        thread: &'static str,
        /// Its outside.
        thread_mm: String,
    },
}

/// What is left of a damaged thread, and every way back with its drill, tap, length, strength and torque.
///
/// ```
/// use refettle_facts::fasteners::{bearing::Head, friction::Friction, material, strength, thread};
/// use refettle_facts::fasteners::repair::{Damaged, repairs};
/// use refettle_facts::fasteners::torque::FixingUse;
/// use refettle_facts::quantity::from_mm;
/// let m8 = thread::named("M8").unwrap();
/// let found = repairs(&Damaged {
///     thread: m8,
///     strength: strength::named("8.8", &m8).unwrap(),
///     friction: Friction::read("oiled").unwrap(),
///     head: Head::Hex,
///     material: material::named("cast-aluminium").unwrap(),
///     reach: from_mm(12.0),
///     threaded: from_mm(24.0),
///     stripped: from_mm(8.0),
///     drillable: from_mm(30.0),
///     boss: None,
///     fixing: FixingUse::Ordinary,
/// })
/// .unwrap();
/// // 2.75 mm of full thread left of 18.6 kN wanted: an eighth.
/// assert!((found.left_share.value - 0.133).abs() < 0.001);
/// ```
///
/// # Errors
/// [`RepairError`] for pipe threads and depths that cannot be.
pub fn repairs(damaged: &Damaged) -> Result<Repairs, RepairError> {
    check(damaged)?;
    let thread = &damaged.thread;
    let wanted = at_yield_share(thread, damaged.strength.yield_strength, damaged.friction.thread);
    let left_length = damaged.reach - damaged.stripped;
    let left = full_engagement(left_length, thread.pitch).map_or(Force::default(), |full| {
        pull_out(thread.pitch_diameter(), full, damaged.material.shear)
    });
    let left = least(left, wanted);
    let mut ways = vec![
        repair_ways::longer_screw(damaged, wanted),
        repair_ways::wire_insert(damaged, wanted),
    ];
    for larger in repair_ways::larger_threads(thread) {
        ways.push(repair_ways::oversize(damaged, larger, wanted));
    }
    let mut cautions = CAUTIONS.to_vec();
    if damaged.fixing == FixingUse::Critical {
        cautions.insert(0, CRITICAL);
    }
    Ok(Repairs {
        wanted,
        left,
        left_share: left / wanted,
        ways,
        cautions,
    })
}

pub(super) fn least(a: Force, b: Force) -> Force {
    if a < b { a } else { b }
}

fn check(damaged: &Damaged) -> Result<(), RepairError> {
    let thread = &damaged.thread;
    if thread.series.is_pipe() {
        return Err(RepairError::PipeThread { thread: thread.name });
    }
    let most = 2.0 * MOST_ENGAGED * thread.major;
    let depths = [
        ("a screw reach", damaged.reach),
        ("a thread depth", damaged.threaded),
        ("a stripped depth", damaged.stripped),
        ("a drilling depth", damaged.drillable),
    ];
    for (what, depth) in depths {
        if !(0.0..=most.value).contains(&depth.value) {
            return Err(RepairError::Depth {
                what,
                mm: said_mm(depth),
                thread: thread.name,
                most_mm: said_mm(most),
            });
        }
    }
    let orders = [
        (
            ("a screw reach", damaged.reach),
            ("a thread depth", damaged.threaded),
        ),
        (
            ("a stripped depth", damaged.stripped),
            ("a thread depth", damaged.threaded),
        ),
        (
            ("a thread depth", damaged.threaded),
            ("a drilling depth", damaged.drillable),
        ),
    ];
    for ((shorter, less), (longer, more)) in orders {
        if less > more {
            return Err(RepairError::Contradiction {
                shorter,
                shorter_mm: said_mm(less),
                longer,
                longer_mm: said_mm(more),
            });
        }
    }
    match damaged.boss {
        Some(boss) if !(boss > thread.major && boss.value.is_finite()) => Err(RepairError::Boss {
            boss_mm: said_mm(boss),
            thread: thread.name,
            thread_mm: said_mm(thread.major),
        }),
        _ => Ok(()),
    }
}
