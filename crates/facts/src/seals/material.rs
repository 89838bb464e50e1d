//! Which rubber lives in which fluid, with the source, or the plain word that there is none.

use crate::published::{Provenance, Standing, rows};

const TABLE: &str = include_str!("../../data/seals/compound_against_fluid.tsv");

/// A rubber compound.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Compound {
    /// Nitrile, the usual black oil ring.
    Nbr,
    /// Fluorocarbon.
    Fkm,
    /// Ethylene propylene, the rubber of glycol brake parts.
    Epdm,
    /// Silicone rubber.
    Vmq,
    /// Styrene butadiene.
    Sbr,
}

impl Compound {
    /// All of them.
    pub const ALL: [Compound; 5] = [
        Compound::Nbr,
        Compound::Fkm,
        Compound::Epdm,
        Compound::Vmq,
        Compound::Sbr,
    ];

    /// The compound of this name, short or common: `NBR`, `nitrile`, `silicone`; `None` for one not listed here.
    #[must_use]
    pub fn named(text: &str) -> Option<Compound> {
        match text.trim().to_ascii_lowercase().as_str() {
            "nbr" | "nitrile" => Some(Compound::Nbr),
            "fkm" | "fluorocarbon" | "fluoroelastomer" | "fpm" => Some(Compound::Fkm),
            "epdm" | "epr" | "epm" => Some(Compound::Epdm),
            "vmq" | "silicone" | "vmq (silicone)" => Some(Compound::Vmq),
            "sbr" => Some(Compound::Sbr),
            _ => None,
        }
    }

    /// Its short name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Compound::Nbr => "NBR",
            Compound::Fkm => "FKM",
            Compound::Epdm => "EPDM",
            Compound::Vmq => "VMQ (silicone)",
            Compound::Sbr => "SBR",
        }
    }
}

/// A fluid a seal meets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SealedFluid {
    /// Engine oil, mineral or synthetic.
    EngineOil,
    /// Petrol with up to 10 % ethanol.
    Petrol,
    /// DOT 3, 4 and 5.1.
    GlycolBrakeFluid,
    /// DOT 5.
    SiliconeBrakeFluid,
    /// Mineral hydraulic oil of some clutches and brakes.
    MineralHydraulicOil,
    /// Ethylene glycol and water.
    Coolant,
    /// Fork oil.
    ForkOil,
    /// Lithium or mineral grease.
    Grease,
}

impl SealedFluid {
    /// All of them.
    pub const ALL: [SealedFluid; 8] = [
        SealedFluid::EngineOil,
        SealedFluid::Petrol,
        SealedFluid::GlycolBrakeFluid,
        SealedFluid::SiliconeBrakeFluid,
        SealedFluid::MineralHydraulicOil,
        SealedFluid::Coolant,
        SealedFluid::ForkOil,
        SealedFluid::Grease,
    ];

    /// The fluid of this name: a word such as `petrol`, `coolant`, `DOT 4`, or the table's own; `None` for one not
    /// listed here.
    #[must_use]
    pub fn named(text: &str) -> Option<SealedFluid> {
        let word = text.trim().to_lowercase().replace(' ', "-");
        match word.as_str() {
            "engine-oil" | "oil" => Some(SealedFluid::EngineOil),
            "petrol" | "fuel" => Some(SealedFluid::Petrol),
            "dot-3" | "dot3" | "dot-4" | "dot4" | "dot-5.1" | "dot5.1" | "glycol-brake-fluid" => {
                Some(SealedFluid::GlycolBrakeFluid)
            }
            "dot-5" | "dot5" | "silicone-brake-fluid" => Some(SealedFluid::SiliconeBrakeFluid),
            "mineral-hydraulic-oil" | "mineral-oil" => Some(SealedFluid::MineralHydraulicOil),
            "coolant" | "antifreeze" => Some(SealedFluid::Coolant),
            "fork-oil" => Some(SealedFluid::ForkOil),
            "grease" => Some(SealedFluid::Grease),
            _ => SealedFluid::ALL
                .into_iter()
                .find(|fluid| fluid.name().eq_ignore_ascii_case(text.trim())),
        }
    }

