//! The cover map for the wall: what comes off for the chosen jobs, from outside to inside, and the same in words.

use crate::paper::Paper;
use crate::running_order::SAFETY;
use refettle_pictures::cover_map::{CoverMap, Links, What};
use refettle_pictures::outline::region_title;
use refettle_plan::ask::Action;
use refettle_typesetting::{Picture, Template};
use refettle_usecases::look::Look;
use serde_json::json;

/// On paper nothing is linked to; the names only keep the picture's anchors apart.
const LINKS: Links<'static> = Links {
    part: "#part-",
    stays: "#stays-",
};

/// The map's style in black on white: the screen's colours and variables mean nothing to a printer.
const STYLE: &str = "\
text { font-family: 'DejaVu Sans'; font-size: 13px; fill: #000; }
text.region { font-size: 15px; font-weight: bold; }
text.job { font-weight: bold; }
text.foot, text.first, text.stay { fill: #444; }
.cell { fill: #fff; stroke: #000; stroke-width: 1.6px; }
.cell.job { stroke-width: 2.6px; }
.cell.off { stroke-dasharray: 2 3; }
.chip { fill: none; stroke: #777; stroke-width: 1px; stroke-dasharray: 5 4; }
path { fill: none; stroke-linejoin: round; }
.fence { stroke: #777; stroke-width: 0.6px; stroke-dasharray: 1 4; }
.tie { stroke: #000; stroke-width: 1.3px; }
.taken { stroke: #000; stroke-width: 3px; }
.prong { fill: none; stroke: #777; stroke-width: 1.6px; stroke-dasharray: 3 2; }
.more { stroke: #444; stroke-width: 1.4px; }
.aim { fill: none; stroke: #000; stroke-width: 1.8px; }
.aim.bull { fill: #000; }
";

/// The map of a bike with what is still planned for it. `issued` is the day in words.
#[must_use]
pub fn paper(look: &Look, actions: &[Action], issued: &str) -> Paper {
    let map = CoverMap::of(&look.machine, &look.now.state, &look.now.jobs, actions);
    let title = &look.now.title;
    let words: Vec<String> = map
        .regions()
        .iter()
        .flat_map(|region| {
            let cells = region.cells.iter().map(|(_, cell)| {
                let job = if matches!(cell.what, What::Job(_)) {
                    "Job: "
                } else {
                    ""
                };
                format!("{}: {job}{}", region_title(region.region), map.in_words(cell))
            });
            cells.collect::<Vec<_>>()
        })
        .collect();
    Paper {
        template: Template::Wall,
        data: json!({
            "title": format!("{title}: cover map"),
            "lead": "What hangs under a line comes off after what is above it. Dashed: off now. A ring: a job. The small boxes below stay on.",
            "foot": format!("{title} · {issued} · {SAFETY}"),
            "lang": "en",
            "picture": "cover.svg",
            "alt": "Cover map: what comes off hangs under what must be off before it; the same is in words on the next page",
            "landscape": true,
            "words": words,
        }),
        pictures: vec![Picture {
            name: "cover.svg".to_owned(),
            bytes: printable(&map.all(LINKS).into_string()).into_bytes(),
        }],
    }
}

/// The picture as a file of its own: named as SVG, with its style inside.
fn printable(svg: &str) -> String {
    match svg.split_once('>') {
        Some((head, body)) => {
            let head = head.replacen("<svg ", "<svg xmlns=\"http://www.w3.org/2000/svg\" ", 1);
            format!("{head}><style>{STYLE}</style>{body}")
        }
        None => svg.to_owned(),
    }
}
