//! Families: what a sheet shares with others is merged, changed, refused and written out.

use super::{SMALL, small};
use proptest::prelude::{ProptestConfig, any, prop, proptest};
use refettle_machine::model::Machine;
use refettle_machine::sheet::{self, Mistake, Mistakes};
use refettle_machine::{families, layouts};

const HEAD: &str = "format = \"refettle-family/1\"\nname = \"shop\"\nabout = \"For tests.\"\n";

/// Tables that are the last of their kind on the small sheet, so that a family may bring them in the same order.
const LAST: [&str; 7] = [
    "[tool.wrench]",
    "[item.rag]",
    "[part.wheel]",
    "[rechecks]",
    "[step.carry]",
    "[exclusion.fire]",
    "[job.oil-look]",
];

/// The small sheet without some of its tables, and a family of just those.
fn parted(tables: &[&str]) -> (String, String) {
    let mut sheet = SMALL.replace("[\"fixings\"]", "[\"shop\"]");
    let mut family = HEAD.to_owned();
    for table in tables {
        let start = sheet.find(table).unwrap();
        // To the empty line after it.
        let end = sheet[start..].find("\n\n").map_or(sheet.len(), |n| start + n + 2);
        family.push('\n');
        family.push_str(&sheet[start..end]);
        sheet.replace_range(start..end, "");
    }
    (sheet, family)
}

fn read(sheet: &str, family: &str) -> Result<Machine, Mistakes> {
    sheet::read_with(sheet, &[("shop", family)])
}

fn sound(sheet: &str, family: &str) -> Machine {
    match read(sheet, family) {
        Ok(machine) => machine,
        Err(mistakes) => panic!("{mistakes}\nsheet:\n{sheet}\nfamily:\n{family}"),
    }
}

fn only(sheet: &str, family: &str) -> Mistake {
    let mistakes = read(sheet, family).unwrap_err();
    assert_eq!(mistakes.count(), 1, "{mistakes}");
    mistakes.shown.into_iter().next().unwrap()
}

#[test]
fn a_sheet_parted_into_sheet_and_family_is_the_same_machine() {
    for table in LAST {
        let (sheet, family) = parted(&[table]);
        assert_eq!(sound(&sheet, &family), small(), "{table}");
    }
    let (sheet, family) = parted(&LAST);
    assert_eq!(sound(&sheet, &family), small());
}

#[test]
fn a_changed_table_is_the_familys_with_the_sheets_keys() {
    let (sheet, family) = parted(&["[step.carry]"]);
    let changed = "\n[step.carry]\nfamily = \"changed\"\nminutes = 4\nwithout = [\"if\"]\nadds = { off = [\"belly\", \"lid\"], tools = [\"wrench\"] }\n";
    let machine = sound(&format!("{sheet}{changed}"), &family);
    let by_hand = SMALL.replace(
        "title = \"Carry the lid out\"\nif = \"hatch=no\"\noff = [\"lid\"]\nplace = \"bench\"\nmakes = [\"lid-away\"]\nminutes = 1",
        "title = \"Carry the lid out\"\noff = [\"lid\", \"belly\"]\nplace = \"bench\"\nmakes = [\"lid-away\"]\nminutes = 4\ntools = [\"wrench\"]",
    );
    assert_ne!(by_hand, SMALL);
    assert_eq!(machine, sheet::read(&by_hand).unwrap());
}

#[test]
fn a_changed_list_of_ways_replaces_all_of_them() {
    let (sheet, family) = parted(&["[part.wheel]"]);
    let changed = "\n[part.wheel]\nfamily = \"changed\"\n[[part.wheel.way]]\nminutes = [30, 40]\nstances = [\"lift\"]\n";
    let machine = sound(&format!("{sheet}{changed}"), &family);
    let by_hand = SMALL.replace(
        "stances = [\"lift\"]\nminutes = [3, 4]",
        "stances = [\"lift\"]\nminutes = [30, 40]",
    );
    assert_ne!(by_hand, SMALL);
    assert_eq!(machine, sheet::read(&by_hand).unwrap());
}

#[test]
fn a_replaced_table_has_nothing_of_the_familys_and_a_left_out_one_is_gone() {
    let (sheet, family) = parted(&["[step.carry]", "[job.oil-look]"]);
    let own = "\n[step.carry]\nfamily = \"replaced\"\ntitle = \"Hang it up\"\nmakes = [\"lid-away\"]\nminutes = 2\n[job.oil-look]\nfamily = \"left-out\"\n";
    let machine = sound(&format!("{sheet}{own}"), &family);
    let step = machine.steps.iter().find(|s| s.name == "carry").unwrap();
    assert_eq!(
        (step.title.as_str(), step.off.len(), step.when.is_some()),
        ("Hang it up", 0, false)
    );
    assert!(machine.jobs.iter().all(|j| j.name != "oil-look"));
    assert_eq!(machine.jobs.len(), small().jobs.len() - 1);
}

