//! The running order as a picture: numbered groups down the page, three thin tracks beside them, brackets at the edge.
//!
//! Left to right: number, what to do, how the bike is held, how warm the engine is, what is open; then brackets that
//! tie where a part comes off to where it goes on. A wait is a clock, and a dashed rail along what fills it. Done lines
//! fade and carry a tick, the one that is up carries a filled number and a bar. All of it is shape as well as colour.

use super::pictogram::{clock_face, stance_at};
use super::wrap::wrap;
use maud::{Markup, html};
use refettle_facts::time::Seconds;
use refettle_judgement::range::believable;
use refettle_machine::model::Heat;
use refettle_usecases::running_order::{Beside, Line, RunningOrder, Tie, When};

/// The picture's width, in its own units: one to a pixel on a small phone.
const WIDTH: f64 = 390.0;
const TEXT_X: f64 = 40.0;
/// Characters to a line: 212 units at 8 units a character of 15-unit type, the widest common system face.
const CHARACTERS: usize = 26;
const LINE: f64 = 19.0;
const SMALL: f64 = 16.0;
const STANCE_X: f64 = 270.0;
const HEAT_X: f64 = 299.0;
const OPEN_X: f64 = 317.0;
const BRACKET_X: f64 = 329.0;
/// Room for the column heads and the first stance.
const HEAD: f64 = 104.0;

/// One line, placed.
struct Placed<'a> {
    line: &'a Line,
    top: f64,
    bottom: f64,
    /// Baseline of its first text, where number and bracket meet it.
    at: f64,
    heading: Option<&'static str>,
    text: Vec<String>,
    /// Time of the group, said at its first line.
    time: Option<String>,
    /// What changed beside it.
    remarks: Vec<String>,
    /// What stood in the plan here and does no more.
    struck: Vec<String>,
    first: bool,
}

/// Draws a running order.
pub(crate) fn picture(order: &RunningOrder) -> Markup {
    let placed = place(order);
    let height = placed.last().map_or(HEAD, |p| p.bottom) + 24.0;
    html! {
        svg.order viewBox={ "0 0 " (WIDTH) " " (height) } role="img" aria-labelledby="order-title" {
            title #order-title { "Running order with how the bike is held, how warm the engine is and what is open; the same is below in words" }
            defs {
                pattern #open-hatch width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                    path d="M0 0V4" stroke="currentColor" stroke-width="2" {}
                }
            }
            (heads())
            (stance_track(order, &placed, height))
            (heat_track(order, &placed))
            (open_track(order, &placed))
            (brackets(&order.ties, &placed, height))
            @for p in &placed { (drawn(p)) }
            (rails(&placed))
        }
    }
}

fn place(order: &RunningOrder) -> Vec<Placed<'_>> {
    let mut placed: Vec<Placed<'_>> = Vec::new();
    let mut y = HEAD;
    let mut before = (&order.before, 0);
    for (at, line) in order.lines.iter().enumerate() {
        let first = line.group != before.1;
        let heading = if first { heading_of(line.kind) } else { None };
        let what = match heading_of(line.kind) {
            Some(_) => line
                .title
                .split_once(": ")
                .map_or(line.title.as_str(), |(_, what)| what),
            None => &line.title,
        };
        let text = wrap(what, CHARACTERS);
        let time = first.then(|| group_time(&order.lines, at)).flatten();
        let mut remarks = remarks(before.0, &line.beside);
        if line.put_off {
            remarks.push("put off".to_owned());
        }
        if line.shortcut {
            remarks.push("done another way".to_owned());
        }
        if line.new {
            remarks.push("new since the plan was made".to_owned());
        }
        let struck = match order.lines.iter().position(|l| l.when != When::Done) {
            Some(first_left) if first_left == at => struck_lines(&order.dropped),
            _ => Vec::new(),
        };
        y += to_f64(struck.len()) * SMALL + if struck.is_empty() { 0.0 } else { 10.0 };
        let top = y + if first { 12.0 } else { 1.0 };
        let small = remarks
            .iter()
            .map(|r| wrap(r, CHARACTERS + 4).len())
            .sum::<usize>()
            + usize::from(time.is_some() && heading.is_none());
        let rows = to_f64(text.len()) + if heading.is_some() { 1.0 } else { 0.0 };
        let wait = if line.wait > Seconds::ZERO { 26.0 } else { 0.0 };
        let bottom = top + rows * LINE + to_f64(small) * SMALL + wait;
        placed.push(Placed {
            line,
            top,
            bottom,
            at: top + 14.0,
            heading,
            text,
            time,
            remarks,
            struck,
            first,
        });
        y = bottom;
        before = (&line.beside, line.group);
    }
    placed
}

