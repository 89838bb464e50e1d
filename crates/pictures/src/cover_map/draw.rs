//! The map as a picture: all of it, or one region of it.

use super::place::Spot;
use super::route::{Bundle, Grid, Sizes};
use super::{Cell, CoverMap, Region, What};
use crate::outline::region_title;
use crate::text::{ems, wrap};
use maud::{Markup, html};
use refettle_facts::time::Seconds;
use refettle_machine::model::REGIONS;

/// Sizes of the whole map: CSS pixels on a laptop.
pub(super) const WIDE: Sizes = Sizes {
    cell_width: 110,
    cell_height: 76,
    gap: 8,
    abreast: 1,
    empty: 66,
};

/// Sizes of one region on a phone of 390 pixels.
const PHONE: Sizes = Sizes {
    cell_width: 150,
    cell_height: 80,
    gap: 8,
    abreast: 2,
    empty: 150,
};

const TYPE: f64 = 13.0;
/// Bold type is wider than the regular it is measured by.
const BOLD: f64 = 1.12;
const LINE: i32 = 15;
/// Lines of a name.
const LINES: usize = 3;
const HEAD: i32 = 30;
const CHIP: i32 = 58;

/// What the cells of a picture link to.
#[derive(Debug, Clone, Copy)]
pub struct Links<'a> {
    /// Before a part's name on the sheet.
    pub part: &'a str,
    /// Before a region's name: where what stays on is listed.
    pub stays: &'a str,
}

impl CoverMap {
    /// All regions.
    #[must_use]
    pub fn all(&self, links: Links<'_>) -> Markup {
        let shown: Vec<&Region> = self.regions.iter().collect();
        self.picture(&shown, WIDE, links, "all regions")
    }

    /// One region; what must be off first and lies in another is named above its cell.
    #[must_use]
    pub fn region(&self, region: &str, links: Links<'_>) -> Markup {
        let shown: Vec<&Region> = self.regions.iter().filter(|r| r.region == region).collect();
        self.picture(&shown, PHONE, links, region_title(region))
    }

    fn picture(&self, shown: &[&Region], sizes: Sizes, links: Links<'_>, what: &str) -> Markup {
        let phone = sizes.abreast > 1;
        let columns: Vec<usize> = shown
            .iter()
            .filter_map(|r| REGIONS.iter().position(|name| *name == r.region))
            .collect();
        let (spots, kept) = self.packed(&columns, phone);
        let above: Vec<Vec<usize>> = if phone {
            kept.clone()
        } else {
            self.laid.above.clone()
        };
        let grid = Grid::new(&spots, &above, &columns, sizes);
        let head = if phone { 0 } else { HEAD };
        let height = head + grid.height + CHIP + 12;
        let margin = if phone { 0 } else { 14 };
        let bundles = grid.bundles(&spots, &above);
        html! {
            svg.cover viewBox={ (-margin) " " (-head) " " (grid.width + margin) " " (height) } width=(grid.width + margin) height=(height) role="group" aria-label={ "Cover map, " (what) ": what comes off hangs under what must be off before it; the same is in the lists in words" } {
                @if !phone {
                    (heads(&grid, shown, height))
                    (depth(grid.height))
                }
                (lines(&bundles))
                @for (cell, spot) in self.cells(&columns, &spots) {
                    (drawn(cell, spot, &grid, links, &self.elsewhere(cell, &columns)))
                }
                @for region in shown {
                    @if !region.stays.is_empty() { (chip(region, &grid, grid.height + 6, links)) }
                }
            }
        }
    }

