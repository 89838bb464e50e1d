//! The table of values: whole, sourced, and refused with everything that is wrong.

use refettle_judgement::keep::mix::{self, Mix};
use refettle_judgement::worth::values::{OTHERS, SHIPPED, Values};
use refettle_machine::model::ItemUnit;
use refettle_machine::{layouts, sheet};

#[test]
fn the_shipped_table_has_every_job_and_item_of_every_layout() {
    let mut values = Values::default();
    assert_eq!(values.read(SHIPPED), Ok(()));
    for (name, text) in layouts::ALL {
        let machine = sheet::read(text).unwrap();
        for job in &machine.jobs {
            assert!(values.added.contains_key(&job.name), "{name}: {}", job.name);
            assert!(values.risk(&job.name).is_some(), "{name}: {}", job.name);
        }
        for item in &machine.items {
            let price = values.prices.get(&item.name);
            let price = price.unwrap_or_else(|| panic!("{name}: {}", item.name));
            // A fluid or a hose is priced by the bottle or the metre, a piece by the piece.
            assert!(item.unit == ItemUnit::Piece || price.per > 1, "{}", item.name);
        }
    }
    for other in OTHERS {
        assert!(values.others.contains_key(other), "{other}");
    }
    assert!(Mix::shipped().jobs.len() > 30 && Mix::shipped().held_up() > 0.0);
}

#[test]
fn ones_own_rows_take_the_place_of_the_shipped_and_nothing_else() {
    let shipped = Values::shipped();
    let mut own = shipped.clone();
    let text =
        "what\tname\tlow\thigh\tper\tgroup\tsource\nadded\tcarb-clean\t0.1\t0.2\t\tfuel\tmy last four\n";
    assert_eq!(own.read(text), Ok(()));
    assert!((own.added["carb-clean"].figure.middle() - 0.15).abs() < 1e-12);
    own.added
        .insert("carb-clean".into(), shipped.added["carb-clean"].clone());
    assert_eq!(own, shipped);
}

#[test]
fn a_table_that_is_wrong_says_every_line_and_changes_nothing() {
    let mut values = Values::shipped();
    let header = "what\tname\tlow\thigh\tper\tgroup\tsource\n";
    let text = format!(
        "{header}added\tx\t0.2\t0.1\t\t\tme\nadded\ty\t2\t3\t\t\tme\nprice\tz\t1\t2\t0\t\tme\naded\tq\t0\t0\t\t\tme\nadded\tr\t0\tNaN\t\t\tme\nadded\ts\t0\t0\t\t\t\nadded\n"
    );
    let mistakes = values.read(&text).unwrap_err();
    assert_eq!(mistakes.len(), 7, "{mistakes:#?}");
    assert!(mistakes[3].contains("line 5") && mistakes[3].contains("did you mean 'added'?"));
    assert!(values.read("nonsense").is_err() && values.read("").is_err());
    assert_eq!(values, Values::shipped());
}

#[test]
fn own_history_outweighs_the_mix_as_it_grows() {
    // (1 + 4 × 0.5) / (2 + 4) and (50 + 2) / (100 + 4), by hand.
    assert!((mix::rate(0.5, 1.0, 2.0) - 0.5).abs() < 1e-12);
    assert!((mix::rate(0.5, 50.0, 100.0) - 0.5).abs() < 1e-12);
    assert!((mix::rate(0.0, 52.0, 100.0) - 0.5).abs() < 1e-12);
    assert!((mix::rate(0.3, 0.0, 0.0) - 0.3).abs() < 1e-12);
}