#[allow(clippy::cast_precision_loss, reason = "a few hundred lines at most")]
fn to_f64(n: usize) -> f64 {
    n as f64
}

fn heading_of(kind: &str) -> Option<&'static str> {
    match kind {
        "take-off" => Some("Take off"),
        "put-on" => Some("Refit"),
        "loosen" => Some("Slacken"),
        "tighten" => Some("Tighten"),
        "stand" => Some("Stand the bike"),
        "await" => Some("Wait for"),
        _ => None,
    }
}

/// Believable time of a group, when its work is still to do.
fn group_time(lines: &[Line], first: usize) -> Option<String> {
    let group = lines.get(first)?.group;
    let times: Vec<Seconds> = lines
        .iter()
        .filter(|l| l.group == group)
        .filter_map(|l| l.time)
        .collect();
    (!times.is_empty()).then(|| believable(times.into_iter().sum()).to_string())
}

/// What changes beside a line, in words: the tracks show the same.
fn remarks(before: &Beside, after: &Beside) -> Vec<String> {
    let mut out = Vec::new();
    if before.heat != after.heat {
        out.push(format!(
            "engine now {}",
            refettle_usecases::words::heat_word(after.heat)
        ));
    }
    for circuit in after.open.iter().filter(|c| !before.open.contains(c)) {
        out.push(format!("{circuit}: open"));
    }
    for circuit in before.open.iter().filter(|c| !after.open.contains(c)) {
        out.push(format!("{circuit}: full again"));
    }
    out
}

fn heads() -> Markup {
    let head = |x: f64, text: &str| {
        html! { text.head x=(x) y="70" transform={ "rotate(-90 " (x) " 70)" } { (text) } }
    };
    html! {
        (key())
        (head(STANCE_X + 4.0, "held"))
        (head(HEAT_X + 4.0, "warmth"))
        (head(OPEN_X + 4.0, "open"))
        (head(BRACKET_X + 22.0, "off to on"))
    }
}

/// What the signs mean, in the free corner.
fn key() -> Markup {
    html! {
        g.key {
            text.small x="8" y="18" { "how to read the edge" }
            path.heat.cold d="M10 30h26" {}
            text.small x="44" y="34" { "cold" }
            path.heat.cool d="M84 30h26" {}
            text.small x="118" y="34" { "cool" }
            path.heat.warm d="M10 48h26" {}
            text.small x="44" y="52" { "warm" }
            path.heat.hot d="M84 48h26" {}
            text.small x="118" y="52" { "hot" }
            rect.open x="10" y="60" width="26" height="8" fill="url(#open-hatch)" {}
            text.small x="44" y="69" { "drained or open" }
            g.brackets { path d="M10 77h26v9h-26" {} path.arrow d="M13 83.5 10 86l3 2.5" {} }
            text.small x="44" y="87" { "comes off, goes back on" }
        }
    }
}

fn class(when: When) -> &'static str {
    match when {
        When::Done => "line done",
        When::Now => "line up",
        When::Later => "line",
    }
}

