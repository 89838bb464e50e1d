//! Small signs: how the bike stands, a bag, a clock, a warning. Each stands beside words that say the same.

use maud::{Markup, html};

/// A warning: a triangle with its mark.
pub(crate) fn warning() -> Markup {
    html! {
        svg.sign viewBox="0 0 24 24" aria-hidden="true" focusable="false" {
            path d="M12 2.5 22.5 21.5H1.5Z" fill="none" stroke="currentColor" stroke-width="2.4" stroke-linejoin="round" {}
            path d="M12 9v6M12 17.6v1.6" stroke="currentColor" stroke-width="2.6" {}
        }
    }
}

/// A clock.
pub(crate) fn clock() -> Markup {
    html! { svg.sign viewBox="0 0 24 24" aria-hidden="true" focusable="false" { (clock_face(12.0, 12.0, 9.5)) } }
}

/// A clock's face, for use inside another picture.
pub(crate) fn clock_face(x: f64, y: f64, r: f64) -> Markup {
    html! {
        circle cx=(x) cy=(y) r=(r) fill="none" stroke="currentColor" stroke-width="2" {}
        path d={ "M" (x) " " (y - r * 0.62) "V" (y) "L" (x + r * 0.45) " " (y + r * 0.3) } fill="none" stroke="currentColor" stroke-width="2" {}
    }
}

/// A bag with its number.
pub(crate) fn bag(number: usize) -> Markup {
    html! {
        svg.sign.bag viewBox="0 0 28 28" aria-hidden="true" focusable="false" {
            path d="M5 7h18l2.5 19h-23z" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round" {}
            path d="M5 7c5 3 13 3 18 0M8 3l2 4M20 3l-2 4" fill="none" stroke="currentColor" stroke-width="1.6" {}
            text x="14" y="22" text-anchor="middle" font-size="12" font-weight="700" fill="currentColor" { (number) }
        }
    }
}

/// What a stance looks like from the side.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Held {
    BothDown,
    RearUp,
    FrontAndRearUp,
    OnSupports,
}

impl Held {
    /// From a sheet's words for it.
    fn of(words: &str) -> Held {
        let has = |word: &str| words.contains(word);
        if has("support") {
            Held::OnSupports
        } else if has("front-lift") || has("front lifted") {
            Held::FrontAndRearUp
        } else if has("paddock") || has("centre") {
            Held::RearUp
        } else {
            Held::BothDown
        }
    }
}

/// A stance, by its name or title on the sheet.
pub(crate) fn stance_named(words: &str) -> Markup {
    html! {
        svg.sign.stance viewBox="0 0 34 22" aria-hidden="true" focusable="false" { (stance_at(words, 17.0, 11.0)) }
    }
}

/// A stance drawn about a point, 30 wide and 20 high, for use inside another picture. The front is on the right.
pub(crate) fn stance_at(words: &str, x: f64, y: f64) -> Markup {
    let held = Held::of(words);
    let (rear, front) = match held {
        Held::BothDown => (0.0, 0.0),
        Held::RearUp => (-3.0, 0.0),
        Held::FrontAndRearUp | Held::OnSupports => (-3.0, -3.0),
    };
    let (rear_y, front_y) = (y + 4.0 + rear, y + 4.0 + front);
    html! {
        g fill="none" stroke="currentColor" stroke-width="1.6" stroke-linejoin="round" {
            path d={ "M" (x - 15.0) " " (y + 9.4) "H" (x + 15.0) } stroke-width="1" {}
            circle cx=(x - 9.0) cy=(rear_y) r="4.6" {}
            circle cx=(x + 9.0) cy=(front_y) r="4.6" {}
            path d={ "M" (x - 9.0) " " (rear_y) "L" (x - 3.0) " " (y - 3.5 + rear) "L" (x + 4.0) " " (y - 4.5 + front) "L" (x + 9.0) " " (front_y) "M" (x + 4.0) " " (y - 4.5 + front) "l-1.5-3.5" } {}
            @match held {
                Held::BothDown => path d={ "M" (x - 1.0) " " (y + 1.0) "l-4 8" } {},
                Held::RearUp => path d={ "M" (x - 9.0) " " (rear_y) "l-4 8.4h8z" } {},
                Held::FrontAndRearUp => {
                    path d={ "M" (x - 9.0) " " (rear_y) "l-4 8.4h8z" } {}
                    path d={ "M" (x + 5.0) " " (y - 2.0) "v11.2m-2.5 0h5" } {}
                }
                Held::OnSupports => path d={ "M" (x - 3.0) " " (y - 4.0) "v13m-2.5 0h5M" (x + 3.0) " " (y - 5.0) "v14m-2.5 0h5" } {},
            }
        }
    }
}
