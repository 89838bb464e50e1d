//! Lines from each cell up to what must be off first, and how often they cross.
//!
//! A line leaves the upper cell downward, runs along the channel under that row, then down a lane in the gutter at the
//! left of the lower cell's column to the channel above it, and into it from above. Verticals are in gutters and
//! channels, horizontals in channels only: no line goes through a cell. Lines into one cell are one bundle, each bundle
//! with a track of its own in a channel and a lane of its own in a gutter.

use super::place::{ABREAST, Spot};
use std::collections::{BTreeMap, BTreeSet};

/// Room between two tracks or lanes.
const PITCH: i32 = 7;
/// Room at either side of the tracks of a channel.
const EASE: i32 = 10;

/// A straight piece of a bundle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Piece {
    Across {
        y: i32,
        from: i32,
        to: i32,
    },
    Down {
        x: i32,
        from: i32,
        to: i32,
    },
    /// Straight down from the cell at this spot: bundles that leave one cell share it.
    Trunk {
        of: Spot,
        x: i32,
        from: i32,
        to: i32,
    },
}

/// The bundle of lines into one cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bundle {
    pub cell: usize,
    pub pieces: Vec<Piece>,
    /// The same as a line for each cell above, corner by corner.
    pub lines: Vec<Vec<(i32, i32)>>,
}

/// Where columns, gutters, rows and channels are.
#[derive(Debug, Clone)]
pub(super) struct Grid {
    pub cell_width: i32,
    pub cell_height: i32,
    gap: i32,
    /// Width of a column without cells.
    pub empty: i32,
    /// By column shown: left edge of its gutter, and of its cells.
    columns: BTreeMap<usize, (i32, i32)>,
    /// By row: top of its channel, and of its cells.
    rows: Vec<(i32, i32)>,
    pub width: i32,
    pub height: i32,
    /// By channel (the row under it) and bundle.
    tracks: BTreeMap<(usize, usize), i32>,
    lanes: BTreeMap<usize, i32>,
}

fn small(n: usize) -> i32 {
    i32::try_from(n).unwrap_or(i32::MAX / 4096)
}

/// What a grid is made for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sizes {
    pub cell_width: i32,
    pub cell_height: i32,
    /// Between cells side by side.
    pub gap: i32,
    /// Least width of a column, in cells.
    pub abreast: usize,
    /// Width of a column in which nothing comes off.
    pub empty: i32,
}

impl Grid {
    /// A grid for cells in these columns; `above` speaks of cells outside them too.
    pub(super) fn new(spots: &[Spot], above: &[Vec<usize>], columns: &[usize], sizes: Sizes) -> Grid {
        let shown = |s: &Spot| columns.contains(&s.column);
        let mut grid = Grid {
            cell_width: sizes.cell_width,
            cell_height: sizes.cell_height,
            gap: sizes.gap,
            empty: sizes.empty,
            columns: BTreeMap::new(),
            rows: Vec::new(),
            width: 0,
            height: 0,
            tracks: BTreeMap::new(),
            lanes: BTreeMap::new(),
        };
        let mut far: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        let mut through: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
        for (cell, parents) in above.iter().enumerate() {
            let Some(to) = spots.get(cell).filter(|s| shown(s)) else {
                continue;
            };
            let parents: Vec<&Spot> = parents
                .iter()
                .filter_map(|p| spots.get(*p))
                .filter(|s| shown(s))
                .collect();
            if parents.is_empty() {
                continue;
            }
            through.entry(to.row).or_default().insert(cell);
            for p in parents.iter().filter(|p| p.row + 1 < to.row) {
                through.entry(p.row + 1).or_default().insert(cell);
            }
            if parents.iter().any(|p| p.row + 1 < to.row) {
                far.entry(to.column).or_default().push(cell);
            }
        }
        grid.set_columns(spots, columns, sizes, &far);
        let lowest = spots
            .iter()
            .filter(|s| shown(s))
            .map(|s| s.row)
            .max()
            .unwrap_or(0);
        grid.set_rows(lowest, &through);
        grid.set_tracks(spots, above, through);
        grid
    }

