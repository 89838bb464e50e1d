//! Tables of comparables as people write them.

use crate::sample::{DAY, km};
use proptest::prelude::*;
use refettle_facts::money::Money;
use refettle_judgement::price::comparable::{Kind, Papers};
use refettle_judgement::price::read::{amount, read};

const HEAD: &str = "kind,date,year,distance_km,price,papers,note\n";

#[test]
fn quotes_decimal_commas_and_other_orders_are_read() {
    let text = "\u{feff}price,kind,date,year,distance_km,papers,note\r\n\"2.450,50\",Sold,2026-04-02,2008,\"29,000\",clean,\"tidy, one owner\"\r\n\r\n2450,asked,2026-04-02,2008,,,\r\n900,bid-not-met,2026-04-03,2008,1,none,\r\n";
    let table = read(text, DAY).unwrap();
    let [sold, asked, bid] = table.comparables.as_slice() else {
        panic!("{table:?}");
    };
    assert_eq!(
        (sold.kind, sold.price, sold.distance),
        (Kind::Sold, Money(245_050), km(29_000.0))
    );
    assert_eq!(
        (sold.line, sold.note.as_str(), sold.papers),
        (2, "tidy, one owner", Some(Papers::Clean))
    );
    assert_eq!(
        (asked.kind, asked.distance, asked.papers),
        (Kind::Asked, None, None)
    );
    assert_eq!(
        (bid.kind, bid.line, bid.papers),
        (Kind::BidNotMet, 5, Some(Papers::Missing))
    );
    let semicolons = read(
        "kind;date;year;distance_km;price;papers;note\nsold;2026-04-02;2008;29000;2450,5;;\n",
        DAY,
    )
    .unwrap();
    assert_eq!(semicolons.comparables[0].price, Money(245_050));
}

#[test]
fn everything_wrong_is_said_with_its_line() {
    let text = format!(
        "{HEAD}sell,2026-04-02,2008,1,2450,,\nsold,2026-13-02,1808,-5,0,,\nsold,2026-04-02,2008,10,2000,,\nsold,2027-01-01,2008,x,abc,,\nsold,2026-04-02,2008,1,1.250,,\nsold,2026-04-02,2008,1,2450,50,,\n"
    );
    let wrong = read(&text, DAY).unwrap_err();
    for (line, words) in [
        ("line 2:", "kind 'sell'"),
        ("line 3:", "date '2026-13-02'"),
        ("line 3:", "year '1808'"),
        ("line 3:", "distance_km '-5'"),
        ("line 3:", "price '0'"),
        ("line 5:", "after 2026-05-15"),
        ("line 5:", "distance_km 'x'"),
        ("line 5:", "price 'abc'"),
        ("line 6:", "'1.250' may be 1250"),
        ("line 7:", "8 cells"),
    ] {
        assert!(
            wrong.iter().any(|w| w.starts_with(line) && w.contains(words)),
            "{line} {words}: {wrong:#?}"
        );
    }
    assert!(!wrong.iter().any(|w| w.starts_with("line 4:")));
    let wrong = read("kind,price,prise\nsold,1,2\n", DAY).unwrap_err();
    assert!(
        wrong.iter().any(|w| w.contains("no column 'date'"))
            && wrong.iter().any(|w| w.contains("no column 'year'"))
    );
}

#[test]
fn what_is_only_odd_is_remarked() {
    let text = "kind,date,year,price,paperss,papers\nsold,2026-04-02,2008,2450,,lovely\nsold,2026-04-02,2008,2450,,\n";
    let table = read(text, DAY).unwrap();
    let said = table.remarks.join("\n");
    assert!(
        said.contains("'paperss' is not known") && said.contains("did you mean 'papers'"),
        "{said}"
    );
    assert!(
        said.contains("line 2: papers 'lovely'") && said.contains("lines 2 and 3 say the same"),
        "{said}"
    );
    assert_eq!(table.comparables.len(), 2);
    assert_eq!(read(HEAD, DAY).unwrap().comparables.len(), 0);
}

#[test]
fn amounts_are_read_as_people_type_them() {
    for (typed, cents) in [
        ("2450", 245_000),
        ("2450.5", 245_050),
        ("2450,50", 245_050),
        ("2 450", 245_000),
        ("2,450", 245_000),
        ("2,450.50", 245_050),
        ("2.450,50", 245_050),
        ("1.234.567", 123_456_700),
        ("1,234,567.8", 123_456_780),
        ("1'250", 125_000),
        ("0.999", 100),
        ("2345.6789", 234_568),
        ("0", 0),
    ] {
        assert_eq!(amount(typed), Ok(Money(cents)), "{typed}");
    }
    for typed in [
        "",
        "-",
        "1.250",
        "1,2,3",
        "1.2.3",
        "12a",
        "1e5",
        "inf",
        "NaN",
        "-5",
        "1..2",
        "99999999999999",
    ] {
        assert!(amount(typed).is_err(), "{typed}");
    }
}

proptest! {
    #[test]
    fn no_table_panics(text in ".{0,200}", rows in prop::collection::vec("[a-z0-9,.;\" -]{0,60}", 0..6)) {
        let _ = read(&text, DAY);
        let _ = read(&format!("{HEAD}{}", rows.join("\n")), DAY);
    }

    #[test]
    fn plain_amounts_are_read_to_the_cent(cents in 0i64..1_000_000_000) {
        let typed = format!("{}.{:02}", cents / 100, cents % 100);
        prop_assert_eq!(amount(&typed), Ok(Money(cents)));
        prop_assert_eq!(amount(&typed.replace('.', ",")), Ok(Money(cents)));
    }
}
