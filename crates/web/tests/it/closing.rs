//! The close of a bike in the browser: a paper handed over, the sale, the tally, what it taught.

use crate::garage::{Garage, HOST};
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use refettle_memory::Memory;
use refettle_memory::entry::{BikeSold, Entry, LeavesWord, PaperIssued};
use tower::ServiceExt;

fn sold(garage: &Garage) -> Vec<BikeSold> {
    let entries = garage.entries().into_iter();
    entries
        .filter_map(|stored| match stored.entry {
            Entry::BikeSold(body) => Some(body),
            _ => None,
        })
        .collect()
}

fn issued(garage: &Garage) -> Vec<PaperIssued> {
    let entries = garage.entries().into_iter();
    entries
        .filter_map(|stored| match stored.entry {
            Entry::PaperIssued(body) => Some(body),
            _ => None,
        })
        .collect()
}

/// A PDF, by looking at it or by handing it over.
async fn pdf(garage: &Garage, request: axum::http::request::Builder, body: &str) -> Vec<u8> {
    let request: Request<Body> = request
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
        .body(Body::from(body.to_owned()))
        .unwrap();
    let response = garage.router.clone().oneshot(request).await.unwrap();
    assert_eq!(response.status(), StatusCode::OK);
    assert_eq!(response.headers()[header::CONTENT_TYPE], "application/pdf");
    to_bytes(response.into_body(), 8 << 20).await.unwrap().to_vec()
}

#[tokio::test]
async fn looking_at_a_paper_keeps_nothing_and_handing_it_over_keeps_it_once() {
    let garage = Garage::new();
    let path = "/bike/demo/papers/history.pdf";
    let seen = pdf(&garage, Request::get(path), "").await;
    assert!(seen.starts_with(b"%PDF-"));
    assert!(issued(&garage).is_empty());
    let page = garage.get("/bike/demo/papers").await;
    let body = format!("tap={}&paper=a4", page.field("tap"));
    let handed = pdf(&garage, Request::post(path), &body).await;
    let _twice = pdf(&garage, Request::post(path), &body).await;
    let kept = issued(&garage);
    assert_eq!(kept.len(), 1);
    assert_eq!(kept[0].sha256.as_str(), refettle_memory::hash_of(&handed));
    let without = garage.post_to(path, "paper=a4").await;
    assert_eq!(without.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn a_bike_that_has_not_passed_is_not_ridden_away_whatever_the_form_says() {
    let garage = Garage::new();
    let page = garage.get("/bike/demo/sell").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("leaves on a trailer"));
    assert!(
        !page.text.contains("value=\"ridden\""),
        "the form does not offer it"
    );
    let tap = page.field("tap");
    let refused = garage
        .post_to(
            "/bike/demo/sell",
            format!("tap={tap}&price=1100&currency=EUR&on=2031-05-20&leaves=ridden"),
        )
        .await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("it is not ridden away") && refused.text.contains("value=\"1100\""));
    // Everything wrong at once.
    let refused = garage
        .post_to(
            "/bike/demo/sell",
            format!("tap={tap}&price=lots&currency=EUR&on=soon&buyer=A+Buyer"),
        )
        .await;
    for told in ["&#39;lots&#39;", "soon", "how it leaves is missing"] {
        let plain = told.replace("&#39;", "'");
        assert!(
            refused.text.contains(told) || refused.text.contains(&plain),
            "{told}"
        );
    }
    assert!(sold(&garage).is_empty());
    let memory = Memory::open(garage.folder()).unwrap();
    assert!(
        memory.all_personal().unwrap().is_empty(),
        "a refused sale keeps no name"
    );
}

#[tokio::test]
async fn a_sale_goes_from_the_form_to_the_tally_and_the_buyers_name_lies_apart() {
    let garage = Garage::new();
    let tap = garage.get("/bike/demo/sell").await.field("tap");
    let form = format!(
        "tap={tap}&price=1100&currency=EUR&on=2031-05-20&leaves=trailer&buyer=A+Buyer%2C+1+Nowhere+Lane"
    );
    for _ in 0..2 {
        let done = garage.post_to("/bike/demo/sell", form.clone()).await;
        // The second finds it sold already.
        assert!([StatusCode::SEE_OTHER, StatusCode::UNPROCESSABLE_ENTITY].contains(&done.status));
    }
    let all = sold(&garage);
    assert_eq!(all.len(), 1);
    let sale = &all[0];
    assert_eq!(
        (sale.price.money().0, sale.leaves, sale.roadworthy),
        (110_000, LeavesWord::Trailer, false)
    );
    let memory = Memory::open(garage.folder()).unwrap();
    let name = memory.personal(sale.buyer.as_ref().unwrap()).unwrap();
    assert_eq!(name.as_deref(), Some("A Buyer, 1 Nowhere Lane"));
    let page = garage.get("/bike/demo/sell").await;
    assert!(page.text.contains("Sold for 1100.00 EUR on 2031-05-20"));
    assert!(!page.text.contains("Nowhere Lane"));
    let fetched = garage
        .post_to("/bike/demo/gone", format!("tap={}", page.field("tap")))
        .await;
    assert_eq!(fetched.status, StatusCode::SEE_OTHER);
    let tally = garage.get("/tally").await.text;
    assert!(tally.contains("1 bike sold earned 1100.00 EUR"), "{tally}");
    assert!(
        garage
            .get("/bike/demo/tally")
            .await
            .text
            .contains("sold on 2031-05-20")
    );
    assert!(
        !garage
            .get("/bike/demo/taught")
            .await
            .text
            .contains("It is not sold yet")
    );
    let csv = garage.get("/tally.csv").await;
    assert!(
        csv.text.contains("2031-05-20,demo,in,sale,,110000,EUR,"),
        "{}",
        csv.text
    );
}

#[tokio::test]
async fn the_pages_of_the_close_are_there_for_a_bike_and_for_none() {
    let garage = Garage::new();
    for path in [
        "/bike/demo/sell",
        "/bike/demo/tally",
        "/bike/demo/taught",
        "/tally",
    ] {
        let page = garage.get(path).await;
        assert_eq!(page.status, StatusCode::OK, "{path}");
        for never in ["style=", "onclick", "like new"] {
            assert!(!page.text.contains(never), "{never} in {path}");
        }
    }
    let sheet = garage.get("/bike/demo/sheet.toml").await.text;
    assert!(
        sheet.starts_with("format = \"refettle-corrections/1\"\nlayout = \"small-faired-twin\"\n"),
        "{sheet}"
    );
    for path in [
        "/bike/nobody/sell",
        "/bike/nobody/tally",
        "/bike/nobody/taught",
        "/bike/nobody/sheet.toml",
    ] {
        assert_eq!(garage.get(path).await.status, StatusCode::NOT_FOUND, "{path}");
    }
}