    fn set_columns(
        &mut self,
        spots: &[Spot],
        columns: &[usize],
        sizes: Sizes,
        far: &BTreeMap<usize, Vec<usize>>,
    ) {
        let mut x = 0;
        for column in columns {
            let lanes = far.get(column).map_or(0, Vec::len);
            let gutter = 2 * EASE + PITCH * small(lanes);
            let cells = spots
                .iter()
                .filter(|s| s.column == *column)
                .map(|s| s.place + 1)
                .max();
            self.columns.insert(*column, (x, x + gutter));
            for (lane, cell) in far.get(column).into_iter().flatten().enumerate() {
                self.lanes.insert(*cell, x + EASE + PITCH * small(lane));
            }
            x += gutter
                + match cells {
                    None => sizes.empty,
                    Some(cells) => {
                        let cells = small(cells.clamp(sizes.abreast.max(1), ABREAST));
                        self.cell_width * cells + self.gap * (cells - 1)
                    }
                };
        }
        self.width = x + EASE;
    }

    fn set_rows(&mut self, lowest: usize, through: &BTreeMap<usize, BTreeSet<usize>>) {
        let mut y = 0;
        for row in 0..=lowest {
            let tracks = through.get(&row).map_or(0, BTreeSet::len);
            let channel = 2 * EASE + PITCH * small(tracks.saturating_sub(1));
            self.rows.push((y, y + channel));
            y += channel + self.cell_height;
        }
        self.height = y;
    }

    /// In each channel the bundle that reaches farthest runs uppermost: so those that turn off sooner pass beneath it.
    fn set_tracks(
        &mut self,
        spots: &[Spot],
        above: &[Vec<usize>],
        through: BTreeMap<usize, BTreeSet<usize>>,
    ) {
        for (row, cells) in through {
            let mut by_reach: Vec<(i32, usize)> = cells
                .into_iter()
                .map(|cell| {
                    let x = spots.get(cell).map_or(0, |s| self.middle(*s));
                    let reach = above
                        .get(cell)
                        .into_iter()
                        .flatten()
                        .filter_map(|p| spots.get(*p))
                        .map(|p| (self.middle(*p) - x).abs())
                        .max();
                    (-reach.unwrap_or(0), cell)
                })
                .collect();
            by_reach.sort_unstable();
            let top = self.rows.get(row).map_or(0, |r| r.0);
            for (track, (_, cell)) in by_reach.iter().enumerate() {
                self.tracks
                    .insert((row, *cell), top + EASE + PITCH * small(track));
            }
        }
    }

    /// Middle of a cell, across.
    pub(super) fn middle(&self, spot: Spot) -> i32 {
        self.left(spot) + self.cell_width / 2
    }
    /// Left edge of a cell.
    pub(super) fn left(&self, spot: Spot) -> i32 {
        let left = self.columns.get(&spot.column).map_or(0, |c| c.1);
        left + small(spot.place) * (self.cell_width + self.gap)
    }
    /// Top of a cell.
    pub(super) fn top(&self, spot: Spot) -> i32 {
        self.rows.get(spot.row).map_or(0, |r| r.1)
    }
    /// Left edge of a column's cells.
    pub(super) fn column_left(&self, column: usize) -> i32 {
        self.columns.get(&column).map_or(0, |c| c.1)
    }
    /// Left edge of a column's gutter.
    pub(super) fn gutter_left(&self, column: usize) -> i32 {
        self.columns.get(&column).map_or(0, |c| c.0)
    }

