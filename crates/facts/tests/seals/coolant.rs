//! Freezing points against the table, CoolProp at every per cent, and an engine maker's own table.

use crate::accuracy::Accuracy;
use crate::table::{after, number, read, worked};
use refettle_facts::fluids::FluidError;
use refettle_facts::fluids::coolant::{
    GlycolShare, MassShare, VolumeShare, freezes, parse_glycol, replace_by_neat, rules, volume_share_for,
};
use refettle_facts::quantity::{Ratio, ThermodynamicTemperature, litres, parse_volume};
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::{degree_celsius, degree_fahrenheit};

fn volume(pct: f64) -> GlycolShare {
    GlycolShare::Volume(VolumeShare::new(Ratio::new::<percent>(pct)).unwrap())
}

fn mass(pct: f64) -> GlycolShare {
    GlycolShare::Mass(MassShare::new(Ratio::new::<percent>(pct)).unwrap())
}

fn celsius(share: GlycolShare) -> f64 {
    freezes(share).unwrap().freezes_at.get::<degree_celsius>()
}

/// Between the points of the table a straight line stands for a curve that bends by up to 0.7 °C from one step
/// to the next: an eighth of that, and half of the table's last place, is 0.14 °C.
#[test]
fn coolprop_at_every_per_cent() {
    let rows = read(include_str!(
        "../../../../reference-checks/data/coolant_coolprop.tsv"
    ));
    let mut by_volume = Accuracy::of(
        "Coolant freezing point by volume",
        "CoolProp, fluid AEG, 10 to 60 %",
        "°C",
    );
    let mut by_mass = Accuracy::of(
        "Coolant freezing point by mass",
        "CoolProp, fluid MEG, 10 to 60 %",
        "°C",
    );
    for row in &rows {
        let pct = number(row, "ethylene_glycol_pct");
        let wanted = number(row, "freeze_c");
        match row["basis"] {
            "volume" => by_volume.see(row["ethylene_glycol_pct"], celsius(volume(pct)), wanted, 0.15),
            _ => by_mass.see(row["ethylene_glycol_pct"], celsius(mass(pct)), wanted, 0.15),
        }
    }
    by_volume.tell(51);
    by_mass.tell(51);
}

#[test]
fn the_script_and_version_that_made_the_reference_are_named() {
    let text = include_str!("../../../../reference-checks/data/coolant_coolprop.tsv");
    let head: Vec<&str> = text.lines().take_while(|line| line.starts_with('#')).collect();
    assert!(head[0].starts_with("# CoolProp 8."), "{head:?}");
    assert!(
        head[1].contains("python3 reference-checks/coolant.py"),
        "{head:?}"
    );
}

/// The table's own points, in °C and °F. °F is printed to 0.1 from unrounded °C: 0.05 °F, and 0.09 °F for the
/// rounding of °C.
#[test]
fn the_reference_table_in_both_scales() {
    let mut seen = Accuracy::of(
        "table look-up: coolant freezing point",
        "coolant table, volume and mass",
        "°C",
    );
    for row in read(include_str!("../data/seals/coolant_freeze.tsv")) {
        let pct = number(&row, "ethylene_glycol_pct");
        let at = freezes(volume(pct)).unwrap().freezes_at;
        seen.see(
            "volume",
            at.get::<degree_celsius>(),
            number(&row, "freeze_c_if_pct_by_volume"),
            1e-6,
        );
        let off = at.get::<degree_fahrenheit>() - number(&row, "freeze_f_if_pct_by_volume");
        assert!(off.abs() <= 0.145, "{pct} %: {off} °F");
        seen.see(
            "mass",
            celsius(mass(pct)),
            number(&row, "freeze_c_if_pct_by_mass"),
            1e-6,
        );
    }
    seen.tell(24);
}

#[test]
fn worked_example_fifty_per_cent() {
    let (inputs, expected) = worked("coolant");
    assert!(inputs.starts_with("50 % by volume"));
    let typed = |text: &str| celsius(parse_glycol(text).unwrap());
    assert!((typed("50%vol") - after(expected, "")).abs() < 1e-6, "{expected}");
    assert!((typed("33 % vol") - after(expected, "33 % ->")).abs() < 1e-6);
    assert!((typed("40 %vol") - after(expected, "40 % ->")).abs() < 1e-6);
    // The same figure by mass is another mix.
    assert!((typed("50%mass") + 36.0).abs() < 1e-6);
}

