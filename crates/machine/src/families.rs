//! The families shipped with the tool: what layouts of machines share, written once and embedded as written.

/// Name and text of every family, in the order shown.
pub const ALL: &[(&str, &str)] = &[
    (
        "garage-tools",
        include_str!("../../../layouts/families/garage-tools.toml"),
    ),
    (
        "shop-supplies",
        include_str!("../../../layouts/families/shop-supplies.toml"),
    ),
    ("fixings", include_str!("../../../layouts/families/fixings.toml")),
    ("stands", include_str!("../../../layouts/families/stands.toml")),
    (
        "centre-stand",
        include_str!("../../../layouts/families/centre-stand.toml"),
    ),
    (
        "side-stand",
        include_str!("../../../layouts/families/side-stand.toml"),
    ),
    (
        "first-start",
        include_str!("../../../layouts/families/first-start.toml"),
    ),
    (
        "kick-start",
        include_str!("../../../layouts/families/kick-start.toml"),
    ),
    (
        "engine-oil",
        include_str!("../../../layouts/families/engine-oil.toml"),
    ),
    (
        "oil-filter",
        include_str!("../../../layouts/families/oil-filter.toml"),
    ),
    (
        "oil-cooler",
        include_str!("../../../layouts/families/oil-cooler.toml"),
    ),
    ("coolant", include_str!("../../../layouts/families/coolant.toml")),
    ("petrol", include_str!("../../../layouts/families/petrol.toml")),
    (
        "carburettors",
        include_str!("../../../layouts/families/carburettors.toml"),
    ),
    (
        "carburettor-balance",
        include_str!("../../../layouts/families/carburettor-balance.toml"),
    ),
    (
        "idle-setting",
        include_str!("../../../layouts/families/idle-setting.toml"),
    ),
    (
        "fuel-injection",
        include_str!("../../../layouts/families/fuel-injection.toml"),
    ),
    (
        "ignition",
        include_str!("../../../layouts/families/ignition.toml"),
    ),
    (
        "electrics",
        include_str!("../../../layouts/families/electrics.toml"),
    ),
    (
        "starter-motor",
        include_str!("../../../layouts/families/starter-motor.toml"),
    ),
    ("clutch", include_str!("../../../layouts/families/clutch.toml")),
    (
        "hydraulic-clutch",
        include_str!("../../../layouts/families/hydraulic-clutch.toml"),
    ),
    ("valves", include_str!("../../../layouts/families/valves.toml")),
    (
        "camshaft-cover",
        include_str!("../../../layouts/families/camshaft-cover.toml"),
    ),
    (
        "cam-chain",
        include_str!("../../../layouts/families/cam-chain.toml"),
    ),
    ("exhaust", include_str!("../../../layouts/families/exhaust.toml")),
    (
        "controls",
        include_str!("../../../layouts/families/controls.toml"),
    ),
    (
        "speedometer",
        include_str!("../../../layouts/families/speedometer.toml"),
    ),
    (
        "front-disc-brake",
        include_str!("../../../layouts/families/front-disc-brake.toml"),
    ),
    (
        "rear-disc-brake",
        include_str!("../../../layouts/families/rear-disc-brake.toml"),
    ),
    (
        "rear-drum-brake",
        include_str!("../../../layouts/families/rear-drum-brake.toml"),
    ),
    ("abs", include_str!("../../../layouts/families/abs.toml")),
    ("wheels", include_str!("../../../layouts/families/wheels.toml")),
    (
        "chain-drive",
        include_str!("../../../layouts/families/chain-drive.toml"),
    ),
    ("fork", include_str!("../../../layouts/families/fork.toml")),
    (
        "upside-down-fork",
        include_str!("../../../layouts/families/upside-down-fork.toml"),
    ),
    (
        "steering",
        include_str!("../../../layouts/families/steering.toml"),
    ),
    (
        "swingarm",
        include_str!("../../../layouts/families/swingarm.toml"),
    ),
    (
        "shock-link",
        include_str!("../../../layouts/families/shock-link.toml"),
    ),
    (
        "twin-shocks",
        include_str!("../../../layouts/families/twin-shocks.toml"),
    ),
    ("checks", include_str!("../../../layouts/families/checks.toml")),
];

/// The text of the family of this name.
#[must_use]
pub fn named(name: &str) -> Option<&'static str> {
    ALL.iter()
        .find(|(known, _)| *known == name)
        .map(|(_, text)| *text)
}
