//! A torque as a person reads it, on every scale a wrench may have.

use super::TorqueView;
use crate::fit_desk::OnScreen;
use crate::fit_desk::screen::{Screen, number};
use refettle_facts::fasteners::wrench;
use refettle_facts::quantity::from_newton_metres;

/// One torque as every wrench is marked.
fn every_scale(newton_metres: f64) -> String {
    let scales = wrench::on_every_scale(from_newton_metres(newton_metres));
    format!(
        "{} N·m = {} kgf·m = {} lbf·ft = {} lbf·in",
        number(scales.newton_metres, 1),
        number(scales.kilogram_force_metres, 2),
        number(scales.pound_force_feet, 1),
        number(scales.pound_force_inches, 0)
    )
}

impl OnScreen for TorqueView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled(format!("Torque: {}, class {}", self.thread, self.class));
        let nm = |value: f64| format!("{} N·m", number(value, 1));
        match self.torque_nm.map(every_scale) {
            Some(torque) => screen.row("torque", torque),
            None => screen.row(
                "torque",
                "none: on a critical fixing only the maker's figure counts",
            ),
        }
        match (self.wrench_setting_nm, self.maker_nm) {
            (Some(setting), _) => screen.row("wrench setting", every_scale(setting)),
            (None, Some(_)) => screen.row("wrench setting", "none until the maker's figure is read again"),
            (None, None) => {}
        }
        screen.row_if("limited by", self.limited_by);
        if let (Some(preload), Some(least), Some(most)) =
            (self.preload_kn, self.preload_least_kn, self.preload_most_kn)
        {
            let kn = |value: f64| number(value, 1);
            screen.row(
                "preload",
                format!(
                    "{} kN, between {} and {} kN by wrench and friction",
                    kn(preload),
                    kn(least),
                    kn(most)
                ),
            );
        }
        screen.row(
            "maker's figure",
            match (self.maker_nm, self.maker_verdict) {
                (Some(maker), Some(verdict)) => format!("{}: {verdict}", nm(maker)),
                _ => format!(
                    "look it up; it should lie between {} and {}",
                    nm(self.band_low_nm),
                    nm(self.band_high_nm)
                ),
            },
        );
        for limit in &self.limits {
            screen.row(
                limit.part,
                format!("{} kN: {}", number(limit.preload_kn, 1), limit.reason),
            );
        }
        screen.row_if(
            "general tables",
            self.general_tables_factor.map(|factor| {
                format!(
                    "disagree by a factor of {} for this size, so none of them is a limit: those for class 8.8 strip \
                     alloy castings",
                    number(factor, 1)
                )
            }),
        );
        for table in &self.general_tables {
            let span = format!("{} to {}", nm(table.low_nm), nm(table.high_nm));
            screen.row(
                "a general table",
                format!("{span}: {}, {}", table.table, table.source),
            );
        }
        screen.points("Before using it", &self.warnings);
        self.basis.show(&mut screen);
        screen
    }
}
