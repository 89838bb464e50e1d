//! Chain, gearing, instruments, tyres, wear limits; and the frame number.

use super::{Answer, BARE, Field, Group, Kind, LENGTH, Question, SHARE, Typed, words};
use refettle_facts::running_gear::{chain as chains, wear_limits};
use refettle_usecases::fit_desk::{OnScreen as _, cable_drive, chain, gearing, speedo, tyre, vin, wear};

pub(super) const GROUP: Group = Group {
    title: "Running gear",
    questions: &QUESTIONS,
};

pub(super) const IDENTITY: Group = Group {
    title: "Identity",
    questions: &[Question::new(
        "vin",
        "What does this frame number say?",
        "the number as stamped",
        &[
            Field::must(
                "frame number",
                "Frame number, as stamped",
                Kind::Words,
                "11111111111111111",
            ),
            Field::seldom(
                "vehicle",
                "Kind of vehicle",
                Kind::OneOf(|| words(&["motorcycle", "car", "unknown"])),
                "motorcycle",
            ),
        ],
        vin_answer,
    )],
};

const QUESTIONS: [Question; 6] = [
    Question::new(
        "chain",
        "Is this chain done?",
        "its length over twenty pitches or so, pulled straight",
        &[
            Field::must("size", "Size", Kind::OneOf(chain_sizes), "520"),
            Field::must(
                "pitches",
                "Pitches measured over: one less than the pins",
                Kind::Number(BARE),
                "20",
            ),
            Field::may("length", "Pin centre to pin centre", Kind::Number(LENGTH), "323"),
            Field::may(
                "inside",
                "Or inside the end rollers",
                Kind::Number(LENGTH),
                "312.8",
            ),
            Field::may(
                "outside",
                "and outside the end rollers",
                Kind::Number(LENGTH),
                "333.2",
            ),
            Field::seldom("teeth", "Teeth of the large sprocket", Kind::Number(BARE), "45"),
            Field::seldom("limit", "The manual's limit", Kind::Number(SHARE), "2"),
        ],
        chain_answer,
    ),
    Question::new(
        "gearing",
        "What would other sprockets do?",
        "teeth in front and behind; for road speed also gear, tyre and revs",
        &[
            Field::may("sprockets", "Teeth, front/rear", Kind::Words, "16/45"),
            Field::may("instead-of", "Instead of", Kind::Words, "15/45"),
            Field::may("links", "Links of the chain", Kind::Number(BARE), "110"),
            Field::seldom("final", "Final reduction of a shaft or belt", Kind::Words, "2.83"),
            Field::seldom("primary", "Primary reduction", Kind::Words, "1.74 or 73/42"),
            Field::seldom("gear", "Reduction of the gear engaged", Kind::Words, "1.0"),
            Field::seldom("tyre", "Size of the driven tyre", Kind::Words, "120/70-17"),
            Field::seldom(
                "rolling",
                "Or its rolling circumference, measured",
                Kind::Number(LENGTH),
                "1950",
            ),
            Field::seldom("revs", "Engine speed", Kind::Number(&["rpm"]), "5000"),
        ],
        gearing_answer,
    ),
    Question::new(
        "speedo",
        "Does the speedometer lie?",
        "true speeds, by satellite or stopwatch, beside what it shows",
        &[
            Field::must(
                "pair",
                "True:shown, a blank between pairs",
                Kind::Numbers(&["km/h", "mph"]),
                "50:54 100:107",
            ),
            Field::may(
                "category",
                "Vehicle category",
                Kind::OneOf(|| words(&["L1", "L2", "L3", "L4", "L5", "M", "N"])),
                "L3",
            ),
        ],
        speedo_answer,
    ),
    Question::new(
        "cable-drive",
        "The speedometer stands still: cable, drive or instrument?",
        "what works and what does not",
        &[
            Field::may("works", "What works", Kind::AnyOf(signs), ""),
            Field::may("fails", "What does not", Kind::AnyOf(signs), ""),
        ],
        cable_drive_answer,
    ),
    Question::new(
        "tyre",
        "What does this tyre's side say?",
        "the size as moulded; the date code for its age",
        &[
            Field::must("size", "Size", Kind::Words, "180/55ZR17M/C 73W"),
            Field::may(
                "date",
                "Date code, the last four digits after DOT",
                Kind::Number(BARE),
                "3603",
            ),
            Field::may("instead-of", "The size in the papers", Kind::Words, "120/70-17"),
        ],
        tyre_answer,
    ),
    Question::new(
        "wear",
        "How thin is too thin?",
        "what was measured, and the figure stamped on the part or in the manual",
        &[
            Field::must("item", "What", Kind::OneOf(worn), "pad"),
            Field::may("measured", "The reading", Kind::Number(LENGTH), "1.8"),
            Field::may(
                "limit",
                "Limit stamped on the part or in the manual",
                Kind::Number(LENGTH),
                "4.5",
            ),
            Field::seldom("breadth", "Breadth of the tread", Kind::Number(LENGTH), "120"),
        ],
        wear_answer,
    ),
];

fn chain_sizes() -> Vec<String> {
    chains::sizes().iter().map(|size| size.name.to_owned()).collect()
}

fn worn() -> Vec<String> {
    wear_limits::items()
        .iter()
        .map(|item| item.name.to_owned())
        .collect()
}

fn signs() -> Vec<String> {
    cable_drive::SIGNS
        .iter()
        .map(|(word, _)| (*word).to_owned())
        .collect()
}

fn chain_answer(t: &Typed<'_>) -> Answer {
    chain::answer(&chain::ChainRequest {
        size: t.must("size"),
        pitches: t.must("pitches"),
        length: t.given("length"),
        inside: t.given("inside"),
        outside: t.given("outside"),
        teeth: t.given("teeth"),
        limit: t.given("limit"),
    })
    .map(|view| view.screen())
}

fn gearing_answer(t: &Typed<'_>) -> Answer {
    gearing::answer(&gearing::GearingRequest {
        sprockets: t.given("sprockets"),
        instead_of: t.given("instead-of"),
        links: t.given("links"),
        final_drive: t.given("final"),
        primary: t.given("primary"),
        gear: t.given("gear"),
        tyre: t.given("tyre"),
        rolling: t.given("rolling"),
        revs: t.given("revs"),
    })
    .map(|view| view.screen())
}

fn speedo_answer(t: &Typed<'_>) -> Answer {
    speedo::answer(&speedo::SpeedoRequest {
        pairs: t.each_pair("pair"),
        category: t.given("category"),
    })
    .map(|view| view.screen())
}

fn cable_drive_answer(t: &Typed<'_>) -> Answer {
    cable_drive::answer(&cable_drive::CableDriveRequest {
        works: t.all_ticked("works"),
        fails: t.all_ticked("fails"),
    })
    .map(|view| view.screen())
}

fn tyre_answer(t: &Typed<'_>) -> Answer {
    tyre::answer(&tyre::TyreRequest {
        size: t.must("size"),
        date: t.given("date"),
        instead_of: t.given("instead-of"),
        today: t.today,
    })
    .map(|view| view.screen())
}

fn wear_answer(t: &Typed<'_>) -> Answer {
    wear::answer(&wear::WearRequest {
        item: t.must("item"),
        measured: t.given("measured"),
        limit: t.given("limit"),
        breadth: t.given("breadth"),
    })
    .map(|view| view.screen())
}

fn vin_answer(t: &Typed<'_>) -> Answer {
    vin::answer(&vin::VinRequest {
        text: t.must("frame number"),
        vehicle: t.given("vehicle"),
        today: t.today,
    })
    .map(|view| view.screen())
}