/// An engine maker's table, by mass: 50 % to -35 °C and 54 % to -40 °C. It disagrees with CoolProp by up to 2 °C,
/// on the careful side; 80 % and 100 % are beyond our table and refused.
#[test]
fn an_engine_makers_table_lies_within_two_degrees_on_the_careful_side() {
    let rows = read(include_str!("../data/seals/coolant_rules.tsv"));
    let printed = rows
        .iter()
        .find(|r| r["key"] == "engine_maker_cross_check")
        .unwrap()["value"];
    let mut seen = Accuracy::of(
        "Coolant freezing point by mass",
        "an engine maker's manual table",
        "°C",
    );
    println!(
        "\nDISAGREES\tcoolant by mass\tan engine maker's table is up to 2 °C warmer than CoolProp, on the careful side"
    );
    for (label, pct) in [("50 % ->", 50.0), ("54 % ->", 54.0)] {
        let wanted = after(printed, label);
        assert!(celsius(mass(pct)) < wanted, "ours is the colder at {pct} %");
        seen.see(label, celsius(mass(pct)), wanted, 2.0);
    }
    for pct in [80.0, 100.0] {
        let said = freezes(mass(pct)).unwrap_err().to_string();
        assert!(
            said.contains(&format!("{pct} %")) && said.contains("60 %"),
            "{said}"
        );
    }
    seen.tell(2);
}

#[test]
fn a_share_must_say_of_what_and_be_one() {
    let said = |text: &str| parse_glycol(text).unwrap_err().to_string();
    assert!(
        said("50%").contains("%vol") && said("50%").contains("%mass"),
        "{}",
        said("50%")
    );
    assert!(said("50").contains("no unit"), "{}", said("50"));
    assert!(said("NaN%vol").contains("finite"));
    assert!(said("120%vol").contains("120") && said("120%vol").contains("100"));
    assert!(said("-5%vol").contains("-5"));
    assert!(matches!(freezes(volume(5.0)), Err(FluidError::Share { .. })));
    let said = freezes(volume(5.0)).unwrap_err().to_string();
    assert!(
        said.contains("5 %") && said.contains("10 %") && said.contains("water"),
        "{said}"
    );
}

#[test]
fn a_thin_mix_is_told_about_rust() {
    let thin = freezes(volume(25.0)).unwrap();
    assert!(
        thin.caveats
            .iter()
            .any(|c| c.contains("33 %") && c.contains("rust")),
        "{:?}",
        thin.caveats
    );
    assert!(
        freezes(volume(50.0))
            .unwrap()
            .caveats
            .iter()
            .all(|c| !c.contains("rust"))
    );
    assert!(rules().any(|r| r.key == "toxicity"));
}

#[test]
fn the_share_for_a_cold_is_the_inverse() {
    let mut seen = Accuracy::of(
        "Glycol share for a freezing point",
        "inverse of the coolant table",
        "%",
    );
    for pct in 10..=60 {
        let at = freezes(volume(f64::from(pct))).unwrap().freezes_at;
        let back = volume_share_for(at).unwrap().share().get::<percent>();
        seen.see("share", back, f64::from(pct), 1e-6);
    }
    seen.tell(51);
    for c in [0.0, -60.0] {
        let said = volume_share_for(ThermodynamicTemperature::new::<degree_celsius>(c))
            .unwrap_err()
            .to_string();
        assert!(said.contains("-52") && said.contains("-3.6"), "{said}");
    }
}

/// 3 L at 20 % to 50 %: what is drawn off takes its glycol with it; reckoned by counting glycol.
#[test]
fn drawing_off_and_topping_up_with_neat_reaches_the_share() {
    let share = |pct: f64| VolumeShare::new(Ratio::new::<percent>(pct)).unwrap();
    let system = parse_volume("3 L").unwrap();
    let v = litres(replace_by_neat(system, share(20.0), share(50.0)).unwrap());
    let glycol = (3.0 - v) * 0.20 + v;
    assert!((glycol / 3.0 - 0.5).abs() < 1e-9, "{v}");
    let said = replace_by_neat(system, share(50.0), share(20.0))
        .unwrap_err()
        .to_string();
    assert!(
        said.contains("20 %") && said.contains("50 %") && said.contains("water"),
        "{said}"
    );
}
