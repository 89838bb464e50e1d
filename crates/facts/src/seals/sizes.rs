//! Standard ring sizes: AS568, JIS B 2401 (P, G, S) and the metric cross-sections of ISO 3601-1.

use super::dimension::Toleranced;
use super::ring::inside_tolerance_class_b;
use crate::published::{Provenance, rows};
use crate::quantity::{Length, from_mm, mm};
use crate::small_part::{Micrometres, SmallPart};

const AS568: &str = include_str!("../../data/seals/o_ring_as568.tsv");
const JIS: &str = include_str!("../../data/seals/o_ring_jis_b2401.tsv");
const SECTIONS: &str = include_str!("../../data/seals/o_ring_sections.tsv");

/// Which list a size is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Series {
    /// SAE AS568, inch sizes by dash number.
    As568,
    /// JIS B 2401 P: moving and static.
    JisP,
    /// JIS B 2401 G: static.
    JisG,
    /// The slim S series, static.
    JisS,
}

/// One standard size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandardSize {
    /// Its list.
    pub series: Series,
    /// Its code in that list: `-214`, `P10A`.
    pub code: &'static str,
    /// Inside diameter.
    pub inside: Toleranced,
    /// Section.
    pub section: Toleranced,
    /// Where the row comes from.
    pub provenance: Provenance,
}

impl StandardSize {
    /// As one asks for it: `AS568-214`, `JIS P10A`.
    #[must_use]
    pub fn name(&self) -> String {
        match self.series {
            Series::As568 => format!("AS568{}", self.code),
            Series::JisP | Series::JisG | Series::JisS => format!("JIS {}", self.code),
        }
    }

    /// As a small part of the drawer, of this rubber. `None` where a dimension is beyond four metres.
    #[must_use]
    pub fn as_small_part(&self, rubber: Option<&str>) -> Option<SmallPart> {
        o_ring(self.inside.nominal, self.section.nominal, rubber)
    }
}

/// A ring as a small part of the drawer.
#[must_use]
pub fn o_ring(inside: Length, section: Length, rubber: Option<&str>) -> Option<SmallPart> {
    Some(SmallPart {
        kind: "o-ring".to_owned(),
        dimensions: [
            ("inside".to_owned(), Micrometres::from_length(inside)?),
            ("section".to_owned(), Micrometres::from_length(section)?),
        ]
        .into_iter()
        .collect(),
        thread: None,
        material: rubber.map(str::to_owned),
    })
}

/// Every size of every list, in the order of the lists.
pub fn all() -> impl Iterator<Item = StandardSize> {
    let inch = rows(AS568).filter_map(|row| size(&row, Series::As568, row.text("dash")?));
    let jis = rows(JIS).filter_map(|row| {
        let series = match row.text("series")? {
            "P" => Series::JisP,
            "G" => Series::JisG,
            _ => Series::JisS,
        };
        size(&row, series, row.text("code")?)
    });
    inch.chain(jis)
}

fn size(row: &crate::published::Row, series: Series, code: &'static str) -> Option<StandardSize> {
    let inside = row.length("id_mm")?;
    // The S series prints no tolerance on the inside: class B of ISO 3601-1 stands in.
    let tolerance = row
        .length("id_tol_plusminus_mm")
        .or_else(|| inside_tolerance_class_b(inside).ok())?;
    Some(StandardSize {
        series,
        code,
        inside: Toleranced::within(inside, tolerance),
        section: Toleranced::within(row.length("cs_mm")?, row.length("cs_tol_plusminus_mm")?),
        provenance: row.provenance(),
    })
}

/// The size of this name: `AS568-214`, `-214`, `214`, `JIS P10A`, `p10a`.
#[must_use]
pub fn named(name: &str) -> Option<StandardSize> {
    let name = name.trim().to_ascii_uppercase();
    let code = name
        .trim_start_matches("AS568")
        .trim_start_matches("JIS")
        .trim_start_matches(['A', ' '])
        .trim();
    let dashed = format!("-{:0>3}", code.trim_start_matches('-'));
    all().find(|size| size.code == code || (size.series == Series::As568 && size.code == dashed))
}

/// The standard size that has these dimensions, to 0.02 mm.
#[must_use]
pub fn matching(inside: Length, section: Length) -> Option<StandardSize> {
    let off = |size: &StandardSize| {
        (mm(size.inside.nominal) - mm(inside))
            .abs()
            .max((mm(size.section.nominal) - mm(section)).abs())
    };
    all()
        .filter(|size| off(size) <= 0.02)
        .min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// A metric or inch cross-section rings are made in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrossSection {
    /// The section.
    pub section: Toleranced,
    /// Which series, in the table's words.
    pub series: &'static str,
    /// Where the row comes from.
    pub provenance: Provenance,
}

/// The cross-sections of ISO 3601-1 and the metric ones the trade keeps.
pub fn cross_sections() -> impl Iterator<Item = CrossSection> {
    rows(SECTIONS).filter_map(|row| {
        Some(CrossSection {
            section: Toleranced::within(row.length("cs_mm")?, row.length("cs_tol_plusminus_mm")?),
            series: row.text("series_text")?,
            provenance: row.provenance(),
        })
    })
}

/// Tolerance of a section, ISO 3601-1 class B: that of the nearest listed section, and 0.15 mm (the widest listed)
/// for anything thicker than the list.
#[must_use]
pub fn section_tolerance(section: Length) -> Length {
    let off = |listed: &CrossSection| (mm(listed.section.nominal) - mm(section)).abs();
    cross_sections()
        .min_by(|a, b| off(a).total_cmp(&off(b)))
        .map_or(from_mm(0.15), |listed| listed.section.plus)
}