#[test]
fn engine_and_rechecks_are_joined_and_the_sheets_numbers_go_before() {
    let (sheet, mut family) = parted(&["[rechecks]"]);
    family.push_str("[heat]\nhot-minutes = 77\n[engine]\non = [\"cover\", \"lid if hatch=yes\"]\nneeds = [\"turned\"]\n[[engine.fuel]]\nname = \"tank\"\nminutes = 9\n[[engine.fuel]]\nname = \"bottle\"\n");
    let machine = sound(&sheet, &family);
    assert_eq!(machine.heat.hot_minutes, 10);
    assert_eq!(machine.rechecks, small().rechecks);
    assert_eq!((machine.engine.on.len(), machine.engine.needs.len()), (2, 1));
    let fuel: Vec<(&str, usize)> = machine
        .engine
        .fuel
        .iter()
        .map(|f| (f.name.as_str(), f.on.len()))
        .collect();
    assert_eq!(fuel, [("tank", 1), ("bottle", 0)]);
    let alone = sound(
        &sheet.replace("[engine]\n", "[engine]\nfamily = \"replaced\"\n"),
        &family,
    );
    assert_eq!(alone.engine, small().engine);
}

#[test]
fn what_a_family_brings_and_nothing_names_is_left_out() {
    let (sheet, mut family) = parted(&["[tool.wrench]"]);
    family.push_str("[tool.press]\ntitle = \"Press\"\n[item.shim]\ntitle = \"Shim\"\nby-frame-number = true\n[fact.polished]\ntitle = \"Polished\"\n");
    assert_eq!(sound(&sheet, &family), small());
    // On the sheet itself it stays.
    let own = format!("{sheet}\n[tool.own-press]\ntitle = \"Press\"\n");
    assert_eq!(sound(&own, &family).tools.len(), 2);
}

#[test]
fn a_fixing_by_name_is_that_fixing_with_the_keys_beside_it() {
    let machine = sheet::read(&SMALL.replace(
        "{ use = \"lid-screw\", n = 2,",
        "{ use = \"lid-screw\", n = 2, drive = \"hex\",",
    ))
    .unwrap();
    let lid = machine.parts.iter().find(|p| p.name == "lid").unwrap();
    let said = (
        lid.fixings[0].count,
        lid.fixings[0].kind.as_str(),
        lid.fixings[0].drive.as_deref(),
    );
    assert_eq!(said, (2, "M5x0.8", Some("hex")));
    let wrong = sheet::read(&SMALL.replace("use = \"lid-screw\"", "use = \"lid-skrew\"")).unwrap_err();
    assert_eq!(wrong.count(), 1, "{wrong}");
    assert_eq!(wrong.shown[0].nearest.as_deref(), Some("lid-screw"));
}

/// What is put on the sheet, what into the family; what is said, where: in the family or on the sheet, at this text.
struct Case(
    &'static str,
    &'static str,
    &'static str,
    bool,
    &'static str,
    Option<&'static str>,
);

const CASES: &[Case] = &[
    Case(
        "[step.carry]\ntitle = \"Mine\"\nmakes = [\"lid-away\"]\nminutes = 1\n",
        "",
        "step 'carry' is in the family 'shop' too",
        false,
        "carry]",
        None,
    ),
    Case(
        "[step.carrie]\nfamily = \"changed\"\ntitle = \"Mine\"\nmakes = [\"lid-away\"]\nminutes = 1\n",
        "",
        "no family on this sheet has a step 'carrie'",
        false,
        "carrie]",
        Some("carry"),
    ),
    Case(
        "[step.carry]\nfamily = \"change\"\ntitle = \"Mine\"\nmakes = [\"lid-away\"]\nminutes = 1\n",
        "",
        "family = 'change' says nothing",
        false,
        "\"change\"",
        Some("changed"),
    ),
    Case(
        "[step.carry]\nfamily = \"changed\"\nwithout = [\"minits\"]\n",
        "",
        "the family's table has no key 'minits'",
        false,
        "\"minits\"]",
        Some("minutes"),
    ),
    Case(
        "[step.carry]\nfamily = \"changed\"\noff = []\nadds = { off = [\"belly\"] }\n",
        "",
        "'off' is changed and added to at once",
        false,
        "off = [\"belly\"]",
        None,
    ),
    Case(
        "[step.carry]\nfamily = \"changed\"\nadds = { title = [\"x\"] }\n",
        "",
        "'title' cannot be added to",
        false,
        "[\"x\"]",
        None,
    ),
    Case(
        "[job.other]\ntitle = \"Other\"\nwants = [\"oil-fresh\"]\nwithout = [\"note\"]\n",
        "",
        "job 'other' has no key 'without'",
        false,
        "without",
        None,
    ),
    Case(
        "",
        "[step.polish]\ntitle = \"Polish\"\noff = [\"lidd\"]\nmakes = [\"lid-away\"]\nminutes = 1\n",
        "there is no part 'lidd'",
        true,
        "\"lidd\"",
        Some("lid"),
    ),
    Case(
        "",
        "[step.polish]\ntitle = \"Polish\"\nmakes = [\"lid-away\"]\nminits = 1\nminutes = 1\n",
        "step 'polish' has no key 'minits'",
        true,
        "minits",
        Some("minutes"),
    ),
    Case(
        "",
        "familys = []\n",
        "family 'shop' has no key 'familys'",
        true,
        "familys",
        None,
    ),
    Case(
        "",
        "[fixing.odd]\nkind = \"M6x1.0\"\nlength = \"long\"\n",
        "",
        true,
        "\"long\"",
        None,
    ),
];

