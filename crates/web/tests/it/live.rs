//! Two devices at once: each sees the other's entries.

use crate::garage::{Garage, ask};
use axum::http::StatusCode;
use std::time::Duration;
use tokio::time::Instant;

/// Time is the runtime's own, which stands still while work is done: what is measured is how long the page waits.
#[tokio::test(start_paused = true)]
async fn an_entry_of_another_device_or_program_is_told_within_a_second() {
    let mut garage = Garage::new();
    let seen = garage.entries().last().unwrap().id.to_string();
    let mut asked = format!("/since?bike=demo&seen={seen}");
    for entries in 1..4 {
        let begun = Instant::now();
        let network = garage.router.clone();
        let request = Garage::asking(&asked);
        let waiting = tokio::spawn(async move { ask(&network, request).await });
        tokio::time::sleep(Duration::from_millis(700 * entries)).await;
        let last = garage.record_elsewhere();
        let told = waiting.await.unwrap();
        assert_eq!(told.status, StatusCode::OK, "{}", told.text);
        assert!(begun.elapsed() < Duration::from_millis(700 * entries + 1000));
        assert_eq!(told.text, format!("{{\"last\":\"{last}\"}}"));
        asked = format!("/since?bike=demo&seen={last}");
    }
}

#[tokio::test]
async fn every_page_of_the_bike_says_what_it_has_seen() {
    let garage = Garage::new();
    let last = garage.entries().last().unwrap().id.to_string();
    for path in [
        "/bike/demo",
        "/bike/demo/order",
        "/bike/demo/kit",
        "/bike/demo/all",
        "/bike/demo/road",
        "/bike/demo/papers",
    ] {
        let text = garage.get(path).await.text;
        assert!(text.contains(&format!("data-entry=\"{last}\"")), "{path}");
    }
}

#[tokio::test(start_paused = true)]
async fn with_nothing_new_the_page_is_sent_away_after_a_while() {
    let garage = Garage::new();
    let seen = garage.entries().last().unwrap().id.to_string();
    let begun = Instant::now();
    let told = garage.get(&format!("/since?bike=demo&seen={seen}")).await;
    assert_eq!(told.status, StatusCode::NO_CONTENT);
    assert!(begun.elapsed() >= Duration::from_secs(15));
}

#[tokio::test]
async fn what_is_no_entry_is_refused() {
    let garage = Garage::new();
    for path in [
        "/since",
        "/since?bike=demo&seen=",
        "/since?bike=demo&seen=UPPER",
        "/since?bike=demo&seen=%ff",
        "/since?x=1",
    ] {
        assert_eq!(
            garage.get(path).await.status,
            StatusCode::UNPROCESSABLE_ENTITY,
            "{path}"
        );
    }
}
