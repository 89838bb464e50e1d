use super::order::{count, fewest_crossings, neighbours, swap};
use super::place::Spot;
use super::{CoverMap, Links, What};
use proptest::prelude::*;
use refettle_machine::garage::Garage;
use refettle_machine::ix::JobIx;
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_machine::{layouts, sheet};
use refettle_plan::ask::{Act, Action, Ask, Goal};
use refettle_plan::solve::solve;
use std::collections::{BTreeMap, BTreeSet};

const LINKS: Links<'static> = Links {
    part: "#",
    stays: "#stays-",
};

fn planned(name: &str, jobs: &[&str]) -> (Machine, Vec<JobIx>, Vec<Action>, CoverMap) {
    let machine = sheet::read(layouts::named(name).unwrap()).unwrap();
    let state = BikeState::whole(&machine);
    let garage = Garage::usual(&machine);
    let jobs: Vec<JobIx> = jobs.iter().map(|j| machine.job(j).unwrap()).collect();
    let ask = Ask {
        machine: &machine,
        state: &state,
        garage: &garage,
        jobs: &jobs,
        goal: Goal::Ready,
        effort: 500,
    };
    let actions = solve(&ask).unwrap().actions;
    let map = CoverMap::of(&machine, &state, &jobs, &actions);
    (machine, jobs, actions, map)
}

fn both() -> Vec<(Machine, Vec<JobIx>, Vec<Action>, CoverMap)> {
    vec![
        planned(
            "small-faired-twin",
            &["carb-clean", "oil-and-filter", "brake-pads-front", "fork-seals"],
        ),
        planned("scooter", &["carb-clean", "variator-rollers", "drive-belt"]),
    ]
}

#[test]
fn every_part_that_comes_off_is_inked_once_and_every_other_is_counted_as_staying() {
    for (machine, jobs, actions, map) in both() {
        let off: BTreeSet<_> = actions
            .iter()
            .filter_map(|a| match a.act {
                Act::TakeOff { part, .. } => Some(What::Part(part)),
                _ => None,
            })
            .collect();
        let mut wanted = off.clone();
        wanted.extend(jobs.iter().map(|j| What::Job(*j)));
        let cells: Vec<What> = map
            .regions()
            .iter()
            .flat_map(|r| &r.cells)
            .map(|(_, c)| c.what)
            .collect();
        assert_eq!(cells.len(), wanted.len(), "{}", machine.name);
        assert_eq!(
            cells.into_iter().collect::<BTreeSet<_>>(),
            wanted,
            "{}",
            machine.name
        );
        let state = BikeState::whole(&machine);
        let there = machine
            .parts
            .iter()
            .filter(|p| state.holds(&machine, p.when.as_ref()))
            .count();
        let stays: usize = map.regions().iter().map(|r| r.stays.len()).sum();
        assert_eq!(stays + off.len(), there, "{}", machine.name);
    }
}

#[test]
fn what_must_be_off_first_is_taken_off_first_and_drawn_higher() {
    for (machine, _, actions, map) in both() {
        let taken = |part| {
            actions
                .iter()
                .position(|a| matches!(a.act, Act::TakeOff { part: p, .. } if p == part))
        };
        let rows: BTreeMap<What, usize> = map
            .regions()
            .iter()
            .flat_map(|r| &r.cells)
            .map(|(row, cell)| (cell.what, *row))
            .collect();
        let mut ties = 0;
        for (row, cell) in map.regions().iter().flat_map(|r| &r.cells) {
            for first in &cell.first {
                ties += 1;
                assert!(
                    rows[&What::Part(*first)] < *row,
                    "{}: {}",
                    machine.name,
                    cell.name
                );
                if let What::Part(part) = cell.what {
                    assert!(taken(*first) < taken(part), "{}: {}", machine.name, cell.name);
                }
            }
        }
        assert!(ties > 5, "{}: {ties}", machine.name);
    }
}

#[test]
fn the_picture_says_every_cell_in_words_and_folds_what_stays() {
    for (machine, _, _, map) in both() {
        let all = map.all(LINKS).into_string();
        for region in map.regions() {
            for (_, cell) in &region.cells {
                assert!(
                    all.contains(&format!("href=\"#{}\"", cell.anchor)),
                    "{}: {}",
                    machine.name,
                    cell.anchor
                );
            }
            let one = map.region(region.region, LINKS).into_string();
            assert_eq!(one.matches("<rect class=\"cell").count(), region.cells.len());
            if !region.stays.is_empty() {
                assert!(all.contains(&format!("href=\"#stays-{}\"", region.region)));
            }
        }
        assert!(all.len() < 60_000, "{} is {} bytes", machine.name, all.len());
        crate::outline::tests::well_formed(&all);
    }
}

