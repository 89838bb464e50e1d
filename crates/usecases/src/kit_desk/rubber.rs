//! The rubber of an O-ring against the fluid it meets, where the sheet says which fluid that is.

use super::fluid::kind_of;
use refettle_facts::published::Standing;
use refettle_facts::seals::material::{Compound, SealedFluid, Suitability, compound_against_fluid};
use refettle_facts::small_part::SmallPart;
use refettle_machine::ix::{CircuitIx, ItemIx, PartIx};
use refettle_machine::model::{Machine, Use};
use std::collections::BTreeSet;

/// The one fluid an item meets: that of the circuits opened by the part it is renewed with, or by the parts off which
/// a step renews it. `None` when there is no such circuit, or when there are several fluids.
#[must_use]
pub fn fluid_met(machine: &Machine, item: ItemIx) -> Option<SealedFluid> {
    let uses = |list: &[Use]| list.iter().any(|u| u.item == item);
    let parts = machine.parts.iter().filter(|p| uses(&p.single_use));
    let mut circuits: BTreeSet<CircuitIx> = parts.flat_map(|p| p.opens.iter().copied()).collect();
    for step in machine.steps.iter().filter(|s| uses(&s.consumes)) {
        let opened = |part: &PartIx| machine.parts.get(part.0).map(|p| p.opens.iter().copied());
        circuits.extend(step.off.iter().filter_map(|need| opened(&need.part)).flatten());
    }
    let fluids: Vec<Option<SealedFluid>> = circuits
        .iter()
        .filter_map(|c| machine.circuits.get(c.0))
        .map(|c| sealed(&c.fluid))
        .collect();
    let (first, others) = fluids.split_first()?;
    others.iter().all(|fluid| fluid == first).then_some(*first)?
}

/// The fluid these words name; `None` for "DOT 4, mineral oil on some": what one of the two needs the other ruins.
fn sealed(fluid: &str) -> Option<SealedFluid> {
    let sealed = kind_of(fluid)?.sealed()?;
    let either = sealed == SealedFluid::GlycolBrakeFluid && fluid.to_lowercase().contains("mineral");
    (!either).then_some(sealed)
}

/// How the rubber of this ring stands up to the fluid; `None` for another part, or a rubber that is not listed.
#[must_use]
pub fn rubber(part: &SmallPart, fluid: SealedFluid) -> Option<Suitability> {
    if part.kind != "o-ring" {
        return None;
    }
    let compound = Compound::named(part.material.as_deref()?)?;
    Some(compound_against_fluid(compound, fluid))
}

/// `FKM in petrol (E0-E10): suitable`, and where from in few words.
#[must_use]
pub fn words(part: &SmallPart, fluid: SealedFluid) -> Option<String> {
    let found = rubber(part, fluid)?;
    let compound = Compound::named(part.material.as_deref()?)?.name();
    let rating = found
        .rating
        .map_or("not listed: ask the seal's maker", |rating| rating.words());
    let standing = match found.provenance.map(|provenance| provenance.standing()) {
        Some(Standing::FromMemory) => " (from memory, no source)",
        Some(Standing::Secondary) => " (second-hand)",
        _ => "",
    };
    Some(format!("{compound} in {}: {rating}{standing}", fluid.name()))
}
