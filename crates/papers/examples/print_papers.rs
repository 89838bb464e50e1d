//! Prints the papers of a plan into a folder, to be looked at: `cargo run -p refettle-papers --example print_papers -- OUT`.

use refettle_papers::{bag_labels, bench_sheet, kit_checklist};
use refettle_typesetting::PaperSize;
use refettle_usecases::demo;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let out = std::path::PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| ".".into()));
    let evening = demo::evening().map_err(|e| format!("{e:?}"))?;
    let (plan, kit) = (evening.without_questions(), evening.kit());
    let bike = demo::TITLE;
    for size in [PaperSize::A4, PaperSize::Letter] {
        let name = size.name();
        std::fs::write(
            out.join(format!("bench-{name}.pdf")),
            bench_sheet::paper(&plan, bike, "1 May 2031").pdf(size)?,
        )?;
        std::fs::write(
            out.join(format!("kit-{name}.pdf")),
            kit_checklist::paper(&kit, bike, "1 May 2031")?.pdf(size)?,
        )?;
        std::fs::write(
            out.join(format!("labels-{name}.pdf")),
            bag_labels::paper(&kit, bike, bag_labels::LabelSheet::Plain).pdf(size)?,
        )?;
    }
    let sheet = bag_labels::LabelSheet::A4By24;
    std::fs::write(
        out.join("labels-24.pdf"),
        bag_labels::paper(&kit, bike, sheet).pdf(PaperSize::A4)?,
    )?;
    let sheet = bag_labels::LabelSheet::LetterBy30;
    std::fs::write(
        out.join("labels-30.pdf"),
        bag_labels::paper(&kit, bike, sheet).pdf(PaperSize::Letter)?,
    )?;
    Ok(())
}
