//! The phone over the home network: what is reached without being paired, and how pairing is got, used and lost.

use crate::garage::{Garage, HOST, NETWORK, Page};
use axum::body::Body;
use axum::http::{Method, Request, StatusCode, header};

/// The code as the machine's page shows it.
fn code(page: &Page) -> String {
    let (_, rest) = page
        .text
        .split_once("<p class=\"code\"><strong>")
        .unwrap_or_else(|| panic!("no code on {}", page.text));
    let shown = rest.split_once('<').unwrap().0;
    shown.replace(' ', "")
}

/// A new code, made on the machine's own page.
async fn fresh_code(garage: &Garage) -> String {
    let made = garage.post_to("/phones/code", "").await;
    assert_eq!(made.status, StatusCode::SEE_OTHER);
    code(&garage.get("/phones").await)
}

struct Asking<'a> {
    method: Method,
    path: &'a str,
    host: &'a str,
    origin: Option<&'a str>,
    cookie: Option<&'a str>,
    body: &'a str,
}

impl Asking<'_> {
    fn request(&self) -> Request<Body> {
        let mut request = Request::builder()
            .method(self.method.clone())
            .uri(self.path)
            .header(header::HOST, self.host);
        if let Some(origin) = self.origin {
            request = request.header(header::ORIGIN, origin);
        }
        if let Some(cookie) = self.cookie {
            request = request.header(header::COOKIE, cookie);
        }
        if self.method == Method::POST {
            request = request.header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        }
        request.body(Body::from(self.body.to_owned())).unwrap()
    }
}

fn get<'a>(path: &'a str, cookie: Option<&'a str>) -> Asking<'a> {
    Asking {
        method: Method::GET,
        path,
        host: NETWORK,
        origin: None,
        cookie,
        body: "",
    }
}

const OURS: &str = "http://192.168.7.20:8377";

fn post<'a>(path: &'a str, body: &'a str, cookie: Option<&'a str>) -> Asking<'a> {
    Asking {
        method: Method::POST,
        path,
        host: NETWORK,
        origin: Some(OURS),
        cookie,
        body,
    }
}

async fn pair(garage: &Garage, code: &str) -> Page {
    let form = format!("code={code}&name=Bench+phone");
    garage.send_network(post("/pair", &form, None).request()).await
}

/// The cookie as a browser sends it back.
fn cookie(page: &Page) -> String {
    let set = page.headers.get(header::SET_COOKIE).unwrap().to_str().unwrap();
    set.split(';').next().unwrap().to_owned()
}

#[tokio::test]
async fn nothing_of_the_garage_is_reached_without_being_paired() {
    let garage = Garage::new();
    let form = garage.get("/bike/demo").await.form("done", "");
    for path in [
        "/",
        "/bike/demo/order",
        "/bike/demo/kit",
        "/bench.js",
        "/since?bike=demo&seen=0123",
        "/phones",
        "/nowhere",
        "/bike/demo?take=x",
        "/pair/",
        "//pair",
        "/pair/../order",
        "/%70air/../",
        "/style.css/../order",
    ] {
        for cookie in [
            None,
            Some("refettle_phone="),
            Some("refettle_phone=zz; x=y"),
            Some(&*format!("refettle_phone={}", "0".repeat(64))),
        ] {
            let page = garage.send_network(get(path, cookie).request()).await;
            assert_eq!(page.status, StatusCode::UNAUTHORIZED, "{path}");
            assert!(page.text.contains("Pair this phone"), "{path}");
            for told in ["Demo bike", "Take off", "data-entry"] {
                assert!(!page.text.contains(told), "{told} on {path}");
            }
        }
    }
    for path in ["/bike/demo/answer", "/phones/code", "/phones/withdraw"] {
        let page = garage.send_network(post(path, &form, None).request()).await;
        assert_eq!(page.status, StatusCode::UNAUTHORIZED, "{path}");
    }
    assert_eq!(garage.answered(), []);
}

