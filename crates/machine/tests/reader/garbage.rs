//! Whatever text comes in: a sound machine or mistakes, never a panic, never a hang.

use super::{SMALL, refused};
use proptest::prelude::{ProptestConfig, any, prop, proptest};
use refettle_machine::layouts;
use refettle_machine::model::{Machine, PartNeed, REGIONS};
use refettle_machine::sheet::{self, LARGEST, SHOWN};

/// Nothing on a loaded machine points outside it, and it can stand, and all of it can come off.
fn loaded_whole(m: &Machine) {
    assert!(m.stances.iter().any(|s| s.rest));
    let parts = m.parts.len();
    let facts = m.facts.len();
    let circuits = m.circuits.len();
    let fit = |needs: &[PartNeed]| needs.iter().all(|n| n.part.0 < parts);
    for part in &m.parts {
        assert!(!part.ways.is_empty() && REGIONS.contains(&part.region.as_str()));
        assert!(part.mounted_on.is_none_or(|p| p.0 < parts));
        assert!(part.voids.iter().all(|f| f.0 < facts) && part.opens.iter().all(|c| c.0 < circuits));
        assert!(
            part.ways
                .iter()
                .all(|w| fit(&w.off) && w.stances.iter().all(|s| s.0 < m.stances.len()))
        );
    }
    for critical in &m.criticals {
        assert!(critical.part.0 < parts && fit(&critical.loosen.on) && fit(&critical.tighten.off));
    }
    for step in &m.steps {
        assert!(fit(&step.on) && fit(&step.off) && step.makes.iter().all(|f| f.0 < facts));
        assert!(step.consumes.iter().all(|u| u.item.0 < m.items.len() && u.n >= 1));
    }
    for (place, _) in m.facts.iter().enumerate() {
        assert!(m.steps.iter().any(|s| s.makes.iter().any(|f| f.0 == place)));
    }
    assert!(
        m.jobs
            .iter()
            .all(|j| !j.wants.is_empty() && j.wants.iter().all(|f| f.0 < facts))
    );
}

/// A sound machine or mistakes that can be shown.
fn judged(text: &str) {
    let read = sheet::read(text);
    if let Ok(machine) = &read {
        loaded_whole(machine);
    }
    if let Err(mistakes) = read {
        assert!(!mistakes.shown.is_empty());
        assert!(mistakes.shown.len() <= SHOWN);
        let lines = text.matches('\n').count() + 1;
        for mistake in &mistakes.shown {
            assert!((1..=lines).contains(&mistake.line), "{mistake:?}");
            assert!(mistake.column >= 1 && mistake.marked >= 1);
            assert!(mistake.excerpt.chars().count() <= 80);
            assert!(!mistake.message.is_empty());
        }
        let shown = mistakes.to_string();
        assert!(!shown.chars().any(|c| c.is_control() && c != '\n'), "{shown:?}");
    }
}

#[test]
fn ten_megabytes_of_garbage_are_refused_by_their_size() {
    let mistakes = refused(&"=\u{0}[ü".repeat(2_000_000));
    assert_eq!(mistakes.count(), 1);
    let said = mistakes.to_string();
    assert!(
        said.contains("10000000 bytes") && said.contains("at most 1000000 bytes"),
        "{said}"
    );
}

#[test]
fn garbage_just_small_enough_ends_with_few_mistakes_shown_and_the_rest_counted() {
    for pattern in [
        "=\n",
        "a=\n",
        "[[[[",
        "x",
        "a.",
        "{",
        "\"",
        "'''",
        "[a]\n",
        "[[a]]\n",
        "\r",
        "#\u{7f}\n",
    ] {
        // The slowest and the fastest at full length; a tenth shows the same of the others.
        let length = if ["=\n", "x", "[[[["].contains(&pattern) {
            LARGEST
        } else {
            LARGEST / 10
        };
        let text = pattern.repeat(length / pattern.len());
        let mistakes = refused(&text);
        assert!(mistakes.shown.len() <= SHOWN, "{pattern:?}");
        assert!(mistakes.to_string().len() < 60_000, "{pattern:?}");
    }
}

