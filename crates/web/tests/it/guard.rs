//! Who may ask, and what every answer carries.

use crate::garage::{Garage, HOST, Page};
use axum::body::Body;
use axum::http::{Request, StatusCode, header};

fn headers_are_there(page: &Page) {
    let value = |name: &str| page.headers.get(name).map(|v| v.to_str().unwrap().to_owned());
    let policy = value("content-security-policy").unwrap();
    for directive in [
        "default-src 'none'",
        "style-src 'self'",
        "script-src 'self'",
        "img-src 'self' data:",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    ] {
        assert!(
            policy.split("; ").any(|d| d == directive),
            "{directive} not in {policy}"
        );
    }
    assert!(!policy.contains("unsafe"));
    assert_eq!(value("x-content-type-options").as_deref(), Some("nosniff"));
    assert_eq!(value("referrer-policy").as_deref(), Some("same-origin"));
    assert_eq!(value("cache-control").as_deref(), Some("no-store"));
}

#[tokio::test]
async fn every_answer_carries_the_headers() {
    let garage = Garage::new();
    for path in [
        "/",
        "/bike/demo/order",
        "/bike/demo/kit",
        "/style.css",
        "/bench.js",
        "/nowhere",
        "/../../etc/passwd",
    ] {
        let page = garage.get(path).await;
        headers_are_there(&page);
        assert_eq!(
            page.status == StatusCode::NOT_FOUND,
            path.contains("nowhere") || path.contains(".."),
            "{path}"
        );
    }
    headers_are_there(&garage.post("x").await);
}

#[tokio::test]
async fn pages_load_nothing_from_elsewhere_and_have_no_scripts_or_styles_inside() {
    let garage = Garage::new();
    for path in [
        "/bike/demo",
        "/bike/demo/order",
        "/bike/demo/kit",
        "/bike/demo/all",
        "/bike/demo/road",
        "/bike/demo/papers",
    ] {
        let text = garage.get(path).await.text;
        assert!(text.starts_with("<!DOCTYPE html><html lang=\"en\">"));
        for never in ["https://", "style=", "<style", "onclick", "javascript:"] {
            assert!(!text.contains(never), "{never} in {path}");
        }
        // The only address with http:// is the name of the picture format, in the tab's mark.
        assert_eq!(
            text.matches("http://").count(),
            text.matches("http://www.w3.org/2000/svg").count()
        );
        assert!(text.contains("<script src=\"/bench.js\" defer></script>"));
        assert_eq!(text.matches("<script").count(), 1);
        assert!(text.contains("the maker's manual"), "{path} has no safety words");
        assert!(text.contains("invented"), "{path} is not marked as invented");
    }
}

#[tokio::test]
async fn a_foreign_host_is_refused() {
    let garage = Garage::new();
    for host in [
        "example.org",
        "127.0.0.1",
        "127.0.0.1:1",
        "127.0.0.1:8377.example.org",
        "localhost:83770",
        "",
    ] {
        let request = Request::get("/bike/demo")
            .header(header::HOST, host)
            .body(Body::empty())
            .unwrap();
        let page = garage.send(request).await;
        assert_eq!(page.status, StatusCode::MISDIRECTED_REQUEST, "{host}");
        assert!(!page.text.contains("Demo bike"));
    }
    let none = Request::get("/bike/demo").body(Body::empty()).unwrap();
    assert_eq!(garage.send(none).await.status, StatusCode::MISDIRECTED_REQUEST);
    let two = Request::get("/bike/demo")
        .header(header::HOST, HOST)
        .header(header::HOST, "example.org");
    let page = garage.send(two.body(Body::empty()).unwrap()).await;
    assert_eq!(page.status, StatusCode::MISDIRECTED_REQUEST);
    let ours = Request::get("/bike/demo")
        .header(header::HOST, "LocalHost:8377")
        .body(Body::empty())
        .unwrap();
    assert_eq!(garage.send(ours).await.status, StatusCode::OK);
}

#[tokio::test]
async fn what_comes_from_another_site_changes_nothing() {
    let garage = Garage::new();
    let form = garage.get("/bike/demo").await.form("done", "");
    let foreign: [&[(&str, &str)]; 8] = [
        &[],
        &[("origin", "null")],
        &[("origin", "https://127.0.0.1:8377")],
        &[("origin", "http://example.org")],
        &[("origin", "http://127.0.0.1:9999")],
        &[("sec-fetch-site", "cross-site")],
        &[
            ("sec-fetch-site", "same-site"),
            ("origin", "http://127.0.0.1:8377"),
        ],
        &[
            ("sec-fetch-site", "same-origin"),
            ("origin", "http://example.org"),
        ],
    ];
    for headers in foreign {
        let mut request = Request::post("/bike/demo/answer")
            .header(header::HOST, HOST)
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        let page = garage.send(request.body(Body::from(form.clone())).unwrap()).await;
        assert_eq!(page.status, StatusCode::FORBIDDEN, "{headers:?}");
    }
    assert!(garage.answered().is_empty());
    // The same form from our own page counts.
    assert_eq!(garage.post(form).await.status, StatusCode::SEE_OTHER);
    assert_eq!(garage.answered().len(), 1);
}

#[tokio::test]
async fn what_is_no_way_to_ask_is_refused() {
    let garage = Garage::new();
    assert_eq!(
        garage.get("/bike/demo/answer").await.status,
        StatusCode::METHOD_NOT_ALLOWED
    );
    let put = Request::put("/bike/demo")
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"));
    let page = garage.send(put.body(Body::empty()).unwrap()).await;
    assert_eq!(page.status, StatusCode::METHOD_NOT_ALLOWED);
}
