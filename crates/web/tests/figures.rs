//! The pictures of price and walk-away price: what they say is what the views say, in shape and in words.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use refettle_usecases::offer_sum::OfferRequest;
use refettle_usecases::offer_view::{OfferView, offer};
use refettle_usecases::price_view::{PriceRequest, PriceView, price};
use refettle_usecases::request::{Document, Request};
use refettle_usecases::typed::said;
use refettle_web::drawing;

const HEAD: &str = "kind,date,year,distance_km,price,papers,note\n";

fn priced(rows: &str) -> PriceView {
    price(&PriceRequest {
        comparables: Document {
            name: "invented".to_owned(),
            text: format!("{HEAD}{rows}"),
        }
        .into(),
        year: 2008,
        distance: Some("31000km".to_owned()),
        papers: None,
        condition: None,
        region: None,
        on: jiff::civil::date(2026, 5, 15),
        winter: None,
        best_month: 5,
        within_days: 30,
        open: Vec::new(),
        a_day: None,
    })
    .unwrap()
}

fn offered(offer_typed: Option<&str>, seen: &[&str]) -> OfferView {
    offer(&OfferRequest {
        machine: Request {
            layout: Some("tiny-trainer".to_owned()),
            ..Request::default()
        },
        year: 2008,
        distance: "31000km".to_owned(),
        stood_years: 3.0,
        storage: "indoors".to_owned(),
        story: None,
        seen: seen.iter().map(|s| (*s).to_owned()).collect(),
        chances: Vec::new(),
        price_clean: "2480".to_owned(),
        price_band: None,
        offer: offer_typed.map(str::to_owned),
        loss_chance: "20%".to_owned(),
        earn: None,
        transport: None,
        hour: Some("15".to_owned()),
        sold: 0,
        sale_limit: None,
        on: jiff::civil::date(2026, 5, 15),
        best_month: 5,
        seed: 1,
    })
    .unwrap()
}

/// What must hold of any picture: named, told in words, no figure that is none, no colour of its own.
fn sound(svg: &str, finding: &str) {
    assert!(svg.starts_with("<svg") && svg.contains("role=\"img\""), "{svg}");
    assert!(svg.contains(finding) && svg.contains("<desc"), "{svg}");
    for word in ["NaN", "inf", "style=", "#000", "red"] {
        assert!(
            !svg.contains(&format!("\"{word}")) && !svg.contains(&format!(" {word}")),
            "{word}: {svg}"
        );
    }
}

#[test]
fn sold_is_filled_asked_is_hollow_and_all_are_there() {
    let view = priced(
        "sold,2026-04-02,2008,29000,2450,,\nasked,2026-05-01,2009,22000,2900,,\nasked,2026-05-01,2010,20000,3000,,\nbid,2026-05-01,2009,22000,900,,\n",
    );
    let svg = drawing::price::picture(&view).into_string();
    sound(&svg, &view.finding());
    assert_eq!(svg.matches("class=\"point hollow\"").count(), 2);
    assert_eq!(svg.matches("class=\"point\"").count(), 1);
    for figure in [view.median, view.low80, view.high80] {
        assert!(svg.contains(&said(figure.unwrap())));
    }
    assert!(svg.contains("distance run, km"));
}

#[test]
fn what_is_absurd_stands_at_the_edge_with_its_figure() {
    let mut rows = String::new();
    for units in [2_400, 2_450, 2_500, 2_380, 2_420, 90_000] {
        rows.push_str(&format!("sold,2026-05-15,2008,31000,{units},,\n"));
    }
    let svg = drawing::price::picture(&priced(&rows)).into_string();
    assert!(svg.contains("point faint") && svg.contains("↑ 90,000"), "{svg}");
}

#[test]
fn no_comparable_and_no_distance_are_drawn_too() {
    let none = priced("");
    sound(
        &drawing::price::picture(&none).into_string(),
        "Nothing to price by yet",
    );
    let undated = priced("sold,2026-04-02,2008,,2450,,\n");
    assert!(
        drawing::price::picture(&undated)
            .into_string()
            .contains("model year")
    );
}

#[test]
fn the_offer_says_its_finding_its_movers_and_what_to_check() {
    let view = offered(None, &[]);
    assert_eq!(view.finding(), "You would lose at this price one time in five");
    let svg = drawing::offer::picture(&view).into_string();
    sound(&svg, &view.finding());
    assert!(svg.contains("20 %") && svg.contains("First, or no offer"));
    for mover in view.three_movers() {
        assert!(svg.contains(mover.title), "{}", mover.title);
    }
    // The part below the line is hatched; at a dearer offer more of it is.
    assert!(svg.contains("class=\"loss\"") && svg.contains("url(#offer-hatch)"));
    let dear = offered(Some("2400"), &["frame-number=ok"]);
    assert!(dear.loss_pct > view.loss_pct && dear.most_to_pay == view.most_to_pay);
    sound(&drawing::offer::picture(&dear).into_string(), &dear.finding());
}
