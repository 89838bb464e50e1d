//! The text of an advertisement: only what is recorded, faults with the rest, in words that promise nothing.

use crate::history::History;
use crate::road::RoadView;
use crate::shortcuts::ShortcutLine;

/// Most lines of work told; a longer list is in the history folder. Judgement, no source.
const MOST_WORK: usize = 12;

/// The text, ready to be copied. What is not recorded is not in it.
#[must_use]
pub fn advert(history: &History, road: &RoadView, shortcuts: &[ShortcutLine], price: Option<&str>) -> String {
    let mut lines = vec![head(history)];
    if let Some(price) = price {
        lines.push(format!("Price asked: {price}."));
    }
    for paper in &history.papers {
        let good = if paper.good { "yes" } else { "no" };
        lines.push(format!(
            "{}: {good} (looked at {}).",
            capital(paper.paper),
            paper.when
        ));
    }
    lines.push(if road.passes {
        format!(
            "It passed the seller's road check, with numbers; they are in the history folder. {}",
            road.judge
        )
    } else {
        "It has NOT passed the seller's road check: not to be ridden away, it leaves on a trailer.".to_owned()
    });
    section(&mut lines, "Done here", &done(history));
    section(&mut lines, "New", &new(history));
    section(&mut lines, "Known faults", &faults(history, road));
    section(&mut lines, "Done another way than it should be", &told(shortcuts));
    lines.push("A history folder with photos, readings and what was not looked at goes with it.".to_owned());
    lines.join("\n")
}

fn head(history: &History) -> String {
    let mut head = capital(&history.kind);
    if let Some(year) = history.year {
        head.push_str(&format!(", {year}"));
    }
    if let Some(distance) = &history.distance {
        head.push_str(&format!(", {distance}"));
    }
    head + "."
}

fn section(lines: &mut Vec<String>, title: &str, items: &[String]) {
    if items.is_empty() {
        return;
    }
    lines.push(format!("\n{title}:"));
    lines.extend(items.iter().map(|item| format!("- {item}")));
}

/// Newest first: what was done last is what the bike is like.
fn done(history: &History) -> Vec<String> {
    let all: Vec<&String> = history
        .work
        .iter()
        .rev()
        .flat_map(|day| day.did.iter().rev())
        .collect();
    let mut seen: Vec<String> = Vec::new();
    for item in all {
        if !seen.contains(item) {
            seen.push(item.clone());
        }
    }
    let more = seen.len().saturating_sub(MOST_WORK);
    seen.truncate(MOST_WORK);
    if more > 0 {
        seen.push(format!("and {more} more, in the history folder"));
    }
    seen
}

fn new(history: &History) -> Vec<String> {
    let mut used: Vec<String> = history.work.iter().flat_map(|day| day.used.clone()).collect();
    used.sort();
    used.dedup();
    used
}

fn faults(history: &History, road: &RoadView) -> Vec<String> {
    let findings = history
        .findings
        .iter()
        .filter(|finding| finding.open)
        .map(|finding| format!("{}: {}", finding.place, finding.what));
    let failing = road
        .open
        .iter()
        .filter(|open| open.fails)
        .map(|open| format!("{}: {}", open.title, open.why));
    findings
        .chain(failing)
        .chain(history.fixings.iter().cloned())
        .collect()
}

fn told(shortcuts: &[ShortcutLine]) -> Vec<String> {
    shortcuts
        .iter()
        .filter(|shortcut| !shortcut.is_cleared())
        .map(|shortcut| {
            let kind = shortcut.kind.word().replace('-', " ");
            match &shortcut.note {
                Some(note) => format!("{}, {kind}: {note}", shortcut.about),
                None => format!("{}, {kind}", shortcut.about),
            }
        })
        .collect()
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
