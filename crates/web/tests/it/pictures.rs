//! The pages that are pictures: what they say, what they link to, how much they weigh.

use crate::garage::Garage;
use axum::http::StatusCode;
use refettle_machine::ix::PartIx;
use refettle_usecases::demo;

/// What a page may weigh without photos.
const HEAVIEST: usize = 150_000;

async fn seen(garage: &Garage, path: &str) -> String {
    let page = garage.get(path).await;
    assert_eq!(page.status, StatusCode::OK, "{path}");
    page.text
}

#[tokio::test]
async fn every_picture_page_is_light_without_scripts_and_loads_nothing_from_elsewhere() {
    let garage = Garage::new();
    let style = garage.get("/pictures.css").await;
    assert_eq!(style.status, StatusCode::OK);
    assert!(style.text.contains("svg.outline"));
    let shared = garage.get("/style.css").await.text.len()
        + garage.get("/bench.js").await.text.len()
        + style.text.len();
    for path in [
        "/bike/demo",
        "/bike/demo/order",
        "/bike/demo/cover",
        "/bike/demo/outline",
        "/bike/demo/outline?region=engine",
        "/bike/demo/outline?region=rear",
    ] {
        let text = seen(&garage, path).await;
        assert!(
            text.len() + shared < HEAVIEST,
            "{path} weighs {} bytes",
            text.len() + shared
        );
        // The mark in the tab names the format's own address; nothing else names any.
        let elsewhere = text.replace("http://www.w3.org/2000/svg", "");
        assert!(
            !elsewhere.contains("http://") && !elsewhere.contains("https://"),
            "{path}"
        );
        assert!(!text.contains(" style=") && !text.contains("onclick"), "{path}");
    }
}

#[tokio::test]
async fn the_bench_shows_the_machine_and_where_the_work_is() {
    let garage = Garage::new();
    let bench = seen(&garage, "/bike/demo").await;
    assert!(bench.contains("class=\"strip\" href=\"/bike/demo/outline?region=tank#region\""));
    assert!(bench.contains("Here: <strong>tank</strong>"));
    assert!(
        bench.contains("10 off"),
        "eight parts and what rides on two of them"
    );
    assert!(bench.contains("class=\"point\""));
}

#[tokio::test]
async fn the_outline_lists_every_part_in_words_and_every_region_is_a_link() {
    let garage = Garage::new();
    let page = seen(&garage, "/bike/demo/outline").await;
    let evening = demo::evening().unwrap();
    let (machine, state) = (&evening.settled.machine, &evening.settled.state);
    let there: Vec<PartIx> = (0..machine.parts.len())
        .map(PartIx)
        .filter(|p| state.holds(machine, machine.parts[p.0].when.as_ref()))
        .collect();
    assert!(there.len() > 50);
    for part in &there {
        let part = &machine.parts[part.0];
        assert!(
            page.contains(&format!("<li id=\"all-{}\"", part.name)),
            "{}",
            part.name
        );
        assert!(
            page.contains(&format!("href=\"/bike/demo/outline?region={}\"", part.region)),
            "{}",
            part.region
        );
    }
    assert_eq!(page.matches("<strong>off</strong>").count(), state.off.len());
    // Looked through: a number and a line in the list for each part of the region, and no other region's.
    let engine = seen(&garage, "/bike/demo/outline?region=engine").await;
    let own = there
        .iter()
        .filter(|p| machine.parts[p.0].region == "engine")
        .count();
    assert_eq!(engine.matches("<li id=\"part-").count(), own);
    assert_eq!(engine.matches("<circle class=\"badge").count(), own);
    // What is no region is passed over, whatever it is.
    for odd in [
        "/bike/demo/outline?region=keel",
        "/bike/demo/outline?region=%3Cscript%3E",
        "/bike/demo/outline?region",
    ] {
        let page = seen(&garage, odd).await;
        assert!(
            !page.contains("<li id=\"part-") && !page.contains("<script>"),
            "{odd}"
        );
    }
}

#[tokio::test]
async fn the_cover_map_shows_the_plan_s_parts_and_jobs_and_says_the_same_in_words() {
    let garage = Garage::new();
    let page = seen(&garage, "/bike/demo/cover").await;
    let evening = demo::evening().unwrap();
    let machine = &evening.settled.machine;
    assert!(page.contains("8 parts are off, 10 more come off for 5 jobs"));
    for job in demo::JOBS {
        assert!(page.contains(&format!("href=\"#in-words-job-{job}\"")), "{job}");
        assert!(page.contains(&format!("<li id=\"in-words-job-{job}\"")), "{job}");
    }
    for part in &evening.settled.state.off {
        let part = &machine.parts[part.0];
        assert!(
            page.contains(&format!(
                "<li id=\"in-words-{}\">{}, off now",
                part.name, part.title
            )),
            "{}",
            part.name
        );
    }
    // Each link inside the page has its place.
    for target in page
        .split("href=\"#")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
    {
        assert!(page.contains(&format!("id=\"{target}\"")), "{target}");
    }
}
