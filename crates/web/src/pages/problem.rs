//! Pages that say what went wrong, whether anything is lost, and what to do.

use super::frame::{Here, frame};
use axum::http::StatusCode;
use maud::{Markup, html};
use refettle_usecases::bench::NotTaken;

fn problem(title: &str, body: &Markup) -> Markup {
    frame(
        title,
        Here::Elsewhere,
        &html! {
            article.card {
                h1 { (title) }
                (body)
                p { a.go href="/" { "To the yard" } }
            }
        },
    )
}

pub(crate) fn no_such_page() -> Markup {
    problem(
        "There is no such page",
        &html! { p { "The yard has every bike, and from there every page is reached." } },
    )
}

pub(crate) fn no_such_bike() -> Markup {
    problem(
        "There is no such bike here",
        &html! { p { "It may have been an invented one that was removed. The yard has every bike that is here." } },
    )
}

pub(crate) fn no_paper(why: &str) -> Markup {
    problem(
        "The paper was not made",
        &html! { p { "Nothing was changed. The reason: " (why) "." } },
    )
}

pub(crate) fn wrong_method() -> Markup {
    problem(
        "That cannot be done with this page",
        &html! { p { "Nothing was changed. Open the yard and go from there." } },
    )
}

pub(crate) fn foreign_host() -> Markup {
    problem(
        "This is not the address of this server",
        &html! {
            p { "It answers only to the addresses it printed when it was started. Nothing was changed." }
        },
    )
}

pub(crate) fn foreign_origin() -> Markup {
    problem(
        "That did not come from this page",
        &html! { p { "Another site, or a program, sent it. Nothing was changed. Open the bench and answer there." } },
    )
}

pub(crate) fn our_fault() -> Markup {
    problem(
        "The program stumbled",
        &html! {
            p { "That is a fault of the program, not yours. Nothing you answered is lost: every answer that was acknowledged is on the disk." }
            p { "Open the bench and look whether your last tap is there; if not, tap again." }
        },
    )
}

pub(crate) fn unreadable(why: &str) -> Markup {
    problem(
        "The garage's memory cannot be read",
        &html! { p { "Nothing was changed, nothing is lost. The reason: " (why) "." } },
    )
}

pub(crate) fn unkept(why: &str) -> Markup {
    problem(
        "The answer was not kept",
        &html! { p { "All earlier ones are. The reason: " (why) "." } p { "Put that right, then answer again." } },
    )
}

pub(crate) fn unreadable_form(status: StatusCode, limit: usize) -> Markup {
    let (title, what) = match status {
        StatusCode::PAYLOAD_TOO_LARGE => (
            "That is too long",
            format!("The limit is {} kilobytes.", limit / 1024),
        ),
        StatusCode::UNSUPPORTED_MEDIA_TYPE => (
            "That is not a form",
            "Only the forms of the bench are read here.".to_owned(),
        ),
        _ => (
            "That form cannot be read",
            "It did not come as the bench sends it.".to_owned(),
        ),
    };
    problem(title, &html! { p { (what) " Nothing was changed." } })
}

pub(crate) fn wrong_form(wrong: &[String]) -> Markup {
    problem(
        "The answer was not taken",
        &html! {
            p { "Nothing was changed. What is wrong with it:" }
            ul { @for line in wrong { li { (line) } } }
        },
    )
}

pub(crate) fn not_taken(refused: &NotTaken) -> Markup {
    let title = match refused {
        NotTaken::Stale { .. } => "Something was recorded meanwhile",
        NotTaken::Answered => "Answered already",
        NotTaken::NotUp(_) => "That is not up now",
        _ => "The answer was not taken",
    };
    problem(
        title,
        &html! {
            p { (refused) "." }
            @if let NotTaken::Stale { since } = refused {
                @if since.is_empty() {
                    p { "The page it came from is not of this bike as it is now." }
                } @else {
                    p { "Since that page was made:" }
                    ul { @for line in since { li { (line) } } }
                    p { "Look at the card that is up now, then answer that." }
                }
            }
        },
    )
}

pub(crate) fn not_paired() -> Markup {
    problem(
        "This phone is not paired",
        &html! { p { "Nothing was changed. Open the bench: it asks for the code on the machine's screen. What this browser keeps unsent is sent after that." } },
    )
}

pub(crate) fn pairing_closed() -> Markup {
    problem(
        "No phone gets in just now",
        &html! { p { "The list of paired phones cannot be used. The machine's own screen says why; the bench works there." } },
    )
}

pub(crate) fn too_slow(seconds: u64) -> Markup {
    problem(
        "That took too long to arrive",
        &html! { p { "It has to be here within " (seconds) " s. Nothing was changed: go nearer to the router, or to the machine, and send it again." } },
    )
}

pub(crate) fn photo_not_kept(why: &str) -> Markup {
    problem(
        "The photo was not kept",
        &html! { p { "Everything else is. The reason: " (why) "." } },
    )
}
