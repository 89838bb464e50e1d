//! The state of a bike as JSON.

use super::small;
use proptest::prelude::{any, prop, prop_assert_eq, proptest};
use refettle_facts::time::Seconds;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx, QuestionIx, StanceIx};
use refettle_machine::model::{Heat, Level};
use refettle_machine::state::{BikeState, EngineHealth};
use refettle_machine::state_json::{self, Entered};

fn entered(json: &str) -> Entered {
    state_json::read(&small(), json).unwrap_or_else(|wrong| panic!("{wrong}"))
}

fn refused(json: &str) -> String {
    match state_json::read(&small(), json) {
        Ok(_) => panic!("taken, though it is wrong: {json}"),
        Err(mistakes) => {
            assert!(!mistakes.0.is_empty());
            mistakes.to_string()
        }
    }
}

#[test]
fn the_format_alone_is_a_whole_cold_running_bike() {
    let it = entered("{\"format\": \"refettle-state/1\"}");
    assert_eq!(it.state, BikeState::whole(&small()));
    assert!(it.doubts.is_empty());
}

#[test]
fn every_key_reaches_its_place() {
    let it = entered(
        r#"{"format":"refettle-state/1","machine":"small","stance":"side","off":["lid"],"loose":["axle"],
            "undone_before":["cover"],"facts":{"turned":true,"oil-fresh":false},"levels":{"oil":"low"},
            "heat":"warm","engine":"has-stood","awaiting":[{"part":"lid","seconds":86400}],
            "answers":{"hatch":"yes"}}"#,
    );
    let state = it.state;
    assert_eq!(state.stance, StanceIx(0));
    assert_eq!(state.off, [PartIx(0)].into());
    assert_eq!(state.loose, [CriticalIx(0)].into());
    // What is off was undone.
    assert_eq!(state.undone_before, [PartIx(0), PartIx(3)].into());
    // A loose critical fixing calls for a second look; the lid voids the fact that it lies outside.
    assert_eq!(
        state.facts,
        [
            (FactIx(0), false),
            (FactIx(2), false),
            (FactIx(3), true),
            (FactIx(4), false)
        ]
        .into()
    );
    assert_eq!(state.levels, [(CircuitIx(0), Level::Low)].into());
    assert_eq!((state.heat, state.engine), (Heat::Warm, EngineHealth::HasStood));
    assert_eq!(state.awaiting, [(PartIx(0), Seconds(86_400))].into());
    assert_eq!(state.answers, [(QuestionIx(0), 0)].into());
    assert_eq!(it.doubts, Vec::<String>::new());
}

#[test]
fn all_mistakes_come_together_with_the_nearest_names() {
    let said = refused(
        r#"{"format":"refettle-state/2","machine":"other","stance":"sid","off":["ldi",3],"loose":"axle",
            "facts":{"turnt":true,"turned":1},"levels":{"oil":"ful","water":"low"},"heat":"tepid",
            "engine":7,"awaiting":[{"part":"lid","seconds":-1},{"pard":"lid"},4],"answers":{"hatch":"yess"},
            "of":[]}"#,
    );
    for phrase in [
        "format: it is 'refettle-state/2'; expected \"refettle-state/1\"",
        "machine: this state is of 'other'",
        "stance: there is no stance 'sid'; expected one of side, lift; did you mean 'side'?",
        "off[0]: there is no part 'ldi'",
        "did you mean 'lid'?",
        "off[1]: it is a number",
        "loose: it is a text; expected a list",
        "facts.turnt: there is no fact 'turnt'",
        "did you mean 'turned'?",
        "facts.turned: it is a number; expected true or false",
        "levels.oil: it is 'ful'; expected one of full, low, drained; did you mean 'full'?",
        "levels.water: there is no circuit 'water'",
        "heat: it is 'tepid'",
        "engine: it is 7",
        "awaiting[0].seconds: it is -1",
        "awaiting[1]: there is no key 'pard'; expected one of part, seconds; did you mean 'part'?",
        "awaiting[2]: it is a number",
        "answers.hatch: it is 'yess'; expected one of yes, no; did you mean 'yes'?",
        "there is no key 'of'",
        "did you mean 'off'?",
    ] {
        assert!(said.contains(phrase), "'{phrase}' is not in:\n{said}");
    }
}

#[test]
fn what_is_no_json_object_is_refused() {
    for text in [
        "",
        "[]",
        "3",
        "{",
        "{\"format\":",
        "\u{0}",
        &"[".repeat(100_000),
        &"x".repeat(2_000_000),
    ] {
        assert!(
            refused(text).contains("expected"),
            "{}",
            &text[..text.len().min(20)]
        );
    }
    assert!(refused("{}").contains("format: it is missing"));
    let twice = r#"{"format":"refettle-state/1","facts":{"turned":true,"turned":false}}"#;
    assert!(refused(twice).contains("the key 'turned' stands twice at line 1"));
}

