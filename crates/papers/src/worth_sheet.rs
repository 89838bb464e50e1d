//! What pays, as text: the jobs in three groups, the sums, what else could be done.

use crate::wrap::{folded, message};
use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use refettle_usecases::amount::shown;
use refettle_usecases::worth_view::{JobLine, WorthView};

/// The answer in at most 80 columns; with `why`, what each number rests on.
#[must_use]
pub fn text(view: &WorthView, why: bool) -> String {
    let mut out = String::new();
    for (stand, title) in [("must", "Must be done"), ("chosen", "Chosen"), ("left", "Left")] {
        let lines: Vec<&JobLine> = view.jobs.iter().filter(|j| j.stand == stand).collect();
        if !lines.is_empty() {
            out.push_str(&table(title, &lines, why));
        }
    }
    out.push_str(&sums(view));
    out.push_str(&beside(view, why));
    for aside in &view.set_aside {
        let because = match aside.because {
            "done" => "done already",
            _ => "no plan here (see: refettle plan)",
        };
        out.push_str(&message(&format!("Set aside: {}: {because}", aside.name)));
    }
    if !view.unpriced.is_empty() {
        out.push_str(&message(&format!(
            "Without a price, counted as nothing: {}",
            view.unpriced.join(", ")
        )));
    }
    for doubt in &view.doubts {
        out.push_str(&message(&format!("Is this right? {doubt}")));
    }
    if why {
        out.push_str("\nWhat all of it rests on\n");
        for line in &view.why {
            out.push_str(&folded("  ", line));
        }
    } else {
        out.push_str("\nWhat each number rests on: the same with --why\n");
    }
    out
}

fn money(minor: i64) -> String {
    shown(Money(minor))
}

/// Hours and minutes in seven columns.
fn span(seconds: u32) -> String {
    let minutes = (seconds + 30) / 60;
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

fn table(title: &str, lines: &[&JobLine], why: bool) -> String {
    let mut out = format!(
        "{title:<26} {:>11} {:>8} {:>10} {:>12}\n",
        "adds", "h:min", "parts", "gain"
    );
    for line in lines {
        let name: String = line.name.chars().take(24).collect();
        out.push_str(&format!(
            "  {name:<24} {:>11} {:>8} {:>10} {:>12}\n",
            money(line.value_minor),
            span(line.marginal_s),
            money(line.parts_minor),
            money(line.gain_minor)
        ));
        if why {
            for reason in &line.why {
                out.push_str(&folded("      ", reason));
            }
        }
    }
    out.push('\n');
    out
}

fn sums(view: &WorthView) -> String {
    let set = &view.set;
    let mut out = message(&format!(
        "Together: adds {}, costs {} and {} of work, gains {}.",
        money(set.value_minor),
        money(set.parts_minor),
        Seconds(set.hands_on_s),
        money(set.gain_minor)
    ));
    out.push_str(&message(&if set.minutes_from == "plan" {
        format!(
            "Minutes and parts are of its plan; a model of shared work has {} and a gain of {}.",
            Seconds(set.model_s),
            money(set.model_gain_minor)
        )
    } else {
        "Minutes and parts are of a model of shared work: no plan was found for all of it.".to_owned()
    }));
    out.push_str(&message(&if view.proven {
        "No other set gains more.".to_owned()
    } else {
        format!("Another set could gain {} more at most.", money(view.gap_minor))
    }));
    if !set.within_caps {
        out.push_str("The caps are not kept.\n");
    }
    out.push('\n');
    out
}

fn beside(view: &WorthView, why: bool) -> String {
    let mut out = format!(
        "{:<38} {:>11} {:>9} {:>12}\n",
        "What is left of it", "fetches", "h:min", "left over"
    );
    let mut row = |title: &str, price: i64, seconds: u32, left: i64| {
        let mut folded_title = folded("  ", title);
        // The figures stand beside the first line of the title.
        let first = folded_title.lines().next().unwrap_or_default().to_owned();
        if first.chars().count() <= 38 {
            folded_title = format!(
                "{first:<38} {:>11} {:>9} {:>12}\n",
                money(price),
                span(seconds),
                money(left)
            );
        } else {
            folded_title.push_str(&format!(
                "{:<38} {:>11} {:>9} {:>12}\n",
                "",
                money(price),
                span(seconds),
                money(left)
            ));
        }
        out.push_str(&folded_title);
    };
    row(
        "the chosen set",
        view.set.price_minor,
        view.set.hands_on_s,
        view.set.left_over_minor,
    );
    for way in &view.beside {
        row(&way.title, way.price_minor, way.hands_on_s, way.left_over_minor);
    }
    if why {
        for way in &view.beside {
            out.push_str(&message(&format!("{}:", way.title)));
            for reason in &way.why {
                out.push_str(&folded("      ", reason));
            }
        }
    }
    out.push('\n');
    out
}
