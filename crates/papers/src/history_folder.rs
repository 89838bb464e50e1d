//! The history folder: what the next owner is told. From entries only; where nothing was looked at, it says so.

use crate::paper::{Block, Caption, Check, Field, Paper};
use refettle_typesetting::{Failed, Picture};
use refettle_usecases::history::{DayOfWork, History};
use refettle_usecases::road::{JUDGE, NOT_PASSED, RoadView};
use refettle_usecases::shortcuts::{ShortcutLine, standing_word};

/// What the folder is made from.
#[derive(Debug, Clone, Copy)]
pub struct Folder<'a> {
    /// What is recorded of the bike.
    pub history: &'a History,
    /// Its road check.
    pub road: &'a RoadView,
    /// Its shortcuts.
    pub shortcuts: &'a [ShortcutLine],
    /// Its frame number, where it was noted and not erased.
    pub frame_number: Option<&'a str>,
    /// The day of issue, in words.
    pub issued: &'a str,
    /// Pictures by the name that [`photo_name`] gives their hash.
    pub photos: &'a [Picture],
}

/// The name of a photo's file in the paper.
#[must_use]
pub fn photo_name(hash: &str) -> String {
    format!("{hash}.jpg")
}

/// Most photos of the whole bike, and of details: a folder is read, not leafed through. Judgement, no source.
const MOST_PHOTOS: usize = 8;

/// The folder.
///
/// # Errors
/// [`Failed::Data`] by a fault of ours.
pub fn paper(folder: &Folder<'_>) -> Result<Paper, Failed> {
    let history = folder.history;
    let mut blocks = Vec::new();
    blocks.extend(what_it_is(folder));
    blocks.extend(road(folder.road));
    blocks.extend(findings(history));
    blocks.extend(photos(folder));
    blocks.extend(work(&history.work));
    blocks.extend(measured(folder));
    blocks.extend(shortcuts(folder.shortcuts));
    blocks.extend(not_looked_at(folder));
    blocks.extend(due(history));
    blocks.extend(first_ride());
    let lead = if folder.road.passes {
        "What is recorded of this motorcycle: what was found, done, measured and left. It passed the road check told below."
            .to_owned()
    } else {
        format!("What is recorded of this motorcycle: what was found, done, measured and left. {NOT_PASSED}")
    };
    Paper::of_blocks(
        &format!("{}: history", history.title),
        &lead,
        &format!(
            "{} · issued {} · from what was recorded while the work was done; the maker's manual wins",
            history.title, folder.issued
        ),
        &blocks,
        folder.photos.to_vec(),
    )
}

fn what_it_is(folder: &Folder<'_>) -> Vec<Block> {
    let history = folder.history;
    let field = |label: &str, value: Option<String>| Field {
        label: label.to_owned(),
        value: Some(value.unwrap_or_else(|| "not recorded".to_owned())),
    };
    let mut items = vec![
        field("Kind of machine", Some(history.kind.clone())),
        field("Year", history.year.map(|y| y.to_string())),
        field("Frame number", folder.frame_number.map(str::to_owned)),
        field("Distance", history.distance.clone()),
        field("Came in", Some(history.came_in.clone())),
    ];
    for paper in &history.papers {
        let good = if paper.good { "yes" } else { "no" };
        items.push(field(
            &capital(paper.paper),
            Some(format!("{good}, looked at {}", paper.when)),
        ));
    }
    vec![Block::heading("What it is"), Block::Fields { items }]
}

