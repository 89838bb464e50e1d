//! What the second part of the golden log says, in types: the kinds of a bike's book and of the garage.

use refettle_facts::ids::{BikeId, CircuitId, EntryId, FixingId, JobId, PartId, StepId};
use refettle_facts::small_part::{Micrometres, SmallPart};
use refettle_facts::sourced::Source;
use refettle_memory::PersonalId;
use refettle_memory::entry::{
    About, Amount, AskingPriceSet, BagEmptied, BagFilled, BagLine, BegunAnyway, BikeArrived, BikeDescribed,
    BikeGone, BikeSold, CatalogueId, CheckAnswered, ComparableDropped, ComparableNoted, Currency, Day,
    DistanceRead, DrawerSet, DueDateSet, DueKind, Entry, FileHash, FindingNoted, FindingSettled, FixingNoted,
    FixingRechecked, FixingWord, GoneWhy, LeavesWord, LevelHeld, Measured, MeasurementNoted, MoneyKind,
    MoneyMoved, MoneyWay, Number, OfferBy, OfferMade, OrderArrived, OrderCancelled, OrderDueChanged,
    OrderLine, OrderPlaced, PaperIssued, PaperIssuedKind, PaperKind, PaperSeen, PhotoAdded, PhotoRemoved,
    PlateKind, PlateNumber, PriceKind, Reading, RoadCheckAnswered, RunsWord, SettingNoted, SettingsSet,
    SettledWord, SheetCorrected, ShortcutCleared, ShortcutDueLater, ShortcutKind, ShortcutTaken, Thing,
    TimeKind, TimeSpent, TimerCorrected, TimerStarted, TimerStopped, TroubleKind, TroubleMet,
    TroubleOptionChosen, TroubleSolved, UnitsWord, Words,
};
use serde_json::json;

fn w(text: &str) -> Words {
    Words::new(text).unwrap()
}

fn note(text: &str) -> Option<Words> {
    Some(w(text))
}

fn c(text: &str) -> CatalogueId {
    CatalogueId::new(text).unwrap()
}

fn e(text: &str) -> EntryId {
    EntryId::new(text).unwrap()
}

fn day(text: &str) -> Day {
    Day::new(text).unwrap()
}

fn euro() -> Currency {
    Currency::new("EUR").unwrap()
}

fn eur(minor: i64) -> Amount {
    Amount::new(minor, euro()).unwrap()
}

fn reading(value: &str, unit: &str) -> Reading {
    Reading {
        value: Number::new(value).unwrap(),
        unit: unit.into(),
    }
}

fn measured(what: &str, value: &str, unit: &str) -> Measured {
    Measured {
        what: what.into(),
        value: Number::new(value).unwrap(),
        unit: unit.into(),
    }
}

fn part(id: &str) -> PartId {
    PartId::new(id).unwrap()
}

fn axle() -> FixingId {
    FixingId::new("axle-nut").unwrap()
}

fn person(id: &str) -> PersonalId {
    PersonalId::new(id).unwrap()
}

/// SHA-256 of the letters "abc", FIPS 180-4.
fn abc() -> FileHash {
    FileHash::new("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad").unwrap()
}

fn line(count: u16, what: &str) -> BagLine {
    BagLine { count, what: w(what) }
}

/// Entries of bike `b1`.
pub fn of_the_bike() -> Vec<Entry> {
    let mut all = arrival();
    all.extend(noted());
    all.extend(tally());
    all.extend(surprises());
    all.extend(leaving());
    all
}

fn arrival() -> Vec<Entry> {
    let seller = || Some(person("ffeeddccbbaa99887766554433221100"));
    vec![
        Entry::BikeDescribed(BikeDescribed {
            title: note("The blue twin"),
            year: Some(1994),
            distance: Some(DistanceRead {
                reading: reading("48213", "km"),
                on: day("2031-05-01"),
            }),
            runs: Some(RunsWord::NotKnown),
            stood_months: Some(30),
            numbers: vec![PlateNumber {
                plate: PlateKind::Frame,
                text: person("00112233445566778899aabbccddeeff"),
            }],
            seller: seller(),
        }),
        Entry::BikeDescribed(BikeDescribed {
            runs: Some(RunsWord::Dead),
            ..BikeDescribed::default()
        }),
        Entry::PaperSeen(PaperSeen {
            paper: PaperKind::TheftCheck,
            good: true,
            on: day("2031-05-02"),
            at: note("the register's page"),
            note: note("nothing known"),
        }),
        Entry::DueDateSet(DueDateSet {
            due: DueKind::Arrives,
            on: Some(day("2031-05-09")),
            note: note("in the evening"),
        }),
        Entry::DueDateSet(DueDateSet {
            due: DueKind::Ready,
            on: None,
            note: None,
        }),
        Entry::BikeArrived(BikeArrived {
            note: note("in a van"),
        }),
        Entry::OfferMade(OfferMade {
            by: OfferBy::Us,
            price: eur(45_000),
            on: day("2031-05-01"),
            person: seller(),
            note: note("as seen"),
        }),
        Entry::AskingPriceSet(AskingPriceSet { price: eur(129_000) }),
        Entry::SheetCorrected(SheetCorrected {
            path: w("critical.axle-nut.torque"),
            value: Some(json!("88 N·m")),
            source: Source::Manual,
            from: w("page 12"),
        }),
    ]
}