    /// Cells with their spots. `regions` holds the same cells in another order.
    fn cells<'a>(&'a self, columns: &'a [usize], spots: &'a [Spot]) -> Vec<(&'a Cell, Spot)> {
        let mut out = Vec::new();
        for (cell, spot) in self.laid.cells.iter().zip(spots) {
            if columns.contains(&spot.column) {
                out.push((cell, *spot));
            }
        }
        out
    }

    /// Spots as drawn. One region alone loses the rows in which it has nothing, and lines from other regions.
    fn packed(&self, columns: &[usize], phone: bool) -> (Vec<Spot>, Vec<Vec<usize>>) {
        let mut spots = self.laid.spots.clone();
        let here = |at: &usize| {
            self.laid
                .spots
                .get(*at)
                .is_some_and(|s| columns.contains(&s.column))
        };
        let above = self
            .laid
            .above
            .iter()
            .map(|parents| parents.iter().copied().filter(here).collect())
            .collect();
        if phone {
            let mut rows: Vec<usize> = spots
                .iter()
                .filter(|s| columns.contains(&s.column))
                .map(|s| s.row)
                .collect();
            rows.sort_unstable();
            rows.dedup();
            for spot in &mut spots {
                spot.row = rows.iter().position(|row| *row == spot.row).unwrap_or(0);
            }
        }
        (spots, above)
    }

    /// What must be off first and is in a region not shown.
    fn elsewhere(&self, cell: &Cell, columns: &[usize]) -> Vec<String> {
        let outside = |region: &str| {
            REGIONS
                .iter()
                .position(|r| *r == region)
                .is_none_or(|column| !columns.contains(&column))
        };
        cell.first
            .iter()
            .filter_map(|part| self.name(*part))
            .filter(|(region, _)| outside(region))
            .map(|(_, name)| name.to_owned())
            .collect()
    }
}

fn heads(grid: &Grid, shown: &[&Region], height: i32) -> Markup {
    html! {
        @for (at, region) in shown.iter().enumerate() {
            @if let Some(column) = REGIONS.iter().position(|r| *r == region.region) {
                @let x = grid.column_left(column);
                @if at > 0 { path.fence d={ "M" (grid.gutter_left(column)) " " (-HEAD + 4) "V" (height - HEAD - 4) } {} }
                text.region x=(x) y="-10" { (region_title(region.region)) }
            }
        }
    }
}

/// Which way is in.
fn depth(height: i32) -> Markup {
    html! {
        g.depth {
            text transform="translate(0 14) rotate(90)" { "outside" }
            path d={ "M-4 72V" (height - 64) "m-4-7l4 7l4-7" } {}
            text transform={ "translate(0 " (height - 54) ") rotate(90)" } { "inside" }
        }
    }
}

fn lines(bundles: &[Bundle]) -> Markup {
    html! {
        @for bundle in bundles {
            path.tie d={ @for line in &bundle.lines { (rounded(line)) } } {}
        }
    }
}

/// How far a line's corners are rounded: it is seen which way it came.
const ROUND: i32 = 5;

fn rounded(line: &[(i32, i32)]) -> String {
    let mut out = String::new();
    let mut corners: Vec<(i32, i32)> = line.to_vec();
    corners.dedup();
    for (at, (x, y)) in corners.iter().enumerate() {
        let before = at.checked_sub(1).and_then(|b| corners.get(b));
        match (before, corners.get(at + 1)) {
            (None, _) => out.push_str(&format!("M{x} {y}")),
            (_, None) => out.push_str(&format!("L{x} {y}")),
            (Some(from), Some(to)) => {
                let (a, b) = (toward((*x, *y), *from), toward((*x, *y), *to));
                out.push_str(&format!("L{} {}Q{x} {y} {} {}", a.0, a.1, b.0, b.1));
            }
        }
    }
    out
}

/// The point so far from a corner toward another, not past half way.
fn toward((x, y): (i32, i32), (tx, ty): (i32, i32)) -> (i32, i32) {
    let step = |d: i32| d.signum() * ROUND.min(d.abs() / 2);
    (x + step(tx - x), y + step(ty - y))
}

