//! Each kind of mistake: what is said, and where.

use super::{SMALL, mutated, refused};
use refettle_machine::sheet::Mistake;

/// A mistake made in the sheet: `find` becomes `replace`, and what is wrong starts at `at` inside `replace`.
struct Case {
    find: &'static str,
    replace: &'static str,
    at: &'static str,
    says: &'static str,
    near: Option<&'static str>,
}

const fn case(
    find: &'static str,
    replace: &'static str,
    at: &'static str,
    says: &'static str,
    near: Option<&'static str>,
) -> Case {
    Case {
        find,
        replace,
        at,
        says,
        near,
    }
}

const CASES: &[Case] = &[
    case(
        "runs-engine = true",
        "runs-engine = false",
        "\"warm\"",
        "'leaves' on a step that does not run",
        None,
    ),
    case(
        "tight = [\"axle\"]\nloose = []",
        "tight = [\"axle\"]\nloose = [\"axle\"]",
        "[\"axle\"]\nruns",
        "a fixing under both 'tight' and 'loose'",
        None,
    ),
    case(
        "tight = [\"axle\"]",
        "tight = [\"axel\"]",
        "\"axel\"",
        "there is no critical 'axel'",
        Some("axle"),
    ),
    // Keys and tables.
    case(
        "title = \"Lid\"",
        "tittle = \"Lid\"\ntitle = \"Lid\"",
        "tittle",
        "part 'lid' has no key 'tittle'",
        Some("title"),
    ),
    case(
        "[heat]",
        "[heet]",
        "heet",
        "the sheet has no key 'heet'",
        Some("heat"),
    ),
    case(
        "[tool.wrench]\ntitle = \"Torque wrench\"\n",
        "[tool.wrench]\n",
        "[tool",
        "tool 'wrench' has no 'title'",
        None,
    ),
    case("enter = 1\n", "", "", "stance 'side' has no 'enter'", None),
    case(
        "[job.oil-change]\n",
        "[job]\noil-change = 3\n[job.x]\n",
        "3",
        "job 'oil-change' is a whole number",
        None,
    ),
    case(
        "[tool.wrench]\ntitle = \"Torque wrench\"\nspecial = true",
        "tool = 3",
        "",
        "",
        None,
    ),
    case(
        "[tool.wrench]",
        "[tool.Wrench]",
        "Wrench",
        "'Wrench' is no name",
        None,
    ),
    case(
        "title = \"Lid\"",
        "title = \"Lid\"\ntitle = \"Top\"",
        "title = \"Top\"",
        "duplicate key",
        None,
    ),
    case("[part.badge]", "[part.lid]", "lid]", "duplicate key", None),
    case(
        "[stance.lift]\n",
        "[stance.lift]\nid = \"side\"\n",
        "\"side\"",
        "same id 'side'",
        None,
    ),
    case(
        "[stance.lift]\n",
        "[stance.lift]\nid = \"Up!\"\n",
        "\"Up!\"",
        "'Up!' is no id",
        None,
    ),
    // Values of another kind.
    case(
        "title = \"Lid\"",
        "title = 7",
        "7",
        "'title' is a whole number",
        None,
    ),
    case(
        "title = \"Lid\"",
        "title = \"  \"",
        "\"  \"",
        "'title' is empty",
        None,
    ),
    case(
        "rest = true",
        "rest = \"yes\"",
        "\"yes\"",
        "'rest' is a text",
        None,
    ),
    case(
        "tools = [\"wrench\"]\n\n[part.lid]",
        "tools = \"wrench\"\n\n[part.lid]",
        "\"wrench\"",
        "'tools' is a text",
        None,
    ),
    case(
        "needs-on = [\"wheel\"]",
        "needs-on = [1]",
        "1]",
        "'needs-on' is a whole number",
        None,
    ),
    case(
        "seizing = { chance = 0.1, corroded = 0.5, minutes = 20 }",
        "seizing = 3",
        "3",
        "'seizing' is a whole number",
        None,
    ),
    case(
        "title = \"Lid\"",
        "title = 2020-01-01",
        "2020",
        "'title' is a date or time",
        None,
    ),
    // Minutes.
    case(
        "minutes = [3, 4]\npeople",
        "minutes = [-3, 4]\npeople",
        "-3",
        "'minutes' is negative",
        None,
    ),
    case(
        "minutes = [3, 4]\npeople",
        "minutes = [3]\npeople",
        "[3]",
        "has 1 numbers",
        None,
    ),
    case(
        "minutes = [3, 4]\npeople",
        "minutes = 3\npeople",
        "3",
        "'minutes' is a whole number",
        None,
    ),
    case("wait = 10\n", "wait = nan\n", "nan", "no finite number", None),
    case("wait = 10\n", "wait = inf\n", "inf", "no finite number", None),
    case("wait = 10\n", "wait = 1e999\n", "1e999", "no finite number", None),
    case(
        "wait = 10\n",
        "wait = 10000.01\n",
        "10000.01",
        "over 10000 minutes",
        None,
    ),
    case(
        "wait = 10\n",
        "wait = 0.123\n",
        "0.123",
        "more than two decimals",
        None,
    ),
    case(
        "wait = 10\n",
        "wait = 99999999999999999999\n",
        "99999",
        "no finite number",
        None,
    ),
    case(
        "hot-minutes = 10",
        "hot-minutes = 10.5",
        "10.5",
        "'hot-minutes' is a number",
        None,
    ),
    // Counts, chances, sizes.
    case("n = 900", "n = 0", "0", "'n' is 0", None),
    case("n = 900", "n = -1", "-1", "'n' is -1", None),
    case(
        "people = 2\nfrom",
        "people = 10\nfrom",
        "10",
        "'people' is 10",
        None,
    ),
    case("chance = 0.1", "chance = 1.5", "1.5", "'chance' is 1.5", None),
    case(
        "candidates = [\n    { kind = \"o-ring\", inside = \"38 mm\", section = \"2 mm\", chance = 0.6 }",
        "candidates = [\n    { kind = \"o-ring\", inside = \"38 mm\", section = \"2 mm\", chance = 0.7 }",
        "[",
        "chances sum to 1.1",
        None,
    ),
    case(
        "across-flats = \"8 mm\"",
        "across-flats = \"8\"",
        "\"8\"",
        "has no unit",
        None,
    ),
    case(
        "across-flats = \"8 mm\"",
        "across-flats = \"8 V\"",
        "\"8 V\"",
        "no unit of length",
        None,
    ),
    case(
        "value = \"9 N·m\"",
        "value = \"9 mm\"",
        "\"9 mm\"",
        "no unit of torque",
        None,
    ),
    case(
        "value = \"9 N·m\"",
        "value = \"-9 N·m\"",
        "\"-9",
        "not above zero",
        None,
    ),
    case(
        "value = \"9 N·m\"",
        "value = \"9 to 5 N·m\"",
        "\"9 to",
        "or falls",
        None,
    ),
    case(
        "value = \"9 N·m\", source = \"typical\"",
        "value = \"9 N·m\", source = \"typicle\"",
        "\"typicle\"",
        "'typicle' is no source",
        Some("typical"),
    ),
    case(
        "value = \"9 N·m\", source = \"typical\", from = \"from memory\"",
        "value = \"9 N·m\", source = \"typical\"",
        "",
        "torque of a fixing of part 'cover' has no 'from'",
        None,
    ),
    case(
        "value = \"0.9 to 1.0 L\"",
        "value = \"1 N·m\"",
        "\"1 N",
        "no unit of volume",
        None,
    ),
    case(
        "inside = \"12 mm\"",
        "inside = \"12 km\"",
        "\"12 km\"",
        "'inside' is 12 km",
        None,
    ),
    case(
        "unit = \"1/min\"",
        "unit = \"furlong\"",
        "\"furlong\"",
        "'furlong' is no known unit",
        None,
    ),
    case(
        "least = 1200, most = 1400.5",
        "least = 1500, most = 1400.5",
        "1400.5",
        "below 'least'",
        None,
    ),
    // Items.
    case(
        "fluid = \"10W-40\"\n\n[item.gasket]",
        "\n[item.gasket]",
        "",
        "item 'oil' does not say what it is",
        None,
    ),
    case(
        "consumable = true",
        "consumable = true\nfluid = \"x\"",
        "",
        "fluid and consumable at once",
        None,
    ),
    case(
        "consumable = true",
        "consumable = false",
        "false",
        "'consumable' is false",
        None,
    ),
    // Words out of a few.
    case(
        "region = \"belly\"",
        "region = \"bely\"",
        "\"bely\"",
        "'bely' is no region",
        Some("belly"),
    ),
    case(
        "heat = \"cool\"",
        "heat = \"tepid\"",
        "\"tepid\"",
        "'tepid' is no heat",
        None,
    ),
    case(
        "does = [\"sparks\"]",
        "does = [\"spark\"]",
        "\"spark\"",
        "'spark' is no does",
        Some("sparks"),
    ),
    case(
        "\"moving\", \"flame\"",
        "\"moveing\", \"flame\"",
        "\"moveing\"",
        "'moveing' is no meanwhile-not",
        Some("moving"),
    ),
    case(
        "place = \"bike\"",
        "place = \"bench \"",
        "\"bench \"",
        "is no place",
        Some("bench"),
    ),
    case(
        "cautions = [\"carbon-monoxide\"]",
        "cautions = [\"carbon-monoxid\"]",
        "\"carbon-monoxid\"",
        "no caution 'carbon-monoxid'",
        Some("carbon-monoxide"),
    ),
    case(
        "format = \"refettle-sheet/1\"",
        "format = \"refettle-sheet/9\"",
        "\"refettle-sheet/9\"",
        "is not known",
        None,
    ),
    // Names that point nowhere.
    case(
        "mounted-on = \"lid\"",
        "mounted-on = \"lidd\"",
        "\"lidd\"",
        "there is no part 'lidd'",
        Some("lid"),
    ),
    case(
        "from = [\"side\"]",
        "from = [\"sid\"]",
        "\"sid\"",
        "there is no stance 'sid'",
        Some("side"),
    ),
    case(
        "opens = [\"oil\"]",
        "opens = [\"oli\"]",
        "\"oli\"",
        "there is no circuit 'oli'",
        Some("oil"),
    ),
    case(
        "wants = [\"sump-dry\"]",
        "wants = [\"sump-dri\"]",
        "\"sump-dri\"",
        "there is no fact 'sump-dri'",
        Some("sump-dry"),
    ),
    case(
        "item = \"gasket\"",
        "item = \"gaskit\"",
        "\"gaskit\"",
        "there is no item 'gaskit'",
        Some("gasket"),
    ),
    case(
        "excludes = [\"oil-change\"]",
        "excludes = [\"oil-chnge\"]",
        "\"oil-chnge\"",
        "there is no job 'oil-chnge'",
        Some("oil-change"),
    ),
    case(
        "excludes = [\"oil-change\"]",
        "excludes = [\"oil-look\"]",
        "[\"oil-look\"]",
        "excludes itself",
        None,
    ),
    case(
        "part = \"wheel\"",
        "part = \"weel\"",
        "\"weel\"",
        "there is no part 'weel'",
        Some("wheel"),
    ),
    case(
        "from = [\"side\"]",
        "from = [\"side\", \"side\"]",
        "\"side\"]",
        "'side' is named twice",
        None,
    ),
    // Conditions.
    case(
        "if = \"hatch!=yes\"\noff",
        "if = \"hatch\"\noff",
        "\"hatch\"",
        "'hatch' is no condition",
        None,
    ),
    case(
        "if = \"hatch!=yes\"\noff",
        "if = \"hatsh=yes\"\noff",
        "\"hatsh=yes\"",
        "there is no question 'hatsh'",
        Some("hatch"),
    ),
    case(
        "if = \"hatch!=yes\"\noff",
        "if = \"hatch=yess\"\noff",
        "\"hatch=yess\"",
        "'yess' is no answer",
        Some("yes"),
    ),
    case(
        "default = \"no\"",
        "default = \"maybe\"",
        "\"maybe\"",
        "none of the answers",
        None,
    ),
    case(
        "answers = [\"yes\", \"no\"]",
        "answers = [\"no\"]",
        "[\"no\"]",
        "'answers' has 1 usable",
        None,
    ),
    // Things that only mean something together.
    case("heat = \"warm\"\n", "", "5\ndrains", "'cold-extra' without", None),
    case(
        "wait = 10\n",
        "",
        "[\"moving\"",
        "'meanwhile-not' without a wait",
        None,
    ),
    case(
        "does = [\"sparks\"]",
        "does = [\"engine\"]",
        "[\"engine\"]",
        "'engine' under 'does'",
        None,
    ),
    case(
        "wants = [\"sump-dry\"]",
        "wants = []",
        "[]",
        "'wants' is empty",
        None,
    ),
    case(
        "forbids = [\"flame\"]",
        "forbids = []",
        "[]",
        "'forbids' is empty",
        None,
    ),
    case(
        "while-off = [\"lid\"]\nwhile-open = [\"oil\"]\nwhile-true = [\"oil-fresh\"]\n",
        "",
        "",
        "does not say when it holds",
        None,
    ),
    case(
        "[[part.lid.way]]\nminutes = [1, 2]\n",
        "way = []\n",
        "[]",
        "no usable way in",
        None,
    ),
    // No TOML.
    case("title = \"Lid\"", "title = \"Lid", "\n", "", None),
    case("title = \"Lid\"", "title = Lid", "Lid", "", None),
    case("title = \"Lid\"", "title \"Lid\"", "\"Lid\"", "", None),
    case("[part.lid]", "[part.lid", "\n", "", None),
];