fn noted() -> Vec<Entry> {
    vec![
        Entry::FindingNoted(FindingNoted {
            about: About::Region {
                region: "fork".into(),
            },
            symptom: Some(c("fork.weeps")),
            note: note("left leg"),
            measured: vec![measured("film", "2", "mm")],
        }),
        Entry::FindingNoted(FindingNoted {
            about: About::Bike {},
            symptom: None,
            note: None,
            measured: vec![],
        }),
        Entry::FindingSettled(FindingSettled {
            finding: e("b011"),
            how: SettledWord::NotSo,
            note: note("looked twice"),
        }),
        Entry::CheckAnswered(CheckAnswered {
            finding: Some(e("b010")),
            symptom: Some(c("fork.weeps")),
            check: c("fork.wipe-and-ride"),
            outcome: c("wet-again"),
            note: note("after a mile"),
        }),
        Entry::FixingNoted(FixingNoted {
            about: About::Fixings {
                part: part("side-cover-l"),
                group: 0,
            },
            state: FixingWord::Missing,
            count: Some(1),
            note: note("front one"),
        }),
        Entry::FixingNoted(FixingNoted {
            about: About::Fixing { fixing: axle() },
            state: FixingWord::Damaged,
            count: None,
            note: None,
        }),
        Entry::SettingNoted(SettingNoted {
            part: part("carburettors"),
            what: w("mixture screw, left"),
            value: w("2 1/2 turns out"),
        }),
        Entry::MeasurementNoted(MeasurementNoted {
            what: w("tread depth"),
            reading: reading("1.9", "mm"),
            about: Some(About::Part {
                part: part("front-wheel"),
            }),
            limit: Some(c("tyre.tread")),
            note: note("in the middle"),
        }),
        Entry::BagFilled(BagFilled {
            bag: 3,
            part: Some(part("tank")),
            lines: vec![line(2, "M6 x 25")],
            place: note("shelf, left"),
        }),
        Entry::BagEmptied(BagEmptied {
            bag: 3,
            over: vec![line(1, "M6 x 25")],
            missing: vec![line(1, "washer 6")],
            note: note("from the cover?"),
        }),
        Entry::PhotoAdded(PhotoAdded {
            photo: abc(),
            about: About::Bag { bag: 3 },
            caption: note("hose run"),
        }),
        Entry::PhotoRemoved(PhotoRemoved { photo: abc() }),
    ]
}

fn tally() -> Vec<Entry> {
    vec![
        Entry::TimerStarted(TimerStarted {
            about: Some(About::Job {
                job: JobId::new("oil-change").unwrap(),
            }),
            card: Some("a8".into()),
        }),
        Entry::TimerStopped(TimerStopped { timer: e("b022") }),
        Entry::TimerCorrected(TimerCorrected {
            timer: e("b022"),
            minutes: 35,
            note: note("dinner"),
        }),
        Entry::TimeSpent(TimeSpent {
            on: TimeKind::Driving,
            minutes: 90,
            day: Some(day("2031-05-01")),
            note: note("fetched it"),
        }),
        Entry::MoneyMoved(MoneyMoved {
            way: MoneyWay::Out,
            of: MoneyKind::Bike,
            amount: eur(45_000),
            day: Some(day("2031-05-01")),
            order: None,
            note: note("cash"),
        }),
        Entry::MoneyMoved(MoneyMoved {
            way: MoneyWay::Out,
            of: MoneyKind::Parts,
            amount: eur(0),
            day: None,
            order: Some(e("d002")),
            note: None,
        }),
    ]
}

fn surprises() -> Vec<Entry> {
    vec![
        Entry::ShortcutTaken(ShortcutTaken {
            shortcut: ShortcutKind::SealReused,
            about: About::Circuit {
                circuit: CircuitId::new("oil").unwrap(),
            },
            card: Some("a9".into()),
            note: note("drain washer"),
        }),
        Entry::ShortcutCleared(ShortcutCleared {
            shortcut: e("b028"),
            note: note("dry after the ride"),
            measured: vec![measured("drips", "0", "")],
        }),
        Entry::ShortcutDueLater(ShortcutDueLater {
            shortcut: e("bf0c"),
            when: w("at the next oil change"),
            on: Some(day("2032-05-01")),
        }),
        Entry::TroubleMet(TroubleMet {
            trouble: TroubleKind::Snapped,
            about: About::Step {
                step: StepId::new("drain-oil").unwrap(),
            },
            card: Some("b7".into()),
            note: note("flush with the case"),
        }),
        Entry::TroubleOptionChosen(TroubleOptionChosen {
            trouble: e("b031"),
            option: c("snapped/drill-and-insert"),
            note: note("tomorrow"),
        }),
        Entry::TroubleSolved(TroubleSolved {
            trouble: e("b031"),
            note: note("insert in"),
        }),
    ]
}

