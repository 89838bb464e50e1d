//! What is set aside and shown: bags with something over, and photos.

use crate::garage::Garage;
use image::{ImageFormat, Rgb, RgbImage};
use serde_json::Value;

#[test]
fn what_was_over_in_a_bag_stands_at_the_bench_until_it_is_settled() {
    let garage = Garage::with_red();
    garage.log(&["bag-in", "red", "3", "3 x M6 x 25"]);
    assert!(garage.bench("red").get("bag_questions").is_none());
    let emptied = garage.log(&[
        "bag-out",
        "red",
        "3",
        "--over",
        "1 x M6 x 25",
        "--missing",
        "2 x clip",
    ]);
    let questions = garage.bench("red")["bag_questions"].clone();
    let wanted = serde_json::json!([
        { "entry": emptied, "bag": 3, "over": ["1 x M6 x 25"], "missing": ["2 x clip"] }
    ]);
    assert_eq!(questions, wanted);
    assert!(garage.text(&["bench", "red"]).contains("1 x M6 x 25"));
    garage.log(&["settled", "red", &emptied, "put-right"]);
    assert!(garage.bench("red").get("bag_questions").is_none());
}

fn pictures(garage: &Garage) -> Vec<(u32, u32)> {
    let mut sizes: Vec<(u32, u32)> = std::fs::read_dir(garage.folder().join("photos"))
        .map(|files| {
            let sizes = files.map(|file| image::image_dimensions(file.unwrap().path()).unwrap());
            sizes.collect()
        })
        .unwrap_or_default();
    sizes.sort_unstable();
    sizes
}

#[test]
fn a_photo_from_a_file_is_kept_once_and_what_is_none_is_refused() {
    let garage = Garage::with_red();
    let files = tempfile::tempdir().unwrap();
    let path = |name: &str| files.path().join(name).to_str().unwrap().to_owned();
    let (picture, text) = (path("cables.png"), path("words.jpg"));
    RgbImage::from_pixel(640, 400, Rgb([90, 120, 30]))
        .save_with_format(&picture, ImageFormat::Png)
        .unwrap();
    std::fs::write(&text, "no picture").unwrap();
    for (args, says) in [
        (&["log", "photo", "red", &text][..], "words.jpg"),
        (&["log", "photo", "red", &path("none.jpg")], "cannot be read"),
        (
            &["log", "photo", "red", &picture, "--part", "boot"],
            "no part 'boot'",
        ),
    ] {
        let said = garage.refused(args);
        assert!(said.contains(says), "{args:?}: {said}");
    }
    assert_eq!(pictures(&garage), []);
    let args = [
        "photo",
        "red",
        &picture,
        "--part",
        "tank",
        "--caption",
        "routing",
        "--tap",
        "photo-of-cables",
    ];
    let first = garage.log(&args);
    assert_eq!(garage.log(&args), first);
    // The small view, 320 long, and the whole.
    assert_eq!(pictures(&garage), [(320, 200), (640, 400)]);
    let out = files.path().join("out");
    garage.carry(&["export", out.to_str().unwrap()]);
    let log = std::fs::read_to_string(out.join("entries.jsonl")).unwrap();
    let added: Vec<Value> = log
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap())
        .filter(|line| line["kind"] == "photo-added")
        .collect();
    assert_eq!(added.len(), 1);
    assert_eq!(added[0]["body"]["about"]["part"], "tank");
    assert_eq!(added[0]["body"]["caption"], "routing");
}
