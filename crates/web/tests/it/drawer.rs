//! "Got one?" is the drawer; an order is placed, arrives, and is in the drawer.

use crate::garage::{Garage, Page};
use axum::http::StatusCode;
use refettle_memory::Memory;
use refettle_memory::entry::LevelHeld;
use refettle_memory::state::GarageNow;
use refettle_usecases::got;

const KIT: &str = "/bike/demo/kit";

fn now(garage: &Garage) -> GarageNow {
    Memory::open(garage.folder()).unwrap().garage().unwrap()
}

/// Lines of the kit that ask "got one?", in the order of the page.
fn lines(page: &Page) -> Vec<String> {
    let forms = page.text.split("action=\"/bike/demo/kit/got\"").skip(1);
    forms
        .map(|form| {
            let (_, rest) = form.split_once("name=\"line\" value=\"").unwrap();
            rest.split_once('"').unwrap().0.to_owned()
        })
        .collect()
}

/// The text between two headings of the page.
fn between<'a>(page: &'a Page, from: &str, to: &str) -> &'a str {
    let (_, rest) = page.text.split_once(from).unwrap_or_else(|| panic!("no {from}"));
    rest.split_once(to).map_or(rest, |(text, _)| text)
}

async fn say(garage: &Garage, page: &Page, line: &str, level: &str, more: &str) -> Page {
    let form = format!(
        "line={}&level={level}&tap={}{more}",
        line.replace('/', "%2F"),
        page.field("tap")
    );
    garage.post_to("/bike/demo/kit/got", form).await
}

#[tokio::test]
async fn got_one_is_the_drawer_and_the_kit_shows_it_here() {
    let garage = Garage::new();
    let page = garage.get(KIT).await;
    let asked = lines(&page);
    assert!(asked.len() > 2, "{asked:?}");
    let line = &asked[0];
    let kept = say(&garage, &page, line, "some", "&place=tin+3").await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER);
    let held = now(&garage);
    assert_eq!(held.drawer.len(), 1);
    let body = &held.drawer.values().next().unwrap().body;
    assert_eq!(
        (body.level, body.place.as_ref().map(ToString::to_string)),
        (LevelHeld::Some, Some("tin 3".to_owned()))
    );
    let after = garage.get(KIT).await;
    let here = between(&after, "1 here already", "</details>");
    assert!(
        here.contains("lies: tin 3") && here.contains(line.as_str()),
        "{here}"
    );
    assert!(!between(&after, "Got one?", "</section>").contains(&format!("value=\"{line}\"")));
    // The last of it was used: the kit wants it again, and where it lay is not where one lies now.
    assert_eq!(
        say(&garage, &after, line, "none", "").await.status,
        StatusCode::SEE_OTHER
    );
    assert!(between(&garage.get(KIT).await, "To order", "</section>").contains(&format!("value=\"{line}\"")));
    assert_eq!(now(&garage).drawer.values().next().unwrap().body.place, None);
}

#[tokio::test]
async fn a_repeated_tap_counts_once() {
    let garage = Garage::new();
    let page = garage.get(KIT).await;
    let line = lines(&page).swap_remove(0);
    for _ in 0..3 {
        assert_eq!(
            say(&garage, &page, &line, "low", "").await.status,
            StatusCode::SEE_OTHER
        );
    }
    let subject = refettle_memory::entry::garage_subject().unwrap();
    let entries = Memory::open(garage.folder()).unwrap().entries(&subject).unwrap();
    assert_eq!(entries.len(), 1);
}

#[tokio::test]
async fn what_is_missing_is_ordered_arrives_and_is_in_the_drawer() {
    let garage = Garage::new();
    let page = garage.get(KIT).await;
    let asked = lines(&page);
    let (one, two) = (asked[0].clone(), asked.last().unwrap().clone());
    for line in [&one, &two] {
        let page = garage.get(KIT).await;
        assert_eq!(
            say(&garage, &page, line, "none", "").await.status,
            StatusCode::SEE_OTHER
        );
    }
    let page = garage.get(KIT).await;
    assert!(between(&page, "To order", "</section>").contains("I have ordered these"));
    let form = format!(
        "line={}&line={}&from=a+dealer&cost=18.40&currency=eur&due=2031-04-05&tap={}",
        one.replace('/', "%2F"),
        two.replace('/', "%2F"),
        page.field("tap")
    );
    for _ in 0..2 {
        let placed = garage.post_to("/bike/demo/kit/ordered", form.clone()).await;
        assert_eq!(placed.status, StatusCode::SEE_OTHER, "{}", placed.text);
    }
    let state = now(&garage);
    assert_eq!(state.orders.len(), 1);
    let order = &state.orders[0];
    assert_eq!(order.placed.lines.len(), 2);
    assert_eq!(order.placed.cost.as_ref().unwrap().money().0, 1840);
    assert!(
        order
            .placed
            .lines
            .iter()
            .all(|line| line.bike.is_some() && line.count > 0)
    );
    let kit = garage.get(KIT).await;
    assert!(between(&kit, "On its way", "</section>").contains("due 2031-04-05"));
    let drawer = garage.get("/drawer").await;
    assert!(
        drawer.text.contains("Due 2031-04-05") && drawer.text.contains("a dealer 18.40 EUR"),
        "{}",
        drawer.text
    );

    let came = format!("order={}&tap={}", order.entry, drawer.field("tap"));
    for _ in 0..2 {
        assert_eq!(
            garage.post_to("/drawer/arrived", came.clone()).await.status,
            StatusCode::SEE_OTHER
        );
    }
    let state = now(&garage);
    assert!(state.orders[0].is_closed());
    assert!(
        state
            .drawer
            .values()
            .all(|kept| kept.body.level == LevelHeld::Some)
    );
    assert!(garage.get(KIT).await.text.contains("2 here already"));
    assert!(!garage.get("/drawer").await.text.contains("It arrived"));
}

