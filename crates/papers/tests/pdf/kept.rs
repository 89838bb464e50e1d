//! What is kept of a paper that was handed over.

use crate::bike::{BUYER, FRAME, PLATE, worked_on};
use refettle_memory::entry::{Entry, PaperIssuedKind};
use refettle_memory::{Tap, hash_of};
use refettle_papers::issue::{PaperSize, Which};

#[test]
fn papers_for_the_buyer_are_kept_without_personal_data_and_those_for_the_bench_are_not() {
    let mut desk = worked_on();
    for (which, kind) in [
        (Which::History, PaperIssuedKind::HistoryFolder),
        (Which::Sale, PaperIssuedKind::SalePaper),
    ] {
        let made = desk.paper(which, PaperSize::A4);
        let kept = made.kept.clone().unwrap();
        assert_eq!(
            (kept.paper, kept.sha256.as_str()),
            (kind, hash_of(&made.pdf).as_str())
        );
        let text = kept.data.to_string();
        for private in [FRAME, PLATE, BUYER] {
            assert!(!text.contains(private), "{private}");
        }
        assert!(text.contains("the old copper washer, annealed") && text.contains("personal data"));
        let tap = Tap::new(&format!("handed-over-{}", kind.word())).unwrap();
        let (bike, at) = (desk.bike.clone(), desk.at);
        let first = made
            .hand_over(&mut desk.memory, &bike, at, Some(&tap))
            .unwrap()
            .unwrap();
        // The same tap again counts once.
        assert_eq!(
            made.hand_over(&mut desk.memory, &bike, at, Some(&tap)).unwrap(),
            Some(first.clone())
        );
        let entries = desk.memory.entries(&bike).unwrap();
        let entry = entries.iter().find(|s| s.id == first).unwrap();
        assert_eq!(entry.entry, Entry::PaperIssued(kept));
    }
    let before = desk.memory.entries(&desk.bike).unwrap().len();
    let (bike, at) = (desk.bike.clone(), desk.at);
    let bench = desk.paper(Which::BenchSheet, PaperSize::A4);
    assert_eq!(bench.hand_over(&mut desk.memory, &bike, at, None).unwrap(), None);
    assert_eq!(desk.memory.entries(&bike).unwrap().len(), before);
}

#[test]
fn the_same_entries_make_the_same_paper_to_the_byte() {
    let desk = worked_on();
    assert_eq!(
        desk.paper(Which::History, PaperSize::A4).pdf,
        desk.paper(Which::History, PaperSize::A4).pdf
    );
}
