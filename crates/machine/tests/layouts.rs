//! The layouts shipped with the tool are sound.

use refettle_machine::{layouts, sheet};

#[test]
fn every_shipped_layout_is_sound_and_bears_its_name() {
    for (name, text) in layouts::ALL {
        match sheet::read(text) {
            Ok(machine) => assert_eq!(machine.name, *name),
            Err(mistakes) => panic!("{name}:\n{mistakes}"),
        }
    }
}

#[test]
fn the_tiny_trainer_has_twelve_parts_and_is_found_by_name() {
    let machine = sheet::read(layouts::named("tiny-trainer").unwrap()).unwrap();
    assert_eq!(machine.parts.len(), 12);
    assert_eq!(machine.stances[0].name, "side-stand");
    assert_eq!(layouts::named("tiny"), None);
}
