//! The square code a phone's camera reads, for a terminal and for a page.

use maud::{Markup, html};
use qrcode::render::unicode::Dense1x2;
use qrcode::{Color, QrCode};
use std::fmt::Write;

/// For a terminal. Colours are set, so that it stands dark on light whatever the terminal's own are; without them
/// (the output goes to a file) it is the plain characters.
pub(crate) fn for_terminal(text: &str, coloured: bool) -> Option<String> {
    let code = QrCode::new(text).ok()?;
    let drawn = code.render::<Dense1x2>().quiet_zone(true).build();
    let line = |line: &str| {
        if coloured {
            format!("\u{1b}[30;107m{line}\u{1b}[0m\n")
        } else {
            format!("{line}\n")
        }
    };
    Some(drawn.lines().map(line).collect())
}

/// For a page: one path, a square for each dark module, four modules of quiet around it (ISO/IEC 18004).
pub(crate) fn for_page(text: &str) -> Option<Markup> {
    const QUIET: usize = 4;
    let code = QrCode::new(text).ok()?;
    let width = code.width();
    let mut path = String::new();
    for (at, colour) in code.to_colors().into_iter().enumerate() {
        if colour == Color::Dark {
            // Writing to a String cannot fail.
            let _ = write!(path, "M{} {}h1v1h-1z", at % width + QUIET, at / width + QUIET);
        }
    }
    let side = width + 2 * QUIET;
    Some(html! {
        svg.square viewBox={ "0 0 " (side) " " (side) } role="img" aria-label="The same address as a square code" shape-rendering="crispEdges" {
            rect width=(side) height=(side) fill="#fff" {}
            path d=(path) fill="#000" {}
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_three_finders_stand_in_the_corners() {
        let link = "http://192.168.1.23:8377/pair?code=12345678";
        let page = for_page(link).unwrap().0;
        let width = QrCode::new(link).unwrap().width();
        for (x, y) in [(0, 0), (width - 7, 0), (0, width - 7)] {
            // A finder: a dark ring of seven, a light one, a dark square of three (ISO/IEC 18004).
            for (dx, dy, dark) in [
                (0, 0, true),
                (6, 6, true),
                (1, 1, false),
                (5, 3, false),
                (3, 3, true),
                (2, 4, true),
            ] {
                let square = format!("M{} {}h", x + dx + 4, y + dy + 4);
                assert_eq!(page.contains(&square), dark, "{square}");
            }
        }
        let plain = for_terminal(link, false).unwrap();
        assert!(!plain.contains('\u{1b}'));
        // Two rows a line, with four light modules around.
        assert_eq!(plain.lines().count(), (width + 8).div_ceil(2));
        assert!(plain.lines().all(|line| line.chars().count() == width + 8));
    }
}
