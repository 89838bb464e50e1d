//! Photos over the web: sent as a form with a file, given by id, and forms no page of ours sends.

use crate::garage::{Garage, HOST, NETWORK, Page};
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use image::{ImageFormat, Rgb, RgbImage};
use proptest::prelude::*;
use refettle_memory::entry::{About, Entry};
use refettle_photos::{Album, PhotoId, View};
use tower::ServiceExt;

const BOUNDARY: &str = "----ours7MA4YWxk";

fn jpeg(shade: u8) -> Vec<u8> {
    let picture = RgbImage::from_fn(640, 480, |x, _| Rgb([shade, u8::try_from(x % 256).unwrap(), 90]));
    let mut out = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut out, ImageFormat::Jpeg).unwrap();
    out.into_inner()
}

/// A form of fields, and of a file when its name is `photo`.
fn form(fields: &[(&str, &[u8])]) -> Vec<u8> {
    let mut body = Vec::new();
    for (name, value) in fields {
        let file = if *name == "photo" {
            "; filename=\"../../garage.sqlite\"\r\nContent-Type: image/jpeg"
        } else {
            ""
        };
        body.extend(
            format!("--{BOUNDARY}\r\nContent-Disposition: form-data; name=\"{name}\"{file}\r\n\r\n").bytes(),
        );
        body.extend(*value);
        body.extend(b"\r\n");
    }
    body.extend(format!("--{BOUNDARY}--\r\n").bytes());
    body
}

async fn send(garage: &Garage, body: Vec<u8>) -> Page {
    let request = Request::post("/bike/demo/photo")
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(
            header::CONTENT_TYPE,
            format!("multipart/form-data; boundary={BOUNDARY}"),
        );
    garage.send(request.body(Body::from(body)).unwrap()).await
}

fn photos(garage: &Garage) -> Vec<refettle_memory::entry::PhotoAdded> {
    let added = |stored: refettle_memory::Stored| match stored.entry {
        Entry::PhotoAdded(body) => Some(body),
        _ => None,
    };
    garage.entries().into_iter().filter_map(added).collect()
}

async fn picture(garage: &Garage, path: &str) -> (StatusCode, String, Vec<u8>) {
    let response = garage.router.clone().oneshot(Garage::asking(path)).await.unwrap();
    let (parts, body) = response.into_parts();
    let kind = parts
        .headers
        .get(header::CONTENT_TYPE)
        .unwrap()
        .to_str()
        .unwrap()
        .to_owned();
    (
        parts.status,
        kind,
        to_bytes(body, 8 << 20).await.unwrap().to_vec(),
    )
}

#[tokio::test]
async fn a_photo_sent_from_a_card_is_kept_shown_and_counts_once() {
    let garage = Garage::new();
    let page = garage.get("/bike/demo").await;
    assert!(page.text.contains("enctype=\"multipart/form-data\""));
    let (card, sent) = (page.field("card"), jpeg(40));
    let fields: [(&str, &[u8]); 4] = [
        ("card", card.as_bytes()),
        ("tap", b"tap-photo-1"),
        ("caption", b"  routing of the <cables> "),
        ("photo", &sent),
    ];
    for _ in 0..2 {
        assert_eq!(send(&garage, form(&fields)).await.status, StatusCode::SEE_OTHER);
    }
    let kept = photos(&garage);
    assert_eq!(kept.len(), 1);
    assert_eq!(
        kept[0].caption.as_ref().unwrap().as_str(),
        "routing of the <cables>"
    );
    let About::Part { part } = &kept[0].about else {
        panic!("the first card takes a part off, not {:?}", kept[0].about)
    };
    assert!(card.ends_with(&format!(".{part}")), "{card}");
    let id = PhotoId::new(kept[0].photo.as_str()).unwrap();
    let album = Album::of(garage.folder());
    for (path, view) in [
        (format!("/photo/{id}"), View::Whole),
        (format!("/photo/{id}/small"), View::Small),
    ] {
        let (status, kind, bytes) = picture(&garage, &path).await;
        assert_eq!((status, kind.as_str()), (StatusCode::OK, "image/jpeg"));
        assert_eq!(bytes, album.read(&id, view).unwrap());
    }
    let text = garage.get("/bike/demo").await.text;
    assert!(text.contains(&format!("/photo/{id}/small")) && text.contains("routing of the &lt;cables&gt;"));
    // The file of the form's own name was never touched.
    assert_eq!(garage.entries().len(), 5);
}

