//! A draft of the sale paper: the fields that such papers commonly have, filled in from what is recorded. The local form, where
//! there is one, comes before it.

use crate::paper::{Block, Field, Paper};
use refettle_typesetting::Failed;
use refettle_usecases::history::History;
use refettle_usecases::road::{NOT_PASSED, RoadView};
use refettle_usecases::shortcuts::ShortcutLine;

/// What the paper is made from.
#[derive(Debug, Clone, Copy)]
pub struct Sale<'a> {
    /// What is recorded of the bike.
    pub history: &'a History,
    /// Its road check.
    pub road: &'a RoadView,
    /// Its shortcuts.
    pub shortcuts: &'a [ShortcutLine],
    /// Its frame number.
    pub frame_number: Option<&'a str>,
    /// Its registration.
    pub registration: Option<&'a str>,
    /// The price, with currency.
    pub price: Option<&'a str>,
    /// Names and addresses as kept; a line to write on where there is none.
    pub seller: Option<&'a str>,
    /// As above.
    pub buyer: Option<&'a str>,
    /// The day, in words.
    pub issued: &'a str,
}

/// The draft.
///
/// # Errors
/// [`Failed::Data`] by a fault of ours.
pub fn paper(sale: &Sale<'_>) -> Result<Paper, Failed> {
    let field = |label: &str, value: Option<&str>| Field {
        label: label.to_owned(),
        value: value.map(str::to_owned),
    };
    let year = sale.history.year.map(|y| y.to_string());
    let distance = sale.history.distance.as_deref();
    let mut blocks = vec![
        Block::heading("Who"),
        Block::Fields {
            items: vec![
                field("Seller: full name, as on the registration", sale.seller),
                field("Address", None),
                field("Buyer: full name, as it will be registered", sale.buyer),
                field("Address", None),
            ],
        },
        Block::heading("What"),
        Block::Fields {
            items: vec![
                field("Make, model, colour", None),
                field("Kind", Some(&sale.history.kind)),
                field("Year", year.as_deref()),
                field(
                    "Frame number, as on the frame and on the registration",
                    sale.frame_number,
                ),
                field("Registration", sale.registration),
            ],
        },
        Block::heading("Distance"),
        Block::Fields {
            items: vec![field("The instrument reads (without tenths)", distance)],
        },
        Block::Checks {
            items: ODOMETER
                .into_iter()
                .map(|text| crate::paper::Check {
                    text: text.to_owned(),
                    small: None,
                    done: false,
                })
                .collect(),
        },
        Block::text(ODOMETER_SOURCE),
        Block::heading("The deal"),
        Block::Fields {
            items: vec![
                field("Price", sale.price),
                field("Paid by, and in full on", None),
                field("Day, hour and place of handing over", None),
                field("Keys and papers handed over", None),
            ],
        },
        Block::text(
            "Sold as seen and as told below, used and without warranty, as far as local law lets the parties agree so.",
        ),
        Block::heading("What the buyer was told"),
    ];
    if !sale.road.passes {
        blocks.push(Block::Caution {
            title: "Not roadworthy by the seller's check".to_owned(),
            text: NOT_PASSED.to_owned(),
        });
    }
    let told = told(sale);
    blocks.push(if told.is_empty() {
        Block::text("The history folder of the same day, which belongs to this paper. No open defect is recorded in it.")
    } else {
        Block::Bullets { items: told }
    });
    blocks.push(Block::Signatures {
        items: ["Seller: place, day, signature", "Buyer: place, day, signature"]
            .map(str::to_owned)
            .to_vec(),
    });
    Paper::of_blocks(
        "Sale of a used motorcycle: draft",
        "A draft in the form of common practice. Where the law has a form of its own, use that; tell the authority of the sale on the same day.",
        &format!(
            "{} · {} · draft, not legal advice",
            sale.history.title, sale.issued
        ),
        &blocks,
        Vec::new(),
    )
}

/// One of three, as 49 CFR 580.5 asks of sellers in the United States; elsewhere good practice.
const ODOMETER: [&str; 3] = [
    "To the best of the seller's knowledge this is the distance really run.",
    "The instrument has gone past its last figure: the distance really run is more.",
    "The reading is NOT the distance really run, or is not known to be: do not rely on it.",
];

const ODOMETER_SOURCE: &str = "One of the three is ticked. Source of the rule: 49 CFR 580.5 (odometer disclosure, United States; model years 2011 and newer for \
twenty years, older ones exempt); elsewhere it is common practice. A reading known to be wrong is told whatever the year.";

fn told(sale: &Sale<'_>) -> Vec<String> {
    let findings = sale
        .history
        .findings
        .iter()
        .filter(|f| f.open)
        .map(|f| format!("{}: {} ({})", f.place, f.what, f.became));
    let failing = sale
        .road
        .open
        .iter()
        .filter(|o| o.fails)
        .map(|o| format!("{}: {}", o.title, o.why));
    let shortcuts = sale.shortcuts.iter().filter(|s| !s.is_cleared()).map(|s| {
        format!(
            "{}: {}",
            s.about,
            s.note.clone().unwrap_or_else(|| s.kind.word().replace('-', " "))
        )
    });
    findings.chain(failing).chain(shortcuts).collect()
}
