//! The strip of photos beside a card, and the form that sends one.

use super::bench::{ago, tap};
use super::frame::path;
use maud::{Markup, html};
use refettle_photos::LARGEST_FILE;
use refettle_usecases::card::Card;
use refettle_usecases::look::Look;
use refettle_usecases::photo::{Shown, about_card, of_bike};

/// Photos of what the card is about, newest first, and a way to take one. It works without a script: a form that
/// posts.
pub(crate) fn beside(look: &Look, card: &Card) -> Markup {
    let about = about_card(&look.machine, &card.id);
    let mut shown = of_bike(&look.entries);
    shown.retain(|one| one.about == about);
    shown.reverse();
    html! {
        section.photos aria-label="Photos" {
            @if !shown.is_empty() {
                ul.strip { @for one in &shown { li { (photo(look, one)) } } }
            }
            details.said {
                summary { "Photo" }
                form method="post" action=(path(&look.bike, "photo")) enctype="multipart/form-data" {
                    input type="hidden" name="card" value=(card.id);
                    input type="hidden" name="tap" value=(tap());
                    label for="photo" { "Take one, or choose one of up to " (LARGEST_FILE / 1024 / 1024) " megabytes" }
                    input #photo type="file" name="photo" accept="image/jpeg,image/png,image/webp" capture="environment" required;
                    label for="caption" { "What it shows, if that is not plain" }
                    input #caption name="caption" maxlength="200" autocomplete="off";
                    button { "Keep it" }
                    p.note { "Only the picture is kept: where and with what it was taken is left out." }
                }
            }
        }
    }
}

fn photo(look: &Look, one: &Shown) -> Markup {
    let when = ago(look.at, one.at);
    let said = one.caption.as_deref().unwrap_or("Photo");
    html! {
        a href={ "/photo/" (one.photo) } {
            img src={ "/photo/" (one.photo) "/small" } alt={ (said) ", " (when) } loading="lazy";
        }
    }
}
