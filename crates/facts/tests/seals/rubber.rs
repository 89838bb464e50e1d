//! Rubber against fluid: the table, and the words where there is no source.

use crate::table::{read, verified};
use refettle_facts::seals::material::{Compound, Rating, SealedFluid, compound_against_fluid};

fn compound(name: &str) -> Compound {
    *Compound::ALL
        .iter()
        .find(|c| c.name() == name)
        .unwrap_or_else(|| panic!("{name}"))
}

fn fluid(name: &str) -> SealedFluid {
    *SealedFluid::ALL
        .iter()
        .find(|f| f.name() == name)
        .unwrap_or_else(|| panic!("{name}"))
}

#[test]
fn every_row_is_found_with_its_rating_and_source() {
    let mut read_somewhere = 0;
    for row in read(include_str!("../data/seals/oring_compound_compatibility.tsv")) {
        let said = compound_against_fluid(compound(row["compound"]), fluid(row["fluid"]));
        let wanted = match row["rating_1_to_4"] {
            "1" => Rating::Suitable,
            "2" => Rating::Usually,
            "3" => Rating::Doubtful,
            _ => Rating::Never,
        };
        assert_eq!(said.rating, Some(wanted), "{row:?}");
        if row["status"].starts_with("from memory") {
            assert!(
                !said.has_source() && said.words.contains("no source"),
                "{}",
                said.words
            );
        } else {
            assert!(
                said.has_source() && said.words.contains(row["source"]),
                "{}",
                said.words
            );
            read_somewhere += 1;
        }
        if verified(&row) {
            assert!(row["source"].contains("49 CFR 571.116"));
        }
    }
    assert!(read_somewhere >= 10, "{read_somewhere}");
}

#[test]
fn what_is_not_listed_has_no_rating_and_says_so() {
    let said = compound_against_fluid(Compound::Sbr, SealedFluid::Coolant);
    assert_eq!((said.rating, said.provenance), (None, None));
    assert!(said.words.contains("no source"), "{}", said.words);
}

/// The pair that takes a brake away: mineral oil on EPDM.
#[test]
fn brake_rubber_in_mineral_oil_is_refused_with_its_caution() {
    let said = compound_against_fluid(Compound::Epdm, SealedFluid::MineralHydraulicOil);
    assert_eq!(said.rating, Some(Rating::Never));
    assert!(
        said.words.contains("only the seal made for the part"),
        "{}",
        said.words
    );
    let oil = compound_against_fluid(Compound::Nbr, SealedFluid::EngineOil);
    assert!(!oil.words.contains("brakes"), "{}", oil.words);
}

#[test]
fn rubbers_and_fluids_are_found_by_common_words() {
    for compound in Compound::ALL {
        assert_eq!(Compound::named(compound.name()), Some(compound));
    }
    for fluid in SealedFluid::ALL {
        assert_eq!(SealedFluid::named(fluid.name()), Some(fluid));
    }
    assert_eq!(Compound::named("Nitrile"), Some(Compound::Nbr));
    assert_eq!(SealedFluid::named("DOT 5.1"), Some(SealedFluid::GlycolBrakeFluid));
    assert_eq!(
        SealedFluid::named("DOT 5"),
        Some(SealedFluid::SiliconeBrakeFluid),
        "never taken for 5.1"
    );
    assert_eq!(
        (Compound::named("leather"), SealedFluid::named("DOT 6")),
        (None, None)
    );
}
