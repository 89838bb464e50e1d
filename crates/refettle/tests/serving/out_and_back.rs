//! The commands that take the garage out and back, as a person types them.

use crate::server::{FORM, PROGRAM, Server, garage, of_bike, post};
use image::{ImageFormat, Rgb, RgbImage};
use refettle_memory::Memory;
use refettle_photos::{Album, View};
use refettle_usecases::demo_bike;
use serde_json::Value;
use std::path::Path;
use std::process::Command;

fn run(args: &[&str], data: &Path) -> (Option<i32>, String, String) {
    let out = Command::new(PROGRAM)
        .args(args)
        .arg("--data")
        .arg(data)
        .output()
        .unwrap();
    (
        out.status.code(),
        String::from_utf8(out.stdout).unwrap(),
        String::from_utf8(out.stderr).unwrap(),
    )
}

/// What a command prints as JSON, once it is certain that it is as its schema says.
fn view(args: &[&str], data: &Path) -> Value {
    let (status, out, err) = run(&[args, &["--json"]].concat(), data);
    assert_eq!(status, Some(0), "{err}");
    let value: Value = serde_json::from_str(&out).unwrap();
    let name = match args[0] {
        "export" => "exported",
        "import" => "imported",
        "forget" => "personal",
        "restore" => "backup",
        same => same,
    };
    hold(name, &value);
    value
}

/// Holds a value to a schema of `docs/schema`.
pub fn hold(name: &str, value: &Value) {
    let path = format!(
        "{}/../../docs/schema/{name}.schema.json",
        env!("CARGO_MANIFEST_DIR")
    );
    let schema = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let judge = jsonschema::draft202012::new(&schema).unwrap();
    let wrong: Vec<String> = judge.iter_errors(value).map(|e| e.to_string()).collect();
    assert!(wrong.is_empty(), "{name}: {wrong:?} in {value}");
}

/// A photo and an answer, sent to a running server.
fn lived_in(dir: &Path) {
    garage(dir);
    let server = Server::start(dir, &[]);
    let mut jpeg = std::io::Cursor::new(Vec::new());
    RgbImage::from_pixel(300, 200, Rgb([90, 120, 30]))
        .write_to(&mut jpeg, ImageFormat::Jpeg)
        .unwrap();
    let field = |name: &str, value: &[u8]| {
        [
            format!("--xx\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n").as_bytes(),
            value,
            b"\r\n",
        ]
        .concat()
    };
    let body = [
        field("tap", b"tap-photo-1"),
        field("photo", jpeg.get_ref()),
        b"--xx--\r\n".to_vec(),
    ]
    .concat();
    let sent = post(
        server.address,
        &of_bike("/photo"),
        "multipart/form-data; boundary=xx",
        &body,
        "",
    )
    .unwrap();
    assert_eq!(sent.status, 303, "{}", sent.text());
    let page = server.get(&of_bike(""));
    let form = format!(
        "card={}&seen={}&tap=tap-answer-1&answer=not-now",
        page.field("card").unwrap(),
        page.field("seen").unwrap()
    );
    assert_eq!(
        post(server.address, &of_bike("/answer"), FORM, form.as_bytes(), "")
            .unwrap()
            .status,
        303
    );
}

/// All a garage answers: its bench page too, but for keys that are new each time.
fn answers(dir: &Path) -> (String, Vec<Vec<u8>>) {
    let memory = Memory::open(dir).unwrap();
    let bike = demo_bike::bike().unwrap();
    let entries: Vec<_> = memory
        .entries(&bike)
        .unwrap()
        .into_iter()
        .map(|e| (e.id, e.at, e.tap, e.entry))
        .collect();
    let album = Album::of(dir);
    let photos = album
        .all()
        .unwrap()
        .iter()
        .map(|id| album.read(id, View::Whole).unwrap())
        .collect();
    drop(memory);
    let server = Server::start(dir, &[]);
    let pages: Vec<_> = ["", "/order", "/kit", "/all"]
        .iter()
        .map(|page| server.get(&of_bike(page)))
        .inspect(|page| assert_eq!(page.status, 200))
        .map(|page| page.text())
        .chain([server.get("/").text()])
        .collect();
    let plain = pages.join("\n").replace("just now", "0 min ago");
    let mut parts = plain.split("name=\"tap\" value=\"");
    let mut shown = parts.next().unwrap().to_owned();
    for part in parts {
        shown.push_str(&part[32..]);
    }
    (format!("{entries:#?}{shown}"), photos)
}

