//! The fit desk answers and refuses as told.
//!
//! Expected numbers are those of published tables and worked examples, or worked out by hand beside the test.

#![expect(clippy::unwrap_used, reason = "a helper of a test fails the test")]

#[path = "fit_desk/answers.rs"]
mod answers;
#[path = "fit_desk/any_text.rs"]
mod any_text;
#[path = "fit_desk/drive_and_parts.rs"]
mod drive_and_parts;
#[path = "fit_desk/readings.rs"]
mod readings;
#[path = "fit_desk/refusals.rs"]
mod refusals;
#[path = "fit_desk/screens.rs"]
mod screens;

use refettle_usecases::refused::Refused;

/// What was wrong, a line each.
fn wrong<T: std::fmt::Debug>(answer: Result<T, Refused>) -> String {
    match answer {
        Err(Refused::Wrong(lines)) => {
            assert!(!lines.is_empty());
            lines.join("\n")
        }
        other => unreachable!("refused as wrong was expected: {other:?}"),
    }
}

/// Within a tolerance.
fn near(got: f64, wanted: f64, tolerance: f64) {
    assert!(
        (got - wanted).abs() <= tolerance,
        "got {got}, wanted {wanted} within {tolerance}"
    );
}

fn some(text: &str) -> Option<String> {
    Some(text.to_owned())
}