#[test]
fn each_mistake_is_said_once_and_where_it_was_made() {
    for Case(sheet_more, family_more, says, in_family, at, near) in CASES {
        let (sheet, family) = parted(&["[step.carry]"]);
        let sheet = format!("{sheet}\n{sheet_more}");
        // Keys of the top level must stand before the first table.
        let family = if family_more.starts_with('[') {
            format!("{family}\n{family_more}")
        } else {
            family.replacen(HEAD, &format!("{HEAD}{family_more}"), 1)
        };
        let mistake = only(&sheet, &family);
        assert!(mistake.message.contains(says), "{mistake}");
        assert_eq!(
            mistake.family.as_deref(),
            in_family.then_some("shop.toml"),
            "{mistake}"
        );
        let text = if *in_family { &family } else { &sheet };
        let place = text.rfind(at).unwrap();
        let line = text[..place].matches('\n').count() + 1;
        let column = place - text[..place].rfind('\n').map_or(0, |n| n + 1) + 1;
        assert_eq!((mistake.line, mistake.column), (line, column), "{mistake}");
        assert_eq!(mistake.nearest.as_deref(), *near, "{mistake}");
        if *in_family {
            assert!(
                mistake.to_string().starts_with("family shop.toml, line "),
                "{mistake}"
            );
        }
    }
}

#[test]
fn an_unknown_family_is_named_with_the_nearest_and_hides_what_it_leaves_missing() {
    let (sheet, family) = parted(&["[tool.wrench]"]);
    let mistake = only(&sheet.replace("[\"shop\"]", "[\"shopp\"]"), &family);
    assert_eq!(mistake.nearest.as_deref(), Some("shop"));
    let mistake = only(&sheet.replace("[\"shop\"]", "[\"shop\", \"shop\"]"), &family);
    assert!(mistake.message.contains("named twice"), "{mistake}");
    for wrong in ["3", "[3]"] {
        let mistakes = read(&sheet.replace("[\"shop\"]", wrong), &family).unwrap_err();
        assert!(mistakes.to_string().contains("'families' is a"), "{mistakes}");
    }
}

#[test]
fn the_same_name_in_two_families_is_a_mistake_unless_the_sheet_decides() {
    let (sheet, family) = parted(&["[job.oil-look]"]);
    let sheet = sheet.replace("[\"shop\"]", "[\"shop\", \"yard\"]");
    let yard = family.replace("\"shop\"", "\"yard\"");
    let both = [("shop", family.as_str()), ("yard", yard.as_str())];
    let mistakes = sheet::read_with(&sheet, &both).unwrap_err();
    assert_eq!(mistakes.count(), 1, "{mistakes}");
    assert_eq!(mistakes.shown[0].family.as_deref(), Some("yard.toml"));
    assert!(
        mistakes.shown[0].message.contains("'shop' and 'yard'"),
        "{mistakes}"
    );
    let decided = format!("{sheet}\n[job.oil-look]\nfamily = \"left-out\"\n");
    assert!(sheet::read_with(&decided, &both).is_ok());
    let unclear = format!("{sheet}\n[job.oil-look]\nfamily = \"changed\"\n");
    let mistakes = sheet::read_with(&unclear, &both).unwrap_err();
    assert!(
        mistakes.to_string().contains("which of them is changed?"),
        "{mistakes}"
    );
}

