//! The codes on the labels, read by a reader that is not ours.

use crate::bike::{TITLE, whole};
use crate::tools::{Pdf, run};
use refettle_facts::ids::JobId;
use refettle_memory::entry::{Entry, JobsChosen};
use refettle_papers::bag_labels::LabelSheet;
use refettle_papers::issue::{PaperSize, Which};
use std::collections::BTreeSet;

#[test]
fn every_bag_has_its_words_and_a_code_that_says_them() {
    let mut desk = whole();
    desk.append(&Entry::JobsChosen(JobsChosen {
        jobs: vec![
            JobId::new("oil-and-filter").unwrap(),
            JobId::new("spark-plugs").unwrap(),
        ],
    }));
    let look = desk.look();
    let kit = look.plan.as_ref().unwrap().kit();
    assert!(kit.bags.len() >= 3, "{}", kit.bags.len());
    for (sheet, size) in [
        (LabelSheet::Plain, PaperSize::A4),
        (LabelSheet::Plain, PaperSize::Letter),
        (LabelSheet::A4By24, PaperSize::A4),
        (LabelSheet::LetterBy30, PaperSize::Letter),
    ] {
        let pdf = Pdf::of(&desk.paper(Which::Labels(sheet), size).pdf);
        let words = pdf.plain();
        let mut read = BTreeSet::new();
        for page in pdf.page_files(300) {
            let said = run(
                "zbarimg",
                &[
                    "--quiet",
                    "--raw",
                    "-Sdisable",
                    "-Sqrcode.enable",
                    page.to_str().unwrap(),
                ],
            );
            read.extend(said.lines().map(str::to_owned));
        }
        let mut coded = 0;
        for bag in &kit.bags {
            assert!(words.contains(&bag.title), "{sheet:?}: {}", bag.title);
            for line in &bag.fixings {
                assert!(words.contains(line), "{sheet:?}: {line}");
            }
            // Written out here, not by the code under test: number, bike, part, what goes in.
            let wanted = format!(
                "Bag {} · {TITLE} · {}: {}",
                bag.number,
                bag.title,
                bag.fixings.join("; ")
            );
            coded += usize::from(read.contains(&wanted));
        }
        // A label whose words leave no room has no code; most have one, and every code read says one of the bags.
        assert_eq!(read.len(), coded, "{sheet:?}: {read:#?}");
        assert!(
            coded * 3 >= kit.bags.len() * 2,
            "{sheet:?}: {coded} of {}",
            kit.bags.len()
        );
    }
}
