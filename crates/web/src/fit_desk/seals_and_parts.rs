//! O-rings and small parts.

use super::{Answer, BARE, Field, Group, Kind, LENGTH, Question, Typed, words};
use maud::Markup;
use refettle_facts::seals::material::{Compound, SealedFluid};
use refettle_pictures::seal_fit;
use refettle_usecases::fit_desk::{OnScreen as _, old_ring, part, ring};

pub(super) const GROUP: Group = Group {
    title: "Seals and small parts",
    questions: &QUESTIONS,
};

const QUESTIONS: [Question; 3] = [
    Question {
        name: "ring",
        asks: "Will this ring do?",
        needs: "the ring, and the groove it goes in",
        fields: &[
            Field::must("id", "Ring: inside diameter", Kind::Number(LENGTH), "24.99"),
            Field::must("section", "Ring: section", Kind::Number(LENGTH), "3.53"),
            Field::must("width", "Groove: width", Kind::Number(LENGTH), "4.57"),
            Field::may(
                "groove",
                "Groove: diameter of its floor",
                Kind::Number(LENGTH),
                "25.50",
            ),
            Field::may(
                "bore",
                "With it: bore around the ring",
                Kind::Number(LENGTH),
                "31.24",
            ),
            Field::may("rod", "Or: rod through the ring", Kind::Number(LENGTH), "25"),
            Field::may(
                "depth",
                "Or a groove in a face: its depth, gap included",
                Kind::Number(LENGTH),
                "2.79",
            ),
            Field::may("moving", "The parts slide on the ring", Kind::Tick, ""),
            Field::may(
                "rubber",
                "Rubber",
                Kind::OneOf(|| words(&Compound::ALL.map(Compound::name))),
                "NBR",
            ),
            Field::may(
                "fluid",
                "Fluid it meets",
                Kind::OneOf(|| words(&SealedFluid::ALL.map(SealedFluid::name))),
                "petrol",
            ),
            Field::seldom(
                "held-on",
                "Face groove: inner wall the ring is held on",
                Kind::Number(LENGTH),
                "24",
            ),
            Field::seldom(
                "doubt",
                "How far a reading may be out",
                Kind::Number(LENGTH),
                "0.03",
            ),
        ],
        answer: |t| ring::answer(&asked_ring(t)).map(|view| view.screen()),
        picture: Some(ring_picture),
    },
    Question::new(
        "old-ring",
        "What size was this flat old ring?",
        "a caliper; the ring lying free",
        &[
            Field::must("id", "Inside diameter", Kind::Number(LENGTH), "9.9"),
            Field::must(
                "thin",
                "Section where it is thinnest",
                Kind::Number(LENGTH),
                "2.2",
            ),
            Field::may("wide", "Section across that", Kind::Number(LENGTH), "2.5"),
        ],
        old_ring_answer,
    ),
    Question::new(
        "part",
        "Which washer, clip, pin, bearing or bulb is this?",
        "its name, or what a caliper says; and what might stand in",
        &[
            Field::must("kind", "What it is", Kind::OneOf(kinds), "washer"),
            Field::may(
                "name",
                "Its name, if it has one",
                Kind::Words,
                "14x20x1.5, 6302-2RS or P21/5W",
            ),
            Field::may("inside", "Inside diameter or bore", Kind::Number(LENGTH), "14"),
            Field::may("outside", "Outside diameter", Kind::Number(LENGTH), "20"),
            Field::may("thickness", "Thickness or width", Kind::Number(LENGTH), "1.5"),
            Field::may(
                "diameter",
                "Shaft, bore or hole it is for",
                Kind::Number(LENGTH),
                "20",
            ),
            Field::may("thread", "Thread it goes with", Kind::Words, "M12"),
            Field::seldom("eyes", "Hose eyes on one banjo bolt", Kind::Number(BARE), "2"),
            Field::seldom(
                "free",
                "A loose clip's free diameter",
                Kind::Number(LENGTH),
                "18.5",
            ),
            Field::seldom("groove", "A clip's groove floor", Kind::Number(LENGTH), "19"),
            Field::seldom("pitch", "A chain's pitch", Kind::Number(LENGTH), "15.875"),
            Field::seldom("roller", "A chain's roller", Kind::Number(LENGTH), "10.16"),
            Field::seldom("cap", "A bulb's cap", Kind::Words, "BAY15d"),
            Field::seldom("watts", "A bulb's watts", Kind::Words, "21/5"),
        ],
        part_answer,
    ),
];

fn kinds() -> Vec<String> {
    part::kinds().map(str::to_owned).collect()
}

fn asked_ring(t: &Typed<'_>) -> ring::RingRequest {
    ring::RingRequest {
        id: t.must("id"),
        section: t.must("section"),
        groove: t.given("groove"),
        bore: t.given("bore"),
        rod: t.given("rod"),
        depth: t.given("depth"),
        held_on: t.given("held-on"),
        width: t.must("width"),
        doubt: t.given("doubt"),
        moving: t.ticked("moving"),
        rubber: t.given("rubber"),
        fluid: t.given("fluid"),
    }
}

fn ring_picture(t: &Typed<'_>) -> Option<Markup> {
    let (fit, width) = ring::section(&asked_ring(t)).ok()?;
    Some(seal_fit::section(&fit, width))
}

fn old_ring_answer(t: &Typed<'_>) -> Answer {
    old_ring::answer(&old_ring::OldRingRequest {
        id: t.must("id"),
        thin: t.must("thin"),
        wide: t.given("wide"),
    })
    .map(|view| view.screen())
}

fn part_answer(t: &Typed<'_>) -> Answer {
    part::answer(&part::PartRequest {
        kind: t.must("kind"),
        name: t.given("name"),
        inside: t.given("inside"),
        outside: t.given("outside"),
        thickness: t.given("thickness"),
        diameter: t.given("diameter"),
        groove: t.given("groove"),
        free: t.given("free"),
        thread: t.given("thread"),
        eyes: t.given("eyes"),
        pitch: t.given("pitch"),
        roller: t.given("roller"),
        cap: t.given("cap"),
        watts: t.given("watts"),
    })
    .map(|view| view.screen())
}