#[test]
fn what_rides_on_a_carrier_that_is_off_came_off_at_the_bench() {
    let text = super::mutated(
        "stances = [\"side\"]\nminutes = [1, 1]",
        "off = [\"cover\"]\nminutes = [1, 1]",
    );
    let machine = refettle_machine::sheet::read(&text).unwrap();
    let doubts = |json: &str| state_json::read(&machine, json).unwrap().doubts;
    let covered = doubts(r#"{"format":"refettle-state/1","off":["badge"]}"#);
    assert_eq!(
        covered,
        ["Badge is said to be off, but it cannot come off with this on the bike: Cover"]
    );
    assert_eq!(
        doubts(r#"{"format":"refettle-state/1","off":["lid","badge"]}"#),
        Vec::<String>::new()
    );
}

#[test]
fn an_impossible_state_is_asked_about_and_not_rejected() {
    let cases = [
        // Both ways to the cover are covered: by the belly panel, and by the lid.
        (
            r#""off":["cover"]"#,
            "it cannot come off with this on the bike: Belly panel; Lid",
        ),
        (
            r#""off":["wheel"]"#,
            "Wheel is said to be off, but 'Side stand' needs it on",
        ),
        (
            r#""stance":"lift""#,
            "Belly panel is said to be on, but 'Lifted' needs it off",
        ),
        (
            r#""stance":"lift","off":["belly","cover"]"#,
            "Cover is said to be off, but 'Lifted' needs it on",
        ),
        (
            r#""off":["belly","cover"],"levels":{"oil":"full"}"#,
            "Oil is said to be full",
        ),
        (
            r#""off":["belly","cover"],"facts":{"sump-dry":true}"#,
            "'Sump seen dry' is said to be true",
        ),
        (
            r#""off":["belly"],"answers":{"hatch":"yes"}"#,
            "as the questions are answered there is none",
        ),
        (r#""engine":"dead","heat":"hot""#, "dead, and warm"),
    ];
    for (part, says) in cases {
        let it = entered(&format!("{{\"format\":\"refettle-state/1\",{part}}}"));
        assert_eq!(it.doubts.len(), 1, "{part}: {:?}", it.doubts);
        assert!(it.doubts[0].contains(says), "{part}: {:?}", it.doubts);
    }
    // One way clear is enough, and an open circuit that nobody spoke of is drained.
    let it = entered(r#"{"format":"refettle-state/1","off":["lid","cover"]}"#);
    assert!(it.doubts.is_empty(), "{:?}", it.doubts);
    assert_eq!(it.state.level(CircuitIx(0)), Level::Drained);
    assert_eq!(it.state.facts.get(&FactIx(1)), Some(&false));
}

proptest! {
    #[test]
    fn what_is_written_is_read(
        off in prop::collection::btree_set(0usize..5, 0..5),
        loose in any::<bool>(),
        facts in prop::collection::btree_map(0usize..5, any::<bool>(), 0..5),
        level in 0usize..4,
        heat in 0usize..4,
        engine in 0usize..3,
        wait in 0u32..1_000_000,
        answer in 0usize..3,
    ) {
        let machine = small();
        let mut state = BikeState::whole(&machine);
        state.off = off.into_iter().map(PartIx).collect();
        if loose {
            state.loose.insert(CriticalIx(0));
        }
        state.facts = facts.into_iter().map(|(f, is)| (FactIx(f), is)).collect();
        if let Some(level) = [Level::Full, Level::Low, Level::Drained].get(level) {
            state.levels.insert(CircuitIx(0), *level);
        }
        state.heat = [Heat::Cold, Heat::Cool, Heat::Warm, Heat::Hot][heat];
        state.engine = [EngineHealth::Runs, EngineHealth::HasStood, EngineHealth::Dead][engine];
        state.awaiting.insert(PartIx(1), Seconds(wait));
        if answer < 2 {
            state.answers.insert(QuestionIx(0), answer);
        }
        // Reading adds what certainly follows, so the expected state has it too.
        let json = state_json::write(&machine, &state);
        refettle_machine::doubts::complete(&machine, &mut state);
        let read = state_json::read(&machine, &json).unwrap();
        prop_assert_eq!(&read.state, &state);
        let again = state_json::read(&machine, &state_json::write(&machine, &read.state)).unwrap();
        prop_assert_eq!(again.state, state);
    }

    #[test]
    fn no_text_panics(text in ".{0,200}", key in "[a-z_]{1,10}") {
        let _ = state_json::read(&small(), &text);
        let _ = state_json::read(&small(), &format!("{{\"format\":\"refettle-state/1\",\"{key}\":{text}}}"));
    }
}
