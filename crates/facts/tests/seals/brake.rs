//! Brake fluid classes, mixing and flushing; engine oil left behind; where it all goes.

use crate::accuracy::Accuracy;
use crate::table::{number, read, worked};
use refettle_facts::fluids::brake_fluid::{BrakeFluid, class_of, classes, mix, water_figures};
use refettle_facts::fluids::brake_flush::{
    BrakeVolumes, ReservoirFirst, flush_volume, line_volume, new_share, strokes,
};
use refettle_facts::fluids::disposal::{Waste, rules};
use refettle_facts::fluids::oil::{changes_needed, old_share_after, residue};
use refettle_facts::quantity::{Ratio, Volume, from_mm, litres, parse_volume};
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::{degree_celsius, degree_fahrenheit};
use uom::si::volume::liter;

/// °F is printed in whole degrees, so half a degree.
#[test]
fn boiling_points_in_both_scales() {
    let mut seen = Accuracy::of(
        "Brake fluid boiling points, °C and °F",
        "FMVSS 116 S5.1; ISO 4925 rows are from memory",
        "°F",
    );
    let rows = read(include_str!("../data/seals/brake_fluid_classes.tsv"));
    for row in &rows {
        let class = classes().find(|c| c.class == row["class"]).unwrap();
        assert_eq!(
            (class.standard, class.provenance.status),
            (row["standard"], row["status"])
        );
        for (ours, c, f) in [
            (class.dry, "dry_erbp_min_c", "dry_erbp_min_f"),
            (class.wet, "wet_erbp_min_c", "wet_erbp_min_f"),
        ] {
            let Some(ours) = ours else {
                assert!(row[c].is_empty());
                continue;
            };
            assert!((ours.get::<degree_celsius>() - number(row, c)).abs() < 1e-6);
            seen.see(row["class"], ours.get::<degree_fahrenheit>(), number(row, f), 0.5);
        }
        if row["standard"] == "ISO 4925" {
            assert!(class.provenance.caveat().is_some_and(|c| c.contains("memory")));
        }
    }
    seen.tell(18);
}

/// One maker's page prints 205 °C dry for DOT 4; the standard's 230 °C is held.
#[test]
fn dot_4_boils_dry_at_230() {
    let dot4 = class_of(BrakeFluid::Dot4).unwrap();
    assert!((dot4.dry.unwrap().get::<degree_celsius>() - 230.0).abs() < 1e-6);
    assert!((dot4.wet.unwrap().get::<degree_celsius>() - 155.0).abs() < 1e-6);
    assert_eq!(class_of(BrakeFluid::Dot5).unwrap().colour, Some("purple"));
    assert_eq!(class_of(BrakeFluid::MineralOil).unwrap().colour, Some("green"));
}

#[test]
fn mixing_is_the_table_both_ways_round() {
    let rows = read(include_str!("../data/seals/brake_fluid_mixing.tsv"));
    assert_eq!(rows.len(), 15, "five fluids, every pair");
    for row in &rows {
        let (a, b) = (
            BrakeFluid::named(row["fluid_a"]).unwrap(),
            BrakeFluid::named(row["fluid_b"]).unwrap(),
        );
        let (one, other) = (mix(a, b), mix(b, a));
        assert_eq!(one, other);
        assert_eq!(one.may_mix, row["may_mix"] == "yes", "{a} and {b}");
        assert_eq!(one.treat_as.is_some(), one.may_mix);
        assert_eq!(one.consequence, row["consequence"]);
    }
    for glycol in [BrakeFluid::Dot3, BrakeFluid::Dot4, BrakeFluid::Dot51] {
        assert!(
            !mix(glycol, BrakeFluid::Dot5).may_mix,
            "{glycol}: same limits as DOT 5 is no leave to mix"
        );
        assert!(!mix(glycol, BrakeFluid::MineralOil).may_mix);
    }
}

