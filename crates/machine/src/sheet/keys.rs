//! Every key of every table, as `docs/machine-sheet.md` documents them.

/// Keys of one kind of table.
pub type Keys = &'static [&'static str];

/// The sheet itself.
pub const SHEET: Keys = &[
    "format",
    "name",
    "title",
    "about",
    "families",
    "heat",
    "question",
    "tool",
    "item",
    "fact",
    "circuit",
    "stance",
    "part",
    "critical",
    "rechecks",
    "step",
    "engine",
    "exclusion",
    "job",
    "fixing",
];
/// A family.
pub const FAMILY: Keys = &[
    "format",
    "name",
    "about",
    "heat",
    "question",
    "tool",
    "item",
    "fact",
    "circuit",
    "stance",
    "part",
    "critical",
    "rechecks",
    "step",
    "engine",
    "exclusion",
    "job",
    "fixing",
];
/// What a table of a sheet says beside its own keys when a family has a table of that name.
pub const OVER: Keys = &["family", "without", "adds"];
/// `[heat]`.
pub const HEAT: Keys = &[
    "hot-minutes",
    "warm-minutes",
    "hot-to-warm",
    "warm-to-cool",
    "cool-to-cold",
];
/// `[question.NAME]`.
pub const QUESTION: Keys = &["id", "title", "answers", "default"];
/// `[tool.NAME]`.
pub const TOOL: Keys = &["id", "title", "special", "loud"];
/// `[item.NAME]`.
pub const ITEM: Keys = &[
    "id",
    "title",
    "unit",
    "part",
    "candidates",
    "fluid",
    "by-frame-number",
    "consumable",
    "look",
];
/// What is looked at before it is ordered.
pub const LOOK: Keys = &[
    "what", "settles", "off", "on", "drained", "needs", "like", "minutes", "tools",
];
/// A small part of known size.
pub const SMALL_PART: Keys = &[
    "kind",
    "thread",
    "material",
    "inside",
    "outside",
    "thickness",
    "section",
    "diameter",
    "length",
    "width",
    "source",
    "from",
];
/// One of several sizes it may be.
pub const CANDIDATE: Keys = &[
    "kind",
    "thread",
    "material",
    "inside",
    "outside",
    "thickness",
    "section",
    "diameter",
    "length",
    "width",
    "source",
    "from",
    "chance",
];
/// So many of an item.
pub const USE: Keys = &["item", "n"];
/// `[fact.NAME]`.
pub const FACT: Keys = &["id", "title", "standing"];
/// `[circuit.NAME]`.
pub const CIRCUIT: Keys = &["id", "title", "fluid", "quantity", "proofs", "may-stay-open"];
/// A text with its source.
pub const SOURCED: Keys = &["value", "source", "from"];
/// `[stance.NAME]`.
pub const STANCE: Keys = &[
    "id",
    "title",
    "enter",
    "leave",
    "people",
    "from",
    "needs-on",
    "needs-off",
    "rest",
    "rolls",
    "usual",
    "tools",
    "cautions",
];
/// `[part.NAME]`.
pub const PART: Keys = &[
    "id",
    "title",
    "region",
    "mounted-on",
    "if",
    "not-off-in",
    "opens",
    "voids",
    "rolling",
    "fixings",
    "single-use",
    "settings",
    "cautions",
    "note",
    "seizing",
    "way",
];
/// `[[part.NAME.way]]`.
pub const WAY: Keys = &[
    "title", "if", "off", "stances", "heat", "drained", "needs", "minutes", "people", "tools",
];
/// The allowance for seized fixings.
pub const SEIZING: Keys = &["chance", "corroded", "minutes"];
/// Fixings of one kind.
pub const FIXING: Keys = &[
    "use",
    "n",
    "kind",
    "length",
    "drive",
    "across-flats",
    "torque",
    "locking",
    "place",
];
/// `[fixing.NAME]`.
pub const NAMED_FIXING: Keys = &[
    "kind",
    "length",
    "drive",
    "across-flats",
    "torque",
    "locking",
    "place",
];
/// `[critical.NAME]`.
pub const CRITICAL: Keys = &[
    "id",
    "title",
    "part",
    "fixing",
    "loosen",
    "tighten",
    "single-use",
    "cautions",
];
/// Loosening or tightening of a critical fixing.
pub const TURN: Keys = &[
    "minutes", "stances", "on", "off", "tight", "loose", "people", "tools",
];
/// `[rechecks]`.
pub const RECHECKS: Keys = &["facts"];
/// `[step.NAME]`.
pub const STEP: Keys = &[
    "id",
    "title",
    "note",
    "if",
    "engine",
    "off",
    "on",
    "tight",
    "loose",
    "stances",
    "place",
    "heat",
    "cold-extra",
    "runs-engine",
    "leaves",
    "full",
    "drained",
    "drains",
    "fills",
    "needs",
    "makes",
    "voids",
    "minutes",
    "wait",
    "meanwhile-not",
    "does",
    "loud",
    "people",
    "tools",
    "consumes",
    "measures",
    "cautions",
];
/// What a step measures.
pub const MEASURE: Keys = &["what", "unit", "least", "most", "source", "from"];
/// `[engine]`.
pub const ENGINE: Keys = &["on", "tight", "full", "needs", "stances", "cautions", "fuel"];
/// `[[engine.fuel]]`.
pub const FUEL: Keys = &["name", "on", "minutes", "tools"];
/// `[exclusion.NAME]`.
pub const EXCLUSION: Keys = &[
    "title",
    "forbids",
    "while-off",
    "while-open",
    "while-true",
    "unless",
];
/// `[job.NAME]`.
pub const JOB: Keys = &["id", "title", "wants", "note", "excludes", "if"];

/// Every kind of table with the heading under which it is documented.
pub const ALL: &[(&str, Keys)] = &[
    ("Top level", SHEET),
    ("[heat]", HEAT),
    ("[question.NAME]", QUESTION),
    ("[tool.NAME]", TOOL),
    ("[item.NAME]", ITEM),
    ("[item.NAME]", SMALL_PART),
    ("[item.NAME]", CANDIDATE),
    ("[item.NAME]", USE),
    ("[item.NAME]", LOOK),
    ("[fact.NAME]", FACT),
    ("[circuit.NAME]", CIRCUIT),
    ("[circuit.NAME]", SOURCED),
    ("[stance.NAME]", STANCE),
    ("[part.NAME]", PART),
    ("[part.NAME]", SEIZING),
    ("[[part.NAME.way]]", WAY),
    ("Fixings", FIXING),
    ("[fixing.NAME]", NAMED_FIXING),
    ("[critical.NAME]", CRITICAL),
    ("[critical.NAME]", TURN),
    ("[rechecks]", RECHECKS),
    ("[step.NAME]", STEP),
    ("[step.NAME]", MEASURE),
    ("[engine]", ENGINE),
    ("[engine]", FUEL),
    ("[exclusion.NAME]", EXCLUSION),
    ("[job.NAME]", JOB),
];

/// What families bring to the above, with the heading under which it is documented.
pub const FAMILIES: &[(&str, Keys)] = &[("Families", FAMILY), ("Families", OVER)];