#[test]
fn a_family_must_bear_its_name_its_format_and_say_what_it_is() {
    let (sheet, family) = parted(&["[tool.wrench]"]);
    for (find, replace, says) in [
        ("refettle-family/1", "refettle-sheet/1", "in no known format"),
        ("name = \"shop\"", "name = \"ship\"", "does not bear its name"),
        ("For tests.", " ", "does not say what it is about"),
    ] {
        let mistake = only(&sheet, &family.replacen(find, replace, 1));
        assert!(mistake.message.contains(says), "{mistake}");
        assert_eq!(mistake.family.as_deref(), Some("shop.toml"));
    }
}

#[test]
fn a_sheet_written_out_is_the_same_machine_and_needs_no_family() {
    let (sheet, family) = parted(&LAST);
    let shop = [("shop", family.as_str())];
    let written = sheet::written_out_with(&sheet, &shop).unwrap();
    assert!(!written.contains("families = "), "{written}");
    assert_eq!(sheet::read_with(&written, &[]).unwrap(), small());
    assert_eq!(sheet::written_out_with(&written, &[]).unwrap(), written);
    // What the family says stands in it: another minute there is another text, and another hash.
    let slower = family.replace("minutes = 1\n", "minutes = 2\n");
    assert_ne!(slower, family);
    assert_ne!(
        sheet::written_out_with(&sheet, &[("shop", slower.as_str())]).unwrap(),
        written
    );
}

#[test]
fn text_with_quotes_and_backslashes_survives_being_written_out() {
    let odd = SMALL.replace("Catch it.", "Ring \\\"A\\\" \\\\ tab\\tend \\u00B5 𝛂");
    let written = sheet::written_out(&odd).unwrap();
    assert_eq!(sheet::read(&written).unwrap(), sheet::read(&odd).unwrap());
}

#[test]
fn every_layout_written_out_is_the_same_machine() {
    for (name, text) in layouts::ALL {
        let written = sheet::written_out(text).unwrap();
        assert!(!written.contains("families = "), "{name}");
        assert_eq!(
            sheet::read_with(&written, &[]).unwrap(),
            sheet::read(text).unwrap(),
            "{name}"
        );
        if !text.contains("\nfamilies = ") {
            assert_eq!(written, *text, "{name} stays as it is written");
        }
    }
}

#[test]
fn every_shipped_family_is_used_by_a_layout_and_found_by_its_name() {
    for (name, text) in families::ALL {
        assert!(text.contains(&format!("\nname = \"{name}\"\n")), "{name}");
        assert_eq!(families::named(name), Some(*text));
        let quoted = format!("\"{name}\"");
        assert!(
            layouts::ALL.iter().any(|(_, sheet)| sheet.contains(&quoted)),
            "{name}"
        );
    }
    assert_eq!(families::named("no-such"), None);
}

/// Mistakes that can be shown, or a machine; never a panic.
fn judged(sheet: &str, family: &str) {
    if let Err(mistakes) = read(sheet, family) {
        assert!(!mistakes.shown.is_empty());
        for mistake in &mistakes.shown {
            let text = if mistake.family.is_some() { family } else { sheet };
            assert!(mistake.line <= text.matches('\n').count() + 1, "{mistake}");
            assert!(!mistake.message.is_empty() && mistake.marked >= 1);
        }
        assert!(!mistakes.to_string().is_empty());
    }
}

#[test]
fn a_family_cut_off_anywhere_is_refused_without_a_panic() {
    let (sheet, family) = parted(&LAST);
    for (end, _) in family.char_indices() {
        judged(&sheet, &family[..end]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn random_bytes_as_a_family_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let (sheet, _) = parted(&LAST);
        judged(&sheet, &String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn words_of_merging_put_anywhere_never_panic(
        puts in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>(), any::<bool>()), 1..5),
    ) {
        const PIECES: [&str; 14] = [
            "family = \"changed\"\n", "family = \"left-out\"\n", "family = 3\n", "without = [\"title\", 3]\n",
            "without = 3\n", "adds = { off = [\"lid\"], minutes = 3 }\n", "adds = 3\n", "[step.carry]\n",
            "[fixing.lid-screw]\n", "fixings = [{ use = 3 }]\n", "[engine]\nfamily = \"changed\"\n", "step = 3\n",
            "[[engine.fuel]]\n", "engine = [3]\n",
        ];
        let (mut sheet, mut family) = parted(&LAST);
        for (piece, line, in_family) in puts {
            let text = if in_family { &mut family } else { &mut sheet };
            let starts: Vec<usize> = std::iter::once(0)
                .chain(text.match_indices('\n').map(|(n, _)| n + 1))
                .collect();
            let at = starts[line.index(starts.len())];
            text.insert_str(at, PIECES[piece.index(PIECES.len())]);
        }
        judged(&sheet, &family);
    }
}
