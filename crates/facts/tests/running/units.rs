//! Units as typed against an independent table of factors.

use crate::published::{Accuracy, rows};
use refettle_facts::engine::spread::parse_vacuum;
use refettle_facts::quantity::{
    parse_angle, parse_area, parse_force, parse_length, parse_mass, parse_pressure, parse_share, parse_speed,
    parse_temperature, parse_torque, parse_voltage, parse_volume,
};

const SCIPY: &str = include_str!("../../../../reference-checks/data/units_scipy.tsv");

#[test]
fn units_are_those_of_scipy() {
    let first = SCIPY.lines().next().unwrap();
    assert!(first.contains("scipy.constants") && first.contains("reference-checks/units.py"));
    // The table has twelve digits. Its millimetre of mercury is 1/760 atm, the conventional one 0.14 ppm more.
    let (mut units, mut mercury) = (
        Accuracy::new("units as typed", "scipy.constants", "ppm"),
        Accuracy::new(
            "millimetre of mercury, conventional",
            "scipy.constants, 1/760 atm",
            "ppm",
        ),
    );
    let table = rows(SCIPY);
    for row in &table {
        let (typed, si) = (row["typed"], row["si"].parse::<f64>().unwrap());
        let read = match row["kind"] {
            "length" => parse_length(typed).unwrap().value,
            "area" => parse_area(typed).unwrap().value,
            "force" => parse_force(typed).unwrap().value,
            "torque" => parse_torque(typed).unwrap().value,
            "pressure" => parse_pressure(typed).unwrap().value,
            "vacuum" => parse_vacuum(typed).unwrap().value,
            "volume" => parse_volume(typed).unwrap().value,
            "mass" => parse_mass(typed).unwrap().value,
            "speed" => parse_speed(typed).unwrap().value,
            "voltage" => parse_voltage(typed).unwrap().value,
            "angle" => parse_angle(typed).unwrap().value,
            "temperature" => parse_temperature(typed).unwrap().value,
            "share" => parse_share(typed).unwrap().value,
            kind => unreachable!("{kind}"),
        };
        let off = 1e6 * (read / si - 1.0);
        if row["kind"] == "vacuum" {
            mercury.check(typed, off, 0.0, 0.15);
        } else {
            units.check(typed, off, 0.0, 1e-5);
        }
    }
    mercury.report(3);
    units.report(table.len() - 3);
}