fn road(road: &RoadView) -> Vec<Block> {
    let mut blocks = vec![Block::heading("Road check")];
    if road.passes {
        blocks.push(Block::text(format!(
            "Passed: every item below, each with its number where there is one. {JUDGE}"
        )));
    } else {
        blocks.push(Block::Caution {
            title: "Not roadworthy by this check".to_owned(),
            text: format!(
                "It has come as far as: {}. {NOT_PASSED} {JUDGE}",
                road.stage_words
            ),
        });
        let fails: Vec<String> = road
            .open
            .iter()
            .filter(|o| o.fails)
            .map(|o| format!("{}: {}", o.title, o.why))
            .collect();
        let not_yet = road.open.len() - fails.len();
        if !fails.is_empty() {
            blocks.push(Block::text("What keeps it from passing:"));
            blocks.push(Block::Bullets { items: fails });
        }
        if not_yet > 0 {
            blocks.push(Block::text(format!(
                "{not_yet} more were not looked at or not measured; they are listed under “What was not looked at”."
            )));
        }
    }
    if !road.holds.is_empty() {
        let row = |h: &refettle_usecases::road::HoldsView| {
            let beside = h
                .strictest
                .as_ref()
                .map(|s| format!("; strictest beside it: {s}"))
                .unwrap_or_default();
            vec![
                capital(h.system),
                h.title.clone(),
                format!("{}{beside}", h.against),
            ]
        };
        blocks.push(Block::Table {
            head: [
                "System",
                "What was looked at",
                "Reading and limit, with its source",
            ]
            .map(str::to_owned)
            .to_vec(),
            widths: vec![1.0, 3.0, 3.6],
            rows: road.holds.iter().map(row).collect(),
            numbers: Vec::new(),
        });
    }
    blocks
}

fn findings(history: &History) -> Vec<Block> {
    let mut blocks = vec![Block::heading("What was found, and what became of it")];
    if history.findings.is_empty() && history.fixings.is_empty() {
        blocks.push(Block::text("Nothing was noted as not right."));
        return blocks;
    }
    if !history.findings.is_empty() {
        blocks.push(Block::Table {
            head: ["Found on", "Where", "What", "Now"].map(str::to_owned).to_vec(),
            widths: vec![1.2, 1.6, 3.0, 2.6],
            rows: history
                .findings
                .iter()
                .map(|f| vec![f.on.clone(), capital(&f.place), f.what.clone(), f.became.clone()])
                .collect(),
            numbers: Vec::new(),
        });
    }
    if !history.fixings.is_empty() {
        blocks.push(Block::text("Fixings that are not as made:"));
        blocks.push(Block::Bullets {
            items: history.fixings.clone(),
        });
    }
    blocks
}

fn photos(folder: &Folder<'_>) -> Vec<Block> {
    let here = |p: &&refettle_usecases::history::PhotoLine| {
        let name = photo_name(&p.photo);
        folder.photos.iter().any(|picture| picture.name == name)
    };
    let caption = |p: &refettle_usecases::history::PhotoLine| Caption {
        name: photo_name(&p.photo),
        caption: format!("{}, {}", capital(&p.caption), p.on),
    };
    let all: Vec<_> = folder.history.photos.iter().filter(here).collect();
    let whole: Vec<Caption> = all
        .iter()
        .filter(|p| p.whole)
        .take(MOST_PHOTOS)
        .map(|p| caption(p))
        .collect();
    let details: Vec<Caption> = all
        .iter()
        .filter(|p| !p.whole)
        .take(MOST_PHOTOS)
        .map(|p| caption(p))
        .collect();
    let mut blocks = Vec::new();
    for (title, items) in [("The bike, in the order of time", whole), ("Details", details)] {
        if !items.is_empty() {
            blocks.push(Block::heading(title));
            blocks.push(Block::Pictures { items });
        }
    }
    blocks
}

fn work(days: &[DayOfWork]) -> Vec<Block> {
    let mut blocks = vec![Block::heading("What was done")];
    if days.is_empty() {
        blocks.push(Block::text("No work is recorded."));
    }
    for day in days {
        blocks.push(Block::Heading {
            level: 3,
            text: day.on.clone(),
        });
        blocks.push(Block::Bullets {
            items: day.did.clone(),
        });
        if !day.used.is_empty() {
            blocks.push(Block::text(format!("New: {}.", day.used.join("; "))));
        }
    }
    blocks
}

fn measured(folder: &Folder<'_>) -> Vec<Block> {
    let lines = &folder.history.measured;
    if lines.is_empty() {
        return Vec::new();
    }
    let row = |m: &refettle_usecases::history::Measured| {
        let limit = m.limit.clone().unwrap_or_else(|| "no limit recorded".to_owned());
        vec![m.on.clone(), m.what.clone(), m.value.clone(), limit]
    };
    vec![
        Block::heading("What was measured"),
        Block::Table {
            head: ["On", "What", "Reading", "Limit and its source"]
                .map(str::to_owned)
                .to_vec(),
            widths: vec![1.2, 2.6, 1.2, 3.2],
            rows: lines.iter().map(row).collect(),
            numbers: Vec::new(),
        },
    ]
}