#[tokio::test]
async fn a_code_from_the_machines_screen_lets_one_phone_in() {
    let garage = Garage::new();
    let code = fresh_code(&garage).await;
    // Looking at the link spends nothing.
    let link = format!("/pair?code={code}");
    for _ in 0..3 {
        let page = garage.send_network(get(&link, None).request()).await;
        assert_eq!(page.status, StatusCode::OK);
        assert!(page.text.contains(&format!("value=\"{code}\"")));
        assert!(page.headers.get(header::SET_COOKIE).is_none());
    }
    let paired = pair(&garage, &code).await;
    assert_eq!(paired.status, StatusCode::SEE_OTHER);
    let set = paired.headers.get(header::SET_COOKIE).unwrap().to_str().unwrap();
    for wanted in ["; HttpOnly", "; SameSite=Strict", "; Path=/"] {
        assert!(set.contains(wanted), "{set}");
    }
    let cookie = cookie(&paired);
    let bench = garage
        .send_network(get("/bike/demo", Some(&cookie)).request())
        .await;
    assert_eq!(bench.status, StatusCode::OK);
    let answer = bench.form("done", "");
    let kept = garage
        .send_network(post("/bike/demo/answer", &answer, Some(&cookie)).request())
        .await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER);
    assert_eq!(garage.answered().len(), 1);
    // The code is stolen from the screen, too late.
    assert_eq!(pair(&garage, &code).await.status, StatusCode::TOO_MANY_REQUESTS);
    // Making codes and withdrawing is the machine's alone, also for a paired phone.
    for path in ["/phones", "/phones/code", "/phones/withdraw"] {
        let page = garage.send_network(get(path, Some(&cookie)).request()).await;
        assert_eq!(page.status, StatusCode::NOT_FOUND, "{path}");
    }
}