/// Line and column, from 1 and in characters, of a byte of a text: counted here another way than the reader does.
fn place(text: &str, byte: usize) -> (usize, usize) {
    let before = &text[..byte];
    let line = before.split('\n').count();
    (line, before.split('\n').next_back().unwrap().chars().count() + 1)
}

#[test]
fn each_mistake_is_said_at_its_place_with_the_nearest_name() {
    for Case {
        find,
        replace,
        at,
        says,
        near,
    } in CASES
    {
        let text = mutated(find, replace);
        let start = SMALL.find(find).unwrap();
        let mistakes = refused(&text);
        let fits = |m: &&Mistake| m.message.contains(says);
        let Some(mistake) = mistakes.shown.iter().find(fits) else {
            panic!("{replace}: nothing says '{says}':\n{mistakes}");
        };
        if !at.is_empty() {
            let byte = start + text[start..].find(at).unwrap();
            assert!(
                mistakes
                    .shown
                    .iter()
                    .filter(fits)
                    .any(|m| (m.line, m.column) == place(&text, byte)),
                "{replace}: expected at {:?}\n{mistakes}",
                place(&text, byte)
            );
        }
        if near.is_some() {
            assert_eq!(mistake.nearest.as_deref(), *near, "{replace}:\n{mistakes}");
        }
        if !says.is_empty() {
            assert!(!mistake.expected.is_empty(), "{replace}: {mistake}");
        }
    }
}

