//! What the papers for the buyer say, and what they never say.

use crate::bike::{BUYER, FRAME, PLATE, worked_on};
use crate::tools::Pdf;
use refettle_memory::entry::{Amount, BikeSold, Currency, Day, Entry, LeavesWord};
use refettle_papers::issue::{PaperSize, Which};

#[test]
fn the_history_folder_tells_it_plainly() {
    let desk = worked_on();
    let words = Pdf::of(&desk.paper(Which::History, PaperSize::A4).pdf).plain();
    for told in [
        // Found: one open, one put right.
        "left leg weeps when it is pushed down",
        "left glass is cracked",
        "put right",
        // Measured, with the limit and where that is from.
        "oil drained",
        "1.65 l",
        "2.4 mm",
        "4.6 mm",
        "4.5 mm",
        // The shortcut with its note, its risk and its test.
        "the old copper washer, annealed",
        "seal reused",
        // What fails is named.
        "rear tyre, least tread",
        "0.4 mm",
        // Not passed, in as many words.
        "Not passed: nobody rides it, it leaves on a trailer",
        "no legal standing",
        "What was not looked at",
        "as it came in",
        FRAME,
        "48213 km",
        "common practice, no source",
    ] {
        assert!(words.contains(told), "'{told}' is not in: {words}");
    }
    // The maker's limit is said to be the maker's; the tread's is named by its rule.
    let disc = words.split("4.6 mm").nth(1).unwrap();
    assert!(
        disc.chars().take(160).collect::<String>().contains("maker"),
        "{disc}"
    );
}

#[test]
fn the_sale_paper_tells_what_the_buyer_was_told() {
    let mut desk = worked_on();
    let buyer = desk.memory.keep_personal("buyer", BUYER, None).unwrap();
    desk.append(&Entry::BikeSold(BikeSold {
        price: Amount::new(110_000, Currency::new("EUR").unwrap()).unwrap(),
        on: Day::new("2031-05-20").unwrap(),
        roadworthy: false,
        leaves: LeavesWord::Trailer,
        buyer: Some(buyer),
        paper: None,
        note: None,
    }));
    let words = Pdf::of(&desk.paper(Which::Sale, PaperSize::Letter).pdf).plain();
    for told in [
        FRAME,
        PLATE,
        BUYER,
        "1100.00 EUR",
        "48213 km",
        "49 CFR 580.5",
        "Not passed: nobody rides it, it leaves on a trailer",
        "left leg weeps when it is pushed down",
        "the old copper washer, annealed",
        "Seller: place, day, signature",
        "Where the law has a form of its own, use that",
    ] {
        assert!(words.contains(told), "'{told}' is not in: {words}");
    }
    assert!(
        !words.contains("left glass is cracked"),
        "put right is not a defect any more"
    );
}

#[test]
fn no_paper_promises() {
    let desk = worked_on();
    for which in [
        Which::History,
        Which::Sale,
        Which::BenchSheet,
        Which::Kit,
        Which::Cover,
    ] {
        let words = Pdf::of(&desk.paper(which, PaperSize::A4).pdf)
            .plain()
            .to_lowercase();
        for never in ["like new", "as new", "perfect", "guarantee", "mint condition"] {
            assert!(!words.contains(never), "{which:?}: '{never}'");
        }
    }
}