#[test]
fn a_part_with_two_ways_in_shows_the_other_one_and_never_the_one_taken() {
    let (machine, _, actions, map) = &both()[0];
    let forked: Vec<_> = map
        .regions()
        .iter()
        .flat_map(|r| &r.cells)
        .filter(|(_, cell)| !cell.other_ways.is_empty())
        .collect();
    assert!(!forked.is_empty());
    for (_, cell) in forked {
        let What::Part(part) = cell.what else {
            panic!("a job has no ways in")
        };
        let way = actions
            .iter()
            .find_map(|a| match a.act {
                Act::TakeOff { part: p, way } if p == part => Some(way),
                _ => None,
            })
            .unwrap();
        let ways = &machine.parts[part.0].ways;
        assert_eq!(cell.way, ways[way].title);
        assert!(cell.other_ways.len() < ways.len());
    }
}

/// No line of a picture goes through a cell of it, checked on the drawing itself.
#[test]
fn no_line_goes_through_a_cell() {
    for (machine, _, _, map) in both() {
        let svg = map.all(LINKS).into_string();
        let number = |tag: &str, name: &str| -> f64 {
            let at = tag.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
            tag[at..].split('"').next().unwrap().parse().unwrap()
        };
        let cells: Vec<[f64; 4]> = svg
            .split("<rect class=\"cell")
            .skip(1)
            .map(|tag| ["x", "y", "width", "height"].map(|n| number(tag, n)))
            .collect();
        let mut pieces = 0;
        for d in svg
            .split("<path class=\"tie\" d=\"")
            .skip(1)
            .map(|tag| tag.split('"').next().unwrap())
        {
            for line in d.split('M').skip(1) {
                let numbers: Vec<f64> = line
                    .split(|c: char| !(c.is_ascii_digit() || c == '-' || c == '.'))
                    .filter(|s| !s.is_empty())
                    .map(|s| s.parse().unwrap())
                    .collect();
                let points: Vec<&[f64]> = numbers.chunks(2).collect();
                for pair in points.windows(2) {
                    pieces += 1;
                    for [x, y, w, h] in &cells {
                        let (left, right) = (pair[0][0].min(pair[1][0]), pair[0][0].max(pair[1][0]));
                        let (top, low) = (pair[0][1].min(pair[1][1]), pair[0][1].max(pair[1][1]));
                        let through =
                            right > x + 0.5 && left < x + w - 0.5 && low > y + 0.5 && top < y + h - 0.5;
                        assert!(
                            !through,
                            "{}: a line runs through the cell at {x}, {y}",
                            machine.name
                        );
                    }
                }
            }
        }
        assert!(pieces > 20);
    }
}

/// A small map: columns and rows of cells with up to two abreast, lines from lower to higher rows.
fn small_map() -> impl Strategy<Value = (Vec<Spot>, Vec<Vec<usize>>)> {
    let sizes = prop::collection::vec(1_usize..=2, 9);
    (sizes, prop::collection::vec((0_usize..40, 0_usize..40), 0..12)).prop_map(|(sizes, ties)| {
        let mut spots = Vec::new();
        for (at, size) in sizes.iter().enumerate() {
            for place in 0..*size {
                spots.push(Spot {
                    column: at % 3,
                    row: at / 3,
                    place,
                });
            }
        }
        let mut above = vec![Vec::new(); spots.len()];
        for (a, b) in ties {
            let (a, b) = (a % spots.len(), b % spots.len());
            if spots[a].row < spots[b].row && !above[b].contains(&a) {
                above[b].push(a);
            }
        }
        (spots, above)
    })
}

proptest! {
    #[test]
    fn the_order_found_is_never_worse_than_the_start_and_as_good_as_any((spots, above) in small_map()) {
        let found = fewest_crossings(&spots, &above);
        prop_assert_eq!(found.before, count(&spots, &above));
        prop_assert_eq!(found.crossings, count(&found.spots, &above));
        prop_assert!(found.crossings <= found.before);
        // Every order there is, one pair after another.
        let mut orders = vec![spots.clone()];
        for pair in neighbours(&spots) {
            let turned: Vec<Vec<Spot>> = orders.iter().map(|order| {
                let mut order = order.clone();
                swap(&mut order, pair);
                order
            }).collect();
            orders.extend(turned);
        }
        let least = orders.iter().map(|order| count(order, &above)).min();
        prop_assert_eq!(Some(found.crossings), least);
        // Nobody left a column or a row.
        for (a, b) in spots.iter().zip(&found.spots) {
            prop_assert_eq!((a.column, a.row), (b.column, b.row));
        }
    }
}

#[test]
fn lines_that_must_cross_are_counted_and_lines_that_need_not_are_untangled() {
    // Two cells under two cells, tied crosswise: swapping one pair clears it.
    let spot = |row, place| Spot {
        column: 0,
        row,
        place,
    };
    let spots = vec![spot(0, 0), spot(0, 1), spot(1, 0), spot(1, 1)];
    let above = vec![vec![], vec![], vec![1], vec![0]];
    let found = fewest_crossings(&spots, &above);
    assert!(count(&spots, &above) > 0);
    assert_eq!(found.crossings, 0);
}
