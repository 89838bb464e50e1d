//! The robust regression equals statsmodels; Student's quantiles equal scipy.

use refettle_judgement::chance::student::{student_cdf, student_quantile};
use refettle_judgement::price::robust::{HUBER, NoFit, Shape, TUKEY, regress};
use std::collections::BTreeMap;

const ROBUST: &str = include_str!("../../../../reference-checks/data/robust_statsmodels.tsv");
const STUDENT: &str = include_str!("../../../../reference-checks/data/student_scipy.tsv");

fn numbers(text: &str) -> Vec<f64> {
    text.split(' ').map(|v| v.parse().unwrap()).collect()
}

/// Largest distance of two lists, over the largest value in the second.
fn apart(ours: &[f64], theirs: &[f64]) -> f64 {
    assert_eq!(ours.len(), theirs.len());
    let size = theirs.iter().fold(1e-300f64, |m, v| m.max(v.abs()));
    ours.iter()
        .zip(theirs)
        .map(|(a, b)| (a - b).abs() / size)
        .fold(0.0, f64::max)
}

#[test]
fn robust_fits_equal_statsmodels_on_stack_loss_and_at_random() {
    let text = ROBUST;
    let mut cases: BTreeMap<&str, BTreeMap<&str, Vec<Vec<f64>>>> = BTreeMap::new();
    for line in text.lines().skip(2) {
        let mut cells = line.split('\t');
        let (case, what, values) = (
            cells.next().unwrap(),
            cells.next().unwrap(),
            cells.next().unwrap(),
        );
        cases
            .entry(case)
            .or_default()
            .entry(what)
            .or_default()
            .push(numbers(values));
    }
    assert_eq!(cases.len(), 41);
    let mut worst: BTreeMap<String, f64> = BTreeMap::new();
    let mut checks = 0;
    for (case, told) in &cases {
        let y = &told["y"][0];
        let rows: Vec<Vec<f64>> = (0..y.len())
            .map(|i| told["x"].iter().map(|column| column[i]).collect())
            .collect();
        for (shape, name) in [(Shape::Huber(HUBER), "huber"), (Shape::Tukey(TUKEY), "tukey")] {
            let fit = regress(&rows, y, shape).unwrap();
            assert!(fit.settled, "{case} {name}");
            for (what, ours) in [
                ("b", &fit.coefficients),
                ("se", &fit.standard_errors),
                ("scale", &vec![fit.scale]),
                ("weights", &fit.weights),
            ] {
                let off = apart(ours, &told[format!("{name}-{what}").as_str()][0]);
                let kind = if *case == "stackloss" {
                    "stack loss"
                } else {
                    "random"
                };
                let key = format!("{kind} {what}");
                let entry = worst.entry(key).or_default();
                *entry = entry.max(off);
                checks += ours.len();
                // Both stop when no coefficient moves by 1e-13; near-degenerate cases converge slowly.
                assert!(off < 1e-6, "{case} {name} {what}: {off:e}");
            }
        }
    }
    let most = worst.values().copied().fold(0.0, f64::max);
    println!(
        "ACCURACY\trobust regression by Huber and Tukey: coefficients, errors, scale, weights\tstatsmodels RLM on stack loss (Brownlee 1965) and 40 random tables\t{checks}\t{most} of the largest"
    );
}

#[test]
fn student_quantiles_equal_scipy() {
    let mut worst = 0.0f64;
    let text = STUDENT;
    for line in text.lines().skip(2) {
        let cells: Vec<f64> = line.split('\t').map(|c| c.parse().unwrap()).collect();
        let t = student_quantile(cells[0], cells[1]);
        worst = worst.max((t - cells[2]).abs() / cells[2].abs().max(1.0));
        assert!(
            (student_cdf(cells[2], cells[1]) - cells[0]).abs() < 1e-11,
            "{line}"
        );
    }
    assert_eq!(text.lines().count(), 132);
    assert!(worst < 1e-10, "{worst:e}");
    println!("ACCURACY\tStudent's t, quantiles\tscipy.stats.t\t130\t{worst} of the quantile");
}

#[test]
fn what_cannot_be_fitted_is_said() {
    let huber = Shape::Huber(HUBER);
    assert_eq!(
        regress(&[vec![1.0, 2.0], vec![1.0, 3.0]], &[1.0, 2.0], huber),
        Err(NoFit::TooFew { rows: 2, columns: 2 })
    );
    let same: Vec<Vec<f64>> = (0..5).map(|i| vec![f64::from(i), 2.0 * f64::from(i)]).collect();
    assert_eq!(
        regress(&same, &[0.0, 1.0, 2.0, 3.0, 4.0], huber),
        Err(NoFit::Dependent)
    );
    assert!(matches!(regress(&[], &[], huber), Err(NoFit::TooFew { .. })));
    // Most residuals are nothing: the line through them.
    let rows: Vec<Vec<f64>> = (0..6).map(|i| vec![1.0, f64::from(i)]).collect();
    let fit = regress(&rows, &[0.0, 2.0, 4.0, 6.0, 8.0, 10.0], huber).unwrap();
    assert!((fit.coefficients[1] - 2.0).abs() < 1e-12 && fit.scale < 1e-12);
}
