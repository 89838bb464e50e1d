use crate::published::rows;
use refettle_facts::running_gear::wear_limits::{Fails, item_named, items, rules_for};

macro_rules! shipped {
    ($($path:literal),* $(,)?) => {
        [$(($path, include_str!(concat!("../../data/", $path)))),*]
    };
}

const SHIPPED: [(&str, &str); 17] = shipped![
    "electrics/battery_charge.tsv",
    "electrics/battery_correction.tsv",
    "electrics/charging_window.tsv",
    "electrics/voltage_drop.tsv",
    "engine/compression_rules.tsv",
    "engine/spread_limits.tsv",
    "identity/check_digit.tsv",
    "identity/model_year.tsv",
    "identity/region.tsv",
    "running_gear/chain_sizes.tsv",
    "running_gear/chain_wear_rules.tsv",
    "running_gear/speedometer_bands.tsv",
    "running_gear/tyre_load_index.tsv",
    "running_gear/tyre_min_tread.tsv",
    "running_gear/tyre_speed_symbol.tsv",
    "running_gear/tyre_width_letter.tsv",
    "running_gear/wear_limits.tsv",
];

/// A row without a source, or cut short, would lend its number an authority it has not.
#[test]
fn every_row_is_whole_and_names_source_and_status() {
    for (path, table) in SHIPPED {
        let columns = table.lines().next().unwrap().split('\t').count();
        for line in table.lines() {
            assert_eq!(line.split('\t').count(), columns, "{path}: {line}");
        }
        for row in rows(table) {
            assert!(!row["source"].trim().is_empty(), "{path}: {row:?}");
            let status = row.iter().find(|(name, _)| name.ends_with("status")).unwrap().1;
            let known = ["verified", "secondary", "computed", "from memory"];
            assert!(known.iter().any(|k| status.starts_with(k)), "{path}: {row:?}");
        }
    }
}

/// Every rule of the two tables is reached through an item, and every limit that is a number is read as one.
#[test]
fn no_wear_rule_is_lost() {
    let mut printed = 0;
    let mut numbers = 0;
    for (_, table) in SHIPPED
        .iter()
        .filter(|(path, _)| path.ends_with("wear_limits.tsv") || path.ends_with("tread.tsv"))
    {
        for row in rows(table) {
            assert!(item_named(row["item"]).is_ok(), "{row:?}");
            printed += 1;
            numbers += usize::from(!row["limit"].is_empty());
        }
    }
    let reached: Vec<_> = items().iter().flat_map(|item| rules_for(*item)).collect();
    assert_eq!(reached.len(), printed);
    assert_eq!(
        reached.iter().filter(|r| r.fails != Fails::ByLook).count(),
        numbers
    );
}
