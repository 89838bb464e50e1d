//! Torque, threads, repair, drivers, spanners.

use super::{Answer, BARE, Field, Group, Kind, LENGTH, Question, TORQUE, Typed, words};
use refettle_facts::fasteners::{material, strength};
use refettle_usecases::fit_desk::{OnScreen as _, driver, repair, spanner, thread, torque};

pub(super) const GROUP: Group = Group {
    title: "Fixings",
    questions: &QUESTIONS,
};

const THREAD: Field = Field::must("thread", "Thread", Kind::Words, "M10x1.25 or 5/16-24");
const CLASS: Field = Field::must(
    "class",
    "Class on the screw's head",
    Kind::OneOf(|| words(&strength::classes())),
    "8.8",
);
const FRICTION: Field = Field::may(
    "friction",
    "How the thread is",
    Kind::OneOf(conditions),
    "as-received",
);
const HEAD: Field = Field::seldom(
    "head",
    "Head",
    Kind::OneOf(|| words(&["hex", "flange", "socket"])),
    "hex",
);
const CRITICAL: Field = Field::may(
    "critical",
    "Its failure can hurt: brakes, steering, wheels, frame",
    Kind::Tick,
    "",
);

const QUESTIONS: [Question; 5] = [
    Question::new(
        "torque",
        "How tight?",
        "thread and class; what limits it, and what to set on the wrench",
        &[
            THREAD,
            CLASS,
            FRICTION,
            CRITICAL,
            Field::may(
                "into",
                "Metal of the tapped hole, if not a steel nut",
                Kind::OneOf(metals),
                "cast-aluminium",
            ),
            Field::may("engaged", "Thread engaged in it", Kind::Number(LENGTH), "12"),
            Field::may(
                "maker",
                "The maker's figure, to check it",
                Kind::Number(TORQUE),
                "45",
            ),
            HEAD,
            Field::seldom(
                "coefficient",
                "Friction measured, instead of how it is",
                Kind::Number(BARE),
                "0.12",
            ),
            Field::seldom(
                "head-friction",
                "Friction under the head, if another",
                Kind::Words,
                "0.10",
            ),
            Field::seldom(
                "face",
                "Outside of the bearing face, measured",
                Kind::Number(LENGTH),
                "14.6",
            ),
            Field::seldom("hole", "Clearance hole, measured", Kind::Number(LENGTH), "11"),
            Field::seldom(
                "clamped",
                "Metal under the head",
                Kind::OneOf(metals),
                "cast-aluminium",
            ),
            Field::seldom(
                "drag",
                "A lock nut's drag, running free",
                Kind::Number(TORQUE),
                "3",
            ),
            Field::seldom(
                "extension",
                "Extension from square to nut",
                Kind::Number(LENGTH),
                "100",
            ),
            Field::seldom("angle", "Angle of the extension", Kind::Number(&["°"]), "90"),
            Field::seldom(
                "wrench",
                "Wrench from square to mid-grip",
                Kind::Number(LENGTH),
                "250",
            ),
        ],
        torque_answer,
    ),
    Question::new(
        "thread",
        "What thread is this?",
        "a caliper over the crests, and a pitch gauge",
        &[
            Field::must("od", "Outside diameter", Kind::Number(LENGTH), "9.9"),
            Field::may("pitch", "Pitch", Kind::Number(LENGTH), "1.25"),
            Field::may("tpi", "Or threads in an inch", Kind::Number(BARE), "24"),
            Field::may(
                "origin",
                "The machine's threads",
                Kind::OneOf(|| words(&["metric", "inch", "unknown"])),
                "metric",
            ),
            Field::seldom("named", "A thread it is said to be", Kind::Words, "M10x1.25"),
            Field::seldom("od-error", "Spread of the reading", Kind::Number(LENGTH), "0.05"),
            Field::seldom("wear", "Wear at most", Kind::Number(LENGTH), "0.1"),
            Field::seldom("plating", "Plating at most", Kind::Number(LENGTH), "0.016"),
        ],
        thread_answer,
    ),
    Question::new(
        "repair",
        "The thread is stripped: what now?",
        "thread, depths of the hole, and what it is drilled in",
        &[
            THREAD,
            CLASS,
            FRICTION,
            CRITICAL,
            Field::must("into", "Metal of the part", Kind::OneOf(metals), "cast-aluminium"),
            Field::must(
                "reach",
                "How far the present screw reaches in",
                Kind::Number(LENGTH),
                "12",
            ),
            Field::must(
                "threaded",
                "Depth of the thread in the hole",
                Kind::Number(LENGTH),
                "24",
            ),
            Field::must(
                "drillable",
                "Depth before a drill breaks through",
                Kind::Number(LENGTH),
                "30",
            ),
            Field::may(
                "stripped",
                "Depth over which it is gone",
                Kind::Number(LENGTH),
                "8",
            ),
            Field::seldom("boss", "Outside of the boss", Kind::Number(LENGTH), "18"),
            HEAD,
        ],
        repair_answer,
    ),
    Question::new(
        "driver",
        "Which driver for a cross-head screw?",
        "its thread, or the width of the recess",
        &[
            Field::may("thread", "Thread of the screw", Kind::Words, "M5"),
            Field::may(
                "width",
                "Or width across the wings at the bottom",
                Kind::Number(LENGTH),
                "2.3",
            ),
        ],
        driver_answer,
    ),
    Question::new(
        "spanner",
        "Which thread has a head of this size?",
        "across the flats",
        &[Field::must("size", "Across flats", Kind::Number(LENGTH), "12")],
        spanner_answer,
    ),
];

