//! What can be done when something went wrong; the timer; bags and notes.

use crate::garage::Garage;
use axum::http::{StatusCode, header};
use refettle_memory::entry::Entry;

/// Says the first card will not come undone; gives the path of what can be done.
async fn stuck(garage: &Garage) -> String {
    let first = garage.get("/bike/demo").await;
    let answer = garage
        .post(first.form("something-wrong", "&note=will+not+come+undone"))
        .await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    answer
        .headers
        .get(header::LOCATION)
        .unwrap()
        .to_str()
        .unwrap()
        .to_owned()
}

fn count(garage: &Garage, of: fn(&Entry) -> bool) -> usize {
    garage.entries().iter().filter(|stored| of(&stored.entry)).count()
}

#[tokio::test]
async fn something_wrong_leads_to_what_can_be_done_and_a_choice_to_the_changed_bench() {
    let garage = Garage::new();
    let to = stuck(&garage).await;
    let page = garage.get(&to).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(
        page.text.contains("penetrating oil, and wait overnight"),
        "{}",
        page.text
    );
    assert!(page.text.contains("about 5 in 10") && page.text.contains("judgement, no source"));
    let form = format!(
        "tap={}&seen={}&say=option&option=soak",
        page.field("tap"),
        page.field("seen")
    );
    for _ in 0..2 {
        let chosen = garage.post_to(&to, form.clone()).await;
        assert_eq!(chosen.status, StatusCode::SEE_OTHER, "{}", chosen.text);
    }
    assert_eq!(count(&garage, |e| matches!(e, Entry::TroubleOptionChosen(_))), 1);
    let bench = garage.get("/bike/demo").await.text;
    assert!(
        bench.contains("Changed by what went wrong: ") && bench.contains("now also: Clean the "),
        "{bench}"
    );
    assert!(
        garage
            .get("/bike/demo/kit")
            .await
            .text
            .contains("penetrating oil")
    );
}

#[tokio::test]
async fn a_choice_that_is_none_or_comes_too_late_is_refused_and_nothing_kept() {
    let garage = Garage::new();
    let to = stuck(&garage).await;
    let page = garage.get(&to).await;
    let form = |say: &str| format!("tap=some-tap-of-a-test&{say}");
    for bad in [
        "say=option&option=extractor",
        "say=option&option=%3Cb%3E",
        "say=option",
        "say=kind&kind=cursed",
        "say=place&place=nowhere",
        "say=nothing",
        "",
    ] {
        let refused = garage.post_to(&to, form(bad)).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{bad}");
        assert!(!refused.text.contains("<b>"));
    }
    let stale = format!(
        "tap={}&seen={}&say=option&option=soak",
        page.field("tap"),
        garage.entries()[0].id
    );
    assert_eq!(garage.post_to(&to, stale).await.status, StatusCode::CONFLICT);
    for none in ["/bike/demo/trouble/none", "/bike/demo/trouble/%3Cb%3E"] {
        assert_eq!(garage.get(none).await.status, StatusCode::NOT_FOUND);
    }
    assert_eq!(
        count(&garage, |e| matches!(
            e,
            Entry::TroubleOptionChosen(_) | Entry::TroubleSolved(_)
        )),
        0
    );
}

#[tokio::test]
async fn own_words_are_asked_what_kind_and_then_have_options() {
    let garage = Garage::new();
    let first = garage.get("/bike/demo").await;
    let answer = garage
        .post(first.form("something-wrong", "&own=stuck+like+a+limpet"))
        .await;
    let to = answer
        .headers
        .get(header::LOCATION)
        .unwrap()
        .to_str()
        .unwrap()
        .to_owned();
    let page = garage.get(&to).await;
    assert!(page.text.contains("What is it like?") && !page.text.contains("name=\"option\""));
    let said = format!("tap={}&say=kind&kind=seized", page.field("tap"));
    assert_eq!(garage.post_to(&to, said).await.status, StatusCode::SEE_OTHER);
    assert!(
        garage
            .get(&to)
            .await
            .text
            .contains("name=\"option\" value=\"soak\"")
    );
}

#[tokio::test]
async fn a_shortcut_says_at_once_how_it_comes_back() {
    let garage = Garage::new();
    let first = garage.get("/bike/demo").await;
    garage
        .post(first.form("done-another-way", "&note=tightness+guessed"))
        .await;
    let bench = garage.get("/bike/demo").await.text;
    assert!(
        bench.contains("Kept as a shortcut") && bench.contains("It comes back as: "),
        "{bench}"
    );
    assert_eq!(count(&garage, |e| matches!(e, Entry::ShortcutTaken(_))), 1);
}

#[tokio::test]
async fn the_timer_starts_stops_and_is_put_right() {
    let garage = Garage::new();
    let form = |page: &crate::garage::Page, say: &str, more: &str| {
        // The bench's own tap is the answer's; any key of a page's form will do.
        format!("tap={}-{say}&say={say}{more}", page.field("tap"))
    };
    let page = garage.get("/bike/demo").await;
    assert!(page.text.contains("Start the timer"));
    let start = form(&page, "start", "");
    for _ in 0..2 {
        assert_eq!(
            garage.post_to("/bike/demo/timer", start.clone()).await.status,
            StatusCode::SEE_OTHER
        );
    }
    assert_eq!(count(&garage, |e| matches!(e, Entry::TimerStarted(_))), 1);
    let page = garage.get("/bike/demo").await;
    assert!(page.text.contains("The timer runs"));
    let timer = format!("&timer={}", page.field("timer"));
    let bad = form(&page, "correct", &format!("{timer}&minutes=lots"));
    let refused = garage.post_to("/bike/demo/timer", bad).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("write whole minutes"));
    let stop = form(&page, "stop", &timer);
    assert_eq!(
        garage.post_to("/bike/demo/timer", stop).await.status,
        StatusCode::SEE_OTHER
    );
    let right = form(&page, "correct", &format!("{timer}&minutes=25"));
    assert_eq!(
        garage.post_to("/bike/demo/timer", right).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(
        garage
            .get("/bike/demo")
            .await
            .text
            .contains("<strong>25 min</strong>")
    );
    let of_none = form(&page, "stop", "&timer=none");
    assert_eq!(
        garage.post_to("/bike/demo/timer", of_none).await.status,
        StatusCode::CONFLICT
    );
}

#[tokio::test]
async fn what_is_written_where_the_card_has_nothing_is_refused() {
    let garage = Garage::new();
    let first = garage.get("/bike/demo").await;
    for bad in [
        "&setting-49=x",
        "&setting-x=1",
        "&setting-50=1",
        "&with=put-on.0.tank",
    ] {
        let refused = garage.post(first.form("done", bad)).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{bad}");
    }
    assert!(garage.answered().is_empty());
    let found = "tap=some-tap-of-a-test&finding=none&found=on-the-moon";
    let refused = garage.post_to("/bike/demo/bag-question", found).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
}
