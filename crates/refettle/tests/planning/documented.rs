//! `docs/formats.md` has one row for each key of the schemas, made of what the schemas say, and no other row.

use crate::schemas::{ALL, text};
use serde_json::Value;
use std::fmt::Write;

/// The schema a `$ref` leads to, or the schema itself.
fn followed<'s>(whole: &'s Value, schema: &'s Value) -> &'s Value {
    match schema["$ref"].as_str() {
        Some(path) => whole.pointer(path.trim_start_matches('#')).unwrap(),
        None => schema,
    }
}

/// What may stand there, in few words.
fn kind(whole: &Value, schema: &Value) -> String {
    let schema = followed(whole, schema);
    if let Some(word) = schema["const"].as_str() {
        return format!("`{word}`");
    }
    if schema["const"] == true {
        return "`true`".to_owned();
    }
    if let Some(words) = schema["enum"].as_array() {
        let words: Vec<String> = words
            .iter()
            .map(|w| match w.as_str().unwrap() {
                "" => "empty".to_owned(),
                word => format!("`{word}`"),
            })
            .collect();
        return words.join(", ");
    }
    if let Some(any) = schema["anyOf"].as_array() {
        let kinds: Vec<String> = any.iter().map(|s| kind(whole, s)).collect();
        return kinds.join(" or ");
    }
    if let Some(any) = schema["type"].as_array() {
        let kinds: Vec<String> = any
            .iter()
            .map(|t| named(t.as_str().unwrap()).to_owned())
            .collect();
        return kinds.join(" or ");
    }
    let kind = named(schema["type"].as_str().unwrap());
    match schema["minimum"].as_u64() {
        Some(least) if kind == "whole number" && least > 0 => format!("{kind} from {least}"),
        _ => kind.to_owned(),
    }
}

fn named(kind: &str) -> &str {
    match kind {
        "integer" => "whole number",
        "string" => "text",
        "boolean" => "`true` or `false`",
        "array" => "list",
        "null" => "`null`",
        other => other,
    }
}

/// The rows of an object's keys, and of the keys within.
fn rows(whole: &Value, schema: &Value, prefix: &str, out: &mut String) {
    let schema = followed(whole, schema);
    let required = schema["required"].as_array();
    for (key, each) in schema["properties"].as_object().into_iter().flatten() {
        let path = format!("{prefix}{key}");
        let wanted = required.is_some_and(|r| r.contains(&Value::from(key.as_str())));
        row(whole, each, &path, wanted, out);
    }
}

fn row(whole: &Value, schema: &Value, path: &str, wanted: bool, out: &mut String) {
    let meaning = schema["description"].as_str().unwrap();
    let left_out = if wanted { "" } else { ", or left out" };
    writeln!(
        out,
        "| `{path}` | {}{left_out} | {meaning} |",
        kind(whole, schema)
    )
    .unwrap();
    let schema = followed(whole, schema);
    if schema["items"].is_object() {
        rows(whole, &schema["items"], &format!("{path}[]."), out);
    }
    if schema["additionalProperties"].is_object() {
        row(
            whole,
            &schema["additionalProperties"],
            &format!("{path}.*"),
            true,
            out,
        );
    }
    if schema["properties"].is_object() {
        rows(whole, schema, &format!("{path}."), out);
    }
}

#[test]
fn the_page_has_the_keys_of_the_schemas_and_no_others() {
    let page =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/formats.md")).unwrap();
    let mut documented = 0;
    for name in ALL {
        let schema = text(name);
        let mut table = String::from("| key | holds | meaning |\n|---|---|---|\n");
        rows(&schema, &schema, "", &mut table);
        let link = format!("[schema](schema/{name}.schema.json)");
        let section = page
            .split("\n## ")
            .find(|s| s.contains(&link))
            .unwrap_or_else(|| panic!("no section links {link}"));
        let shown: String = section
            .lines()
            .filter(|l| l.starts_with('|'))
            .flat_map(|l| [l, "\n"])
            .collect();
        assert_eq!(shown, table, "the table of {name} is to be:\n{table}");
        documented += table.lines().count() - 2;
    }
    // The fit desk's table is by command, not by key, and has no schema.
    let sections = page.split("\n## ").filter(|s| s.contains("[schema](schema/"));
    let rows = sections
        .flat_map(str::lines)
        .filter(|l| l.starts_with("| `"))
        .count();
    assert_eq!(rows, documented, "rows of no schema");
}

#[test]
fn every_key_says_what_it_means() {
    fn look(schema: &Value, path: &str) {
        for (key, each) in schema["properties"].as_object().into_iter().flatten() {
            let path = format!("{path}/{key}");
            let meaning = each["description"].as_str().unwrap_or_default();
            assert!(meaning.len() > 8, "{path}");
            let timed = key.ends_with("_s") || key == "seconds";
            assert!(!timed || spans(each, meaning), "{path}: no unit");
            look(each, &path);
            look(&each["items"], &path);
        }
    }
    fn spans(schema: &Value, meaning: &str) -> bool {
        meaning.contains("whole seconds")
            || schema["additionalProperties"]
                .to_string()
                .contains("whole seconds")
    }
    for name in ALL {
        look(&text(name), name);
    }
}

#[test]
fn the_schemas_are_strict() {
    fn look(schema: &Value, path: &str) {
        if let Some(map) = schema.as_object() {
            if map.contains_key("properties") && map.get("type") == Some(&Value::from("object")) {
                assert_eq!(map["additionalProperties"], false, "{path}");
                assert!(map.contains_key("required"), "{path}");
            }
            for (key, each) in map {
                look(each, &format!("{path}/{key}"));
            }
        }
    }
    for name in ALL {
        look(&text(name), name);
    }
}

#[test]
fn the_state_shown_on_the_page_is_one() {
    let page =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/formats.md")).unwrap();
    let shown = page.lines().find(|l| l.starts_with("`{\"format\"")).unwrap();
    let state = serde_json::from_str(shown.trim_matches('`')).unwrap();
    crate::schemas::hold(&crate::schemas::judge("state"), &state, "the page's example");
    let folder = crate::run::Folder::new();
    let path = folder.arg("state.json", state.to_string());
    let run = crate::run::run(&["plan", "--layout", "small-faired-twin", "--state", &path]);
    assert_eq!(run.status, 0, "{}", run.err);
}
