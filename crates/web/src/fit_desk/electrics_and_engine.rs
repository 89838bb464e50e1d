//! Battery, charging, voltage drop; compression, floats, balance, shims.

use super::{Answer, BARE, CELSIUS, Field, Group, Kind, LENGTH, Question, Typed, VOLTS, words};
use refettle_facts::electrics::voltage_drop as drops;
use refettle_usecases::fit_desk::{
    OnScreen as _, balance, battery, charging, compression, float_height, shims, voltage_drop,
};

pub(super) const ELECTRICS: Group = Group {
    title: "Electrics",
    questions: &ON_ELECTRICS,
};

pub(super) const ENGINE: Group = Group {
    title: "Engine",
    questions: &ON_THE_ENGINE,
};

const NOMINAL: Field = Field::seldom(
    "nominal",
    "Nominal voltage",
    Kind::OneOf(|| words(&["12V", "6V"])),
    "12V",
);
const VACUUM: &[&str] = &["mmHg", "cmHg", "kPa"];

const ON_ELECTRICS: [Question; 3] = [
    Question::new(
        "battery",
        "How full is the battery?",
        "resting volts and temperature; or the acid's gravity",
        &[
            Field::must(
                "type",
                "Kind",
                Kind::OneOf(|| words(&["flooded", "AGM"])),
                "flooded",
            ),
            Field::must("temp", "Its temperature", Kind::Number(CELSIUS), "15"),
            Field::may("volts", "Resting volts", Kind::Number(VOLTS), "12.3"),
            Field::may("gravity", "Or gravity of the acid", Kind::Number(BARE), "1.190"),
            NOMINAL,
        ],
        battery_answer,
    ),
    Question::new(
        "charging",
        "Does it charge?",
        "volts at the posts with the engine running",
        &[
            Field::must("running", "Engine running", Kind::Number(VOLTS), "13.9"),
            Field::may("resting", "Before starting", Kind::Number(VOLTS), "12.6"),
            NOMINAL,
        ],
        charging_answer,
    ),
    Question::new(
        "voltage-drop",
        "Does this cable or joint lose volts?",
        "volts across it while current flows",
        &[
            Field::must("circuit", "What", Kind::OneOf(circuits), "starter-earth"),
            Field::must(
                "load",
                "The load while it was read",
                Kind::OneOf(|| words(&["on", "off"])),
                "on",
            ),
            Field::may("across", "Volts across it", Kind::Number(VOLTS), "0.15"),
            Field::may(
                "source",
                "Or volts at its source end",
                Kind::Number(VOLTS),
                "11.8",
            ),
            Field::may("at-load", "and at its load end", Kind::Number(VOLTS), "11.1"),
        ],
        voltage_drop_answer,
    ),
];

const ON_THE_ENGINE: [Question; 4] = [
    Question::new(
        "compression",
        "Is the compression even?",
        "a gauge; every cylinder, throttle open",
        &[
            Field::must(
                "read",
                "Readings, cylinder by cylinder",
                Kind::Numbers(&["kPa", "bar", "psi"]),
                "1035 720",
            ),
            Field::may(
                "wet",
                "With oil in, cylinder first",
                Kind::Numbers(&["kPa", "bar", "psi"]),
                "2:900",
            ),
        ],
        compression_answer,
    ),
    Question::new(
        "shims",
        "Which shim on which valve?",
        "clearances and shims found; one statement a line",
        &[Field::must(
            "sheet",
            "The valves",
            Kind::Sheet,
            "wanted intake 0.10mm to 0.15mm, valve left intake clearance 0.05mm shim 2.60mm, drawer 2.55mm x2, buy 2.40mm \
             to 2.80mm step 0.05mm, each on its own line",
        )],
        |t| shims::answer(t.raw("sheet")).map(|view| view.screen()),
    ),
    Question::new(
        "float-height",
        "Are the floats alike?",
        "height of each, carburettor by carburettor",
        &[
            Field::must("height", "Heights", Kind::Numbers(LENGTH), "22.0 22.6"),
            Field::may("wanted", "The manual's height", Kind::Number(LENGTH), "22"),
            Field::may(
                "tolerance",
                "What it allows either way",
                Kind::Number(LENGTH),
                "0.5",
            ),
        ],
        float_height_answer,
    ),
    Question::new(
        "balance",
        "Do the carburettors pull alike?",
        "intake vacuum at idle, cylinder by cylinder",
        &[
            Field::must("vacuum", "Vacuums", Kind::Numbers(VACUUM), "200 206"),
            Field::may(
                "limit",
                "The manual's limit of their spread",
                Kind::Number(VACUUM),
                "20",
            ),
        ],
        balance_answer,
    ),
];

fn circuits() -> Vec<String> {
    drops::limits()
        .iter()
        .map(|limit| limit.circuit.to_owned())
        .collect()
}

fn battery_answer(t: &Typed<'_>) -> Answer {
    battery::answer(&battery::BatteryRequest {
        volts: t.given("volts"),
        gravity: t.given("gravity"),
        temp: t.must("temp"),
        kind: t.must("type"),
        nominal: t.given("nominal"),
    })
    .map(|view| view.screen())
}

fn charging_answer(t: &Typed<'_>) -> Answer {
    charging::answer(&charging::ChargingRequest {
        running: t.must("running"),
        resting: t.given("resting"),
        nominal: t.given("nominal"),
    })
    .map(|view| view.screen())
}

fn voltage_drop_answer(t: &Typed<'_>) -> Answer {
    voltage_drop::answer(&voltage_drop::VoltageDropRequest {
        circuit: t.must("circuit"),
        across: t.given("across"),
        source: t.given("source"),
        at_load: t.given("at-load"),
        load: t.must("load"),
    })
    .map(|view| view.screen())
}

fn compression_answer(t: &Typed<'_>) -> Answer {
    compression::answer(&compression::CompressionRequest {
        reads: t.each("read"),
        wet: t.each("wet"),
    })
    .map(|view| view.screen())
}

fn float_height_answer(t: &Typed<'_>) -> Answer {
    float_height::answer(&float_height::FloatHeightRequest {
        heights: t.each("height"),
        wanted: t.given("wanted"),
        tolerance: t.given("tolerance"),
    })
    .map(|view| view.screen())
}

fn balance_answer(t: &Typed<'_>) -> Answer {
    balance::answer(&balance::BalanceRequest {
        vacuums: t.each("vacuum"),
        limit: t.given("limit"),
    })
    .map(|view| view.screen())
}
