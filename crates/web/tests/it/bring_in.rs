//! Bringing a bike in and walking round it.

use super::garage::{Garage, Page};
use axum::http::StatusCode;
use refettle_facts::ids::BikeId;
use refettle_machine::layouts::ALL;
use refettle_memory::entry::{About, Entry, FixingWord, RunsWord};
use refettle_memory::{Memory, Stored};

pub fn own_bike(garage: &Garage) -> Option<BikeId> {
    let memory = Memory::open(garage.folder()).unwrap();
    let bikes = memory.bikes().unwrap();
    bikes
        .into_iter()
        .map(|line| line.bike)
        .find(|bike| bike.as_str() != "demo")
}

pub fn entries(garage: &Garage, bike: &BikeId) -> Vec<Stored> {
    Memory::open(garage.folder()).unwrap().entries(bike).unwrap()
}

/// A naked single, brought in as most are: nothing typed.
pub async fn brought_in(garage: &Garage) -> BikeId {
    let form = garage.get("/bring-in?layout=naked-single").await;
    let body = format!(
        "layout=naked-single&tap={}&runs=not-known&stood=12&unit=km",
        form.field("tap")
    );
    let sent = garage.post_to("/bring-in", body).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    own_bike(garage).unwrap()
}

pub fn to(page: &Page) -> &str {
    page.headers.get("location").unwrap().to_str().unwrap()
}

#[tokio::test]
async fn every_layout_is_there_by_its_outline_and_its_form_opens() {
    let garage = Garage::new();
    let page = garage.get("/bring-in").await;
    for (name, _) in ALL {
        assert!(
            page.text.contains(&format!("href=\"/bring-in?layout={name}\"")),
            "{name}"
        );
        let form = garage.get(&format!("/bring-in?layout={name}")).await;
        assert_eq!(form.status, StatusCode::OK, "{name}");
        assert!(form.text.contains("Bring it in"), "{name}");
    }
    assert_eq!(page.text.matches("<svg").count(), ALL.len());
    assert_eq!(
        garage.get("/bring-in?layout=hovercraft").await.status,
        StatusCode::NOT_FOUND
    );
}

#[tokio::test]
async fn a_bike_comes_in_with_a_tap_and_goes_on_to_the_walk_round() {
    let garage = Garage::new();
    let form = garage.get("/bring-in?layout=naked-single").await;
    let body = format!(
        "layout=naked-single&tap={}&runs=dead&stood=30&title=Barn+find&year=1998&distance=31250&unit=mi&off=seat&off=tank\
         &q.ignition=electronic&paper=registration",
        form.field("tap")
    );
    let sent = garage.post_to("/bring-in", body.clone()).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let bike = own_bike(&garage).unwrap();
    assert_eq!(to(&sent), format!("/bike/{bike}/walk-round"));
    let all = entries(&garage, &bike);
    let described = all.iter().find_map(|stored| match &stored.entry {
        Entry::BikeDescribed(body) => Some(body.clone()),
        _ => None,
    });
    let described = described.unwrap();
    assert_eq!((described.year, described.stood_months), (Some(1998), Some(30)));
    assert_eq!(described.runs, Some(RunsWord::Dead));
    assert_eq!(described.distance.unwrap().reading.unit, "mi");
    let off = all.iter().find_map(|stored| match &stored.entry {
        Entry::StateObserved(body) => Some(body.state.off.len()),
        _ => None,
    });
    assert_eq!(off, Some(2));
    assert!(
        all.iter()
            .any(|s| matches!(&s.entry, Entry::QuestionAnswered(q) if q.answer == "electronic"))
    );
    assert!(
        all.iter()
            .any(|s| matches!(&s.entry, Entry::PaperSeen(p) if p.good))
    );
    // The same tap once more: the same bike, nothing more of it.
    let again = garage.post_to("/bring-in", body).await;
    assert_eq!(to(&again), format!("/bike/{bike}/walk-round"));
    assert_eq!(entries(&garage, &bike).len(), all.len());
    assert_eq!(Memory::open(garage.folder()).unwrap().bikes().unwrap().len(), 2);
}