/// The lower class is the one that boils first: against the table, not the order of the names.
#[test]
fn a_mixture_takes_the_lower_class() {
    for a in BrakeFluid::ALL {
        for b in BrakeFluid::ALL {
            let Some(result) = mix(a, b).treat_as else {
                continue;
            };
            let dry = |f| class_of(f).unwrap().dry.map(|t| t.value);
            assert!(dry(result) <= dry(a) && dry(result) <= dry(b), "{a} with {b}");
        }
    }
    let (_, expected) = worked("brake_mix");
    let result = mix(BrakeFluid::Dot51, BrakeFluid::Dot4).treat_as.unwrap();
    let class = class_of(result).unwrap();
    assert!(expected.contains(result.name()));
    assert!(expected.contains(&format!(
        "dry {:.0} C",
        class.dry.unwrap().get::<degree_celsius>()
    )));
    assert!(expected.contains(&format!(
        "wet {:.0} C",
        class.wet.unwrap().get::<degree_celsius>()
    )));
}

#[test]
fn names_of_fluids() {
    assert_eq!(BrakeFluid::named("dot 5.1").unwrap(), BrakeFluid::Dot51);
    assert_eq!(BrakeFluid::named("DOT-4").unwrap(), BrakeFluid::Dot4);
    let said = BrakeFluid::named("dott4").unwrap_err().to_string();
    assert!(said.contains("did you mean 'dot4'"), "{said}");
    assert!(
        water_figures()
            .any(|w| w.key == "wet_test_water_in_referee_fluid" && w.provenance.caveat().is_none())
    );
    assert!(
        water_figures()
            .filter(|w| w.key.starts_with("dot3_erbp"))
            .all(|w| w.provenance.caveat().is_some())
    );
}

fn ml(value: f64) -> Volume {
    Volume::new::<liter>(value / 1e3)
}

fn brake() -> BrakeVolumes {
    BrakeVolumes {
        reservoir: ml(40.0),
        line: ml(12.0),
        caliper: ml(28.0),
    }
}

/// Full mixing against the differential equation stepped through in drops of a ten-thousandth of the volume, and
/// plug flow against plain displacement. Stepping is off by about half a drop.
#[test]
fn flush_bounds_against_stepped_mixing() {
    let mut seen = Accuracy::of(
        "Brake flush volume, full mixing",
        "mixing stepped drop by drop",
        "mL",
    );
    for target in [50.0, 90.0, 95.0, 99.0] {
        let found = flush_volume(&brake(), ReservoirFirst::LeftFull, Ratio::new::<percent>(target)).unwrap();
        let swept = 80.0;
        let drop = swept / 1e4;
        let (mut old, mut through) = (1.0, 0.0);
        while 1.0 - old < target / 100.0 {
            old -= old * drop / swept;
            through += drop;
        }
        seen.see("mixed", litres(found.full_mixing) * 1e3, through, 0.03);
        assert!((litres(found.plug_flow) * 1e3 - swept * target / 100.0).abs() < 1e-9);
    }
    seen.tell(4);
}

/// Reservoir, line and caliper each mixed in itself, one after the other, lies between the two bounds.
#[test]
fn chambers_in_a_row_lie_between_the_bounds() {
    for target in [50.0, 80.0, 90.0, 99.0] {
        let found = flush_volume(&brake(), ReservoirFirst::LeftFull, Ratio::new::<percent>(target)).unwrap();
        let sizes = [40.0, 12.0, 28.0];
        let mut old = [1.0; 3];
        let (drop, mut through) = (0.001, 0.0);
        let left = |old: &[f64; 3]| old.iter().zip(sizes).map(|(o, v)| o * v).sum::<f64>() / 80.0;
        while left(&old) > 1.0 - target / 100.0 {
            let before = old;
            for at in 0..3 {
                let coming = if at == 0 { 0.0 } else { before[at - 1] };
                old[at] += (coming - before[at]) * drop / sizes[at];
            }
            through += drop;
        }
        let (least, most) = (litres(found.plug_flow) * 1e3, litres(found.full_mixing) * 1e3);
        assert!(
            least < through && through < most,
            "{target} %: {least} {through} {most}"
        );
    }
}

