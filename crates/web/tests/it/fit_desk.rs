//! The fit desk: each question by the inputs of a published or hand-reckoned example, and what is wrong told at once.

use crate::garage::Garage;
use axum::http::StatusCode;

/// Asks a question; the answer's page.
async fn asked(garage: &Garage, question: &str) -> String {
    let (name, query) = question.split_once('?').unwrap();
    let page = garage.get(&format!("/fit-desk/{name}?asked=1&{query}")).await;
    assert_eq!(page.status, StatusCode::OK, "{question}: {}", page.text);
    page.text
}

#[tokio::test]
async fn every_question_answers_its_example() {
    let garage = Garage::new();
    for (question, says) in [
        // VDI 2230:2001/2003, table A, fine threads: M10 x 1.25 of class 8.8 at 0.12 holds 31.6 kN.
        (
            "torque?thread=M10x1.25&class=8.8&coefficient=0.12",
            &["torque", "31.6 kN", "limited by"][..],
        ),
        // ISO 261 and ISO 965-1: M10 x 1.25 measures just under ten millimetres over its crests.
        ("thread?od=9.9&pitch=1.25", &["M10x1.25", "none of the table"]),
        // By hand: 12 - 8 - 1.25 = 2.75 mm of full thread; pi x 7.188 x 2.75 / 3 x 120 MPa = 2.484 kN.
        (
            "repair?thread=M8&class=8.8&friction=oiled&into=cast-aluminium&reach=12&threaded=24&stripped=8&drillable=30",
            &["2.5 kN", "Ways back"],
        ),
        // JIS B 1111: number 2 for M5.
        ("driver?thread=M5", &["No. 2"]),
        // JIS B 1012: a recess 2.3 mm across the wings takes number 2.
        ("driver?width=2.3", &["No. 2"]),
        // ISO 272 and JIS B 1180: 12 mm across the flats is an M8 with a small head.
        ("spanner?size=12", &["M8"]),
        // A seal maker's worked example: stretch 2.041 %, squeeze 17.97 %, fill 73.31 %.
        (
            "ring?id=24.99&section=3.53&groove=25.50&bore=31.24&width=4.57",
            &["serves", "2 %", "18 %", "73.3 %", "class=\"seal\""],
        ),
        // JIS B 2401: P10A is 9.8 x 2.4 mm.
        ("old-ring?id=9.9&thin=2.35", &["JIS P10A"]),
        // ISO 15: 6302 is 15 x 42 x 13 mm.
        ("part?kind=bearing&inside=15&outside=42", &["6302", "13"]),
        // ISO 606 pitch: 20 of 15.875 mm are 317.5 mm; 323 is 1.73 % more.
        (
            "chain?size=520&pitches=20&length=323",
            &["nearing", "1.73 %", "317.5 mm"],
        ),
        // 45/15 over 45/16 is 16/15.
        (
            "gearing?sprockets=16%2F45&instead-of=15%2F45&links=110",
            &["6.67 % faster"],
        ),
        // UN R39: at 50 km/h true a motorcycle may show at most 50 x 1.1 + 8 by production.
        ("speedo?pair=50:54&category=L3", &["8 %", "within"]),
        // By hand: a counting odometer is driven through cable and drive.
        ("cable-drive?works=odometer&fails=needle", &["cable"]),
        // ETRTO: 180/55R17 is 629.8 mm; index 73 is 365 kg, W is 270 km/h.
        (
            "tyre?size=180%2F55ZR17M%2FC+73W&date=3603",
            &["629.8 mm", "365 kg", "270 km/h", "2003-W36"],
        ),
        // Below the stamped limit.
        (
            "wear?item=disc-thickness&measured=4.4&limit=4.5",
            &["fails", "maker"],
        ),
        // 49 CFR 571.116: DOT 4 boils at 230 °C dry, 155 °C wet.
        ("brake-fluid?fluid=DOT+4", &["230 °C", "155 °C", "NEVER"]),
        // By hand: 40 mL swept, 95 %: 38 mL at least, -40 ln 0.05 = 119.8 mL at most.
        ("brake-flush?reservoir=40&line=15&caliper=25", &["38 to 120 mL"]),
        (
            "brake-mix?one+fluid=DOT+5.1&other+fluid=DOT+4",
            &["DOT 4", "230 °C"],
        ),
        // CoolProp, AEG: 50 % by volume freezes at -37.1 °C.
        ("coolant?glycol=50", &["-37.1 °C"]),
        // By hand: 0.8 of 3.2 L stays, a quarter.
        (
            "oil?dry=3.2&refill=2.4&at-most=5",
            &["0.8 L", "25 %", "changes needed"],
        ),
        ("dispose?what=used-oil", &["Rules"]),
        // By hand: 12.30 V at 40 °F is 12.204 V at 80 °F, 25 + 25 x (12.204 - 12.06)/0.18 = 45 %.
        (
            "battery?volts=12.3&temp=40&temp-unit=%C2%B0F&type=flooded",
            &["45 %", "12.204 V"],
        ),
        ("charging?running=13.9&resting=12.6", &["13.9 V", "1.3 V"]),
        // By hand: 11.8 - 11.1.
        (
            "voltage-drop?circuit=starter-feed&source=11.8&at-load=11.1&load=on",
            &["0.7 V"],
        ),
        // By hand: 720 of 1035 is 69.6 %.
        (
            "compression?read=1035+720&wet=2:900",
            &["69.6 %", "oil in 2", "25 %"],
        ),
        (
            "float-height?height=22.0+22.6&wanted=22&tolerance=0.5",
            &["0.6 mm", "carburettor 2"],
        ),
        ("balance?vacuum=200+206", &["6 mmHg"]),
        // Seventeen ones: the weights add to 89 = 8 x 11 + 1.
        ("vin?frame+number=11111111111111111", &["2001"]),
        // Room 2.65 and 2.70 mm: each takes the other's.
        (
            "shims?sheet=wanted+intake+0.10mm+to+0.15mm%0Avalve+left+intake+clearance+0.05mm+shim+2.60mm%0Avalve+right+intake+clearance+0.20mm+shim+2.50mm",
            &["valve right", "clearance 0.05 becomes"],
        ),
    ] {
        let text = asked(&garage, question).await;
        for word in says {
            assert!(text.contains(word), "{question}: '{word}' in {text}");
        }
        assert!(
            text.contains("Formula") && text.contains("class=\"verdict\"") | question.starts_with("dispose"),
            "{question}"
        );
    }
}

