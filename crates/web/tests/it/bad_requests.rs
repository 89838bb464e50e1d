//! Forms no page of ours sends: a clear refusal each, nothing written, never our fault.

use crate::garage::{Garage, HOST};
use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use proptest::prelude::*;

#[tokio::test]
async fn wrong_forms_are_refused_by_name_and_nothing_is_written() {
    let garage = Garage::new();
    let good = garage.get("/bike/demo").await.form("done", "");
    let page = garage.get("/bike/demo").await;
    let with = |name: &str, value: &str| {
        let kept: Vec<&str> = good
            .split('&')
            .filter(|pair| !pair.starts_with(&format!("{name}=")))
            .collect();
        format!("{}&{name}={value}", kept.join("&"))
    };
    let long = "a".repeat(501);
    let forms = [
        (String::new(), "the field &#39;card&#39; is missing"),
        (with("card", ""), "is no card of this bike"),
        (
            with("card", "take-off.0.flux-capacitor"),
            "is no card of this bike",
        ),
        (with("card", "take-off.9.tank"), "is no card of this bike"),
        (with("card", &"x".repeat(101)), "longer than 100 characters"),
        (with("seen", "UPPER"), "is no id"),
        (with("tap", "short"), "is no tap key"),
        (with("answer", "maybe"), "is no answer"),
        (format!("{good}&answer=done"), "came twice"),
        (format!("{good}&extra=1"), "there is no field &#39;extra&#39;"),
        (page.form("something-wrong", ""), "nothing was said"),
        (page.form("done-another-way", "&own=%20%20"), "nothing was said"),
        (
            page.form("something-wrong", &format!("&own={long}")),
            "501 characters, the limit is 500",
        ),
        (page.form("something-wrong", "&own=a%00b"), "cannot be shown"),
    ];
    for (form, told) in forms {
        let page = garage.post(form.clone()).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{form}");
        let text = page.text.replace('\'', "&#39;");
        assert!(text.contains(told), "{form} is not told '{told}'");
    }
    assert_eq!(garage.answered(), []);
    assert_eq!(
        garage.entries().len(),
        4,
        "the demo bike has four entries of its own"
    );
}

#[tokio::test]
async fn a_card_that_is_not_up_is_refused() {
    let garage = Garage::new();
    let page = garage.get("/bike/demo").await;
    let form = page
        .form("done", "")
        .replace(&page.field("card"), "put-on.0.seat");
    let refused = garage.post(form).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text.contains("is not up now"));
    assert_eq!(garage.answered(), []);
}

#[tokio::test]
async fn a_page_of_no_entry_is_refused() {
    let garage = Garage::new();
    let page = garage.get("/bike/demo").await;
    let form = page
        .form("done", "")
        .replace(&page.field("seen"), "0123456789abcdef");
    assert_eq!(garage.post(form).await.status, StatusCode::CONFLICT);
    assert_eq!(garage.answered(), []);
}

#[tokio::test]
async fn a_body_too_large_or_of_another_kind_is_refused() {
    let garage = Garage::new();
    let large = garage.post(format!("own={}", "a".repeat(64 * 1024))).await;
    assert_eq!(large.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(large.text.contains("The limit is 64 kilobytes"));
    let json = Request::post("/bike/demo/answer")
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::CONTENT_TYPE, "application/json")
        .body(Body::from("{}"))
        .unwrap();
    assert_eq!(garage.send(json).await.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    assert_eq!(garage.answered(), []);
}

fn field() -> impl Strategy<Value = String> {
    let name = prop_oneof![
        Just("card"),
        Just("seen"),
        Just("tap"),
        Just("answer"),
        Just("note"),
        Just("own"),
        Just("%00"),
        Just("")
    ];
    let value = prop_oneof![
        Just("done".to_owned()),
        Just("something-wrong".to_owned()),
        Just("take-off.0.carburettors".to_owned()),
        Just("await.tank".to_owned()),
        Just("0123456789abcdef".to_owned()),
        "\\PC{0,40}",
        "(%[0-9a-f]{2}){0,20}",
    ];
    (name, value).prop_map(|(name, value)| format!("{name}={value}"))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_form_whatever_is_our_fault(fields in prop::collection::vec(field(), 0..8), raw in prop::collection::vec(any::<u8>(), 0..200), as_raw: bool) {
        thread_local! {
            static GARAGE: (Garage, tokio::runtime::Runtime) = {
                let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
                (Garage::new(), runtime)
            };
        }
        let body = if as_raw { raw } else { fields.join("&").into_bytes() };
        GARAGE.with(|(garage, runtime)| {
            let status = runtime.block_on(garage.post(body)).status;
            assert!(status.is_client_error(), "{status}");
            assert_eq!(garage.answered(), []);
        });
    }
}
