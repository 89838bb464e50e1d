use proptest::prelude::*;
use refettle_facts::engine::shim_sheet::{OnSale, SheetMistake, parse};
use refettle_facts::small_part::Micrometres;

fn said(text: &str) -> Vec<String> {
    parse(text)
        .unwrap_err()
        .iter()
        .map(SheetMistake::to_string)
        .collect()
}

/// The example of the module's own page.
const WHOLE: &str = "\
# four valves, measured cold
wanted intake  0.11mm to 0.20mm            # limits of the manual
wanted exhaust 0.16mm to 0.25mm aim 0.20mm # aim: where to come out, the middle when not said
valve 1-intake-left   intake  clearance 0.08mm shim 2.70mm
valve 1-intake-right  intake  clearance 0.15mm shim 2.65mm
valve 1-exhaust-left  exhaust clearance 0.28mm shim 2.55mm
valve 1-exhaust-right exhaust clearance 0.14mm shim 2.60mm
drawer 2.60mm                              # one shim lying there
drawer 2.65mm x2                           # two of them
buy 2.50mm to 3.30mm step 0.05mm           # what a shop has; several lines add up
";

#[test]
fn a_whole_sheet_is_read() {
    let sheet = parse(WHOLE).unwrap();
    assert_eq!(sheet.valves.len(), 4);
    assert_eq!(sheet.valves[2].name, "1-exhaust-left");
    assert_eq!(sheet.valves[2].wanted.aim(), Micrometres(200));
    assert_eq!(sheet.valves[0].wanted.aim(), Micrometres(155));
    assert_eq!(sheet.drawer, [2600, 2650, 2650].map(Micrometres));
    let OnSale::Sizes(sizes) = sheet.on_sale else {
        panic!("a buy line names sizes");
    };
    assert_eq!(sizes.len(), 17, "2.50 to 3.30 by 0.05");
    // Statements in any order; inches; no buy line.
    let turned = parse("valve a x clearance 0.005in shim 0.1in\nwanted x 0.004in to 0.006in").unwrap();
    assert_eq!(
        (turned.valves[0].shim, turned.on_sale),
        (Micrometres(2540), OnSale::Any)
    );
}

#[test]
fn every_mistake_is_told_with_its_line() {
    let text = "wanted intake 0.20mm to 0.11mm\n\
                valv a intake clearance 0.1mm shim 2.5mm\n\
                valve b intake clearance 0.1 shim 2.5mm\n\
                valve c intake clearance 0.1mm shim 25mm\n\
                valve c intake clearance 0.1mm shim 2.5mm\n\
                valve d exhaust clearance 0.1mm shim 2.5mm\n\
                drawer 2.5mm 3\n\
                drawer\n\
                buy 3.0mm to 2.5mm step 0.05mm\n\
                wanted intake 0.11mm to 0.20mm\n";
    let told = said(text);
    let expected = [
        (1, "from 0.2 to 0.11 mm"),
        (2, "did you mean 'valve'"),
        (3, "no unit"),
        (4, "25 mm is over 8 mm"),
        (5, "'c' stands on the sheet twice"),
        (6, "no wanted clearance for 'exhaust'"),
        (7, "'3' is no count"),
        (8, "a drawer line reads"),
        (9, "from the thinner to the thicker"),
        (10, "'intake' stands on the sheet twice"),
    ];
    assert_eq!(told.len(), expected.len(), "{told:#?}");
    for ((line, part), told) in expected.iter().zip(&told) {
        assert!(
            told.starts_with(&format!("line {line}: ")) && told.contains(part),
            "{told}"
        );
    }
}

#[test]
fn empty_and_endless_sheets_are_refused() {
    assert!(said("")[0].contains("no valve line"));
    assert!(said("# only a remark\n")[0].contains("valve NAME KIND"));
    assert!(said(&"#\n".repeat(150_000))[0].contains("200000"));
    assert!(said("buy 2mm to 8mm step 0.001mm")[0].contains("at most 500"));
    assert!(said("buy 2mm to 3mm step 0mm")[0].contains("steps over zero"));
    assert!(said("drawer 2.5mm x501")[0].contains("x500"));
    let drawer = "drawer 2.5mm x400\ndrawer 2.5mm x400";
    assert!(said(drawer)[0].contains("more than 500 shims"));
    let many: String = (0..65)
        .map(|v| format!("valve {v} in clearance 0.1mm shim 2.5mm\n"))
        .chain(["wanted in 0.1mm to 0.2mm".to_owned()])
        .collect();
    assert!(said(&many)[0].contains("more than 64 valves"));
    assert!(
        said("wanted intake 0.1mm to 0.2mm\nvalve a intaek clearance 0.1mm shim 2mm")[0]
            .contains("did you mean 'intake'")
    );
}

proptest! {
    #[test]
    fn no_text_panics(text in "(?s).{0,200}", coded in "((wanted|valve|drawer|buy|to|step|aim|clearance|shim|x2|[a-c]|[0-9.]{1,4}(mm)?|\n) ){0,40}") {
        for t in [text, coded] {
            if let Err(mistakes) = parse(&t) {
                prop_assert!(!mistakes.is_empty());
            }
        }
    }
}