#[tokio::test]
async fn a_photo_may_be_far_larger_than_a_form_without_one() {
    let garage = Garage::new();
    // Numbers that look random (a congruential generator) do not compress.
    let mut n = 1_u32;
    let picture = RgbImage::from_fn(1200, 900, |_, _| {
        n = n.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        Rgb([n.to_be_bytes()[0], n.to_be_bytes()[1], n.to_be_bytes()[2]])
    });
    let mut sent = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut sent, ImageFormat::Png).unwrap();
    let sent = sent.into_inner();
    assert!(sent.len() > 2_000_000, "{}", sent.len());
    let fields: [(&str, &[u8]); 2] = [("tap", b"tap-photo-1"), ("photo", &sent)];
    assert_eq!(send(&garage, form(&fields)).await.status, StatusCode::SEE_OTHER);
    assert_eq!(photos(&garage).len(), 1);
    // The room for photos is the photos' alone.
    let request = Request::post("/bike/demo/answer")
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
    let body = Body::from(format!("card={}", "x".repeat(2_000_000)));
    let answer = garage.send(request.body(body).unwrap()).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
}

#[tokio::test]
async fn no_path_reaches_a_file() {
    let garage = Garage::new();
    let id = "ab".repeat(32);
    for path in [
        "/photo/..%2F..%2Fetc%2Fpasswd",
        "/photo/../garage.sqlite",
        "/photo/%2e%2e/garage.sqlite",
        "/photo/garage.sqlite",
        "/photo/",
        &format!("/photo/{}", id.to_uppercase()),
        &format!("/photo/{id}"),
        &format!("/photo/{id}.jpg"),
        &format!("/photo/{id}%00"),
        &format!("/photo/{id}/../../garage.sqlite"),
        "/photo/%ff%fe",
        "/phones.json",
        "/garage.sqlite",
    ] {
        let (status, kind, bytes) = picture(&garage, path).await;
        assert!(
            status == StatusCode::NOT_FOUND || status == StatusCode::BAD_REQUEST,
            "{path} {status}"
        );
        assert!(
            !kind.starts_with("image") && !bytes.starts_with(b"SQLite"),
            "{path}"
        );
    }
}

#[tokio::test]
async fn wrong_photo_forms_are_refused_with_words_and_nothing_is_kept() {
    let garage = Garage::new();
    let sent = jpeg(1);
    let tap: (&str, &[u8]) = ("tap", b"tap-photo-1");
    let long = vec![b'x'; 20_000];
    let words = "x".repeat(2001);
    let cut = &sent[..sent.len() / 2];
    type Case<'a> = (Vec<(&'a str, &'a [u8])>, StatusCode, &'a str);
    let cases: [Case<'_>; 12] = [
        (
            vec![],
            StatusCode::UNPROCESSABLE_ENTITY,
            "&#39;tap&#39; is missing",
        ),
        (
            vec![tap],
            StatusCode::UNPROCESSABLE_ENTITY,
            "&#39;photo&#39; is missing",
        ),
        (
            vec![("tap", b"short"), ("photo", &sent)],
            StatusCode::UNPROCESSABLE_ENTITY,
            "is no tap key",
        ),
        (
            vec![tap, tap, ("photo", &sent)],
            StatusCode::UNPROCESSABLE_ENTITY,
            "came twice",
        ),
        (
            vec![tap, ("photo", &sent), ("photo", &sent)],
            StatusCode::UNPROCESSABLE_ENTITY,
            "one photo at a time",
        ),
        (
            vec![tap, ("path", b"/etc"), ("photo", &sent)],
            StatusCode::UNPROCESSABLE_ENTITY,
            "there is no field",
        ),
        (
            vec![tap, ("caption", b"\xff\xfe"), ("photo", &sent)],
            StatusCode::UNPROCESSABLE_ENTITY,
            "is no text",
        ),
        (
            vec![tap, ("card", &long), ("photo", &sent)],
            StatusCode::UNPROCESSABLE_ENTITY,
            "longer than",
        ),
        (
            vec![tap, ("caption", words.as_bytes()), ("photo", &sent)],
            StatusCode::UNPROCESSABLE_ENTITY,
            "1 to 2000 characters",
        ),
        (
            vec![tap, ("photo", b"")],
            StatusCode::UNPROCESSABLE_ENTITY,
            "the file is empty",
        ),
        (
            vec![tap, ("photo", b"GIF89a....")],
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
            "a GIF picture",
        ),
        (
            vec![tap, ("photo", cut)],
            StatusCode::UNPROCESSABLE_ENTITY,
            "broken or cut off",
        ),
    ];
    for (fields, status, told) in cases {
        let page = send(&garage, form(&fields)).await;
        let text = page.text.replace('\'', "&#39;");
        assert_eq!(page.status, status, "{told}");
        assert!(text.contains(told), "{told}: {text}");
    }
    assert_eq!(photos(&garage), []);
    assert!(Album::of(garage.folder()).all().unwrap().is_empty());
}