#[test]
fn an_emptied_reservoir_saves_fluid_and_is_filled_again() {
    let target = Ratio::new::<percent>(95.0);
    let full = flush_volume(&brake(), ReservoirFirst::LeftFull, target).unwrap();
    let emptied = flush_volume(&brake(), ReservoirFirst::Emptied, target).unwrap();
    assert!((litres(emptied.swept) - 0.040).abs() < 1e-9 && (litres(full.swept) - 0.080).abs() < 1e-9);
    assert!(emptied.at_hand < full.at_hand);
    assert!((litres(emptied.at_hand - emptied.full_mixing) - 0.040).abs() < 1e-9);
    let (least, most) = new_share(full.swept, full.full_mixing).unwrap();
    assert!((least.get::<percent>() - 95.0).abs() < 1e-6 && (most.get::<percent>() - 100.0).abs() < 1e-9);
}

#[test]
fn flush_refuses_what_cannot_be() {
    let target = |pct| Ratio::new::<percent>(pct);
    let said = flush_volume(&brake(), ReservoirFirst::Emptied, target(100.0))
        .unwrap_err()
        .to_string();
    assert!(said.contains("100 %") && said.contains("99.9"), "{said}");
    let litre = BrakeVolumes {
        line: parse_volume("12 L").unwrap(),
        ..brake()
    };
    let said = flush_volume(&litre, ReservoirFirst::Emptied, target(90.0))
        .unwrap_err()
        .to_string();
    assert!(said.contains("line of 12 L") && said.contains("1 L"), "{said}");
    assert!(flush_volume(&brake(), ReservoirFirst::Emptied, target(f64::NAN)).is_err());
    // A line of 3.2 mm bore and 1.2 m: (pi/4) 10.24 * 1200 mm³ = 9.65 mL.
    let line = line_volume(from_mm(3.2), from_mm(1200.0)).unwrap();
    assert!((litres(line) * 1e3 - 9.651).abs() < 0.001);
    assert!(line_volume(from_mm(32.0), from_mm(1200.0)).is_err());
    // A 14 mm master moving 10 mm gives 1.539 mL a stroke: 100 mL are 65 strokes.
    assert_eq!(strokes(ml(100.0), from_mm(14.0), from_mm(10.0)).unwrap(), 65);
}

#[test]
fn oil_left_behind() {
    let left = residue(parse_volume("3.2 L").unwrap(), parse_volume("2.4 L").unwrap()).unwrap();
    assert!((litres(left.stays_behind) - 0.8).abs() < 1e-9);
    // A quarter stays: 1/4, 1/16, 1/64; under 5 % after three changes.
    assert!((old_share_after(2, left.old_share).unwrap().value - 0.0625).abs() < 1e-12);
    assert_eq!(
        changes_needed(left.old_share, Ratio::new::<percent>(5.0)).unwrap(),
        3
    );
    let said = residue(parse_volume("2.4 L").unwrap(), parse_volume("3.2 L").unwrap())
        .unwrap_err()
        .to_string();
    assert!(
        said.contains("3.2") && said.contains("2.4") && said.contains("wrong way round"),
        "{said}"
    );
    assert!(residue(parse_volume("2400 L").unwrap(), parse_volume("2.4 L").unwrap()).is_err());
    assert!(changes_needed(Ratio::new::<percent>(99.0), Ratio::new::<percent>(5.0)).is_err());
}

#[test]
fn every_waste_has_a_rule_with_a_source() {
    for waste in Waste::ALL {
        assert!(rules(waste).count() > 0, "{waste:?}");
        for rule in rules(waste) {
            assert!(!rule.rule.is_empty() && !rule.provenance.source.is_empty());
        }
    }
    assert!(rules(Waste::UsedOil).count() >= 4);
    assert!(rules(Waste::BrakeFluid).all(|r| r.rule.contains("used oil")));
}

#[test]
fn the_cautions_named_beside_the_work_exist() {
    use refettle_facts::fluids::{brake_flush, coolant, disposal, oil};
    use refettle_facts::small_parts::circlips;
    let named = [
        &oil::CAUTIONS[..],
        &brake_flush::CAUTIONS,
        &coolant::CAUTIONS,
        &disposal::CAUTIONS,
        &circlips::CAUTIONS,
    ]
    .concat();
    for name in named {
        assert!(refettle_facts::caution::named(name).is_some(), "{name}");
    }
}
