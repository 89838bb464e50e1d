//! A terminal has 80 columns, and a time is a range.

use crate::requests::{FIRST_SCREEN, KITS, PLANS};
use crate::run::{Run, layouts, line};
use serde_json::Value;

/// Columns of a line: its characters, all of which take one column in these texts.
fn fits(run: &Run, what: &str) {
    for text in [&run.out, &run.err] {
        for line in text.lines() {
            assert!(
                line.chars().count() <= 80,
                "{what}: {} columns: {line}",
                line.chars().count()
            );
        }
    }
}

#[test]
fn every_plan_fits_and_tells_its_time_as_a_range() {
    let mut ranges = 0;
    for answered in PLANS.iter() {
        let (run, what) = (&answered.text, format!("{:?}", answered.request));
        fits(run, &what);
        let Some(said) = run.out.lines().find_map(|l| l.strip_prefix("Hands on ")) else {
            assert!(
                run.status == 3 || run.out.contains("Nothing is to be done"),
                "{what}: {run:?}"
            );
            continue;
        };
        let plan: Value = serde_json::from_str(&answered.json.out).unwrap();
        let seconds = plan["hands_on_s"].as_f64().unwrap();
        let (from, to) = read_range(said);
        // From the plan's time to half as long again, each rounded to half an hour at the most.
        assert!((from - seconds).abs() <= 900.0, "{what}: {said}");
        assert!((to - 1.5 * seconds).abs() <= 900.0, "{what}: {said}");
        assert!(from < to || seconds < 600.0, "{what}: {said}");
        ranges += 1;
    }
    assert!(ranges > 70, "{ranges}");
}

/// Reads `45 to 75 min`, `50 min to 1¼ h` or `2½ to 4 h` at the head of a text, as seconds.
fn read_range(said: &str) -> (f64, f64) {
    let words: Vec<&str> = said.split(' ').collect();
    let number = |word: &str| {
        let part = match word.chars().last() {
            Some('¼') => 0.25,
            Some('½') => 0.5,
            Some('¾') => 0.75,
            _ => 0.0,
        };
        let whole = word.trim_end_matches(['¼', '½', '¾']);
        part + if whole.is_empty() {
            0.0
        } else {
            whole.parse::<f64>().unwrap()
        }
    };
    let unit = |word: &str| match word {
        "min" => 60.0,
        "h" => 3600.0,
        other => panic!("{other}: {said}"),
    };
    match words.as_slice() {
        [from, "to", to, of, ..] => (number(from) * unit(of), number(to) * unit(of)),
        [from, of, "to", to, other, ..] => (number(from) * unit(of), number(to) * unit(other)),
        [both, of, ..] => (number(both) * unit(of), number(both) * unit(of)),
        _ => panic!("{said}"),
    }
}

#[test]
fn every_kit_fits() {
    for answered in KITS.iter() {
        fits(&answered.text, &format!("{:?}", answered.request));
    }
    assert!(KITS.len() > 80);
}

#[test]
fn long_lists_of_jobs_fit() {
    for (layout, jobs) in layouts() {
        // Jobs that take each other's place are left out: the tool says which they are.
        let listed: Value = serde_json::from_str(&line("layouts --json").out).unwrap();
        let excluded =
            |job: &String| {
                listed["layouts"].as_array().unwrap().iter().any(|l| {
                    l["name"] == layout.as_str()
                        && l["jobs"].as_array().unwrap().iter().any(|j| {
                            j["name"] == job.as_str() && !j["excludes"].as_array().unwrap().is_empty()
                        })
                })
            };
        let jobs: Vec<String> = jobs.into_iter().filter(|j| !excluded(j)).collect();
        for some in jobs.chunks(4).step_by(3) {
            for command in ["plan", "kit"] {
                let what = format!("{command} --layout {layout} --jobs {} --people 2", some.join(","));
                let run = line(&what);
                assert!(
                    run.status == 0 || run.status == 3 || run.status == 2,
                    "{what}: {}",
                    run.err
                );
                fits(&run, &what);
            }
        }
    }
}

#[test]
fn lists_help_and_the_first_screen_fit() {
    fits(&FIRST_SCREEN, "first screen");
    let mut screens = vec!["layouts".into(), "--help".into(), "--version".into()];
    let help = line("--help").out;
    // Those of machines and of the garage stand before what they are for.
    let mut commands: Vec<&str> = help
        .lines()
        .skip_while(|l| !l.starts_with("Work on a kind of machine"))
        .take_while(|l| !l.starts_with("Fit desk"))
        .filter_map(|l| l.strip_prefix("  ")?.split("  ").next())
        .flat_map(|names| names.split([' ', ',']).filter(|w| !w.is_empty()))
        .collect();
    // The fit desk's are named by subject.
    let desk = help
        .lines()
        .skip_while(|l| !l.starts_with("Fit desk"))
        .skip(1)
        .take_while(|l| !l.is_empty());
    commands.extend(desk.flat_map(|l| l.split([' ', ',']).filter(|w| !w.is_empty()).skip(1)));
    assert!(commands.contains(&"plan") && commands.contains(&"torque") && commands.len() > 50);
    screens.extend(commands.iter().map(|c| format!("{c} --help")));
    screens.extend(["sheet check --help".into(), "sheet show --help".into()]);
    for words in screens {
        let run = line(&words);
        assert_eq!(run.status, 0, "{words}");
        fits(&run, &words);
    }
}

#[test]
fn what_is_wrong_is_told_in_lines_that_fit() {
    for words in [
        "plan",
        "plan --layout",
        "plan --layout no-such-layout-by-far",
        "plan --layout tiny-trainer --sheet x.toml",
        "plan --layout small-faired-twin --jobs chain-clean,chain-and-sprockets,fork-sealls,no-such-job-at-all",
        "plan --layout small-faired-twin --stances monkey,sidestand --people 0 --goal home --answer x --answer q=a",
        "plan --layout small-faired-twin --answer front-discs=three --without no-such-tool",
        "plan --layout tiny-trainer --surplus",
        "plan --sheet /no/such/folder/and/no/such/file/in/it/whatever-it-may-be-called.toml",
        "kit --layout small-faired-twin --jobs swingarm-bearings --stances side-stand",
        "repair --thread M8",
        "pddl --layout tiny-trainer",
        "open --port 70000",
        "no-such-command",
        "sheet",
        "sheet check",
    ] {
        let run = line(words);
        assert!(run.status == 2 || run.status == 3, "{words}: {}", run.status);
        assert!(run.out.is_empty() && !run.err.is_empty(), "{words}");
        fits(&run, words);
    }
}
