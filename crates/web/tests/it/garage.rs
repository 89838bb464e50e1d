//! A garage in a folder of its own, its server in process, and a browser's manners.

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Request, StatusCode, header};
use refettle_memory::entry::Entry;
use refettle_memory::{Memory, Stored};
use refettle_usecases::demo_bike;
use refettle_web::{Desk, router};
use tower::ServiceExt;

pub const PORT: u16 = 8377;
pub const HOST: &str = "127.0.0.1:8377";

pub struct Garage {
    dir: std::sync::Arc<tempfile::TempDir>,
    pub router: Router,
    /// Another connection, as another program has.
    reader: Memory,
}

pub struct Page {
    pub status: StatusCode,
    pub headers: HeaderMap,
    pub text: String,
}

impl Garage {
    pub fn new() -> Garage {
        Garage::on(std::sync::Arc::new(tempfile::tempdir().unwrap()))
    }

    /// Another server on the same folder.
    pub fn another(&self) -> Garage {
        Garage::on(self.dir.clone())
    }

    fn on(dir: std::sync::Arc<tempfile::TempDir>) -> Garage {
        let desk = Desk::open(dir.path(), jiff::Timestamp::now()).unwrap();
        Garage {
            router: router(desk, PORT),
            reader: Memory::open(dir.path()).unwrap(),
            dir,
        }
    }

    pub async fn send(&self, request: Request<Body>) -> Page {
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let body = to_bytes(body, 8 << 20).await.unwrap();
        Page {
            status: parts.status,
            headers: parts.headers,
            text: String::from_utf8(body.to_vec()).unwrap(),
        }
    }

    pub async fn get(&self, path: &str) -> Page {
        self.send(
            Request::get(path)
                .header(header::HOST, HOST)
                .body(Body::empty())
                .unwrap(),
        )
        .await
    }

    /// A form sent by our own page.
    pub async fn post(&self, body: impl Into<Body>) -> Page {
        self.send(
            Request::post("/answer")
                .header(header::HOST, HOST)
                .header(header::ORIGIN, format!("http://{HOST}"))
                .header("sec-fetch-site", "same-origin")
                .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
                .body(body.into())
                .unwrap(),
        )
        .await
    }

    /// All entries of the demo bike, read from the disk by another connection.
    pub fn entries(&self) -> Vec<Stored> {
        self.reader.entries(&demo_bike::bike().unwrap()).unwrap()
    }

    pub fn answered(&self) -> Vec<refettle_memory::entry::ActionAnswered> {
        self.entries()
            .into_iter()
            .filter_map(|stored| match stored.entry {
                Entry::ActionAnswered(body) => Some(body),
                _ => None,
            })
            .collect()
    }
}

impl Page {
    /// The value of the first hidden field of this name.
    pub fn field(&self, name: &str) -> String {
        let start = format!("name=\"{name}\" value=\"");
        let (_, rest) = self
            .text
            .split_once(&start)
            .unwrap_or_else(|| panic!("no field {name}"));
        rest.split_once('"').unwrap().0.to_owned()
    }

    /// The body of the form that gives this answer from this page.
    pub fn form(&self, answer: &str, more: &str) -> String {
        format!(
            "card={}&seen={}&tap={}&answer={answer}{more}",
            self.field("card"),
            self.field("seen"),
            self.field("tap")
        )
    }
}
