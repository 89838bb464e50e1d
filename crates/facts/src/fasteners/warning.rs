//! What to know before using a computed torque.

use super::preload::YIELD_SHARE;
use super::strength::Kind;
use super::stripping::{ShearSizes, full_engagement, stripping_load};
use super::torque::{Figure, Limit, Question};
use super::wrench::said_nm;
use crate::quantity::{Force, Length, Torque};
use crate::shown::said_mm;
use std::fmt;

/// Something to know before using the figure.
#[derive(Debug, Clone, PartialEq)]
pub enum Warning {
    /// The general figure for this class asks more than the tapped thread is good for.
    GeneralTableStrips {
        /// Torque a general table gives, with the screw as the weakest part.
        general: Torque,
        /// Torque computed here.
        here: Torque,
        /// Whether it would shear off even a perfect thread.
        shears_perfect_thread: bool,
    },
    /// No tapped hole was given: the figure is for a steel nut.
    NutAssumed,
    /// Thread engaged by less than one diameter.
    ShortEngagement {
        /// Length engaged.
        engaged: Length,
        /// One diameter.
        diameter: Length,
    },
    /// At the lowest friction of the range this torque stretches the weakest part past its limit.
    SlipperyOverloads {
        /// Preload at the lowest friction.
        preload: Force,
        /// What the weakest part allows.
        allowed: Force,
    },
    /// Stainless screws gall.
    StainlessGalls,
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Warning::GeneralTableStrips { general, here, shears_perfect_thread } => {
                let how = if *shears_perfect_thread {
                    "shears even a perfect thread here"
                } else {
                    "works a used thread here past what it is good for, until it strips"
                };
                write!(
                    f,
                    "a general table for this class says {} N·m: that {how}; use no more than {} N·m",
                    said_nm(*general),
                    said_nm(*here)
                )
            }
            Warning::NutAssumed => f.write_str(
                "holds in a full-height steel nut only; into a casting say so with the length engaged: general figures strip alloy",
            ),
            Warning::ShortEngagement { engaged, diameter } => write!(
                f,
                "only {} mm engaged, less than one diameter of {} mm: find why before tightening (short screw, thick washer, pulled thread)",
                said_mm(*engaged),
                said_mm(*diameter)
            ),
            Warning::SlipperyOverloads { preload, allowed } => write!(
                f,
                "if it goes in as slippery as it can, this torque pulls {:.1} kN where {:.1} kN is the limit: stay below, or measure the friction",
                preload.value / 1e3,
                allowed.value / 1e3
            ),
            Warning::StainlessGalls => f.write_str(
                "stainless seizes on stainless and aluminium: paste on the thread, turn slowly, and it is weaker than 8.8; never where the maker fits high-tensile",
            ),
        }
    }
}

/// The warnings that go with a figure.
pub(super) fn warnings(question: &Question, figure: &Figure, screw: Force) -> Vec<Warning> {
    let thread = &question.thread;
    let mut found = Vec::new();
    match &question.into {
        None => found.push(Warning::NutAssumed),
        Some(tapped) => {
            let full = full_engagement(tapped.engaged, thread.pitch);
            let shears = ShearSizes::of(thread)
                .zip(full)
                .is_some_and(|(sizes, full)| stripping_load(&sizes, full, tapped.material.shear) < screw);
            let tapped_limit = figure.limits.iter().find(|l| l.limit == Limit::TappedThread);
            if tapped_limit.is_some_and(|l| l.preload < screw) {
                found.push(Warning::GeneralTableStrips {
                    general: figure.general_table,
                    here: figure.torque,
                    shears_perfect_thread: shears,
                });
            }
            if tapped.engaged < thread.major {
                found.push(Warning::ShortEngagement {
                    engaged: tapped.engaged,
                    diameter: thread.major,
                });
            }
        }
    }
    // The screw has a tenth of its yield in hand; past that the slippery case does harm.
    if figure.preload_most * YIELD_SHARE > figure.preload {
        found.push(Warning::SlipperyOverloads {
            preload: figure.preload_most,
            allowed: figure.preload,
        });
    }
    if question.strength.kind == Kind::Stainless {
        found.push(Warning::StainlessGalls);
    }
    found
}
