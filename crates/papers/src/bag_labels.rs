//! Labels for the bags: a number, the part, what goes in, and a code that says the same to a phone.

use crate::paper::Paper;
use refettle_typesetting::{Picture, Template, code_svg};
use refettle_usecases::kit_view::{BagView, KitView};
use serde_json::{Value, json};

/// What the labels are printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LabelSheet {
    /// Plain paper, to be cut along dashes.
    #[default]
    Plain,
    /// 24 labels of 70 × 37 mm on A4, edge to edge. A common size of label sheet; from memory.
    A4By24,
    /// 30 labels of 2⅝ × 1 inch on US Letter, ½ inch from the top, 3⁄16 from the left, ⅛ between columns. A common size of label
    /// sheet; from memory.
    LetterBy30,
}

impl LabelSheet {
    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            LabelSheet::Plain => "plain",
            LabelSheet::A4By24 => "a4-24",
            LabelSheet::LetterBy30 => "letter-30",
        }
    }

    /// The sheet of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<LabelSheet> {
        [LabelSheet::Plain, LabelSheet::A4By24, LabelSheet::LetterBy30]
            .into_iter()
            .find(|s| s.name() == name)
    }

    fn data(self) -> Value {
        match self {
            LabelSheet::Plain => json!("plain"),
            LabelSheet::A4By24 => json!({
                "columns": 3, "rows": 8, "width_mm": 70.0, "height_mm": 37.0,
                "left_mm": 0.0, "top_mm": 0.5, "gap_x_mm": 0.0, "gap_y_mm": 0.0,
            }),
            LabelSheet::LetterBy30 => json!({
                "columns": 3, "rows": 10, "width_mm": 66.675, "height_mm": 25.4,
                "left_mm": 4.7625, "top_mm": 12.7, "gap_x_mm": 3.175, "gap_y_mm": 0.0,
            }),
        }
    }
}

/// Labels of a kit's bags. `bike` is what the person calls it. A bag whose contents are too long for a code gets none.
#[must_use]
pub fn paper(kit: &KitView, bike: &str, sheet: LabelSheet) -> Paper {
    let mut pictures = Vec::new();
    let labels: Vec<Value> = kit
        .bags
        .iter()
        .map(|bag| {
            let name = format!("bag-{}.svg", bag.number);
            let code = code_svg(&told(bag, bike)).ok().map(|svg| {
                pictures.push(Picture {
                    name: name.clone(),
                    bytes: svg.into_bytes(),
                });
                name
            });
            json!({
                "number": bag.number,
                "title": bag.title,
                "bike": bike,
                "lines": bag.fixings,
                "settings": bag.settings,
                "code": code,
            })
        })
        .collect();
    Paper {
        template: Template::BagLabels,
        data: json!({
            "title": format!("{bike}: bag labels"),
            "lang": "en",
            "sheet": sheet.data(),
            "labels": labels,
        }),
        pictures,
    }
}

/// What the code of a bag says: the label's own words, so that any phone reads it without this program.
#[must_use]
pub fn told(bag: &BagView, bike: &str) -> String {
    format!(
        "Bag {} · {bike} · {}: {}",
        bag.number,
        bag.title,
        bag.fixings.join("; ")
    )
}