#[tokio::test]
async fn guessing_ends_the_code() {
    let garage = Garage::new();
    let code = fresh_code(&garage).await;
    let wrong = if code == "00000000" {
        "00000001"
    } else {
        "00000000"
    };
    for left in (1..5).rev() {
        let page = pair(&garage, wrong).await;
        assert_eq!(page.status, StatusCode::FORBIDDEN);
        assert!(page.text.contains(&format!("Tries left: {left}")));
    }
    assert_eq!(pair(&garage, wrong).await.status, StatusCode::TOO_MANY_REQUESTS);
    assert_eq!(pair(&garage, &code).await.status, StatusCode::TOO_MANY_REQUESTS);
    assert!(refettle_web::phones::list(garage.folder()).unwrap().is_empty());
    let another = fresh_code(&garage).await;
    assert_eq!(pair(&garage, &another).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn a_withdrawn_phone_is_out_at_once() {
    let garage = Garage::new();
    let first = cookie(&pair(&garage, &fresh_code(&garage).await).await);
    let second = cookie(&pair(&garage, &fresh_code(&garage).await).await);
    let phones = refettle_web::phones::list(garage.folder()).unwrap();
    assert_eq!(phones.len(), 2);
    assert!(garage.get("/phones").await.text.contains("Withdraw Bench phone"));
    // As the command does it, while the server runs.
    refettle_web::phones::withdraw(garage.folder(), &phones[0].id).unwrap();
    let status = async |cookie: &str| {
        garage
            .send_network(get("/bike/demo", Some(cookie)).request())
            .await
            .status
    };
    assert_eq!(status(&first).await, StatusCode::UNAUTHORIZED);
    assert_eq!(status(&second).await, StatusCode::OK);
    // As the machine's page does it.
    let gone = garage
        .post_to("/phones/withdraw", format!("id={}", phones[1].id))
        .await;
    assert_eq!(gone.status, StatusCode::SEE_OTHER);
    assert_eq!(status(&second).await, StatusCode::UNAUTHORIZED);
    let again = garage
        .post_to("/phones/withdraw", format!("id={}", phones[1].id))
        .await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    // A list that cannot be read lets nobody in.
    let third = cookie(&pair(&garage, &fresh_code(&garage).await).await);
    std::fs::write(garage.folder().join("phones.json"), "{").unwrap();
    assert_eq!(status(&third).await, StatusCode::SERVICE_UNAVAILABLE);
}

#[tokio::test]
async fn a_foreign_name_or_page_gets_nowhere_even_with_the_secret() {
    let garage = Garage::new();
    let code = fresh_code(&garage).await;
    let cookie = cookie(&pair(&garage, &code).await);
    // A name made to point here (DNS rebinding), this machine's own names, another port, the name twice over.
    for host in [
        "example.org",
        "example.org:8377",
        HOST,
        "localhost:8377",
        "192.168.7.20",
        "192.168.7.20:80",
        "192.168.7.20:8377.example.org",
        "192.168.7.20:8377@example.org",
        "[::ffff:192.168.7.20]:8377",
        "",
    ] {
        let asked = Asking {
            host,
            ..get("/bike/demo", Some(&cookie))
        };
        let page = garage.send_network(asked.request()).await;
        assert_eq!(page.status, StatusCode::MISDIRECTED_REQUEST, "{host}");
        assert!(!page.text.contains("Demo bike"));
    }
    // And the machine's side does not answer to the network's name.
    let asked = get("/bike/demo", Some(&cookie));
    assert_eq!(
        garage.send(asked.request()).await.status,
        StatusCode::MISDIRECTED_REQUEST
    );
    let bench = garage
        .send_network(get("/bike/demo", Some(&cookie)).request())
        .await;
    let answer = bench.form("done", "");
    for origin in [
        None,
        Some("null"),
        Some("http://example.org"),
        Some("https://192.168.7.20:8377"),
        Some("http://192.168.7.20"),
        Some("http://127.0.0.1:8377"),
        Some("file://"),
    ] {
        for path in ["/bike/demo/answer", "/pair"] {
            let asked = Asking {
                origin,
                ..post(path, &answer, Some(&cookie))
            };
            let page = garage.send_network(asked.request()).await;
            assert_eq!(page.status, StatusCode::FORBIDDEN, "{origin:?} {path}");
        }
    }
    assert_eq!(garage.answered(), []);
}

#[tokio::test]
async fn spoiled_pairing_forms_are_refused_and_spend_no_try() {
    let garage = Garage::new();
    let code = fresh_code(&garage).await;
    let long = format!("code={code}&name={}", "n".repeat(41));
    let larger = format!("code={code}&name={}", "n".repeat(5000));
    for (form, status) in [
        ("", StatusCode::UNPROCESSABLE_ENTITY),
        ("code=1", StatusCode::UNPROCESSABLE_ENTITY),
        (
            &*format!("code={code}&code={code}&name=x"),
            StatusCode::UNPROCESSABLE_ENTITY,
        ),
        (&*long, StatusCode::UNPROCESSABLE_ENTITY),
        (&*larger, StatusCode::PAYLOAD_TOO_LARGE),
    ] {
        let page = garage.send_network(post("/pair", form, None).request()).await;
        assert_eq!(page.status, status, "{form}");
    }
    // Bytes that are no UTF-8 make no code, and a name that is shown as it may be.
    let page = garage
        .send_network(post("/pair", &format!("code={code}&name=%ff%fe%00<b>"), None).request())
        .await;
    assert_eq!(page.status, StatusCode::SEE_OTHER);
    let shown = garage.get("/phones").await.text;
    assert!(!shown.contains("<b>") && !shown.contains('\0'), "{shown}");
}

#[tokio::test]
async fn the_machine_alone_serves_nobody_else() {
    let garage = Garage::new();
    let alone = garage.alone();
    let page = alone.get("/phones").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("refettle open --lan"));
    assert_eq!(
        alone.post_to("/phones/code", "").await.status,
        StatusCode::SEE_OTHER
    );
    assert!(!alone.get("/phones").await.text.contains("class=\"code\""));
}