/// Conditions of a thread, as the friction table names them.
fn conditions() -> Vec<String> {
    words(&["as-received", "oiled", "anti-seize", "threadlocked", "dry"])
}

fn metals() -> Vec<String> {
    material::all().map(|metal| metal.name).collect()
}

fn friction(typed: &Typed<'_>) -> String {
    let given = typed.given("coefficient").or_else(|| typed.given("friction"));
    given.unwrap_or_else(|| "as-received".to_owned())
}

fn torque_answer(t: &Typed<'_>) -> Answer {
    torque::answer(&torque::TorqueRequest {
        thread: t.must("thread"),
        class: t.must("class"),
        friction: friction(t),
        head: t.given("head"),
        critical: t.ticked("critical"),
        head_friction: t.given("head-friction"),
        face: t.given("face"),
        hole: t.given("hole"),
        into: t.given("into"),
        engaged: t.given("engaged"),
        clamped: t.given("clamped"),
        drag: t.given("drag"),
        extension: t.given("extension"),
        angle: t.given("angle"),
        wrench: t.given("wrench"),
        maker: t.given("maker"),
    })
    .map(|view| view.screen())
}

fn thread_answer(t: &Typed<'_>) -> Answer {
    thread::answer(&thread::ThreadRequest {
        od: t.must("od"),
        pitch: t.given("pitch"),
        tpi: t.given("tpi"),
        od_error: t.given("od-error"),
        wear: t.given("wear"),
        plating: t.given("plating"),
        origin: t.given("origin"),
        named: t.given("named"),
    })
    .map(|view| view.screen())
}

fn repair_answer(t: &Typed<'_>) -> Answer {
    repair::answer(&repair::RepairRequest {
        thread: t.must("thread"),
        class: t.must("class"),
        friction: friction(t),
        head: t.given("head"),
        critical: t.ticked("critical"),
        into: t.must("into"),
        reach: t.must("reach"),
        threaded: t.must("threaded"),
        stripped: t.given("stripped"),
        drillable: t.must("drillable"),
        boss: t.given("boss"),
    })
    .map(|view| view.screen())
}

fn driver_answer(t: &Typed<'_>) -> Answer {
    driver::answer(&driver::DriverRequest {
        thread: t.given("thread"),
        width: t.given("width"),
    })
    .map(|view| view.screen())
}

fn spanner_answer(t: &Typed<'_>) -> Answer {
    spanner::answer(&spanner::SpannerRequest { size: t.must("size") }).map(|view| view.screen())
}