    /// The bundles between the cells shown.
    pub(super) fn bundles(&self, spots: &[Spot], above: &[Vec<usize>]) -> Vec<Bundle> {
        let shown = |s: &&Spot| self.columns.contains_key(&s.column);
        let mut out = Vec::new();
        for (cell, parents) in above.iter().enumerate() {
            let Some(to) = spots.get(cell).filter(shown) else {
                continue;
            };
            let parents: Vec<Spot> = parents
                .iter()
                .filter_map(|p| spots.get(*p))
                .filter(shown)
                .copied()
                .collect();
            if !parents.is_empty() {
                out.push(Bundle {
                    cell,
                    pieces: self.pieces(cell, *to, &parents),
                    lines: self.lines(cell, *to, &parents),
                });
            }
        }
        out
    }

    fn lines(&self, cell: usize, to: Spot, parents: &[Spot]) -> Vec<Vec<(i32, i32)>> {
        let track = |row: usize| self.tracks.get(&(row, cell)).copied().unwrap_or(0);
        let (x, last) = (self.middle(to), track(to.row));
        let line = |p: &Spot| {
            let (px, y) = (self.middle(*p), track(p.row + 1));
            let mut line = vec![(px, self.top(*p) + self.cell_height), (px, y)];
            if let (true, Some(lane)) = (p.row + 1 < to.row, self.lanes.get(&cell)) {
                line.extend([(*lane, y), (*lane, last)]);
            }
            line.extend([(x, last), (x, self.top(to))]);
            line
        };
        parents.iter().map(line).collect()
    }

    fn pieces(&self, cell: usize, to: Spot, parents: &[Spot]) -> Vec<Piece> {
        let track = |row: usize| self.tracks.get(&(row, cell)).copied().unwrap_or(0);
        let (x, last) = (self.middle(to), track(to.row));
        let lane = self.lanes.get(&cell).copied();
        let mut out = Vec::new();
        for p in parents {
            let (px, y) = (self.middle(*p), track(p.row + 1));
            out.push(Piece::Trunk {
                of: *p,
                x: px,
                from: self.top(*p) + self.cell_height,
                to: y,
            });
            let turn = if p.row + 1 < to.row { lane.unwrap_or(x) } else { x };
            out.push(Piece::Across {
                y,
                from: px,
                to: turn,
            });
        }
        let first = parents
            .iter()
            .filter(|p| p.row + 1 < to.row)
            .map(|p| track(p.row + 1))
            .min();
        if let (Some(first), Some(lane)) = (first, lane) {
            out.push(Piece::Down {
                x: lane,
                from: first,
                to: last,
            });
            out.push(Piece::Across {
                y: last,
                from: lane,
                to: x,
            });
        }
        out.push(Piece::Down {
            x,
            from: last,
            to: self.top(to),
        });
        out.retain(|p| match p {
            Piece::Across { from, to, .. } | Piece::Down { from, to, .. } | Piece::Trunk { from, to, .. } => {
                from != to
            }
        });
        out
    }
}

/// How often a piece of one bundle goes straight across a piece of another, or runs along it so that the two cannot be
/// told apart.
pub(super) fn crossings(bundles: &[Bundle]) -> usize {
    let mut n = 0;
    for (i, a) in bundles.iter().enumerate() {
        for b in bundles.iter().skip(i + 1) {
            for p in &a.pieces {
                n += b.pieces.iter().filter(|q| cross(*p, **q)).count();
            }
        }
    }
    n
}

fn cross(a: Piece, b: Piece) -> bool {
    if let (Piece::Trunk { of: a, .. }, Piece::Trunk { of: b, .. }) = (a, b)
        && a == b
    {
        return false;
    }
    match (ends(a), ends(b)) {
        ((true, y, from, to), (false, x, top, low)) | ((false, x, top, low), (true, y, from, to)) => {
            (x > from && x < to) && (y > top && y < low)
        }
        ((_, at, from, to), (_, other, begin, end)) => at == other && from < end && begin < to,
    }
}

/// Across or not, where, from and to.
fn ends(piece: Piece) -> (bool, i32, i32, i32) {
    match piece {
        Piece::Across { y, from, to } => (true, y, from.min(to), from.max(to)),
        Piece::Down { x, from, to } | Piece::Trunk { x, from, to, .. } => {
            (false, x, from.min(to), from.max(to))
        }
    }
}