fn drawn(cell: &Cell, spot: Spot, grid: &Grid, links: Links<'_>, elsewhere: &[String]) -> Markup {
    let (x, y, w, h) = (grid.left(spot), grid.top(spot), grid.cell_width, grid.cell_height);
    let job = matches!(cell.what, What::Job(_));
    let room = f64::from(w - 11) / TYPE;
    let says_more = !elsewhere.is_empty() || !cell.other_ways.is_empty();
    let lines = wrap(
        &cell.name,
        room / if job { BOLD } else { 1.0 },
        LINES - usize::from(says_more),
    );
    let extra = extra(cell, elsewhere, room, LINES - lines.len());
    let below = |at: usize| i32::try_from(at).unwrap_or(0);
    html! {
        a href={ (links.part) (cell.anchor) } {
            @if !cell.other_ways.is_empty() { (fork(x + w / 2, y)) }
            rect.cell.job[job].off[cell.off_now] x=(x) y=(y) width=(w) height=(h) rx=(if job { 12 } else { 2 }) {}
            @if job { (target(x + w - 16, y + h - 14)) }
            @for (at, line) in lines.iter().enumerate() {
                text.name.job[job] x=(x + 8) y=(y + 17 + LINE * below(at)) { (line) }
            }
            @for (at, line) in extra.iter().enumerate() {
                text.first x=(x + 8) y=(y + h - 8 - LINE * below(extra.len() - at)) { (line) }
            }
            text.foot x=(x + 8) y=(y + h - 8) {
                @if cell.off_now { "off now" } @else if cell.time > Seconds::ZERO { (cell.time) }
            }
        }
    }
}

/// What must be off first elsewhere, and the other way in.
fn extra(cell: &Cell, elsewhere: &[String], room: f64, most: usize) -> Vec<String> {
    let mut out = Vec::new();
    if !elsewhere.is_empty() {
        let kept = most - usize::from(most > 1 && !cell.other_ways.is_empty());
        out.extend(wrap(&format!("after {}", elsewhere.join(", ")), room, kept));
    }
    let left = most.saturating_sub(out.len());
    match cell.other_ways.as_slice() {
        [] => {}
        [(way, _)] => out.extend(wrap(&format!("or {way}"), room, left)),
        ways => out.extend(wrap(&format!("or {} other ways", ways.len()), room, left)),
    }
    out
}

/// Two ways in: the one taken in ink, the other pale and cut off.
fn fork(x: i32, y: i32) -> Markup {
    html! {
        path.prong d={ "M" (x) " " (y - 1) "c1-5 4-7 20-8" } {}
        circle.prong cx=(x + 23) cy=(y - 9) r="3" {}
        path.taken d={ "M" (x) " " (y) "v-11" } {}
    }
}

/// A job: rings to aim at.
fn target(x: i32, y: i32) -> Markup {
    html! {
        circle.aim cx=(x) cy=(y) r="8" {}
        circle.aim.bull cx=(x) cy=(y) r="3" {}
    }
}

fn chip(region: &Region, grid: &Grid, y: i32, links: Links<'_>) -> Markup {
    let Some(column) = REGIONS.iter().position(|r| *r == region.region) else {
        return html! {};
    };
    let n = region.stays.len();
    let bare = region.cells.is_empty();
    let text = format!("{n} {}", if bare { "stay" } else { "more stay" });
    let x = grid.column_left(column);
    let w = if bare { grid.empty } else { grid.cell_width };
    html! {
        a href={ (links.stays) (region.region) } {
            rect.chip x=(x) y=(y) width=(w) height=(CHIP) rx="2" {}
            text.stay x=(x + 8) y=(y + 33) { (text) }
            @if ems(&text) * TYPE + 24.0 < f64::from(w) { path.more d={ "M" (x + w - 16) " " (y + 27) "l4 4 4-4" } {} }
        }
    }
}

/// A cell in words.
pub(super) fn said(cell: &Cell, elsewhere: &[String]) -> String {
    let mut out = cell.title.clone();
    if cell.off_now {
        out.push_str(", off now");
    } else if cell.time > Seconds::ZERO {
        out.push_str(&format!(", {}", cell.time));
    }
    if !elsewhere.is_empty() {
        out.push_str(&format!(", first off: {}", elsewhere.join(", ")));
    }
    if let Some(way) = &cell.way {
        out.push_str(&format!(", by way of: {way}"));
    }
    for (way, wants) in &cell.other_ways {
        out.push_str(&format!(", or: {way}"));
        if !wants.is_empty() {
            out.push_str(&format!(" ({} off first)", wants.join(", ")));
        }
    }
    out
}
