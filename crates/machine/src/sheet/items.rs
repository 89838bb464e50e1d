//! What work consumes.

use super::decode::Table;
use super::facts::Ids;
use super::keys;
use super::names::{Kind, Names};
use super::report::Report;
use crate::model::{Item, ItemKind, ItemUnit};
use refettle_facts::ids::ItemId;
use refettle_facts::quantity::parse_length;
use refettle_facts::small_part::{Micrometres, SmallPart};
use std::collections::BTreeMap;

const UNITS: [(&str, ItemUnit); 4] = [
    ("piece", ItemUnit::Piece),
    ("ml", ItemUnit::Millilitre),
    ("mm", ItemUnit::Millimetre),
    ("g", ItemUnit::Gram),
];

/// The keys of which an item has exactly one.
const KINDS: [&str; 5] = ["part", "candidates", "fluid", "by-frame-number", "consumable"];

const DIMENSIONS: [&str; 7] = [
    "inside",
    "outside",
    "thickness",
    "section",
    "diameter",
    "length",
    "width",
];

pub(super) fn items<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Item> {
    let mut ids = Ids::new(Kind::Item, names);
    let mut items = Vec::new();
    for (name, table) in names.tables(Kind::Item, keys::ITEM, report) {
        let id = ids.of(name, &table, ItemId::new);
        let title = table.text("title");
        let unit = table.word("unit", &UNITS).unwrap_or(ItemUnit::Piece);
        let what = item_kind(&table);
        if let (Some(id), Some(title), Some(what)) = (id, title, what) {
            items.push(Item {
                id,
                name: name.to_owned(),
                title,
                what,
                unit,
            });
        }
    }
    items
}

fn item_kind(table: &Table<'_>) -> Option<ItemKind> {
    let given: Vec<&str> = KINDS.into_iter().filter(|key| table.has(key)).collect();
    let [key] = given[..] else {
        let said = match given.as_slice() {
            [] => format!("{} does not say what it is", table.what),
            several => format!("{} is {} at once", table.what, several.join(" and ")),
        };
        let expected = format!("exactly one of {}", KINDS.map(|k| format!("'{k}'")).join(", "));
        if given.is_empty() {
            table.report.absent(table.span.clone(), said, expected);
        } else {
            table.report.leaf(table.span.clone(), said, expected);
        }
        return None;
    };
    match key {
        "part" => {
            let inner = table.inner("part", "the small part", keys::SMALL_PART)?;
            let part = small_part(&inner);
            let origin = inner.source();
            Some(ItemKind::Known(origin?.with(part?)))
        }
        "candidates" => candidates(table),
        "fluid" => table.text("fluid").map(ItemKind::Fluid),
        "by-frame-number" => said_true(table, key).then_some(ItemKind::ByFrameNumber),
        _ => said_true(table, key).then_some(ItemKind::Consumable),
    }
}

/// A key that only ever says `true`.
fn said_true(table: &Table<'_>, key: &str) -> bool {
    let said = table.flag(key, false);
    if table
        .get(key)
        .is_some_and(|v| v.get_ref().as_bool() == Some(false))
    {
        table.wrong(
            key,
            &format!("'{key}' is false"),
            "true, or another key that says what it is",
        );
    }
    said
}

fn candidates(table: &Table<'_>) -> Option<ItemKind> {
    let inner = table.tables("candidates", "a candidate", keys::CANDIDATE);
    let mut candidates = Vec::new();
    let mut sum = 0.0;
    for each in &inner {
        let chance = each.chance("chance");
        sum += chance;
        if each.has("source") || each.has("from") {
            each.source();
        }
        candidates.push((small_part(each)?, chance));
    }
    if candidates.is_empty() {
        table.wrong(
            "candidates",
            "'candidates' is empty",
            "one or more sizes it may be",
        );
        return None;
    }
    // Decimal chances such as 0.1 + 0.2 + 0.7 do not add up to exactly 1 in binary.
    if sum > 1.0 + 1e-9 {
        table.wrong(
            "candidates",
            &format!("the chances sum to {sum:.3}"),
            "chances that sum to at most 1",
        );
        return None;
    }
    Some(ItemKind::Candidates(candidates))
}

fn small_part(table: &Table<'_>) -> Option<SmallPart> {
    let kind = table.text("kind");
    let thread = table.text_if_any("thread");
    let material = table.text_if_any("material");
    let mut dimensions = BTreeMap::new();
    for key in DIMENSIONS {
        let Some(value) = table.get(key) else { continue };
        let Some(text) = table.as_text(value, key) else {
            continue;
        };
        match parse_length(&text) {
            Err(wrong) => table
                .report
                .leaf(value.span(), wrong.to_string(), "a length such as \"8 mm\""),
            Ok(length) => match Micrometres::from_length(length).filter(|um| um.0 > 0) {
                Some(um) => {
                    dimensions.insert(key.to_owned(), um);
                }
                None => table.wrong(
                    key,
                    &format!("'{key}' is {text}"),
                    "a length above 0 and up to 4 m",
                ),
            },
        }
    }
    Some(SmallPart {
        kind: kind?,
        dimensions,
        thread,
        material,
    })
}