#[tokio::test]
async fn everything_wrong_is_told_at_once_and_nothing_tapped_is_lost() {
    let garage = Garage::new();
    let form = garage.get("/bring-in?layout=scooter").await;
    let body = format!(
        "layout=scooter&tap={}&runs=purring&stood=ages&title=Round+%3Cthe%3E+town&year=1492&distance=far&unit=km&off=sidecar\
         &off=seat&paper=diploma",
        form.field("tap")
    );
    let back = garage.post_to("/bring-in", body).await;
    assert_eq!(back.status, StatusCode::UNPROCESSABLE_ENTITY);
    for wrong in ["purring", "ages", "1492", "far", "sidecar", "diploma"] {
        assert!(back.text.contains(&format!("'{wrong}'")), "{wrong} is not told");
    }
    assert!(
        back.text.contains("value=\"Round &lt;the&gt; town\""),
        "the title is lost"
    );
    assert!(back.text.contains("value=\"1492\""), "the year is lost");
    assert!(
        back.text.contains("name=\"off\" value=\"seat\" checked"),
        "the part that is off is lost"
    );
    assert_eq!(own_bike(&garage), None);
}

#[tokio::test]
async fn a_word_is_a_finding_and_a_fixing_is_noted() {
    let garage = Garage::new();
    let bike = brought_in(&garage).await;
    let before = entries(&garage, &bike).len();
    let round = garage
        .get(&format!("/bike/{bike}/walk-round?region=front-wheel"))
        .await;
    let tapped = |word: &str, part: &str, tap: &str| {
        format!("tap={tap}&region=front-wheel&part={part}&own=&word={word}")
    };
    let at = format!("/bike/{bike}/walk-round");
    let tap = round.field("tap");
    let sent = garage.post_to(&at, tapped("cracked", "front-tyre", &tap)).await;
    assert_eq!(to(&sent), format!("{at}?region=front-wheel"), "{}", sent.text);
    garage.post_to(&at, tapped("cracked", "front-tyre", &tap)).await;
    garage
        .post_to(&at, tapped("odd+fixing", "front-wheel", "another-tap-1"))
        .await;
    garage
        .post_to(
            &at,
            "tap=another-tap-2&region=front-wheel&part=front-tyre&word=&own=&reading=1,2",
        )
        .await;
    garage
        .post_to(&at, "tap=another-tap-3&region=behaviour&symptom=crank-no-start")
        .await;
    let all = entries(&garage, &bike);
    assert_eq!(all.len(), before + 4, "a repeated tap counts once");
    let findings: Vec<_> = all
        .iter()
        .filter_map(|stored| match &stored.entry {
            Entry::FindingNoted(body) => Some(body.clone()),
            _ => None,
        })
        .collect();
    assert!(matches!(findings[0].about, About::Part { .. }));
    assert_eq!(findings[0].note.as_ref().unwrap().as_str(), "cracked");
    assert_eq!(findings[1].measured[0].value.to_string(), "1.2");
    assert_eq!(findings[2].symptom.as_ref().unwrap().as_str(), "crank-no-start");
    assert!(
        all.iter()
            .any(|s| matches!(&s.entry, Entry::FixingNoted(f) if f.state == FixingWord::Odd))
    );
    let page = garage.get(&at).await;
    assert!(page.text.contains("Not right so far: 4"), "{}", page.text);
}

#[tokio::test]
async fn what_cannot_be_noted_comes_back_with_all_of_it() {
    let garage = Garage::new();
    let bike = brought_in(&garage).await;
    let before = entries(&garage, &bike).len();
    let at = format!("/bike/{bike}/walk-round");
    let body =
        "tap=a-tap-of-its-own&region=front-wheel&part=front-tyre&word=purple&own=my+words&reading=much";
    let back = garage.post_to(&at, body).await;
    assert_eq!(back.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        back.text.contains("'purple'") && back.text.contains("tread depth: "),
        "{}",
        back.text
    );
    assert!(back.text.contains(">my words</textarea>") && back.text.contains("value=\"much\""));
    let nothing = garage
        .post_to(
            &at,
            "tap=a-tap-of-its-own&region=front-wheel&part=front-tyre&word=&own=",
        )
        .await;
    assert_eq!(nothing.status, StatusCode::UNPROCESSABLE_ENTITY);
    let no_tap = garage
        .post_to(&at, "tap=x&region=front-wheel&part=front-tyre&word=worn")
        .await;
    assert_eq!(no_tap.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(entries(&garage, &bike).len(), before);
}