fn drawn(p: &Placed<'_>) -> Markup {
    let mut y = p.at;
    let mut rows: Vec<(&'static str, f64, String)> = Vec::new();
    y += if p.heading.is_some() { LINE } else { 0.0 };
    for text in &p.text {
        rows.push(("what", y, text.clone()));
        y += LINE;
    }
    y -= LINE - SMALL;
    if let (Some(time), None) = (&p.time, p.heading) {
        rows.push(("small", y, time.clone()));
        y += SMALL;
    }
    for text in p.remarks.iter().flat_map(|r| wrap(r, CHARACTERS + 4)) {
        rows.push(("small remark", y, text));
        y += SMALL;
    }
    html! {
        (struck(p))
        g class=(class(p.line.when)) {
            @if p.line.new { path.new d={ "M36.5 " (p.at - 15.0) "V" (p.bottom - 2.0) } {} }
            @if p.line.when == When::Now {
                rect.band x="1" y=(p.top - 5.0) width=(STANCE_X - 22.0) height=(p.bottom - p.top + 7.0) rx="3" {}
            }
            @if p.first { (number(p)) }
            @if let Some(heading) = p.heading {
                text.verb x=(TEXT_X) y=(p.at) { (heading) @if let Some(time) = &p.time { tspan.small dx="8" { (time) } } }
            }
            @for (class, y, text) in &rows { text class=(class) x=(TEXT_X) y=(y) { (text) } }
            @if p.line.wait > Seconds::ZERO { (wait(p, p.bottom - 12.0)) }
        }
    }
}

/// Most dropped lines that are struck one by one; of more, the rest is counted.
const MOST_STRUCK: usize = 6;

fn struck_lines(dropped: &[String]) -> Vec<String> {
    let mut out: Vec<String> = dropped
        .iter()
        .take(MOST_STRUCK)
        .flat_map(|title| wrap(title, CHARACTERS + 4))
        .collect();
    if let Some(more @ 1..) = dropped.len().checked_sub(MOST_STRUCK) {
        out.push(format!("and {more} more"));
    }
    out
}

/// What is no longer to be done, each line struck through, above the line it gave way to.
fn struck(p: &Placed<'_>) -> Markup {
    let first = p.top - 14.0 - SMALL * to_f64(p.struck.len().saturating_sub(1));
    html! {
        @for (at, text) in p.struck.iter().enumerate() {
            text.small.struck x=(TEXT_X) y=(first + SMALL * to_f64(at)) { (text) }
        }
    }
}

fn number(p: &Placed<'_>) -> Markup {
    let y = p.at - 5.0;
    html! {
        circle.number cx="19" cy=(y) r="13" {}
        @if p.line.when == When::Done {
            path.tick d={ "M12.5 " (y) "l4.5 5 8.5-10" } {}
        } @else {
            text.digits x="19" y=(y + 5.0) text-anchor="middle" { (p.line.group) }
        }
        @if p.line.when == When::Now { text.small x="19" y=(y + 27.0) text-anchor="middle" { "now" } }
    }
}

fn wait(p: &Placed<'_>, y: f64) -> Markup {
    let meanwhile = match p.line.filled_by {
        0 => format!("wait {}", p.line.wait),
        1 => format!("wait {}, meanwhile next", p.line.wait),
        n => format!("wait {}, meanwhile next {n}", p.line.wait),
    };
    html! {
        g.wait {
            (clock_face(TEXT_X + 8.0, y - 3.0, 8.0))
            text.small x=(TEXT_X + 22.0) y=(y + 2.0) { (meanwhile) }
        }
    }
}

/// Dashed rails along what fills a wait.
fn rails(placed: &[Placed<'_>]) -> Markup {
    html! {
        @for (at, p) in placed.iter().enumerate() {
            @if p.line.filled_by > 0 && let Some(last) = placed.get(at + p.line.filled_by) {
                path.rail d={ "M" (TEXT_X - 5.0) " " (p.bottom - 14.0) "V" (last.bottom - 2.0) "h9" } {}
                path.rail-end d={ "M" (TEXT_X + 4.0) " " (last.bottom - 6.0) "v8" } {}
            }
        }
    }
}

fn stance_track(order: &RunningOrder, placed: &[Placed<'_>], height: f64) -> Markup {
    let mut changes: Vec<(f64, &str)> = vec![(HEAD - 12.0, &order.before.stance)];
    for p in placed {
        if changes
            .last()
            .is_some_and(|(_, stance)| *stance != p.line.beside.stance)
        {
            changes.push((p.at - 5.0, &p.line.beside.stance));
        }
    }
    html! {
        g.track {
            @for (at, (y, stance)) in changes.iter().enumerate() {
                @let until = changes.get(at + 1).map_or(height - 14.0, |(next, _)| next - 13.0);
                path.thin d={ "M" (STANCE_X) " " (y + 12.0) "V" (until) } {}
                (stance_at(stance, STANCE_X, *y))
            }
        }
    }
}

/// Thin and dotted when cold, dashed when cool, a line when warm, a thick one when hot.
fn heat_track(order: &RunningOrder, placed: &[Placed<'_>]) -> Markup {
    let word = |heat: Heat| match heat {
        Heat::Cold => "heat cold",
        Heat::Cool => "heat cool",
        Heat::Warm => "heat warm",
        Heat::Hot => "heat hot",
    };
    let mut spans: Vec<(Heat, f64, f64)> = vec![(order.before.heat, HEAD - 20.0, HEAD)];
    for p in placed {
        match spans.last_mut() {
            Some((heat, _, until)) if *heat == p.line.beside.heat => *until = p.bottom,
            Some((_, _, until)) => {
                *until = p.at - 5.0;
                spans.push((p.line.beside.heat, p.at - 5.0, p.bottom));
            }
            None => {}
        }
    }
    html! { @for (heat, from, to) in &spans { path class=(word(*heat)) d={ "M" (HEAT_X) " " (from) "V" (to) } {} } }
}

/// A hatched bar while any circuit is drained or open.
fn open_track(order: &RunningOrder, placed: &[Placed<'_>]) -> Markup {
    let mut spans: Vec<(f64, f64)> = Vec::new();
    let mut since = (!order.before.open.is_empty()).then_some(HEAD - 20.0);
    for p in placed {
        match (since, p.line.beside.open.is_empty()) {
            (None, false) => since = Some(p.at - 5.0),
            (Some(from), true) => {
                spans.push((from, p.at - 5.0));
                since = None;
            }
            _ => {}
        }
    }
    let end = placed.last().map_or(HEAD, |p| p.bottom);
    spans.extend(since.map(|from| (from, end)));
    html! {
        path.thin d={ "M" (OPEN_X) " " (HEAD - 20.0) "V" (end) } {}
        @for (from, to) in &spans {
            rect.open x=(OPEN_X - 4.0) y=(from) width="8" height=(to - from) fill="url(#open-hatch)" {}
        }
    }
}

/// Brackets, the shortest innermost. One that was off from the start begins at the top with a dot, one that stays off
/// ends open.
fn brackets(ties: &[Tie], placed: &[Placed<'_>], height: f64) -> Markup {
    let ends = |tie: &Tie| {
        let y = |at: usize| placed.get(at).map_or(height, |p| p.at - 5.0);
        (tie.off.map_or(HEAD - 22.0, y), tie.on.map_or(height - 6.0, y))
    };
    let mut lanes: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut drawn: Vec<(usize, &Tie, f64, f64)> = Vec::new();
    for tie in ties.iter().rev() {
        let (from, to) = ends(tie);
        let free = |lane: &Vec<(f64, f64)>| lane.iter().all(|(f, t)| to + 4.0 < *f || from > *t + 4.0);
        let lane = match lanes.iter().position(free) {
            Some(lane) => lane,
            None => {
                lanes.push(Vec::new());
                lanes.len() - 1
            }
        };
        if let Some(lane) = lanes.get_mut(lane) {
            lane.push((from, to));
        }
        drawn.push((lane, tie, from, to));
    }
    let pitch = (56.0 / to_f64(lanes.len().max(1))).min(7.0);
    html! {
        g.brackets {
            @for (lane, tie, from, to) in &drawn {
                @let x = BRACKET_X + 4.0 + pitch * to_f64(*lane);
                path d={
                    "M" (if tie.off.is_some() { BRACKET_X } else { x }) " " (from) "H" (x) "V" (to)
                    @if tie.on.is_some() { "H" (BRACKET_X) }
                } {}
                @if tie.off.is_none() { circle cx=(x) cy=(from) r="1.6" {} }
                @if tie.on.is_some() { path.arrow d={ "M" (BRACKET_X + 3.0) " " (to - 2.5) "L" (BRACKET_X) " " (to) "l3 2.5" } {} }
            }
        }
    }
}
