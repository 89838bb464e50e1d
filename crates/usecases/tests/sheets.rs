//! Corrections from bike to bike and from garage to garage.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use proptest::prelude::*;
use refettle_facts::sourced::Source;
use refettle_usecases::layouts;
use refettle_usecases::sheets::{
    Chosen, Correction, Corrections, Take, corrected, diff, import, read, write,
};
use serde_json::{Value, json};
use std::collections::BTreeMap;

fn correction(value: Value, source: Source, from: &str) -> Correction {
    Correction {
        value: Some(value),
        source,
        from: from.into(),
    }
}

fn of(at: &[(&str, Correction)]) -> Corrections {
    Corrections {
        layout: "tiny-trainer".into(),
        at: at.iter().map(|(p, c)| ((*p).to_owned(), c.clone())).collect(),
    }
}

#[test]
fn the_text_has_a_value_on_a_line_in_the_order_of_paths() {
    let text = write(&of(&[
        (
            "part.seat.note",
            Correction {
                value: None,
                source: Source::Measured,
                from: "seen".into(),
            },
        ),
        (
            "circuit.oil.quantity",
            correction(json!("1.1 L"), Source::Manual, "page 12, \"fluids\""),
        ),
    ]));
    let wanted = "format = \"refettle-corrections/1\"\nlayout = \"tiny-trainer\"\n\n\
        [at.\"circuit.oil.quantity\"]\nvalue = \"1.1 L\"\nsource = \"manual\"\nfrom = \"page 12, \\\"fluids\\\"\"\n\n\
        [at.\"part.seat.note\"]\ngone = true\nsource = \"measured\"\nfrom = \"seen\"\n";
    assert_eq!(text, wanted);
}

#[test]
fn the_reader_is_strict_and_tells_all_at_once() {
    let text = "format = \"refettle-corrections/2\"\nlayout = \" \"\n[at.\"a..b\"]\nvalue = 1\nsource = \"hearsay\"\nfrom = \"\"\n\
        [at.c]\nsource = \"manual\"\nfrom = \"x\"\n[at.d]\nvalue = 1\ngone = true\nsource = \"manual\"\nfrom = \"x\"\n";
    let told = read(text).unwrap_err().0;
    assert_eq!(told.len(), 7, "{told:#?}");
    for (unknown, text) in [
        (
            "owner",
            "format = \"refettle-corrections/1\"\nlayout = \"x\"\nowner = \"somebody\"\n",
        ),
        (
            "by",
            "format = \"refettle-corrections/1\"\nlayout = \"x\"\n[at.a]\nvalue = 1\nsource = \"manual\"\nfrom = \"p\"\nby = \"somebody\"\n",
        ),
    ] {
        let told = read(text).unwrap_err().to_string();
        assert!(told.contains(unknown), "{told}");
    }
    assert!(read("no toml").is_err());
}

#[test]
fn what_another_machine_measured_is_only_typical_here() {
    let theirs = of(&[
        ("a.x", correction(json!("1 mm"), Source::Measured, "calliper")),
        ("a.y", correction(json!("2 mm"), Source::Manual, "page 3")),
    ]);
    let came = import(&of(&[]), &theirs, &Chosen::new()).unwrap();
    let by_path: BTreeMap<&str, _> = came.take.iter().map(|b| (b.path.as_str(), b)).collect();
    assert_eq!(by_path["a.x"].source, Source::Typical);
    assert_eq!(
        by_path["a.x"].from.as_str(),
        "measured on another machine of the kind: calliper"
    );
    assert_eq!(
        (by_path["a.y"].source, by_path["a.y"].from.as_str()),
        (Source::Manual, "page 3")
    );
}

#[test]
fn conflicts_are_chosen_one_by_one_and_nothing_comes_in_before() {
    let mine = |v: &str| correction(json!(v), Source::Measured, "own");
    let ours = of(&[
        ("p.a", mine("1 mm")),
        ("p.b", mine("2 mm")),
        ("p.c", mine("3 mm")),
    ]);
    let theirs = of(&[
        ("p.a", correction(json!("1 mm"), Source::Manual, "page 1")),
        ("p.b", correction(json!("9 mm"), Source::Manual, "page 2")),
        ("p.c", correction(json!("8 mm"), Source::Manual, "page 3")),
        ("p.d", correction(json!("7 mm"), Source::Manual, "page 4")),
    ]);
    let told = import(&ours, &theirs, &Chosen::new()).unwrap_err();
    assert_eq!(told.len(), 2, "{told:#?}");
    assert!(
        told[0].contains("'p.b'") && told[0].contains("2 mm") && told[0].contains("9 mm"),
        "{}",
        told[0]
    );
    let half = Chosen::from([("p.b".to_owned(), Take::Theirs)]);
    assert_eq!(import(&ours, &theirs, &half).unwrap_err().len(), 1);
    let all = Chosen::from([("p.b".to_owned(), Take::Theirs), ("p.c".to_owned(), Take::Ours)]);
    let came = import(&ours, &theirs, &all).unwrap();
    let taken: Vec<&str> = came.take.iter().map(|b| b.path.as_str()).collect();
    assert_eq!(
        (taken, came.kept, came.same),
        (vec!["p.b", "p.d"], vec!["p.c".to_owned()], vec!["p.a".to_owned()])
    );
    let idle = Chosen::from([("p.a".to_owned(), Take::Ours)]);
    assert!(import(&ours, &of(&[]), &idle).unwrap_err()[0].contains("no conflict"));
    let other = Corrections {
        layout: "scooter".into(),
        ..theirs
    };
    assert!(import(&ours, &other, &all).unwrap_err()[0].contains("'scooter'"));
}

