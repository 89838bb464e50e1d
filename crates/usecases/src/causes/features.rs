//! What a machine has, as far as causes and checks ask: read off its sheet, under the answers given about this bike.

use refettle_machine::ix::{JobIx, PartIx};
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;

/// A machine under the answers given.
#[derive(Debug, Clone, Copy)]
pub struct Features<'a> {
    /// The sheet.
    pub machine: &'a Machine,
    /// The bike.
    pub state: &'a BikeState,
}

impl Features<'_> {
    /// The part of this name, if this bike has it and what carries it.
    #[must_use]
    pub fn part(&self, name: &str) -> Option<PartIx> {
        let part = self.machine.part(name)?;
        let mut at = Some(part);
        for _ in 0..=self.machine.parts.len() {
            let Some(p) = at.and_then(|p| self.machine.parts.get(p.0)) else {
                return Some(part);
            };
            if !self.state.holds(self.machine, p.when.as_ref()) {
                return None;
            }
            at = p.mounted_on;
        }
        None
    }

    /// The first of these parts this bike has.
    #[must_use]
    pub fn first_part(&self, names: &[&str]) -> Option<PartIx> {
        names.iter().find_map(|name| self.part(name))
    }

    /// The first of these jobs that makes sense on this bike.
    #[must_use]
    pub fn first_job(&self, names: &[&str]) -> Option<JobIx> {
        names.iter().find_map(|name| {
            let job = self.machine.job(name)?;
            let when = self.machine.jobs.get(job.0)?.when.as_ref();
            self.state.holds(self.machine, when).then_some(job)
        })
    }

    /// Whether the machine has all of these features.
    #[must_use]
    pub fn all(&self, names: &[&str]) -> bool {
        names.iter().all(|name| self.has(name))
    }

    /// Whether the machine has a feature. One nobody knows, no machine has.
    #[must_use]
    pub fn has(&self, feature: &str) -> bool {
        let part = |names: &[&str]| self.first_part(names).is_some();
        let injection = || part(&["injectors"]) || self.first_job(&["throttle-body", "fuel-pump"]).is_some();
        match feature {
            "battery" => part(&["battery"]),
            "electric-start" => part(&["starter-motor"]),
            "carburettor" => part(&["carburettors", "carburettor"]) && !injection(),
            "injection" => injection(),
            "liquid" => part(&["radiator"]),
            "several-cylinders" => self.first_job(&["carb-balance"]).is_some(),
            "clutch-lever" => part(&["clutch-plates", "clutch-cable", "clutch-master"]),
            "clutch-cable" => part(&["clutch-cable"]),
            "hydraulic-clutch" => part(&["clutch-slave"]),
            "gearbox" => part(&["gear-lever"]),
            "chain" => part(&["chain"]),
            "scooter-drive" => part(&["variator"]),
            "front-disc" => part(&["front-caliper-left", "caliper"]),
            "rear-drum" => part(&["rear-shoes"]),
            "fork" => part(&["fork-legs"]),
            "instruments" => part(&["instruments"]),
            "speedo-cable" => part(&["speedo-cable"]),
            "speedo-sensor" => part(&["instruments"]) && !part(&["speedo-cable"]),
            "indicators" => part(&["indicators-front", "indicator-front-left", "indicators-rear"]),
            "lights" => part(&["headlight", "tail-lamp"]),
            _ => false,
        }
    }
}

/// Every feature a table may name.
pub const ALL: [&str; 20] = [
    "battery",
    "electric-start",
    "carburettor",
    "injection",
    "liquid",
    "several-cylinders",
    "clutch-lever",
    "clutch-cable",
    "hydraulic-clutch",
    "gearbox",
    "chain",
    "scooter-drive",
    "front-disc",
    "rear-drum",
    "fork",
    "instruments",
    "speedo-cable",
    "speedo-sensor",
    "indicators",
    "lights",
];
