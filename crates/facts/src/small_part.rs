//! What makes two washers the same washer: kind, dimensions and material, not a maker's number.

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt;

/// A dimension in whole micrometres, so that equality is exact and 14 mm is 14 mm however it was typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Micrometres(pub u32);

impl Micrometres {
    /// From a length, rounded to the nearest micrometre; `None` below zero or above four metres.
    #[must_use]
    pub fn from_length(length: crate::quantity::Length) -> Option<Micrometres> {
        let um = (length.value * 1e6).round();
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "range checked on this line"
        )]
        (0.0..=4e6).contains(&um).then_some(Micrometres(um as u32))
    }
}

impl fmt::Display for Micrometres {
    /// Millimetres without trailing zeros: `14`, `1.5`, `24.99`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, part) = (self.0 / 1000, self.0 % 1000);
        if part == 0 {
            write!(f, "{whole}")
        } else {
            write!(f, "{whole}.{}", format!("{part:03}").trim_end_matches('0'))
        }
    }
}

/// Identity of a small part. Two are the same when kind, every dimension and the material agree.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct SmallPart {
    /// The trade's word: `sealing-washer`, `o-ring`, `split-pin`, `screw` …
    pub kind: String,
    /// Dimension by name (`inside`, `outside`, `thickness`, `section`, `diameter`, `length` …).
    pub dimensions: BTreeMap<String, Micrometres>,
    /// Thread designation where it has one, such as `M6x1.0`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub thread: Option<String>,
    /// Material or class: `copper`, `nitrile`, `8.8` …
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub material: Option<String>,
}

impl fmt::Display for SmallPart {
    /// As a person says it: `sealing-washer 14 × 20 × 1.5 mm copper`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.kind)?;
        if let Some(thread) = &self.thread {
            write!(f, " {thread}")?;
        }
        // The order in which the trade says them; what is not listed follows by name.
        const SAID_FIRST: [&str; 6] = ["inside", "diameter", "outside", "section", "thickness", "length"];
        let mut sizes: Vec<String> = SAID_FIRST
            .iter()
            .filter_map(|n| self.dimensions.get(*n))
            .map(ToString::to_string)
            .collect();
        sizes.extend(
            self.dimensions
                .iter()
                .filter(|(n, _)| !SAID_FIRST.contains(&n.as_str()))
                .map(|(_, d)| d.to_string()),
        );
        if !sizes.is_empty() {
            write!(f, " {} mm", sizes.join(" × "))?;
        }
        if let Some(material) = &self.material {
            write!(f, " {material}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::parse_length;

    #[test]
    fn a_washer_is_its_dimensions_however_typed() {
        let washer = |inside: &str, thickness: &str| SmallPart {
            kind: "sealing-washer".into(),
            dimensions: [("inside", inside), ("outside", "20 mm"), ("thickness", thickness)]
                .into_iter()
                .map(|(n, t)| {
                    (
                        n.to_owned(),
                        Micrometres::from_length(parse_length(t).unwrap()).unwrap(),
                    )
                })
                .collect(),
            thread: None,
            material: Some("copper".into()),
        };
        assert_eq!(washer("14 mm", "1.5 mm"), washer("1.4 cm", "1500 um"));
        assert_ne!(washer("14 mm", "1.5 mm"), washer("14 mm", "2 mm"));
        assert_eq!(
            washer("14 mm", "1.5 mm").to_string(),
            "sealing-washer 14 × 20 × 1.5 mm copper"
        );
    }
}