#[tokio::test]
async fn every_question_of_the_list_has_a_page_that_can_be_asked() {
    let garage = Garage::new();
    let list = garage.get("/fit-desk").await;
    assert_eq!(list.status, StatusCode::OK);
    let names: Vec<&str> = list
        .text
        .split("href=\"/fit-desk/")
        .skip(1)
        .filter_map(|rest| rest.split_once('"').map(|(name, _)| name))
        .collect();
    assert_eq!(names.len(), 28, "{names:?}");
    for name in names {
        let page = garage.get(&format!("/fit-desk/{name}")).await;
        assert_eq!(page.status, StatusCode::OK, "{name}");
        assert!(page.text.contains("name=\"asked\""), "{name}");
        assert!(
            !page.text.contains("role=\"alert\""),
            "{name} complains before it was asked"
        );
    }
    assert_eq!(
        garage.get("/fit-desk/crystal-ball").await.status,
        StatusCode::NOT_FOUND
    );
}

#[tokio::test]
async fn all_that_is_wrong_is_told_and_the_form_is_kept() {
    let garage = Garage::new();
    let page = garage
        .get("/fit-desk/ring?asked=1&id=about+25&section=&width=4.57&bore=31.24&width-unit=in")
        .await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    for word in [
        "role=\"alert\"",
        "&#39;about 25mm&#39;",
        "Ring: section: it is missing",
        "groove",
        "value=\"about 25\"",
        "value=\"31.24\"",
        "value=\"in\" selected",
    ] {
        let word = word.replace("&#39;", "'");
        assert!(page.text.contains(&word), "{word} in {}", page.text);
    }
    assert!(!page.text.contains("class=\"verdict\""));
}

#[tokio::test]
async fn a_link_fills_in_without_asking_and_markup_typed_stays_text() {
    let garage = Garage::new();
    let page = garage.get("/fit-desk/ring?id=20&section=2.5").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("value=\"20\"") && !page.text.contains("role=\"alert\""));
    let hostile = garage
        .get("/fit-desk/torque?asked=1&thread=%3Cscript%3Ealert(1)%3C%2Fscript%3E&class=%22%3E")
        .await;
    assert_eq!(hostile.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(!hostile.text.contains("<script>alert"));
    let long = garage
        .get(&format!(
            "/fit-desk/shims?asked=1&sheet={}",
            "valve+a+".repeat(4000)
        ))
        .await;
    assert_eq!(long.status, StatusCode::UNPROCESSABLE_ENTITY);
}

/// On a critical fixing no figure is given to tighten by.
#[tokio::test]
async fn a_critical_fixing_gets_a_band_and_no_torque() {
    let garage = Garage::new();
    let text = asked(
        &garage,
        "torque?thread=M10x1.25&class=8.8&coefficient=0.12&critical=yes",
    )
    .await;
    assert!(text.contains("only the maker's figure counts") && text.contains("it should lie between"));
    assert!(!text.contains("wrench setting"));
}