#[test]
fn deep_nesting_is_refused_before_anything_descends_into_it() {
    let deep = [
        format!("a = {}", "[".repeat(10_000)),
        format!("a = {}1{}", "[".repeat(10_000), "]".repeat(10_000)),
        format!("a = {}", "{ b = ".repeat(10_000)),
        format!("[{}z]", "a.".repeat(10_000)),
        format!("{}z = 1", "a.".repeat(10_000)),
        format!("a = {}", "{ b.b.b.b.b.b.b.b.b.b = ".repeat(70)),
        format!("a = {}", "[ } ".repeat(10_000)),
    ];
    for text in deep {
        let mistakes = refused(&text);
        assert!(mistakes.to_string().contains("too deep"), "{mistakes}");
    }
}

#[test]
fn very_many_parts_are_refused_and_many_names_that_miss_do_not_hang() {
    let many: String = (0..3_000).map(|n| format!("[part.p{n}]\n")).collect();
    assert!(refused(&many).to_string().contains("at most"));
    let names: String = (0..400)
        .map(|n| format!("[part.some-long-part-name-{n}]\noff = 1\n"))
        .collect();
    let wanted: String = (0..20_000)
        .map(|n| format!("\"some-long-part-nome-{n}\","))
        .collect();
    let mistakes = refused(&format!("{names}[step.s]\noff = [{wanted}]\n"));
    assert!(mistakes.more > 10_000);
}

#[test]
fn each_line_left_out_is_either_a_smaller_sound_sheet_or_a_mistake() {
    let lines: Vec<&str> = SMALL.lines().collect();
    for at in 0..lines.len() {
        let rest: Vec<&str> = lines
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != at)
            .map(|(_, l)| *l)
            .collect();
        judged(&rest.join("\n"));
    }
}

#[test]
fn a_sheet_cut_off_anywhere_is_refused_without_a_panic() {
    for (end, _) in SMALL.char_indices().filter(|(at, _)| at % 7 == 0) {
        judged(&SMALL[..end]);
    }
}

/// Pieces that are likely to meet a corner of the reader.
const PIECES: [&str; 24] = [
    "\"",
    "'",
    "[",
    "]",
    "{",
    "}",
    "=",
    ".",
    ",",
    "#",
    "\n",
    "\r",
    "\0",
    "é",
    "nan",
    "-inf",
    "-1",
    "1e400",
    "[[part.lid.way]]",
    "\"lid\"",
    "\"belly if hatch=no\"",
    "if = \"hatch=yes\"\n",
    "99999999999999999999",
    "true",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn random_bytes_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        judged(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn sheets_with_pieces_put_in_or_lines_taken_out_never_panic(
        cuts in prop::collection::vec((0usize..10_000, 0usize..PIECES.len(), 0usize..30), 1..6),
        tiny in any::<bool>(),
    ) {
        let mut text = if tiny { layouts::named("tiny-trainer").unwrap() } else { SMALL }.to_owned();
        for (at, piece, taken) in cuts {
            let at = text.char_indices().map(|(i, _)| i).nth(at % text.chars().count().max(1)).unwrap_or(0);
            let end = text[at..].char_indices().map(|(i, _)| at + i).nth(taken).unwrap_or(text.len());
            text.replace_range(at..end, PIECES[piece]);
        }
        judged(&text);
    }

    #[test]
    fn lines_in_another_order_are_never_half_loaded(seed in any::<u64>()) {
        let mut lines: Vec<&str> = SMALL.lines().collect();
        let mut state = seed | 1;
        for at in (1..lines.len()).rev() {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            lines.swap(at, (state >> 33) as usize % (at + 1));
        }
        judged(&lines.join("\n"));
    }
}
