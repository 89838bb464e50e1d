//! Jobs, the yard, catching up, tonight, taking back.

use super::bring_in::{brought_in, entries, to};
use super::garage::Garage;
use axum::http::StatusCode;
use refettle_memory::entry::Entry;
use refettle_usecases::look::Read;

fn read(garage: &Garage, bike: &refettle_facts::ids::BikeId) -> Read {
    let memory = refettle_memory::Memory::open(garage.folder()).unwrap();
    Read::of(&memory, bike, jiff::Timestamp::now(), None).unwrap()
}

/// Values of the boxes of this name that are ticked.
fn ticked(text: &str, name: &str) -> Vec<String> {
    let start = format!("name=\"{name}\" value=\"");
    text.split(&start)
        .skip(1)
        .filter_map(|rest| {
            let (value, after) = rest.split_once('"')?;
            after
                .split('>')
                .next()?
                .contains("checked")
                .then(|| value.to_owned())
        })
        .collect()
}

#[tokio::test]
async fn the_yard_has_one_button_for_the_next_sensible_action() {
    let garage = Garage::new();
    let bike = brought_in(&garage).await;
    let strip = |text: &str| {
        let (_, mine) = text.rsplit_once("<li class=\"bike-strip\">").unwrap();
        mine.split("</li>").next().unwrap().to_owned()
    };
    let yard = garage.get("/").await.text;
    assert!(
        strip(&yard).contains(&format!("href=\"/bike/{bike}/walk-round\"")),
        "{yard}"
    );
    assert_eq!(strip(&yard).matches("go big next").count(), 1);
    garage
        .post_to(
            &format!("/bike/{bike}/walk-round"),
            "tap=the-first-tap&region=front-wheel&part=front-tyre&word=worn&own=",
        )
        .await;
    let yard = garage.get("/").await.text;
    assert!(strip(&yard).contains(&format!("href=\"/bike/{bike}/jobs\"")));
    garage
        .post_to(&format!("/bike/{bike}/jobs"), "tap=the-second-tap&job=tyre-front")
        .await;
    let yard = garage.get("/").await.text;
    assert!(strip(&yard).contains(&format!("href=\"/bike/{bike}\"")));
    // The demo bike came half apart: what is off, and what must not be done, stand on its strip.
    assert!(yard.contains("<dt>Off</dt>") && yard.contains("do not start the engine"));
}

#[tokio::test]
async fn jobs_are_proposed_from_findings_and_unknown_history_and_lead_to_a_plan() {
    let garage = Garage::new();
    let bike = brought_in(&garage).await;
    garage
        .post_to(
            &format!("/bike/{bike}/walk-round"),
            "tap=the-first-tap&region=front-wheel&part=front-tyre&word=worn&own=",
        )
        .await;
    let at = format!("/bike/{bike}/jobs");
    let page = garage.get(&at).await;
    let jobs = ticked(&page.text, "job");
    for job in [
        "tyre-front",
        "fresh-petrol",
        "brake-fluid-front",
        "brake-check",
        "look-before-start",
    ] {
        assert!(jobs.iter().any(|j| j == job), "{job} is not proposed in {jobs:?}");
    }
    assert!(
        !jobs.iter().any(|j| j == "clutch-plates"),
        "nothing speaks for it"
    );
    let body: String = jobs.iter().map(|job| format!("&job={job}")).collect();
    let body = format!("tap={}{body}", page.field("tap"));
    let sent = garage.post_to(&at, body.clone()).await;
    assert_eq!(to(&sent), at, "{}", sent.text);
    garage.post_to(&at, body).await;
    let all = entries(&garage, &bike);
    assert_eq!(
        all.iter()
            .filter(|s| matches!(s.entry, Entry::JobsChosen(_)))
            .count(),
        1
    );
    let kept = garage.get(&at).await;
    assert!(
        kept.text.contains("hands on, closing up included"),
        "{}",
        kept.text
    );
    assert_eq!(ticked(&kept.text, "job"), jobs);
    let bench = garage.get(&format!("/bike/{bike}")).await;
    assert!(bench.text.contains("name=\"card\""), "{}", bench.text);
}

