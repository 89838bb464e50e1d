//! The templates and the sizes of paper.

/// Size of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PaperSize {
    /// ISO 216 A4, 210 × 297 mm.
    #[default]
    A4,
    /// US Letter, 215.9 × 279.4 mm.
    Letter,
}

impl PaperSize {
    /// Its name in a template.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            PaperSize::A4 => "a4",
            PaperSize::Letter => "us-letter",
        }
    }

    /// The size of that name.
    #[must_use]
    pub fn named(text: &str) -> Option<PaperSize> {
        match text.to_ascii_lowercase().as_str() {
            "a4" => Some(PaperSize::A4),
            "letter" | "us-letter" => Some(PaperSize::Letter),
            _ => None,
        }
    }
}

/// A paper's template. What data each reads is said at the top of its file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Template {
    /// The running order on one or two pages.
    BenchSheet,
    /// Labels for bags.
    BagLabels,
    /// One picture as large as the paper.
    Wall,
    /// Headings, text, tables, pictures and fields to fill in, over as many pages as it takes.
    Pages,
}

impl Template {
    pub(crate) fn text(self) -> &'static str {
        match self {
            Template::BenchSheet => include_str!("../templates/bench-sheet.typ"),
            Template::BagLabels => include_str!("../templates/bag-labels.typ"),
            Template::Wall => include_str!("../templates/wall.typ"),
            Template::Pages => include_str!("../templates/pages.typ"),
        }
    }
}

/// What all templates share.
pub(crate) const HOUSE: &str = include_str!("../templates/house.typ");
