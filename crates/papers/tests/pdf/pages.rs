//! Every paper on both sizes: it has its size, its title and language, fonts inside, no blank page, nothing at the edge.

use crate::bike::{TITLE, worked_on};
use crate::tools::Pdf;
use refettle_papers::bag_labels::LabelSheet;
use refettle_papers::issue::{PaperSize, Which};

const DPI: u32 = 60;

fn all() -> Vec<(&'static str, Which)> {
    vec![
        ("running order", Which::BenchSheet),
        ("kit", Which::Kit),
        ("bag labels", Which::Labels(LabelSheet::Plain)),
        ("cover map", Which::Cover),
        ("history", Which::History),
        ("Sale of a used motorcycle", Which::Sale),
    ]
}

/// Ink of a page, and how far from its edges the nearest of it is, in dots.
fn ink(page: &image::GrayImage) -> (usize, u32) {
    let (w, h) = page.dimensions();
    let dark = page.enumerate_pixels().filter(|(_, _, p)| p.0[0] < 170);
    let mut n = 0;
    let mut nearest = u32::MAX;
    for (x, y, _) in dark {
        n += 1;
        nearest = nearest.min(x).min(y).min(w - 1 - x).min(h - 1 - y);
    }
    (n, nearest)
}

#[test]
fn every_paper_fits_its_page_and_says_what_it_is() {
    let desk = worked_on();
    for (title, which) in all() {
        for (size, points) in [(PaperSize::A4, (595, 842)), (PaperSize::Letter, (612, 792))] {
            let pdf = Pdf::of(&desk.paper(which, size).pdf);
            let what = format!("{title} {size:?}");
            let info = pdf.info();
            let value = |key: &str| {
                let line = info.lines().find(|l| l.starts_with(key));
                line.map(|l| l[key.len()..].trim().to_owned())
                    .unwrap_or_else(|| panic!("{what}: no '{key}' in {info}"))
            };
            assert!(value("Title:").contains(title), "{what}: {info}");
            assert_eq!(value("Tagged:"), "yes", "{what}");
            let landscape = matches!(which, Which::Cover);
            let (w, h) = if landscape { (points.1, points.0) } else { points };
            let page_size = value("Page size:");
            let numbers: Vec<f64> = page_size
                .split_whitespace()
                .filter_map(|w| w.parse().ok())
                .collect();
            assert!(
                (numbers[0] - f64::from(w)).abs() < 1.0 && (numbers[1] - f64::from(h)).abs() < 1.0,
                "{what}: {page_size}"
            );
            let fonts = pdf.fonts();
            assert!(!fonts.is_empty(), "{what}");
            for font in &fonts {
                // Columns from the end: object id (two), uni, sub, emb.
                let cells: Vec<&str> = font.split_whitespace().collect();
                assert_eq!(cells[cells.len() - 5], "yes", "{what}: not embedded: {font}");
            }
            let pages = pdf.pages(DPI);
            assert_eq!(pages.len().to_string(), value("Pages:"), "{what}");
            for (at, page) in pages.iter().enumerate() {
                let (dots, margin) = ink(page);
                assert!(dots > 300, "{what}, page {}: {dots} dark dots", at + 1);
                // A home printer leaves about 5 mm unprinted (from memory).
                let millimetres = f64::from(margin) * 25.4 / f64::from(DPI);
                assert!(
                    millimetres > 5.0,
                    "{what}, page {}: {millimetres} mm from the edge",
                    at + 1
                );
            }
            assert!(pdf.words().contains(TITLE), "{what}");
        }
    }
}

#[test]
fn each_paper_names_its_language() {
    let desk = worked_on();
    for (title, which) in all() {
        let bytes = desk.paper(which, PaperSize::A4).pdf;
        let text = String::from_utf8_lossy(&bytes);
        assert!(text.contains("/Lang (en") || text.contains("/Lang(en"), "{title}");
    }
}

#[test]
fn long_papers_number_their_pages() {
    let desk = worked_on();
    for which in [Which::History, Which::Sale, Which::Kit] {
        let pdf = Pdf::of(&desk.paper(which, PaperSize::A4).pdf);
        let n = pdf.pages(20).len();
        let words = pdf.words();
        for page in 1..=n {
            assert!(
                words.contains(&format!("{page} of {n}")),
                "{which:?}: {page} of {n}"
            );
        }
    }
}
