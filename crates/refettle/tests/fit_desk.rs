//! The fit desk as a person or a script meets it: exit status, text, JSON.

#![expect(clippy::unwrap_used, reason = "a helper of a test fails the test")]

use std::process::{Command, Output};

fn refettle(line: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_refettle"))
        .args(line.split_whitespace())
        .output()
        .unwrap()
}

fn json(line: &str) -> serde_json::Value {
    let output = refettle(&format!("{line} --json"));
    assert_eq!(
        output.status.code(),
        Some(0),
        "{line}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    serde_json::from_slice(&output.stdout).unwrap()
}

fn near(value: &serde_json::Value, wanted: f64, tolerance: f64) {
    assert!(
        (value.as_f64().unwrap() - wanted).abs() <= tolerance,
        "{value} {wanted}"
    );
}

#[test]
fn the_fixed_command_line_answers() {
    let torque = json(
        "torque --thread M10x1.25 --class 8.8 --friction 0.12 --into cast-aluminium --engaged 12mm --extension 100mm --wrench 250mm",
    );
    // 12.412 kN by hand: pi x 9.1881 x 10.75 / 3 x 120 N.
    near(&torque["preload_kn"], 12.412, 0.002);
    assert_eq!(torque["limited_by"], "tapped thread");
    near(
        &torque["wrench_setting_nm"],
        torque["torque_nm"].as_f64().unwrap() / 1.4,
        1e-5,
    );
    assert_eq!(
        json("thread --od 7.9mm --tpi 24")["candidates"][0]["name"],
        "5/16-24"
    );
    let ring = json("ring --id 24.99mm --section 3.53mm --groove 25.50mm --bore 31.24mm --width 4.57mm");
    near(&ring["stretch_pct"], 2.041, 0.001);
    near(&ring["squeeze_pct"], 17.97, 0.01);
    near(&ring["fill_pct"], 73.31, 0.01);
    near(
        &json("chain --size 520 --pitches 20 --length 323.0mm")["elongation_pct"],
        1.73,
        0.005,
    );
    let speedo = json("speedo --pair 50km/h:54km/h 100km/h:108km/h --category L3");
    near(&speedo["error_pct"], 8.0, 1e-6);
    assert_eq!(speedo["within_band"], true);
    near(&json("coolant --glycol 50%vol")["freeze_c"], -37.1, 1e-6);
    near(&json("coolant --coldest -24.8C")["glycol_vol_pct"], 40.0, 1e-3);
    near(
        &json("battery --volts 12.3V --temp 40F --type flooded")["charge_pct"],
        45.0,
        1e-3,
    );
    assert_eq!(json("charging --running 13.9V")["in_window"], true);
    near(
        &json("voltage-drop --circuit starter-feed --source 11.8V --at-load 11.1V --load on")["drop_v"],
        0.7,
        1e-6,
    );
    // 720/1035, the worked example of a car maker's procedure.
    near(
        &json("compression --read 1035kPa 720kPa --wet 2:900kPa")["lowest_over_highest_pct"],
        69.565,
        0.001,
    );
    near(
        &json("balance --vacuum 200mmHg 210mmHg")["spread_mmhg"],
        10.0,
        1e-6,
    );
    near(
        &json("float-height --height 22.0mm 22.6mm")["spread_mm"],
        0.6,
        1e-6,
    );
    near(
        &json("gearing --sprockets 16/45 --instead-of 15/45")["road_speed_change_pct"],
        100.0 / 15.0,
        1e-5,
    );
    assert_eq!(
        json("cable-drive --works odometer --fails needle")["proven_bad"][0],
        "magnet, hairspring and needle"
    );
    let vin = json("vin 11111111111111111");
    assert_eq!(
        (&vin["check_digit_ok"], &vin["model_year"]),
        (&true.into(), &2001.into())
    );
}

#[test]
fn a_wrong_request_ends_in_two_and_says_why() {
    for (line, said) in [
        ("chain --size 520 --pitches 20 --length 323", "has no unit"),
        (
            "ring --id 24.99 --section 3.53 --groove 25.5 --bore 31.24 --width 4.57",
            "width",
        ),
        (
            "torque --thread M10x1.25 --class 8.8 --into cast-aluminium",
            "engaged",
        ),
        ("thread --od -3mm --pitch 1mm", "-3 mm"),
        (
            "ring --id -1mm --section 3.53mm --groove 25.50mm --bore 31.24mm --width 4.57mm",
            "-1 mm",
        ),
        ("vin 1234", "17"),
        ("shims no-such-file.txt", "no-such-file.txt"),
        ("speedo", "--pair"),
        ("charging --running 13.9", "has no unit"),
        ("charging --running 139V", "20 V"),
        (
            "voltage-drop --circuit starter-earth --across 0.15V --load off",
            "load off",
        ),
        ("compression --read 1035kPa", "two cylinders"),
        ("float-height --height 22 23", "has no unit"),
        ("balance --vacuum 20 21", "has no unit"),
        ("gearing --sprockets 15", "15/45"),
        ("cable-drive --works nothing", "odometer"),
        ("dispose gold", "used-oil"),
        ("brake-fluid milk", "DOT"),
        ("spanner --size 12", "has no unit"),
        (
            "ring --id 24.99mm --section 3.53mm --width 4.57mm",
            "groove and bore",
        ),
    ] {
        let output = refettle(line);
        let stderr = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{line}: {stderr}");
        assert!(
            stderr.contains(said) && output.stdout.is_empty(),
            "{line}: {stderr}"
        );
    }
}

#[test]
fn every_command_shows_an_example_that_runs() {
    let commands = [
        "torque",
        "thread",
        "repair",
        "driver",
        "spanner",
        "ring",
        "old-ring",
        "part",
        "chain",
        "gearing",
        "speedo",
        "cable-drive",
        "tyre",
        "wear",
        "coolant",
        "brake-fluid",
        "brake-flush",
        "brake-mix",
        "oil",
        "dispose",
        "battery",
        "charging",
        "voltage-drop",
        "compression",
        "float-height",
        "balance",
        "vin",
    ];
    for command in commands {
        let help = String::from_utf8(refettle(&format!("{command} --help")).stdout).unwrap();
        let joined = help.replace("\\\n", " ");
        let examples: Vec<&str> = joined
            .lines()
            .filter_map(|line| line.trim().strip_prefix("refettle "))
            .collect();
        assert!(!examples.is_empty(), "{help}");
        // Help is wrapped at 80 columns: a wider example would break where it cannot be copied.
        let wide = |line: &&str| line.chars().count() > 80 || line.trim() == "\\";
        let shown = help.lines().skip_while(|line| !line.starts_with("Example"));
        assert_eq!(shown.filter(wide).count(), 0, "{help}");
        for example in examples {
            // Quoted words hold a space.
            let words = example.split('\'').enumerate().flat_map(|(at, piece)| {
                if at % 2 == 1 {
                    vec![piece]
                } else {
                    piece.split_whitespace().collect()
                }
            });
            let output = Command::new(env!("CARGO_BIN_EXE_refettle"))
                .args(words)
                .output()
                .unwrap();
            assert!(
                output.status.success(),
                "{example}: {}",
                String::from_utf8_lossy(&output.stderr)
            );
        }
    }
}