fn leaving() -> Vec<Entry> {
    vec![
        Entry::RoadCheckAnswered(RoadCheckAnswered {
            item: c("brake.front.lever"),
            stage: c("static"),
            measured: Some(reading("25", "mm")),
            limit: None,
            seen: note("firm"),
            passes: true,
        }),
        Entry::FixingRechecked(FixingRechecked {
            fixing: axle(),
            moved: true,
            torque: Some(reading("88", "N·m")),
            note: note("an eighth of a turn"),
        }),
        Entry::PaperIssued(PaperIssued {
            paper: PaperIssuedKind::SalePaper,
            data: json!({"price": "1290", "left": ["fork weeps"]}),
            sha256: abc(),
        }),
        Entry::BikeSold(BikeSold {
            price: eur(125_000),
            on: day("2031-06-01"),
            roadworthy: false,
            leaves: LeavesWord::Trailer,
            buyer: Some(person("0123456789abcdef0123456789abcdef")),
            paper: Some(e("b036")),
            note: note("with the old seat"),
        }),
        Entry::BikeGone(BikeGone {
            why: GoneWhy::Sold,
            on: day("2031-06-02"),
            note: note("fetched"),
        }),
        Entry::BegunAnyway(BegunAnyway {
            order: e("d002"),
            note: note("the wheel can come out already"),
        }),
    ]
}

/// Entries of the garage.
pub fn of_the_garage() -> Vec<Entry> {
    let b1 = || BikeId::new("b1").unwrap();
    let washer = SmallPart {
        kind: "sealing-washer".into(),
        dimensions: [("inside", 14_000), ("outside", 20_000), ("thickness", 1500)]
            .map(|(name, um)| (name.to_owned(), Micrometres(um)))
            .into(),
        thread: None,
        material: Some("copper".into()),
    };
    let fluid = || Thing::Spec {
        text: w("brake fluid DOT 4"),
    };
    vec![
        Entry::DrawerSet(DrawerSet {
            thing: Thing::from(&washer),
            level: LevelHeld::Some,
            count: Some(5),
            place: note("tin 2"),
            opened: None,
            note: note("counted"),
        }),
        Entry::OrderPlaced(OrderPlaced {
            lines: vec![
                OrderLine {
                    thing: Thing::ForBike {
                        bike: b1(),
                        text: w("fork seals, 37 mm"),
                    },
                    count: 2,
                    bike: Some(b1()),
                    part: Some(part("fork")),
                },
                OrderLine {
                    thing: fluid(),
                    count: 1,
                    bike: None,
                    part: None,
                },
            ],
            from: note("the shop by the bridge"),
            cost: Some(eur(3150)),
            due: Some(day("2031-05-06")),
            note: note("rang them"),
        }),
        Entry::OrderArrived(OrderArrived {
            order: e("d002"),
            lines: vec![1],
            note: note("fluid only"),
        }),
        Entry::OrderDueChanged(OrderDueChanged {
            order: e("d002"),
            due: Some(day("2031-05-08")),
        }),
        Entry::OrderCancelled(OrderCancelled {
            order: e("d002"),
            note: note("never came"),
        }),
        Entry::ComparableNoted(ComparableNoted {
            title: w("a twin like the blue one"),
            price_is: PriceKind::Asked,
            price: eur(139_000),
            on: day("2031-05-02"),
            bike: Some(b1()),
            layout: note("small-faired-twin"),
            year: Some(1995),
            distance: Some(reading("39000", "km")),
            condition: Some(3),
            roadworthy: Some(true),
            days: Some(12),
            at: note("the notice board"),
            papers: None,
            note: note("new tyres"),
        }),
        Entry::ComparableDropped(ComparableDropped {
            comparable: e("d006"),
            note: note("was a dealer"),
        }),
        Entry::SettingsSet(SettingsSet {
            hourly_rate: Some(eur(2500)),
            currency: Some(euro()),
            units: Some(UnitsWord::Metric),
            yearly_sales: Some(4),
        }),
        Entry::DrawerSet(DrawerSet {
            thing: fluid(),
            level: LevelHeld::Low,
            count: None,
            place: None,
            opened: Some(day("2031-03-01")),
            note: None,
        }),
    ]
}