#[tokio::test]
async fn a_body_that_is_no_form_with_a_file_or_too_large_is_refused() {
    let garage = Garage::new();
    let ask = async |kind: &str, body: Vec<u8>| {
        let request = Request::post("/bike/demo/photo")
            .header(header::HOST, HOST)
            .header(header::ORIGIN, format!("http://{HOST}"))
            .header(header::CONTENT_TYPE, kind.to_owned());
        garage.send(request.body(Body::from(body)).unwrap()).await.status
    };
    assert!(ask("application/json", b"{}".to_vec()).await.is_client_error());
    assert!(ask("multipart/form-data", form(&[])).await.is_client_error());
    assert!(
        ask(
            "multipart/form-data; boundary=other",
            form(&[("tap", b"tap-photo-1")])
        )
        .await
        .is_client_error()
    );
    let huge = vec![b'a'; refettle_photos::LARGEST_FILE + 65 * 1024];
    assert_eq!(
        ask("multipart/form-data; boundary=x", huge).await,
        StatusCode::PAYLOAD_TOO_LARGE
    );
    // From another site, and from a phone that is not paired.
    let foreign = Request::post("/bike/demo/photo")
        .header(header::HOST, HOST)
        .header(header::ORIGIN, "http://example.org");
    let page = garage.send(foreign.body(Body::from(form(&[]))).unwrap()).await;
    assert_eq!(page.status, StatusCode::FORBIDDEN);
    let unpaired = Request::post("/bike/demo/photo")
        .header(header::HOST, NETWORK)
        .header(header::ORIGIN, format!("http://{NETWORK}"));
    let page = garage
        .send_network(unpaired.body(Body::from(form(&[]))).unwrap())
        .await;
    assert_eq!(page.status, StatusCode::UNAUTHORIZED);
    let id = "ab".repeat(32);
    let picture = Request::get(format!("/photo/{id}")).header(header::HOST, NETWORK);
    let page = garage.send_network(picture.body(Body::empty()).unwrap()).await;
    assert_eq!(page.status, StatusCode::UNAUTHORIZED);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_spoiled_upload_is_our_fault(spoils in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12), cut in any::<prop::sample::Index>(), raw in prop::collection::vec(any::<u8>(), 0..300), which in 0..3) {
        thread_local! {
            static GARAGE: (Garage, tokio::runtime::Runtime) = {
                let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
                (Garage::new(), runtime)
            };
        }
        let mut body = form(&[("card", b"take-off.0.tank"), ("tap", b"tap-photo-1"), ("caption", b"x"), ("photo", b"\xff\xd8\xff\xe0 no picture")]);
        match which {
            0 => for (at, byte) in spoils { let at = at.index(body.len()); body[at] = byte; },
            1 => body.truncate(cut.index(body.len())),
            _ => body = raw,
        }
        GARAGE.with(|(garage, runtime)| {
            let status = runtime.block_on(send(garage, body)).status;
            assert!(status.is_client_error(), "{status}");
            assert_eq!(photos(garage), []);
        });
    }
}
