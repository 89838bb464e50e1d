//! The four answers.

use crate::garage::Garage;
use axum::http::{StatusCode, header};
use refettle_memory::entry::Answer;

#[tokio::test]
async fn done_is_on_the_disk_when_it_is_acknowledged_and_the_next_card_comes() {
    let garage = Garage::new();
    let first = garage.get("/bike/demo").await;
    let answer = garage.post(first.form("done", "")).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    assert_eq!(answer.headers.get(header::LOCATION).unwrap(), "/bike/demo");
    let on_disk = garage.answered();
    assert_eq!(on_disk.len(), 1);
    assert_eq!(
        (on_disk[0].card.as_str(), &on_disk[0].answer),
        (first.field("card").as_str(), &Answer::Done)
    );
    let second = garage.get("/bike/demo").await;
    assert_ne!(second.field("card"), first.field("card"));
    assert!(
        second.text.contains("Kept, just now. Done: "),
        "the tap is not seen to have counted"
    );
}

#[tokio::test]
async fn a_repeated_tap_counts_once_even_after_others() {
    let garage = Garage::new();
    let form = garage.get("/bike/demo").await.form("done", "");
    for _ in 0..3 {
        assert_eq!(garage.post(form.clone()).await.status, StatusCode::SEE_OTHER);
    }
    assert_eq!(garage.answered().len(), 1);
    let next = garage.get("/bike/demo").await.form("done", "");
    assert_eq!(garage.post(next).await.status, StatusCode::SEE_OTHER);
    // A tap kept while there was no connection, sent again much later.
    assert_eq!(garage.post(form).await.status, StatusCode::SEE_OTHER);
    assert_eq!(garage.answered().len(), 2);
}

#[tokio::test]
async fn a_stale_card_is_refused_with_what_changed() {
    let garage = Garage::new();
    let (old, fresh) = (garage.get("/bike/demo").await, garage.get("/bike/demo").await);
    assert_eq!(
        garage.post(fresh.form("done", "")).await.status,
        StatusCode::SEE_OTHER
    );
    let refused = garage.post(old.form("done", "")).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text.contains("Since that page was made:"));
    assert!(refused.text.contains("<li>Done: Take off: "), "{}", refused.text);
    assert_eq!(garage.answered().len(), 1);
}

#[tokio::test]
async fn one_page_gives_one_answer() {
    let garage = Garage::new();
    let page = garage.get("/bike/demo").await;
    assert_eq!(
        garage.post(page.form("done", "")).await.status,
        StatusCode::SEE_OTHER
    );
    // Back in the browser, and another button of the same form.
    let refused = garage.post(page.form("not-now", "")).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert_eq!(garage.answered().len(), 1);
}

#[tokio::test]
async fn not_now_leaves_the_card_and_shows_what_does_not_depend_on_it() {
    let garage = Garage::new();
    let first = garage.get("/bike/demo").await;
    assert_eq!(
        garage.post(first.form("not-now", "")).await.status,
        StatusCode::SEE_OTHER
    );
    let second = garage.get("/bike/demo").await;
    assert_ne!(second.field("card"), first.field("card"));
    assert!(second.text.contains("Put off"));
    // It can be taken up again, and answered then.
    let again = garage
        .get(&format!("/bike/demo?take={}", first.field("card")))
        .await;
    assert_eq!(again.field("card"), first.field("card"));
    assert!(again.text.contains("put off before"));
    assert_eq!(
        garage.post(again.form("done", "")).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(!garage.get("/bike/demo").await.text.contains("put off before"));
}

#[tokio::test]
async fn put_off_all_there_is_and_the_first_comes_back() {
    let garage = Garage::new();
    let first = garage.get("/bike/demo").await.field("card");
    let mut seen = std::collections::BTreeSet::new();
    loop {
        let page = garage.get("/bike/demo").await;
        if !seen.insert(page.field("card")) {
            assert_eq!(page.field("card"), first);
            assert!(page.text.contains("put off before"));
            break;
        }
        assert_eq!(
            garage.post(page.form("not-now", "")).await.status,
            StatusCode::SEE_OTHER
        );
    }
    assert!(seen.len() > 2, "only {seen:?} could be put off");
}

#[tokio::test]
async fn what_is_wrong_is_kept_shown_and_harmless() {
    let garage = Garage::new();
    let first = garage.get("/bike/demo").await;
    let note = "&own=%3Cscript%3Ealert(1)%3C%2Fscript%3E%20%22%27%26%20bolt%20snapped";
    assert_eq!(
        garage.post(first.form("something-wrong", note)).await.status,
        StatusCode::SEE_OTHER
    );
    let page = garage.get("/bike/demo").await;
    assert_eq!(
        page.field("card"),
        first.field("card"),
        "the card goes away though nothing was done"
    );
    assert!(page.text.contains("It is kept:"));
    assert!(
        page.text
            .contains("&lt;script&gt;alert(1)&lt;/script&gt; &quot;'&amp; bolt snapped")
    );
    for path in [
        "/bike/demo",
        "/bike/demo/order",
        "/bike/demo/kit",
        "/bike/demo/all",
        "/",
        "/more",
    ] {
        assert!(!garage.get(path).await.text.contains("<script>"), "{path}");
    }
    let said = Answer::SomethingWrong {
        note: "<script>alert(1)</script> \"'& bolt snapped".to_owned(),
    };
    assert_eq!(garage.answered()[0].answer, said);
}

#[tokio::test]
async fn done_another_way_counts_as_done_and_keeps_how() {
    let garage = Garage::new();
    let first = garage.get("/bike/demo").await;
    let how = "&note=tightness+guessed&own=by+feel";
    assert_eq!(
        garage.post(first.form("done-another-way", how)).await.status,
        StatusCode::SEE_OTHER
    );
    let said = Answer::DoneAnotherWay {
        note: "tightness guessed: by feel".to_owned(),
    };
    assert_eq!(garage.answered()[0].answer, said);
    assert_ne!(garage.get("/bike/demo").await.field("card"), first.field("card"));
    assert!(
        garage
            .get("/bike/demo/order")
            .await
            .text
            .contains("done another way")
    );
}

#[tokio::test]
async fn another_program_s_entry_is_seen_at_once() {
    let garage = Garage::new();
    let page = garage.get("/bike/demo").await;
    // A second server on the same folder stands for any other program.
    let other = garage.another();
    assert_eq!(
        other.post(page.form("done", "")).await.status,
        StatusCode::SEE_OTHER
    );
    assert_ne!(garage.get("/bike/demo").await.field("card"), page.field("card"));
}

#[tokio::test]
async fn the_kit_shows_a_band_beside_a_critical_fixing_and_no_figure() {
    let text = Garage::new().get("/bike/demo/kit").await.text;
    let start = text.find("figures to find: only the maker's will do").unwrap();
    let critical = text.get(start..).unwrap().split("</details>").next().unwrap();
    assert!(critical.contains("check only, as M"), "{critical}");
    // Whatever has a unit stands in a band.
    let bands = critical.matches("class=\"stops\">check only, as M").count();
    assert_eq!(critical.matches("N·m").count(), bands, "{critical}");
    assert!(!critical.contains("typical"), "{critical}");
    assert!(text.contains("never to tighten by; the maker's figure wins"));
    assert!(text.contains("Local law says where it goes"));
}
