//! The page on which a phone is paired, and the page on the machine that lists the phones.

use super::frame::{Here, frame};
use crate::phones::PhoneLine;
use crate::phones::code::{Tried, spaced};
use crate::phones::paired::LONGEST_NAME;
use crate::phones::square;
use jiff::tz::TimeZone;
use maud::{Markup, html};

/// What is said wherever a phone is let in.
pub(crate) const OPEN_NETWORK: &str = "Over the network this is plain http: whoever can listen on the same network can \
     read along. Use it on your own network only.";

/// On the phone: asks for the code.
pub(crate) fn ask(code: &str, tried: Option<Tried>) -> Markup {
    let told = match tried {
        None | Some(Tried::Right) => None,
        Some(Tried::Wrong { left: 0 }) => Some(
            "That was not the code, and it is worth nothing now. Make a new one at the machine.".to_owned(),
        ),
        Some(Tried::Wrong { left }) => Some(format!("That was not the code. Tries left: {left}.")),
        Some(Tried::NoneOpen) => Some(
            "No code is open: each is used once and lapses after ten minutes. Make a new one at the machine."
                .to_owned(),
        ),
    };
    frame(
        "Pair this phone",
        Here::Elsewhere,
        &html! {
            article.card {
                h1 { "Pair this phone" }
                @if let Some(told) = told { p role="alert" { strong { (told) } } }
                p { "The code stands on the screen of the machine that serves this page." }
                form.pair method="post" action="/pair" {
                    label for="code" { "Code" }
                    input #code name="code" value=(code) inputmode="numeric" autocomplete="off" required maxlength="16";
                    label for="name" { "Name of this phone" }
                    input #name name="name" value="Phone" required maxlength=(LONGEST_NAME);
                    button.primary { "Pair" }
                }
                p.note { (OPEN_NETWORK) }
            }
        },
    )
}

/// How the network stands, as the machine's own page shows it.
pub(crate) struct OnMachine<'a> {
    /// Where phones reach this server; `None` when it serves this machine alone.
    pub(crate) address: Option<String>,
    /// The open code and the link that holds it.
    pub(crate) open: Option<(String, String)>,
    /// The paired phones.
    pub(crate) phones: &'a [PhoneLine],
}

/// On the machine: the code, and the phones that are paired.
pub(crate) fn on_machine(seen: &OnMachine<'_>) -> Markup {
    frame(
        "Phones",
        Here::Elsewhere,
        &html! {
            article.card {
                h1 { "Phones" }
                @match (&seen.address, &seen.open) {
                    (None, _) => { p { "This server answers to this machine alone. To let a phone in, start it with " code { "refettle open --lan" } "." } }
                    (Some(address), open) => {
                        @if let Some((code, link)) = open {
                            p { "On the phone, open " strong { "http://" (address) "/" } " or point its camera here, and give this code:" }
                            p.code { strong { (spaced(code)) } }
                            @if let Some(drawn) = square::for_page(link) { (drawn) }
                            p { "It is used once and lapses after ten minutes." }
                        }
                        form method="post" action="/phones/code" { button.primary { @if open.is_some() { "Make another code" } @else { "Pair a phone" } } }
                        p.note { (OPEN_NETWORK) }
                    }
                }
            }
            section aria-label="Paired phones" {
                h2 { "Paired" }
                @if seen.phones.is_empty() { p { "None." } }
                ul.phones {
                    @for phone in seen.phones {
                        li {
                            (phone.name) ", since " (TimeZone::system().to_datetime(phone.since).date())
                            form method="post" action="/phones/withdraw" {
                                button name="id" value=(phone.id) aria-label={ "Withdraw " (phone.name) } { "Withdraw" }
                            }
                        }
                    }
                }
            }
        },
    )
}
