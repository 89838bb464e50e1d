//! Where do the volts go? Voltage lost in a cable or connection while current flows.
//!
//! Without current nothing is lost, however bad the joint: crank the engine or switch the load on, then measure.
//! Disable the ignition before cranking, and keep clear of chain and wheel. Start with [`drop_over`].

use crate::nearest::nearest;
use crate::plausible::{Bounds, Implausible};
use crate::published::{Provenance, rows};
use crate::quantity::ElectricPotential;
use uom::si::electric_potential;

const LIMITS: &str = include_str!("../../data/electrics/voltage_drop.tsv");

const DROP: Bounds = Bounds {
    what: "voltage drop",
    unit: "V",
    low: -0.02,
    high: 15.0,
    advice: "source less load, both against the same post, with the load working; below zero the leads are swapped",
};

/// Why a drop was not judged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum VoltageDropError {
    /// No such circuit.
    #[error("'{name}' is no circuit with a limit here{hint}; known are {known}")]
    UnknownCircuit {
        /// What was given.
        name: String,
        /// A likely meaning, or empty.
        hint: String,
        /// All circuits.
        known: String,
    },
    /// Measured without current.
    #[error("a drop measured with the load off is always zero: switch the load on or crank, then measure")]
    NoCurrent,
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
}

/// Whether current flowed while it was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Load {
    /// Lamp lit, engine cranking.
    On,
    /// Nothing drawing.
    Off,
}

/// A circuit and the most it may lose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DropLimit {
    /// Name, such as `starter-earth`.
    pub circuit: &'static str,
    /// From where to where.
    pub words: &'static str,
    /// The most.
    pub limit: ElectricPotential,
    /// Where it is from.
    pub citation: Provenance,
}

/// Every circuit of the table.
#[must_use]
pub fn limits() -> Vec<DropLimit> {
    rows(LIMITS)
        .filter_map(|row| {
            Some(DropLimit {
                circuit: row.cell("circuit"),
                words: row.cell("words"),
                limit: ElectricPotential::new::<electric_potential::volt>(row.number("limit_v")?),
                citation: row.provenance(),
            })
        })
        .collect()
}

/// A drop, judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VoltageDrop {
    /// Source less load.
    pub drop: ElectricPotential,
    /// The limit it was judged by; from memory where its citation says so.
    pub limit: DropLimit,
    /// Whether it is within.
    pub within: bool,
}

/// Voltage drop ΔV = V_source − V_load, both read with current flowing. Definition; limits as cited.
///
/// # Errors
/// [`VoltageDropError`]: unknown circuit, no current, a drop below zero or above 15 V.
pub fn drop_over(
    circuit: &str,
    source: ElectricPotential,
    load: ElectricPotential,
    while_load: Load,
) -> Result<VoltageDrop, VoltageDropError> {
    if while_load == Load::Off {
        return Err(VoltageDropError::NoCurrent);
    }
    let all = limits();
    let wanted = circuit.trim();
    let limit = all.iter().find(|l| l.circuit == wanted).copied().ok_or_else(|| {
        VoltageDropError::UnknownCircuit {
            name: wanted.chars().take(40).collect(),
            hint: nearest(wanted, all.iter().map(|l| l.circuit))
                .map(|near| format!(", did you mean '{near}'"))
                .unwrap_or_default(),
            known: all.iter().map(|l| l.circuit).collect::<Vec<_>>().join(", "),
        }
    })?;
    let drop = source - load;
    DROP.check(drop.value)?;
    Ok(VoltageDrop {
        drop,
        // A part in 10⁹ forgives the subtraction of typed decimals.
        within: drop.value <= limit.limit.value + 1e-9,
        limit,
    })
}