#[test]
fn exported_and_imported_elsewhere_every_read_gives_the_same_answer() {
    let (one, two, out) = (
        tempfile::tempdir().unwrap(),
        tempfile::tempdir().unwrap(),
        tempfile::tempdir().unwrap(),
    );
    lived_in(one.path());
    let folder = out.path().join("garage");
    let told = view(&["export", folder.to_str().unwrap()], one.path());
    assert_eq!(
        (&told["format"], &told["photos"], &told["bikes"]),
        (&"refettle-exported/1".into(), &1.into(), &1.into())
    );
    let taken = view(&["import", folder.to_str().unwrap()], two.path());
    assert_eq!(
        (&taken["entries"], &taken["photos"], &taken["here_already"]),
        (&told["entries"], &1.into(), &0.into())
    );
    let before = answers(one.path());
    assert_eq!(answers(two.path()), before);
    let again = view(&["import", folder.to_str().unwrap()], two.path());
    assert_eq!(
        (&again["entries"], &again["here_already"]),
        (&0.into(), &told["entries"])
    );
    // As a spreadsheet reads it.
    let csv = std::fs::read_to_string(folder.join("yard.csv")).unwrap();
    assert!(csv.starts_with("bike,title,layout,sheet,came_in,"), "{csv}");
    // A second time into the same folder, and a photo put there by hand.
    let (status, _, told) = run(&["export", folder.to_str().unwrap()], one.path());
    assert!(status == Some(2) && told.contains("not written over"), "{told}");
    std::fs::write(folder.join("photos/holiday.jpg"), b"x").unwrap();
    let (status, _, told) = run(&["import", folder.to_str().unwrap()], two.path());
    assert!(status == Some(2) && told.contains("holiday.jpg"), "{told}");
}

#[test]
fn backed_up_while_open_and_restored_it_is_as_it_was() {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    lived_in(one.path());
    let file = two.path().join("monday.backup");
    let name = file.to_str().unwrap();
    let server = Server::start(one.path(), &[]);
    assert_eq!(view(&["backup", name], one.path())["photos"], 1);
    server.kill();
    let (status, _, told) = run(&["backup", name], one.path());
    assert!(status == Some(2) && told.contains("is not written"), "{told}");
    let elsewhere = two.path().join("elsewhere");
    let restored = view(&["restore", name], &elsewhere);
    assert_eq!(
        (&restored["photos"], &restored["aside"]),
        (&1.into(), &Value::Null)
    );
    assert_eq!(answers(&elsewhere), answers(one.path()));
    // Over what is there: copied aside first, photos that are not in the backup stay.
    lived_in(&two.path().join("other"));
    let restored = view(&["restore", name], &two.path().join("other"));
    assert!(Path::new(restored["aside"].as_str().unwrap()).exists());
    assert_eq!(answers(&two.path().join("other")).0, answers(one.path()).0);
}

#[test]
fn a_buyer_is_forgotten_and_the_history_stays() {
    let dir = tempfile::tempdir().unwrap();
    garage(dir.path());
    let mut memory = Memory::open(dir.path()).unwrap();
    let id = memory.keep_personal("buyer", "A. Buyer", None).unwrap();
    let entries = memory.entries(&demo_bike::bike().unwrap()).unwrap();
    let (_, listed, _) = run(&["forget"], dir.path());
    assert_eq!(listed, format!("{id}  buyer: A. Buyer\n"));
    let told = view(&["forget", id.as_str()], dir.path());
    assert_eq!(
        (&told["erased"], &told["personal"]),
        (&id.as_str().into(), &Value::Array(vec![]))
    );
    assert_eq!(memory.entries(&demo_bike::bike().unwrap()).unwrap(), entries);
    let (status, _, told) = run(&["forget", id.as_str()], dir.path());
    assert!(
        status == Some(2) && told.contains("no personal data is kept under"),
        "{told}"
    );
    assert_eq!(run(&["forget", "A. Buyer"], dir.path()).0, Some(2));
}

#[test]
fn a_folder_without_a_garage_is_not_made_into_one() {
    let dir = tempfile::tempdir().unwrap();
    let none = dir.path().join("none");
    for args in [&["export", "out"][..], &["backup", "out"], &["forget"]] {
        let (status, _, told) = run(args, &none);
        assert!(
            status == Some(2) && told.contains("there is no garage in"),
            "{told}"
        );
    }
    assert!(!none.exists());
    let (status, out, _) = run(&["phones"], &none);
    assert!(status == Some(0) && out.contains("No phone is paired"), "{out}");
    let (status, _, told) = run(&["phones", "withdraw", "deadbeef"], dir.path());
    assert!(
        status == Some(2) && told.contains("no paired phone has the id 'deadbeef'"),
        "{told}"
    );
}