    /// As the table names it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            SealedFluid::EngineOil => "engine oil (mineral/synthetic)",
            SealedFluid::Petrol => "petrol (E0-E10)",
            SealedFluid::GlycolBrakeFluid => "DOT 3/4/5.1 glycol brake fluid",
            SealedFluid::SiliconeBrakeFluid => "DOT 5 silicone brake fluid",
            SealedFluid::MineralHydraulicOil => "mineral hydraulic oil (clutch/brake type)",
            SealedFluid::Coolant => "coolant (ethylene glycol/water)",
            SealedFluid::ForkOil => "fork oil",
            SealedFluid::Grease => "lithium/mineral grease",
        }
    }

    const fn is_brake_fluid(self) -> bool {
        matches!(
            self,
            SealedFluid::GlycolBrakeFluid
                | SealedFluid::SiliconeBrakeFluid
                | SealedFluid::MineralHydraulicOil
        )
    }
}

/// How a rubber stands up to a fluid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rating {
    /// Suitable.
    Suitable,
    /// Usually suitable, minor effect.
    Usually,
    /// Doubtful.
    Doubtful,
    /// Do not use.
    Never,
}

impl Rating {
    fn from_grade(grade: &str) -> Option<Rating> {
        match grade {
            "1" => Some(Rating::Suitable),
            "2" => Some(Rating::Usually),
            "3" => Some(Rating::Doubtful),
            "4" => Some(Rating::Never),
            _ => None,
        }
    }

    /// The words shown.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Rating::Suitable => "suitable",
            Rating::Usually => "usually suitable, minor effect",
            Rating::Doubtful => "doubtful",
            Rating::Never => "do not use",
        }
    }
}

/// What is known about a rubber in a fluid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Suitability {
    /// The rating; `None` where nothing is listed.
    pub rating: Option<Rating>,
    /// Where it is from; `None` where nothing is listed.
    pub provenance: Option<Provenance>,
    /// The answer in words: rating, source or "no source", and the caution of the fluid.
    pub words: String,
}

impl Suitability {
    /// Was the rating read anywhere, first or second hand?
    #[must_use]
    pub fn has_source(&self) -> bool {
        self.provenance
            .is_some_and(|provenance| provenance.standing() != Standing::FromMemory)
    }
}

/// What is known about this rubber in this fluid.
///
/// A pair that is not listed gets no rating; a pair listed from memory gets its rating with the words "no source".
#[must_use]
pub fn compound_against_fluid(compound: Compound, fluid: SealedFluid) -> Suitability {
    let row = rows(TABLE)
        .find(|row| row.text("compound") == Some(compound.name()) && row.text("fluid") == Some(fluid.name()));
    let rating = row
        .as_ref()
        .and_then(|row| Rating::from_grade(row.text("rating_1_to_4")?));
    let provenance = row.map(|row| row.provenance());
    let mut words = match (rating, provenance) {
        (Some(rating), Some(provenance)) if provenance.standing() == Standing::FromMemory => format!(
            "{} in {}: {}; no source (from memory): ask the seal's maker",
            compound.name(),
            fluid.name(),
            rating.words()
        ),
        (Some(rating), Some(provenance)) => format!(
            "{} in {}: {}; source: {provenance}",
            compound.name(),
            fluid.name(),
            rating.words()
        ),
        _ => format!(
            "{} in {}: no source; ask the seal's maker",
            compound.name(),
            fluid.name()
        ),
    };
    if fluid.is_brake_fluid() {
        words.push_str("; in brakes and clutch hydraulics fit only the seal made for the part");
    }
    Suitability {
        rating,
        provenance,
        words,
    }
}