#[test]
fn a_corrected_sheet_is_sound_and_holds_the_value_with_its_source() {
    let sheet = layouts::written_out("tiny-trainer").unwrap();
    let to = of(&[
        (
            "circuit.oil.quantity",
            correction(json!("0.85 L"), Source::Manual, "page 12"),
        ),
        (
            "critical.rear-axle-nut.torque",
            correction(json!("47 N·m"), Source::Manual, "page 31"),
        ),
    ]);
    let machine = layouts::read(&corrected(&sheet, &to).unwrap()).unwrap();
    let oil = machine.circuits[machine.circuit("oil").unwrap().0]
        .quantity
        .clone()
        .unwrap();
    assert_eq!(
        (oil.value.as_str(), oil.source, oil.from.as_str()),
        ("0.85 L", Source::Manual, "page 12")
    );
    let nut = &machine.criticals[machine.critical("rear-axle-nut").unwrap().0];
    let torque = nut.fixing.torque.clone().unwrap();
    assert_eq!((torque.value.as_str(), torque.source), ("47 N·m", Source::Manual));
    // What the sheet has no place for, and what the strict reader refuses, are told, and nothing comes of it.
    let wrong = of(&[
        (
            "circuit.gravy.quantity",
            correction(json!("1 L"), Source::Manual, "x"),
        ),
        (
            "part.nothing.note",
            Correction {
                value: None,
                source: Source::Manual,
                from: "x".into(),
            },
        ),
    ]);
    assert_eq!(corrected(&sheet, &wrong).unwrap_err().0.len(), 2);
    let nonsense = of(&[(
        "circuit.oil.quantity",
        correction(json!("plenty"), Source::Manual, "x"),
    )]);
    assert!(
        corrected(&sheet, &nonsense)
            .unwrap_err()
            .to_string()
            .contains("plenty")
    );
}

fn value() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        any::<bool>().prop_map(Value::from),
        any::<i32>().prop_map(Value::from),
        ".{0,20}".prop_map(Value::from),
    ];
    leaf.prop_recursive(2, 8, 3, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..3).prop_map(Value::from),
            prop::collection::btree_map("[a-z ]{1,6}", inner, 0..3)
                .prop_map(|m| Value::Object(m.into_iter().collect())),
        ]
    })
}

fn corrections() -> impl Strategy<Value = Corrections> {
    let sources = prop::sample::select(vec![
        Source::Manual,
        Source::Measured,
        Source::Computed,
        Source::Typical,
    ]);
    let one = (prop::option::of(value()), sources, "[A-Za-z\"\\\\][ -~é·]{0,20}")
        .prop_map(|(value, source, from)| Correction { value, source, from });
    prop::collection::btree_map("[a-z]{1,4}(\\.[a-z0-9-]{1,4}){0,2}", one, 0..6).prop_map(|at| Corrections {
        layout: "tiny-trainer".into(),
        at,
    })
}

proptest! {
    /// Whatever is written is read back the same, and differs from itself nowhere.
    #[test]
    fn what_is_written_is_read_back(corrections in corrections()) {
        let text = write(&corrections);
        let back = read(&text);
        prop_assert_eq!(back.as_ref(), Ok(&corrections), "{}", text);
        prop_assert!(diff(&corrections, &back.unwrap()).is_empty());
    }

    /// No text makes the reader fall over.
    #[test]
    fn any_text_is_read_or_refused(text in "(format|layout|at|\\[|\\]|\\.|=|\"|\n|[a-z]| ){0,40}") {
        let _ = read(&text);
    }

    /// One line changed is one path that differs.
    #[test]
    fn a_changed_value_is_one_path_and_few_lines(corrections in corrections(), n in 0..6_usize) {
        prop_assume!(!corrections.at.is_empty());
        let path = corrections.at.keys().nth(n % corrections.at.len()).unwrap().clone();
        let mut other = corrections.clone();
        other.at.get_mut(&path).unwrap().from.push('!');
        let differs = diff(&corrections, &other);
        prop_assert_eq!(differs.len(), 1);
        prop_assert_eq!(&differs[0].path, &path);
        let (a, b) = (write(&corrections), write(&other));
        let changed = a.lines().zip(b.lines()).filter(|(x, y)| x != y).count();
        prop_assert_eq!((changed, a.lines().count()), (1, b.lines().count()));
    }
}
