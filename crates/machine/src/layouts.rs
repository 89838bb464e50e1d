//! The layouts shipped with the tool: machine sheets of generic machines, embedded as written.

/// Name and text of every layout, in the order shown.
pub const ALL: &[(&str, &str)] = &[
    (
        "small-faired-twin",
        include_str!("../../../layouts/small-faired-twin.toml"),
    ),
    ("naked-single", include_str!("../../../layouts/naked-single.toml")),
    ("faired-four", include_str!("../../../layouts/faired-four.toml")),
    ("scooter", include_str!("../../../layouts/scooter.toml")),
    ("tiny-trainer", include_str!("../../../layouts/tiny-trainer.toml")),
];

/// The text of the layout of this name.
#[must_use]
pub fn named(name: &str) -> Option<&'static str> {
    ALL.iter()
        .find(|(known, _)| *known == name)
        .map(|(_, text)| *text)
}