#[test]
fn one_mistake_is_drawn_with_its_line_and_a_caret() {
    let text = "format = \"refettle-sheet/1\"\nname = \"x\"\ntitel = \"Übung\"\n";
    let mistakes = refused(text);
    let drawn = mistakes
        .shown
        .iter()
        .find(|m| m.message.contains("titel"))
        .unwrap()
        .to_string();
    let lines: Vec<&str> = drawn.lines().collect();
    assert_eq!(lines[0], "line 3, column 1: the sheet has no key 'titel'");
    assert_eq!(lines[1], "    3 | titel = \"Übung\"");
    assert_eq!(lines[2], "      | ^^^^^");
    assert!(
        lines[3].starts_with("        expected one of 'format', 'name', 'title'"),
        "{drawn}"
    );
    assert!(drawn.ends_with("did you mean 'title'?"), "{drawn}");
    assert!(lines.iter().all(|line| line.chars().count() <= 80), "{drawn}");
}

#[test]
fn columns_are_counted_in_characters() {
    // Three letters of two bytes each stand before the number.
    let text = mutated("kind = \"M14x1.5\"", "kind = \"äöü\", places = 3");
    let mistake = refused(&text)
        .shown
        .into_iter()
        .find(|m| m.message.contains("'places'"))
        .unwrap();
    // fixing = { n = 1, kind = "äöü", places = 3 }: the word starts at the 33rd character.
    assert_eq!(mistake.column, 33);
    assert_eq!(
        mistake
            .excerpt
            .chars()
            .skip(mistake.caret)
            .take(mistake.marked)
            .collect::<String>(),
        "places"
    );
}

