//! A garage in a folder of its own, its server in process, and a browser's manners.

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Request, StatusCode, header};
use refettle_memory::entry::{Entry, JobsChosen};
use refettle_memory::{Memory, Stored};
use refettle_usecases::demo_bike;
use refettle_web::{Desk, router, routers};
use tower::ServiceExt;

pub const PORT: u16 = 8377;
pub const HOST: &str = "127.0.0.1:8377";

/// The address on the home network.
pub const NETWORK: &str = "192.168.7.20:8377";

pub struct Garage {
    dir: std::sync::Arc<tempfile::TempDir>,
    pub router: Router,
    pub network: Router,
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
        let mut memory = Memory::open(dir.path()).unwrap();
        demo_bike::ensure(&mut memory, jiff::Timestamp::now()).unwrap();
        let desk = Desk::open(dir.path()).unwrap();
        let sides = routers(desk, PORT, Some(NETWORK.parse().unwrap())).unwrap();
        Garage {
            router: sides.machine,
            network: sides.network.unwrap(),
            reader: Memory::open(dir.path()).unwrap(),
            dir,
        }
    }

    /// Another server on the same folder, which lets no network in.
    pub fn alone(&self) -> Garage {
        let desk = Desk::open(self.folder()).unwrap();
        Garage {
            router: router(desk, PORT).unwrap(),
            network: Router::new(),
            reader: Memory::open(self.folder()).unwrap(),
            dir: self.dir.clone(),
        }
    }

    pub fn folder(&self) -> &std::path::Path {
        self.dir.path()
    }

    pub async fn send(&self, request: Request<Body>) -> Page {
        ask(&self.router, request).await
    }

    /// Sent to the address on the home network.
    pub async fn send_network(&self, request: Request<Body>) -> Page {
        ask(&self.network, request).await
    }

    pub fn asking(path: &str) -> Request<Body> {
        Request::get(path)
            .header(header::HOST, HOST)
            .body(Body::empty())
            .unwrap()
    }

    pub async fn get(&self, path: &str) -> Page {
        self.send(Garage::asking(path)).await
    }

    /// Records an entry by another connection, as a command does.
    pub fn record_elsewhere(&mut self) -> refettle_facts::ids::EntryId {
        let entry = Entry::JobsChosen(JobsChosen { jobs: vec![] });
        let bike = demo_bike::bike().unwrap();
        self.reader
            .append(&bike, jiff::Timestamp::now(), None, &entry)
            .unwrap()
    }

    /// A form sent by our own page.
    pub async fn post(&self, body: impl Into<Body>) -> Page {
        self.post_to("/bike/demo/answer", body).await
    }

    pub async fn post_to(&self, path: &str, body: impl Into<Body>) -> Page {
        self.send(
            Request::post(path)
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

pub async fn ask(router: &Router, request: Request<Body>) -> Page {
    let response = router.clone().oneshot(request).await.unwrap();
    let (parts, body) = response.into_parts();
    let body = to_bytes(body, 8 << 20).await.unwrap();
    Page {
        status: parts.status,
        headers: parts.headers,
        text: String::from_utf8(body.to_vec()).unwrap(),
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
