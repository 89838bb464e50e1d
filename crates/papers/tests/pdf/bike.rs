//! A bike made by entries alone: two findings, a photo, work with a measurement, a washer used again, half a road check.

use jiff::{SignedDuration, Timestamp};
use refettle_facts::ids::{BikeId, EntryId, JobId};
use refettle_memory::Memory;
use refettle_memory::entry::{
    About, ActionAnswered, Amount, Answer, AskingPriceSet, BikeBroughtIn, BikeDescribed, Currency, Day,
    DistanceRead, Entry, FindingNoted, FindingSettled, JobsChosen, Measured, Number, PlateKind, PlateNumber,
    Reading, SettledWord, ShortcutKind, ShortcutTaken, Words,
};
use refettle_papers::issue::{Issued, PaperSize, Which, issue};
use refettle_photos::Album;
use refettle_usecases::look::{Look, Read};
use refettle_usecases::photo::{self, Sent};
use refettle_usecases::{card_id, layouts, road};

pub const TITLE: &str = "The red one";
pub const FRAME: &str = "XX0PAPERTEST00001";
pub const PLATE: &str = "ZZ 1994";
pub const BUYER: &str = "A Buyer, 1 Nowhere Lane";

pub struct Desk {
    pub dir: tempfile::TempDir,
    pub memory: Memory,
    pub bike: BikeId,
    pub at: Timestamp,
}

fn words(text: &str) -> Words {
    Words::new(text).unwrap()
}

impl Desk {
    pub fn append(&mut self, entry: &Entry) -> EntryId {
        self.at += SignedDuration::from_mins(7);
        self.memory.append(&self.bike, self.at, None, entry).unwrap()
    }

    pub fn read(&self) -> Read {
        Read::of(&self.memory, &self.bike, self.at, None).unwrap()
    }

    pub fn look(&self) -> Look {
        self.read().plan()
    }

    pub fn paper(&self, which: Which, size: PaperSize) -> Issued {
        issue(&self.memory, self.dir.path(), &self.look(), which, size, None).unwrap()
    }

    /// Answers an item of the road check.
    pub fn check(&mut self, item: &str, said: &str, maker: Option<&str>) {
        let read = self.read();
        let (body, _) = road::answer(read.machine(), item, said, maker, None).unwrap();
        self.append(&Entry::RoadCheckAnswered(body));
    }

    fn part(&self, name: &str) -> About {
        let read = self.read();
        let part = read.machine().part(name).unwrap();
        About::Part {
            part: read.machine().parts[part.0].id.clone(),
        }
    }

    fn finding(&mut self, about: About, note: &str) -> EntryId {
        self.append(&Entry::FindingNoted(FindingNoted {
            about,
            symptom: None,
            note: Some(words(note)),
            measured: Vec::new(),
        }))
    }
}

/// A bike as it comes in, without anything done to it.
pub fn whole() -> Desk {
    let dir = tempfile::tempdir().unwrap();
    let mut memory = Memory::open(dir.path()).unwrap();
    let sheet = memory
        .store_sheet(&layouts::written_out("small-faired-twin").unwrap())
        .unwrap();
    let mut desk = Desk {
        dir,
        memory,
        bike: BikeId::new("red").unwrap(),
        at: "2031-05-01T08:00:00Z".parse().unwrap(),
    };
    desk.append(&Entry::BikeBroughtIn(BikeBroughtIn {
        title: TITLE.into(),
        layout: "small-faired-twin".into(),
        sheet,
    }));
    let frame = desk.memory.keep_personal("frame", FRAME, None).unwrap();
    let plate = desk.memory.keep_personal("registration", PLATE, None).unwrap();
    desk.append(&Entry::BikeDescribed(BikeDescribed {
        year: Some(1994),
        distance: Some(DistanceRead {
            reading: Reading {
                value: Number::new("48213").unwrap(),
                unit: "km".into(),
            },
            on: Day::new("2031-05-01").unwrap(),
        }),
        numbers: vec![
            PlateNumber {
                plate: PlateKind::Frame,
                text: frame,
            },
            PlateNumber {
                plate: PlateKind::Registration,
                text: plate,
            },
        ],
        ..BikeDescribed::default()
    }));
    desk
}

/// The bike of these tests.
pub fn worked_on() -> Desk {
    let mut desk = whole();
    desk.finding(
        About::Region {
            region: "fork".into(),
        },
        "left leg weeps when it is pushed down",
    );
    let mirror = desk.finding(desk.part("mirrors"), "left glass is cracked");
    desk.append(&Entry::FindingSettled(FindingSettled {
        finding: mirror,
        how: SettledWord::PutRight,
        note: None,
    }));
    let price = Amount::new(129_000, Currency::new("EUR").unwrap()).unwrap();
    desk.append(&Entry::AskingPriceSet(AskingPriceSet { price }));
    picture(&mut desk);
    desk.append(&Entry::JobsChosen(JobsChosen {
        jobs: vec![JobId::new("oil-and-filter").unwrap()],
    }));
    work(&mut desk);
    desk.check("front-tread", "2.4 mm", None);
    desk.check("front-disc", "4.6 mm", Some("4.5 mm"));
    desk.check("rear-tread", "0.4 mm", None);
    desk.check("front-lever", "ok", None);
    desk
}

/// A photo: bars of grey, so that a page with it is not blank there.
fn picture(desk: &mut Desk) {
    let mut bytes = std::io::Cursor::new(Vec::new());
    let bars = image::RgbImage::from_fn(640, 480, |x, _| {
        image::Rgb([if (x / 40) % 2 == 0 { 40 } else { 190 }; 3])
    });
    bars.write_to(&mut bytes, image::ImageFormat::Jpeg).unwrap();
    let album = Album::of(desk.dir.path());
    let (bike, at) = (desk.bike.clone(), desk.at);
    let sent = Sent {
        bike: &bike,
        at,
        tap: None,
        bytes: bytes.get_ref(),
        about: About::Bike {},
        caption: Some(words("as it came in")),
    };
    photo::add(&mut desk.memory, &album, sent).unwrap();
}

/// Cards from the plan: the first step is measured at, and done with the washer that was there.
fn work(desk: &mut Desk) {
    let mut steps = 0;
    for _ in 0..40 {
        let look = desk.look();
        let evening = look.plan.as_ref().unwrap();
        let Some(next) = evening.found.actions.first() else {
            break;
        };
        let Some(card_id::Asked::Action(action)) = card_id::asked(&look.machine, &next.act) else {
            panic!("nothing is to come for this bike");
        };
        let is_step = matches!(action, refettle_memory::entry::Action::Step { .. });
        steps += usize::from(is_step);
        let first = is_step && steps == 1;
        let card = card_id::of_action(&action);
        desk.append(&Entry::ActionAnswered(ActionAnswered {
            card: card.clone(),
            action,
            answer: Answer::Done,
            measured: if first {
                vec![Measured {
                    what: "oil drained".into(),
                    value: Number::new("1.65").unwrap(),
                    unit: "l".into(),
                }]
            } else {
                Vec::new()
            },
        }));
        if first {
            let circuit = look.machine.circuits[look.machine.circuit("oil").unwrap().0]
                .id
                .clone();
            desk.append(&Entry::ShortcutTaken(ShortcutTaken {
                shortcut: ShortcutKind::SealReused,
                about: About::Circuit { circuit },
                card: Some(card),
                note: Some(words("the old copper washer, annealed")),
            }));
        }
        if steps == 2 {
            break;
        }
        desk.at += SignedDuration::from_mins(20);
    }
    assert!(steps >= 1, "the plan has a step");
}
