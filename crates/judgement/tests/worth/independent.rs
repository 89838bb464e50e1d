//! Against the answers of a mixed-integer solver and of a maximum flow, kept in `reference-checks/data`.

use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use refettle_judgement::keep::demand::Demand;
use refettle_judgement::keep::stock::{self, Keepable, Method};
use refettle_judgement::worth::branch::{NoSelection, USUAL_CUTS, best};
use refettle_judgement::worth::selection::{Caps, Choice, Selection, Shared, Stand};

const TABLE: &str = include_str!("../../../../reference-checks/data/selections_highs.tsv");

fn rows(kind: &str) -> Vec<Vec<&'static str>> {
    let rows: Vec<Vec<&str>> = TABLE
        .lines()
        .filter(|l| !l.starts_with('#'))
        .map(|l| l.split('\t').collect())
        .filter(|cells: &Vec<&str>| cells[0] == kind)
        .collect();
    assert!(rows.len() >= 100, "{kind}: {}", rows.len());
    rows
}

fn list<T: std::str::FromStr<Err: std::fmt::Debug>>(text: &str) -> Vec<T> {
    let parts = text.split(',').filter(|p| !p.is_empty());
    parts.map(|p| p.parse().unwrap()).collect()
}

fn pieces(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.split(';')
        .filter(|p| !p.is_empty())
        .map(|p| p.split(':').collect())
}

fn selection(cells: &[&str]) -> Selection {
    let cap = |text: &str| (text != "-").then(|| text.parse::<i64>().unwrap());
    Selection {
        rate: Money(cells[2].parse().unwrap()),
        caps: Caps {
            hands_on: cap(cells[3]).map(|s| Seconds(u32::try_from(s).unwrap())),
            cash: cap(cells[4]).map(Money),
        },
        options: pieces(cells[5])
            .map(|o| Choice {
                value: Money(o[0].parse().unwrap()),
                parts: Money(o[1].parse().unwrap()),
                hands_on: Seconds(o[2].parse().unwrap()),
                stand: match o[3] {
                    "m" => Stand::Must,
                    "l" => Stand::Left,
                    _ => Stand::Open,
                },
                needs: list(o[4]),
                requires: list(o[5]),
            })
            .collect(),
        shared: pieces(cells[6])
            .map(|s| Shared {
                hands_on: Seconds(s[0].parse().unwrap()),
                cash: Money(s[1].parse().unwrap()),
            })
            .collect(),
        not_together: pieces(cells[7])
            .map(|p| (p[0].parse().unwrap(), p[1].parse().unwrap()))
            .collect(),
    }
}

/// The number of cases and the largest difference in minor units.
fn compared(kind: &str) -> (usize, i64) {
    let rows = rows(kind);
    let mut worst = 0;
    for cells in &rows {
        let problem = selection(cells);
        match (best(&problem, USUAL_CUTS), cells[8]) {
            (Ok(found), optimum) => {
                let optimum: i64 = optimum
                    .parse()
                    .unwrap_or_else(|_| panic!("{} {}: {found:?}", kind, cells[1]));
                assert!(found.proven(), "{kind} {}", cells[1]);
                worst = worst.max((found.totals.gain.0 - optimum).abs());
            }
            (Err(NoSelection::Contradiction | NoSelection::OverCaps(_)), "none") => {}
            (found, optimum) => panic!("{kind} {}: {found:?}, {optimum}", cells[1]),
        }
    }
    (rows.len(), worst)
}

#[test]
fn selections_are_as_good_as_a_mixed_integer_solvers() {
    let (cases, worst) = compared("selection");
    assert_eq!(worst, 0);
    println!(
        "ACCURACY\tworth: best set with caps, musts, exclusions\tHiGHS mixed-integer solver\t{cases}\t{worst} cent"
    );
}

#[test]
fn without_caps_they_are_a_minimum_cut() {
    let (cases, worst) = compared("closure");
    assert_eq!(worst, 0);
    println!(
        "ACCURACY\tworth: best set without caps\tminimum cut, scipy maximum_flow\t{cases}\t{worst} cent"
    );
}

#[test]
fn small_parts_kept_are_as_good_as_a_mixed_integer_solvers() {
    let rows = rows("keep");
    let mut worst = 0i64;
    let mut units = 0;
    for cells in &rows {
        let parts: Vec<Keepable> = pieces(cells[5])
            .map(|p| {
                let mut demand = Demand::default();
                for rate in p[3].split(',') {
                    let (n, jobs) = rate.split_once('=').unwrap();
                    demand.add(n.parse().unwrap(), jobs.parse().unwrap());
                }
                Keepable {
                    demand,
                    price: Money(p[0].parse().unwrap()),
                    have: p[1].parse().unwrap(),
                    held_up: Money(p[2].parse().unwrap()),
                }
            })
            .collect();
        let found = stock::best(&parts, Money(cells[4].parse().unwrap()));
        let optimum: i64 = cells[8].parse().unwrap();
        assert_eq!(found.method, Method::Exact, "{}", cells[1]);
        worst = worst.max((found.prevented_milli - optimum).abs());
        units += found.units.iter().sum::<u32>();
    }
    // Each unit's money is rounded to a thousandth of a cent on either side.
    assert!(worst <= 60, "{worst}");
    assert!(units > 500, "{units}");
    #[allow(clippy::cast_precision_loss, reason = "below a hundred")]
    let cents = worst as f64 / 1000.0;
    println!(
        "ACCURACY\tkeep: held-up money prevented within a budget\tHiGHS mixed-integer solver, scipy.stats.poisson convolved\t{}\t{cents} cent",
        rows.len()
    );
}