#[tokio::test]
async fn an_order_that_is_cancelled_is_to_order_again() {
    let garage = Garage::new();
    let page = garage.get(KIT).await;
    let line = lines(&page).swap_remove(0);
    let form = format!("line={}&tap={}", line.replace('/', "%2F"), page.field("tap"));
    assert_eq!(
        garage.post_to("/bike/demo/kit/ordered", form).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(garage.get(KIT).await.text.contains("no day known"));
    let drawer = garage.get("/drawer").await;
    let form = format!("order={}&tap={}", drawer.field("order"), drawer.field("tap"));
    assert_eq!(
        garage.post_to("/drawer/cancelled", form).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(lines(&garage.get(KIT).await).contains(&line));
    assert!(now(&garage).drawer.is_empty());
}

#[tokio::test]
async fn the_drawer_is_filled_by_dimension_and_near_is_not_the_same() {
    let garage = Garage::new();
    // Whatever washer or ring the demo's kit wants, half a millimetre wider outside or inside.
    let wanted = {
        let kit = garage.get(KIT).await;
        let memory = Memory::open(garage.folder()).unwrap();
        let bike = refettle_usecases::demo_bike::bike().unwrap();
        let read = refettle_usecases::look::Read::of(&memory, &bike, jiff::Timestamp::now(), None).unwrap();
        lines(&kit)
            .iter()
            .find_map(|line| {
                let (_, thing) = got::named(&bike, read.machine(), line).unwrap();
                let part = thing.small_part()?;
                (part.kind == "o-ring" || part.kind == "sealing-washer").then_some(part)
            })
            .unwrap()
    };
    let mut form = format!("kind={}&place=drawer+2&level=some", wanted.kind);
    for (name, size) in &wanted.dimensions {
        let um = if name == "inside" { size.0 + 200 } else { size.0 };
        form.push_str(&format!("&{name}={}", f64::from(um) / 1000.0));
    }
    if let Some(material) = &wanted.material {
        form.push_str(&format!("&material={}", material.replace(' ', "+")));
    }
    let page = garage.get("/drawer").await;
    let put = garage
        .post_to("/drawer/set", format!("{form}&tap={}", page.field("tap")))
        .await;
    assert_eq!(put.status, StatusCode::SEE_OTHER, "{}", put.text);
    let kit = garage.get(KIT).await;
    let near = between(&kit, "Near, not the same:", "</li>");
    assert!(near.contains("inside ") && near.contains(" mm wanted"), "{near}");
    assert!(near.contains("href=\"/fit-desk/"), "{near}");
    assert!(
        !kit.text.contains("here already"),
        "a near part was taken for the one wanted"
    );
    // The same tap on the drawer's own line: low now, and still where it lay.
    let drawer = garage.get("/drawer").await;
    let form = format!(
        "thing={}&level=low&tap={}",
        drawer.field("thing").replace(' ', "+").replace('×', "%C3%97"),
        drawer.field("tap")
    );
    assert_eq!(
        garage.post_to("/drawer/set", form).await.status,
        StatusCode::SEE_OTHER
    );
    let drawer = garage.get("/drawer").await;
    assert!(between(&drawer, "Low, or none left", "</section>").contains("drawer 2"));
}

#[tokio::test]
async fn an_old_bottle_is_told_with_sources() {
    let garage = Garage::new();
    let page = garage.get("/drawer").await;
    let form = format!(
        "what=brake+fluid+DOT+4&opened=2020-01-01&level=some&tap={}",
        page.field("tap")
    );
    assert_eq!(
        garage.post_to("/drawer/set", form).await.status,
        StatusCode::SEE_OTHER
    );
    let text = garage.get("/drawer").await.text;
    assert!(
        text.contains("opened more than a year ago") && text.contains("Why brake fluid ages"),
        "{text}"
    );
    assert!(text.contains("1 opened too long ago"));
}

#[tokio::test]
async fn what_is_wrong_is_told_together_and_nothing_is_kept() {
    let garage = Garage::new();
    let page = garage.get("/drawer").await;
    let form = format!(
        "kind=o-ring&inside=wide&opened=tomorrow&level=plenty&tap={}",
        page.field("tap")
    );
    let refused = garage.post_to("/drawer/set", form).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    for word in ["inside=wide", "tomorrow", "plenty", "value=\"wide\""] {
        assert!(refused.text.contains(word), "{word} in {}", refused.text);
    }
    for (path, form) in [
        ("/drawer/set", "level=some"),
        ("/drawer/set", "kind=o-ring&level=some"),
        ("/drawer/set", "thing=a+unicorn&level=some"),
        ("/drawer/arrived", "order=nowhere"),
        ("/drawer/cancelled", ""),
        ("/bike/demo/kit/got", "line=nothing&level=some"),
        ("/bike/demo/kit/ordered", "from=nobody"),
        ("/bike/demo/kit/ordered", "line=nothing&cost=1"),
    ] {
        let refused = garage
            .post_to(path, format!("{form}&tap={}", page.field("tap")))
            .await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{path} {form}");
        assert!(refused.text.contains("role=\"alert\""), "{path} {form}");
    }
    let without_tap = garage.post_to("/drawer/set", "what=rags&level=some").await;
    assert_eq!(without_tap.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(now(&garage), GarageNow::default());
}