#[test]
fn a_long_line_is_cut_around_the_mistake() {
    let text = mutated(
        "note = \"Catch it.\"",
        &format!("note = \"{}\"\nnotes = 1", "x".repeat(1_900)),
    );
    let mistakes = refused(&text);
    assert!(mistakes.shown.iter().any(|m| m.message.contains("'notes'")));
    let long = format!(
        "fixings = [{{ n = 1, kind = \"{}\", lenght = \"5 mm\" }}]",
        "x".repeat(300)
    );
    let text = mutated("note = \"Lift straight up.\"", &long);
    let mistake = refused(&text)
        .shown
        .into_iter()
        .find(|m| m.message.contains("'lenght'"))
        .unwrap();
    assert!(mistake.excerpt.chars().count() <= 66);
    assert_eq!(
        mistake
            .excerpt
            .chars()
            .skip(mistake.caret)
            .take(mistake.marked)
            .collect::<String>(),
        "lenght"
    );
    assert_eq!(mistake.nearest.as_deref(), Some("length"));
}

#[test]
fn several_mistakes_come_in_one_pass_in_the_order_of_the_text() {
    let text = SMALL
        .replace("title = \"Lid\"", "titel = \"Lid\"")
        .replace("wait = 10\n", "wait = -10\n")
        .replace("mounted-on = \"lid\"", "mounted-on = \"lit\"")
        .replace(
            "cautions = [\"carbon-monoxide\"]",
            "cautions = [\"carbon-monoxyde\"]",
        );
    let mistakes = refused(&text);
    let said: Vec<&str> = mistakes.shown.iter().map(|m| m.message.as_str()).collect();
    assert_eq!(
        said,
        [
            "part 'lid' has no 'title'",
            "part 'lid' has no key 'titel'",
            "there is no part 'lit'",
            "'wait' is negative",
            "there is no caution 'carbon-monoxyde'",
        ]
    );
    assert!(mistakes.shown.is_sorted_by_key(|m| (m.line, m.column)));
    assert!(!mistakes.complete);
    assert!(
        mistakes
            .to_string()
            .contains("5 mistakes; the sheet was not loaded")
    );
}