fn shortcuts(lines: &[ShortcutLine]) -> Vec<Block> {
    let mut blocks = vec![Block::heading("Done another way than it should be")];
    if lines.is_empty() {
        blocks.push(Block::text("None is recorded."));
        return blocks;
    }
    let row = |s: &ShortcutLine| {
        let note = s.note.as_ref().map(|n| format!(": {n}")).unwrap_or_default();
        vec![
            format!("{}, {}{note}", capital(&s.about), s.kind.word().replace('-', " ")),
            s.risks.to_owned(),
            s.test.clone(),
            standing_word(s.standing).to_owned(),
        ]
    };
    blocks.push(Block::Table {
        head: ["What", "What it can do", "The test that closes it", "Now"]
            .map(str::to_owned)
            .to_vec(),
        widths: vec![2.4, 2.0, 3.4, 1.0],
        rows: lines.iter().map(row).collect(),
        numbers: Vec::new(),
    });
    blocks
}

fn not_looked_at(folder: &Folder<'_>) -> Vec<Block> {
    let mut by_why: Vec<(String, Vec<String>)> = Vec::new();
    let open = folder.road.open.iter().filter(|o| !o.fails);
    let open = open.map(|o| (o.why.clone(), o.title.clone()));
    let unwitnessed = folder.history.unwitnessed.iter();
    let unwitnessed = unwitnessed.map(|w| ("fitted while nobody recorded it".to_owned(), w.clone()));
    for (why, title) in open.chain(unwitnessed) {
        match by_why.iter_mut().find(|(known, _)| *known == why) {
            Some((_, titles)) => titles.push(title),
            None => by_why.push((why, vec![title])),
        }
    }
    if by_why.is_empty() {
        return vec![
            Block::heading("What was not looked at"),
            Block::text(
                "All that the road check asks was looked at. What it does not ask — the inside of the engine and the gearbox among it — was not, unless it is told above.",
            ),
        ];
    }
    let mut blocks = vec![Block::heading("What was not looked at")];
    for (why, items) in by_why {
        blocks.push(Block::text(format!("{}:", capital(&why))));
        blocks.push(Block::Bullets { items });
    }
    blocks
}

fn due(history: &History) -> Vec<Block> {
    let row = |d: &refettle_usecases::history::Due| vec![capital(&d.what), d.when.clone(), d.since.clone()];
    if history.due.is_empty() {
        return Vec::new();
    }
    vec![
        Block::heading("Due next"),
        Block::Table {
            head: ["What", "When", "Reckoned from"].map(str::to_owned).to_vec(),
            widths: vec![2.0, 2.6, 2.6],
            rows: history.due.iter().map(row).collect(),
            numbers: Vec::new(),
        },
        Block::text("Intervals are common practice, no source; the maker's schedule wins."),
    ]
}

/// Advice for the first ride; common practice, no source.
const FIRST_RIDE: [&str; 8] = [
    "Gloves, boots, jacket and helmet before the engine starts; licence and insurance for this machine.",
    "Sit on it, engine off: can both feet hold it? Rock it off the stand with the front brake held.",
    "Find every control without looking: both brakes, clutch, stop switch, indicators, horn.",
    "First metres on empty level ground: pull away, stop, twenty times, with both brakes, gently.",
    "New tyres and new pads hold less at first: no hard braking or leaning in the first hundred kilometres.",
    "After ten minutes stop and look: anything wet, hot, loose or rubbing?",
    "Before every ride: tyre pressure by hand and eye, brake levers firm, lights, chain.",
    "After the first week: chain slack, every visible bolt, oil level.",
];

fn first_ride() -> Vec<Block> {
    let check = |text: &str| Check {
        text: text.to_owned(),
        small: None,
        done: false,
    };
    vec![
        Block::heading("For the first ride on it"),
        Block::Checks {
            items: FIRST_RIDE.into_iter().map(check).collect(),
        },
        Block::text("Common practice, no source; a riding school teaches it better than paper."),
    ]
}

/// With its first letter large.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
