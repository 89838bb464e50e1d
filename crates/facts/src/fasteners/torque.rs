//! How tight: preload and torque of a screw, by the weakest of screw, tapped thread and clamped part.
//!
//! Start with [`Question::new`], fill in what is known, and ask [`answer`]. The answer is a [`Figure`] with what
//! limits it, its assumptions and warnings; on a critical fixing it is a
//! [`SanityBand`] and never a figure.
//!
//! The known trap: a general table for class 8.8 takes the screw as the weakest part. In a casting the thread is
//! weaker, and published general tables for one size differ by a factor of two. Where the thread limits, the
//! answer names the general figure and says that it strips.

use super::bearing::{Bearing, BearingError, Head, bearing};
use super::critical::SanityBand;
use super::friction::Friction;
use super::general_tables::{self, GeneralFigure};
use super::material::Material;
use super::preload::{
    WRENCH_SCATTER, YIELD_SHARE, at_yield_share, least_preload, preload_from_torque, tightening_torque,
};
use super::strength::Strength;
use super::stripping::{engagement_to_carry, full_engagement, pull_out};
use super::thread::Thread;
use super::warning::{Warning, warnings};
use super::wrench::{DragRule, WrenchError, with_running_drag};
use crate::quantity::{Force, Length, Ratio, Torque};
use crate::shown::said_mm;

/// Said with every computed figure.
pub const MAKER_WINS: &str = "the maker's figure for this model and year wins over this one";

/// Longest engagement taken as meant, in diameters (common practice, no source).
pub const MOST_ENGAGED: f64 = 5.0;

/// What the fixing holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FixingUse {
    /// Its failure is a nuisance: covers, brackets, bodywork.
    Ordinary,
    /// Its failure can hurt: brakes, steering, wheels, frame.
    Critical,
}

/// A tapped hole the screw goes into.
#[derive(Debug, Clone, PartialEq)]
pub struct Tapped {
    /// What is tapped.
    pub material: Material,
    /// Length of thread in thread, from the first to the last turn that touches.
    pub engaged: Length,
}

/// What is known about one screw.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Its thread.
    pub thread: Thread,
    /// Its class.
    pub strength: Strength,
    /// How it goes in.
    pub friction: Friction,
    /// Its head.
    pub head: Head,
    /// The clearance hole, where measured; the medium hole of ISO 273 otherwise.
    pub hole: Option<Length>,
    /// The tapped hole; `None` for a full-height steel nut of the screw's class.
    pub into: Option<Tapped>,
    /// The part under the head; `None` for steel or a hard washer.
    pub clamped: Option<Material>,
    /// Torque the nut takes while it runs free; `None` for a plain nut.
    pub drag: Option<Torque>,
    /// What it holds.
    pub fixing: FixingUse,
}

impl Question {
    /// A hexagon screw in a steel nut through a standard hole, holding nothing critical.
    #[must_use]
    pub fn new(thread: Thread, strength: Strength, friction: Friction) -> Question {
        Question {
            thread,
            strength,
            friction,
            head: Head::Hex,
            hole: None,
            into: None,
            clamped: None,
            drag: None,
            fixing: FixingUse::Ordinary,
        }
    }
}

/// The part that gives first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limit {
    /// The screw, at its share of yield.
    Screw,
    /// The thread of the tapped hole.
    TappedThread,
    /// The surface under the head.
    ClampedPart,
}

impl Limit {
    /// The trade's words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Limit::Screw => "screw",
            Limit::TappedThread => "tapped thread",
            Limit::ClampedPart => "clamped part",
        }
    }
}

/// The preload one part allows.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitLoad {
    /// Which part.
    pub limit: Limit,
    /// Preload it allows.
    pub preload: Force,
    /// How it was reckoned.
    pub reason: String,
}

/// A computed figure for an ordinary fixing.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Preload the torque is to give.
    pub preload: Force,
    /// Torque at the nut, running drag included.
    pub torque: Torque,
    /// The part that limits.
    pub limited_by: Limit,
    /// What each part allows, weakest first.
    pub limits: Vec<LimitLoad>,
    /// Smallest preload this torque may give.
    pub preload_least: Force,
    /// Largest preload this torque may give.
    pub preload_most: Force,
    /// What a general table gives: the screw as the weakest part, same friction and head, no drag.
    pub general_table: Torque,
    /// Thread that would have to engage for the screw to be the weakest part; `None` without a tapped hole.
    pub engagement_for_screw: Option<Length>,
    /// What published general tables say for this size, for their disagreement.
    pub general_tables: Vec<GeneralFigure>,
    /// What to know before using it.
    pub warnings: Vec<Warning>,
    /// What it rests on, each with its source.
    pub assumptions: Vec<String>,
}