#[test]
fn beside_text_that_is_no_toml_other_mistakes_are_still_said_and_missing_things_are_not() {
    let text = SMALL
        .replace("[stance.lift]", "[stance.lift")
        .replace("wait = 10\n", "wait = -10\n");
    let mistakes = refused(&text);
    assert!(
        mistakes.shown.iter().any(|m| m.message == "'wait' is negative"),
        "{mistakes}"
    );
    assert!(
        !mistakes.shown.iter().any(|m| m.message.contains("there is no")),
        "{mistakes}"
    );
    assert!(!mistakes.complete);
}

#[test]
fn beyond_a_hundred_mistakes_the_rest_is_counted() {
    let many: String = (0..250).map(|n| format!("k{n} = 1\n")).collect();
    let mistakes = refused(&mutated("note = \"Catch it.\"\n", &many));
    assert_eq!((mistakes.shown.len(), mistakes.more), (100, 150));
    assert!(mistakes.to_string().contains("150 more are not shown"));
}

#[test]
fn what_a_sheet_says_cannot_steer_a_terminal() {
    let mistakes = refused(&mutated(
        "region = \"belly\"",
        "region = \"\\u001b[31m\u{202e}x\" # \u{7}",
    ));
    let shown = mistakes.to_string();
    assert!(
        !shown.contains('\u{1b}') && !shown.contains('\u{202e}') && !shown.contains('\u{7}'),
        "{shown:?}"
    );
}

#[test]
fn an_empty_sheet_says_what_is_missing() {
    for text in ["", "\n", "\u{feff}", "# nothing\r\n"] {
        let said = refused(text).to_string();
        for key in ["format", "name", "title"] {
            assert!(said.contains(&format!("the sheet has no '{key}'")), "{said}");
        }
    }
}