#[tokio::test]
async fn jobs_that_are_none_or_clash_come_back_ticked() {
    let garage = Garage::new();
    let bike = brought_in(&garage).await;
    let at = format!("/bike/{bike}/jobs");
    let before = entries(&garage, &bike).len();
    let body = "tap=the-first-tap&job=chain-clean&job=chain-and-sprockets&job=wings&job=tyre-rear";
    let back = garage.post_to(&at, body).await;
    assert_eq!(back.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(back.text.contains("'wings'") && back.text.contains("makes no sense beside"));
    let jobs = ticked(&back.text, "job");
    for job in ["chain-clean", "chain-and-sprockets", "tyre-rear"] {
        assert!(jobs.iter().any(|j| j == job), "{job} is lost");
    }
    assert_eq!(jobs.len(), 3);
    assert_eq!(entries(&garage, &bike).len(), before);
}

#[tokio::test]
async fn what_was_put_on_unwatched_is_unwitnessed() {
    let garage = Garage::new();
    let bike = brought_in(&garage).await;
    let at = format!("/bike/{bike}/now");
    let page = garage.get(&at).await;
    let stance = ticked(&page.text, "stance").remove(0);
    let body = |page: &super::garage::Page, off: &str| {
        format!(
            "tap={}&seen={}&stance={stance}{off}",
            page.field("tap"),
            page.field("seen")
        )
    };
    let first = body(&page, "&off=seat&off=tank");
    assert_eq!(
        to(&garage.post_to(&at, first.clone()).await),
        format!("/bike/{bike}")
    );
    assert_eq!(read(&garage, &bike).now().state.off.len(), 2);
    // A repeat is no news; another form from the same old page is.
    assert_eq!(garage.post_to(&at, first).await.status, StatusCode::SEE_OTHER);
    let stale = body(&page, "&off=seat").replace(&page.field("tap"), "quite-another-tap");
    assert_eq!(garage.post_to(&at, stale).await.status, StatusCode::CONFLICT);
    let page = garage.get(&at).await;
    assert_eq!(ticked(&page.text, "off").len(), 2);
    garage.post_to(&at, body(&page, "&off=seat")).await;
    let read = read(&garage, &bike);
    let tank = read.machine().part("tank").unwrap();
    assert!(read.now().unwitnessed.parts.contains(&tank));
    assert_eq!(
        entries(&garage, &bike)
            .iter()
            .filter(|s| matches!(s.entry, Entry::StateObserved(_)))
            .count(),
        2
    );
    let page = garage.get(&at).await;
    let wrong =
        body(&page, "&off=seat&off=wings&loose=halo").replace(&format!("stance={stance}"), "stance=floating");
    let back = garage.post_to(&at, wrong).await;
    assert_eq!(back.status, StatusCode::UNPROCESSABLE_ENTITY);
    for wrong in ["'wings'", "'halo'", "'floating'"] {
        assert!(back.text.contains(wrong), "{wrong}");
    }
    assert_eq!(ticked(&back.text, "off"), ["seat"]);
}

#[tokio::test]
async fn done_to_here_moves_the_plan_on_and_can_be_taken_back() {
    let garage = Garage::new();
    let order = garage.get("/bike/demo/order").await;
    let places: Vec<&str> = order
        .text
        .split("name=\"place\" value=\"")
        .skip(1)
        .filter_map(|r| r.split('"').next())
        .collect();
    assert!(places.len() > 2);
    let left = |text: &str| text.matches("<li").count();
    let body = format!(
        "tap={}&seen={}&place={}",
        order.field("tap"),
        order.field("seen"),
        places[1]
    );
    let sent = garage.post_to("/bike/demo/done-to", body.clone()).await;
    assert_eq!(to(&sent), "/bike/demo/order", "{}", sent.text);
    assert_eq!(
        to(&garage.post_to("/bike/demo/done-to", body.clone()).await),
        "/bike/demo/order"
    );
    let n = garage.entries().len();
    assert!(matches!(
        garage.entries().last().unwrap().entry,
        Entry::StateObserved(_)
    ));
    let after = garage.get("/bike/demo/order").await;
    assert!(left(&after.text) < left(&order.text));
    let old = body.replace(&order.field("tap"), "a-tap-from-an-old-page");
    assert_eq!(
        garage.post_to("/bike/demo/done-to", old).await.status,
        StatusCode::CONFLICT
    );
    let far = format!("tap=a-tap-too-far&seen={}&place=9999", after.field("seen"));
    assert_eq!(
        garage.post_to("/bike/demo/done-to", far).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    let bench = garage.get("/bike/demo").await;
    assert!(bench.text.contains("Take back the last: Seen"), "{}", bench.text);
    garage.post_to("/bike/demo/undo", "tap=take-it-back&back=").await;
    garage.post_to("/bike/demo/undo", "tap=take-it-back&back=").await;
    assert_eq!(garage.entries().len(), n + 1, "a repeated tap takes back once");
    let again = garage.get("/bike/demo/order").await;
    assert_eq!(left(&again.text), left(&order.text));
}

#[tokio::test]
async fn tonight_says_what_fits_how_it_is_left_and_what_must_not_be_done() {
    let garage = Garage::new();
    let page = garage.get("/bike/demo/tonight?minutes=60&alone=yes").await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    for said in [
        "What fits, in this order",
        "Then clear up",
        "How it is left",
        "do not ride it",
    ] {
        assert!(page.text.contains(said), "{said}");
    }
    let stop = garage.get("/bike/demo/tonight?stop=yes").await;
    assert_eq!(stop.status, StatusCode::OK, "{}", stop.text);
    assert!(stop.text.contains("Meanwhile"));
    for wrong in ["own=soon", "own=0", "own=99999", "minutes=1"] {
        let back = garage.get(&format!("/bike/demo/tonight?{wrong}&quiet=yes")).await;
        assert_eq!(back.status, StatusCode::UNPROCESSABLE_ENTITY, "{wrong}");
        assert_eq!(ticked(&back.text, "quiet"), ["yes"], "{wrong}");
    }
}