/// The answer to "how tight?".
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// An ordinary fixing: a figure.
    Figure(Figure),
    /// A critical fixing: a band to check the maker's figure against, nothing to tighten by.
    SanityBand(SanityBand),
}

/// Why no answer was given.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TorqueError {
    /// Pipe threads seal; they carry no preload of their own.
    #[error("{thread} is a pipe thread: it seals and carries no preload; use the fitting maker's torque")]
    PipeThread {
        /// The thread.
        thread: &'static str,
    },
    /// No full thread engaged.
    #[error(
        "an engagement of {engaged_mm} mm leaves no full thread on {thread}, pitch {pitch_mm} mm; measure again or repair the thread"
    )]
    NoFullThread {
        /// Length given.
        engaged_mm: String,
        /// Thread.
        thread: &'static str,
        /// Pitch.
        pitch_mm: String,
    },
    /// Longer than meant.
    #[error("{engaged_mm} mm engaged on {thread}? at most {most_mm} mm, five diameters, is taken as meant")]
    EngagementTooLong {
        /// Length given.
        engaged_mm: String,
        /// Thread.
        thread: &'static str,
        /// Longest taken.
        most_mm: String,
    },
    /// The surface under the head has no known limit.
    #[error("no bearing limit for {material} in the table; leave the clamped part out and use a hard washer")]
    NoBearingLimit {
        /// Material.
        material: String,
    },
    /// The bearing face is not known well enough to press on a soft part.
    #[error(
        "no bearing area for this head on {thread}: measure the bearing face and the hole to judge the clamped part"
    )]
    NoBearingArea {
        /// Thread.
        thread: &'static str,
    },
    /// Head or hole.
    #[error(transparent)]
    Bearing(#[from] BearingError),
    /// Running drag.
    #[error(transparent)]
    Drag(#[from] WrenchError),
}

/// Preload, torque and what limits it; for a critical fixing only the band its maker's figure should lie in.
///
/// Preload is the smallest of
/// - the screw: 90 % of yield with the twist of tightening ([`at_yield_share`]);
/// - the tapped thread: [`pull_out`] over the engagement less one pitch, where a tapped hole is given;
/// - the clamped part: bearing limit times the ring under the head, where a material is given.
///
/// Torque by [`tightening_torque`], plus the running drag. Bending, heat, gaskets and service loads are not
/// in it.
///
/// ```
/// use refettle_facts::fasteners::{friction::Friction, material, strength, thread};
/// use refettle_facts::fasteners::torque::{Answer, Limit, Question, Tapped, answer};
/// use refettle_facts::quantity::parse_length;
/// let m10 = thread::named("M10x1.25").unwrap();
/// let class = strength::named("8.8", &m10).unwrap();
/// let mut question = Question::new(m10, class, Friction::read("0.12").unwrap());
/// question.into = Some(Tapped {
///     material: material::named("cast-aluminium").unwrap(),
///     engaged: parse_length("12 mm").unwrap(),
/// });
/// let Answer::Figure(figure) = answer(&question).unwrap() else { unreachable!() };
/// // 51 N·m in a steel nut; the casting bears 20.
/// assert_eq!(figure.limited_by, Limit::TappedThread);
/// assert!((figure.torque.value - 20.0).abs() < 0.1);
/// ```
///
/// # Errors
/// [`TorqueError`] for pipe threads, sizes the tables lack, and lengths or drags that cannot be meant.
pub fn answer(question: &Question) -> Result<Answer, TorqueError> {
    let Question { thread, friction, .. } = question;
    if thread.series.is_pipe() {
        return Err(TorqueError::PipeThread { thread: thread.name });
    }
    let bearing = bearing(question.head, thread, question.hole)?;
    let limits = limits(question, &bearing)?;
    let screw = screw_limit(question);
    let weakest = limits.first().unwrap_or(&screw).clone();
    let assumptions = assumptions(question, &bearing);
    let torque_of = |load: Force| {
        tightening_torque(
            load,
            thread,
            bearing.mean_diameter,
            friction.thread,
            friction.head,
        )
    };
    let bare = torque_of(weakest.preload);
    let torque = match question.drag {
        Some(drag) => with_running_drag(bare, drag, DragRule::AlwaysAdded)?,
        None => bare,
    };
    if question.fixing == FixingUse::Critical {
        let band = SanityBand::of(thread, weakest.preload, &bearing, torque - bare);
        return Ok(Answer::SanityBand(band.with_basis(assumptions)));
    }
    let preload_at = |mu| preload_from_torque(bare, thread, bearing.mean_diameter, mu);
    let scattered = least_preload(weakest.preload, Ratio::from(WRENCH_SCATTER));
    let slack = preload_at(friction.high);
    let mut figure = Figure {
        preload: weakest.preload,
        torque,
        limited_by: weakest.limit,
        preload_least: if slack < scattered { slack } else { scattered },
        preload_most: preload_at(friction.low),
        general_table: torque_of(screw.preload),
        engagement_for_screw: question
            .into
            .as_ref()
            .map(|tapped| engagement_to_carry(screw.preload, thread, tapped.material.shear)),
        general_tables: general_tables::figures(thread),
        limits,
        warnings: Vec::new(),
        assumptions,
    };
    figure.warnings = warnings(question, &figure, screw.preload);
    Ok(Answer::Figure(figure))
}

fn screw_limit(question: &Question) -> LimitLoad {
    let Question {
        thread,
        strength,
        friction,
        ..
    } = question;
    LimitLoad {
        limit: Limit::Screw,
        preload: at_yield_share(thread, strength.yield_strength, friction.thread),
        reason: format!(
            "{} % of {} {:.0} MPa of class {}, tension and twist together",
            YIELD_SHARE * 100.0,
            strength.yield_kind,
            strength.yield_strength.value / 1e6,
            strength.class
        ),
    }
}

/// What each part allows, weakest first.
fn limits(question: &Question, bearing: &Bearing) -> Result<Vec<LimitLoad>, TorqueError> {
    let thread = &question.thread;
    let mut limits = vec![screw_limit(question)];
    if let Some(tapped) = &question.into {
        let full = checked_engagement(tapped.engaged, thread)?;
        limits.push(LimitLoad {
            limit: Limit::TappedThread,
            preload: pull_out(thread.pitch_diameter(), full, tapped.material.shear),
            reason: format!(
                "{} mm engaged, {} mm of it full thread, one third of the pitch cylinder at {:.0} MPa",
                said_mm(tapped.engaged),
                said_mm(full),
                tapped.material.shear.value / 1e6
            ),
        });
    }
    if let Some(clamped) = &question.clamped {
        let area = bearing
            .area
            .ok_or(TorqueError::NoBearingArea { thread: thread.name })?;
        let pressure = clamped.bearing_limit.ok_or_else(|| TorqueError::NoBearingLimit {
            material: clamped.name.clone(),
        })?;
        limits.push(LimitLoad {
            limit: Limit::ClampedPart,
            preload: pressure * area,
            reason: format!(
                "{:.0} mm² under the head at {:.0} MPa on {}",
                area.value * 1e6,
                pressure.value / 1e6,
                clamped.name
            ),
        });
    }
    limits.sort_by(|a, b| a.preload.value.total_cmp(&b.preload.value));
    Ok(limits)
}

/// Full thread in an engagement that can be meant.
pub(super) fn checked_engagement(engaged: Length, thread: &Thread) -> Result<Length, TorqueError> {
    if engaged > MOST_ENGAGED * thread.major {
        return Err(TorqueError::EngagementTooLong {
            engaged_mm: said_mm(engaged),
            thread: thread.name,
            most_mm: said_mm(MOST_ENGAGED * thread.major),
        });
    }
    full_engagement(engaged, thread.pitch).ok_or_else(|| TorqueError::NoFullThread {
        engaged_mm: said_mm(engaged),
        thread: thread.name,
        pitch_mm: said_mm(thread.pitch),
    })
}

fn assumptions(question: &Question, bearing: &Bearing) -> Vec<String> {
    let strength = &question.strength;
    let mut said = vec![
        MAKER_WINS.to_owned(),
        question.friction.basis.clone(),
        bearing.basis.clone(),
        format!(
            "class {}: {} ({})",
            strength.class, strength.source, strength.status
        ),
        "VDI 2230-1 preload and torque, 60 degree thread, solid shank, cold, no gasket".to_owned(),
    ];
    match &question.into {
        Some(tapped) => said.push(format!(
            "tapped hole: {}; one pitch taken off for incomplete thread; thread sound and clean",
            tapped.material.basis
        )),
        None => said.push("full-height steel nut of the screw's class".to_owned()),
    }
    if question.clamped.is_none() {
        said.push("steel or a hard washer under the head".to_owned());
    }
    if question.drag.is_some() {
        said.push(
            "running drag added (FAA AC 43.13-1B); army manuals leave it out below a third of the torque"
                .to_owned(),
        );
    }
    said
}
