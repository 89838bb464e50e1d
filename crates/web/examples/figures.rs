//! Writes the pictures of price and walk-away price to standard output as one page, to be looked at.
//!
//!     cargo run -p refettle-web --example figures > figures.html

use jiff::civil::date;
use maud::{DOCTYPE, PreEscaped, html};
use refettle_usecases::offer_sum::OfferRequest;
use refettle_usecases::offer_view::offer;
use refettle_usecases::price_view::{PriceRequest, price};
use refettle_usecases::refused::Refused;
use refettle_usecases::request::{Document, Request};

/// Invented prices.
const TABLE: &str = "\
kind,date,year,distance_km,price,papers,note
sold,2026-04-02,2008,29000,2450,clean,
asked,2026-05-01,2009,22000,2900,clean,
sold,2026-02-11,2007,41000,1950,clean,
bid not met,2026-03-03,2008,30000,900,,
asked,2026-04-20,2006,52000,2100,clean,
asked,2026-05-09,2010,18000,8900,clean,someone's dream
sold,2026-03-20,2008,34000,2300,clean,
";

fn main() -> Result<(), Refused> {
    let on = date(2026, 5, 15);
    let priced = price(&PriceRequest {
        comparables: Document {
            name: "invented".to_owned(),
            text: TABLE.to_owned(),
        }
        .into(),
        year: 2008,
        distance: Some("31000km".to_owned()),
        papers: None,
        condition: None,
        region: None,
        on,
        winter: None,
        best_month: 5,
        within_days: 30,
        open: Vec::new(),
        a_day: None,
    })?;
    let looked_at = |seen: &[&str], asked: Option<&str>| {
        offer(&OfferRequest {
            machine: Request {
                layout: Some("tiny-trainer".to_owned()),
                ..Request::default()
            },
            year: 2008,
            distance: "31000km".to_owned(),
            stood_years: 3.0,
            storage: "indoors".to_owned(),
            story: Some("said-to-run".to_owned()),
            seen: seen.iter().map(|s| (*s).to_owned()).collect(),
            chances: Vec::new(),
            price_clean: "2480".to_owned(),
            price_band: Some("1900..3200".to_owned()),
            offer: asked.map(str::to_owned),
            loss_chance: "20%".to_owned(),
            earn: None,
            transport: Some("60".to_owned()),
            hour: Some("15".to_owned()),
            sold: 0,
            sale_limit: None,
            on,
            best_month: 5,
            seed: 1,
        })
    };
    let (first, second) = (
        looked_at(&[], None)?,
        looked_at(&["frame-number=ok"], Some("1600"))?,
    );
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head { meta charset="utf-8"; style { (PreEscaped(include_str!("../static/style.css"))) } }
            body {
                (refettle_web::drawing::price::picture(&priced))
                (refettle_web::drawing::offer::picture(&first))
                (refettle_web::drawing::offer::picture(&second))
            }
        }
    };
    println!("{}", page.into_string());
    Ok(())
}
