//! Coolant, brake fluid, oil, disposal.

use super::{Answer, CELSIUS, Field, Group, Kind, LENGTH, LITRES, Question, SHARE, Typed, VOLUME, words};
use refettle_facts::fluids::brake_fluid::BrakeFluid;
use refettle_usecases::fit_desk::{
    OnScreen as _, brake_fluid, brake_flush, brake_mix, coolant, dispose, oil,
};

pub(super) const GROUP: Group = Group {
    title: "Fluids",
    questions: &QUESTIONS,
};

const GLYCOL: &[&str] = &["%vol", "%mass"];

const QUESTIONS: [Question; 6] = [
    Question::new(
        "brake-fluid",
        "When does this brake fluid boil, and what must it never meet?",
        "what the reservoir's cap says",
        &[Field::must(
            "fluid",
            "The fluid",
            Kind::OneOf(brake_fluids),
            "DOT 4",
        )],
        brake_fluid_answer,
    ),
    Question::new(
        "brake-flush",
        "How much fresh fluid does a flush take?",
        "what reservoir, lines and calipers hold",
        &[
            Field::must(
                "reservoir",
                "Reservoir up to its mark",
                Kind::Number(VOLUME),
                "40",
            ),
            Field::must("caliper", "All calipers", Kind::Number(VOLUME), "25"),
            Field::may("line", "All lines", Kind::Number(VOLUME), "15"),
            Field::may(
                "line-bore",
                "Or inside diameter of the line",
                Kind::Number(LENGTH),
                "3.2",
            ),
            Field::may(
                "line-length",
                "and its length",
                Kind::Number(&["m", "mm", "ft"]),
                "1.4",
            ),
            Field::seldom("target", "Share of new fluid wanted", Kind::Number(SHARE), "95"),
            Field::seldom(
                "first",
                "Reservoir first",
                Kind::OneOf(|| words(&["emptied", "left-full"])),
                "emptied",
            ),
            Field::seldom(
                "master-bore",
                "Bore of the master cylinder",
                Kind::Number(LENGTH),
                "14",
            ),
            Field::seldom("stroke", "and its stroke", Kind::Number(LENGTH), "15"),
        ],
        brake_flush_answer,
    ),
    Question::new(
        "brake-mix",
        "May these two brake fluids be mixed?",
        "both names",
        &[
            Field::must("one fluid", "One", Kind::OneOf(brake_fluids), "DOT 4"),
            Field::must("other fluid", "The other", Kind::OneOf(brake_fluids), "DOT 5.1"),
        ],
        brake_mix_answer,
    ),
    Question::new(
        "coolant",
        "At what cold does the coolant freeze?",
        "its share of glycol, or the cold it must stand",
        &[
            Field::may("glycol", "Ethylene glycol in it", Kind::Number(GLYCOL), "50"),
            Field::may(
                "coldest",
                "Or the cold it must stand",
                Kind::Number(CELSIUS),
                "-20",
            ),
            Field::may("wanted", "Share it should come to", Kind::Number(GLYCOL), "50"),
            Field::may("system", "What the system holds", Kind::Number(LITRES), "2"),
        ],
        coolant_answer,
    ),
    Question::new(
        "oil",
        "How much old oil does a change leave?",
        "the maker's two quantities",
        &[
            Field::must("dry", "For a dry engine", Kind::Number(LITRES), "3.2"),
            Field::must("refill", "After draining", Kind::Number(LITRES), "2.4"),
            Field::may("at-most", "Old oil to be left at most", Kind::Number(SHARE), "5"),
        ],
        oil_answer,
    ),
    Question::new(
        "dispose",
        "Where does this go?",
        "what came out",
        &[Field::must(
            "what",
            "What",
            Kind::OneOf(|| words(&["used-oil", "coolant", "petrol", "brake-fluid", "battery"])),
            "used-oil",
        )],
        dispose_answer,
    ),
];

fn brake_fluids() -> Vec<String> {
    let short = |fluid: BrakeFluid| fluid.name().split(" (").next().unwrap_or_default().to_owned();
    BrakeFluid::ALL.map(short).to_vec()
}

fn brake_fluid_answer(t: &Typed<'_>) -> Answer {
    brake_fluid::answer(&brake_fluid::BrakeFluidRequest {
        fluid: t.must("fluid"),
    })
    .map(|view| view.screen())
}

fn brake_flush_answer(t: &Typed<'_>) -> Answer {
    brake_flush::answer(&brake_flush::BrakeFlushRequest {
        reservoir: t.must("reservoir"),
        line: t.given("line"),
        line_bore: t.given("line-bore"),
        line_length: t.given("line-length"),
        caliper: t.must("caliper"),
        target: t.given("target").unwrap_or_else(|| "95%".to_owned()),
        first: t.given("first"),
        master_bore: t.given("master-bore"),
        stroke: t.given("stroke"),
    })
    .map(|view| view.screen())
}

fn brake_mix_answer(t: &Typed<'_>) -> Answer {
    brake_mix::answer(&brake_mix::BrakeMixRequest {
        one: t.must("one fluid"),
        other: t.must("other fluid"),
    })
    .map(|view| view.screen())
}

fn coolant_answer(t: &Typed<'_>) -> Answer {
    coolant::answer(&coolant::CoolantRequest {
        glycol: t.given("glycol"),
        coldest: t.given("coldest"),
        wanted: t.given("wanted"),
        system: t.given("system"),
    })
    .map(|view| view.screen())
}

fn oil_answer(t: &Typed<'_>) -> Answer {
    oil::answer(&oil::OilRequest {
        dry: t.must("dry"),
        refill: t.must("refill"),
        at_most: t.given("at-most"),
    })
    .map(|view| view.screen())
}

fn dispose_answer(t: &Typed<'_>) -> Answer {
    dispose::answer(&dispose::DisposeRequest { what: t.must("what") }).map(|view| view.screen())
}
