//! A part that might stand in for another.

/// A stand-in and what differs.
#[derive(Debug, Clone, PartialEq)]
pub struct Substitute<T> {
    /// The part that might stand in.
    pub part: T,
    /// Each difference and what it means, in words; empty only when nothing differs.
    pub differs: Vec<String>,
    /// Whether it is a workable stand-in at all; `false` for what goes on but must not be used.
    pub workable: bool,
}

/// `2 mm wider`, `0.5 mm thinner`; `None` when the same to a hundredth.
pub(super) fn difference(
    what: &str,
    wanted_mm: f64,
    offered_mm: f64,
    more: &str,
    less: &str,
) -> Option<String> {
    let by = offered_mm - wanted_mm;
    if by.abs() < 0.005 {
        return None;
    }
    let shown = crate::shown::number(by.abs());
    Some(format!(
        "{what} {shown} mm {}",
        if by > 0.0 { more } else { less }
    ))
}

/// A part's dimensions as the drawer keeps them.
pub(super) fn small_part(
    kind: &str,
    dimensions: &[(&str, crate::quantity::Length)],
    thread: Option<&str>,
    material: Option<&str>,
) -> Option<crate::small_part::SmallPart> {
    let mut kept = std::collections::BTreeMap::new();
    for (name, length) in dimensions {
        kept.insert(
            (*name).to_owned(),
            crate::small_part::Micrometres::from_length(*length)?,
        );
    }
    Some(crate::small_part::SmallPart {
        kind: kind.to_owned(),
        dimensions: kept,
        thread: thread.map(str::to_owned),
        material: material.map(str::to_owned),
    })
}
