//! What to keep, as text.

use crate::wrap::{folded, message};
use refettle_facts::money::Money;
use refettle_usecases::amount::shown;
use refettle_usecases::keep_view::KeepView;

/// The parts to buy in at most 80 columns; with `why`, what each number rests on.
#[must_use]
pub fn text(view: &KeepView, why: bool) -> String {
    let money = |minor: i64| shown(Money(minor));
    let mut out = format!("{:>4} {:>5} {:>8}  {}\n", "buy", "have", "each", "part");
    let bought: Vec<_> = view.parts.iter().filter(|p| p.buy > 0).collect();
    for part in &bought {
        let first = format!(
            "{:>4} {:>5} {:>8}  ",
            part.buy,
            part.have,
            money(part.price_minor)
        );
        out.push_str(&folded(&first, &format!("{}: {}", part.id, part.what)));
        if why {
            for reason in &part.why {
                out.push_str(&folded("      ", reason));
            }
        }
    }
    if bought.is_empty() {
        out.push_str("Nothing: no small part prevents more held-up money than it costs.\n");
    }
    out.push('\n');
    out.push_str(&message(&format!(
        "Costs {} of {}, prevents {} of held-up money on average; {}.",
        money(view.cost_minor),
        money(view.budget_minor),
        money(view.prevented_minor),
        if view.method == "exact" {
            "no choice within the budget prevents more".to_owned()
        } else {
            format!("no choice prevents more than {}", money(view.bound_minor))
        }
    )));
    out.push_str(&message(&format!(
        "A job finds every small part there in at least {:.0} of 100 cases, now in {:.0}.",
        view.there_after * 100.0,
        view.there_before * 100.0
    )));
    if !view.left_out.is_empty() {
        out.push_str(&message(&format!(
            "Left out, without a plan here: {}",
            view.left_out.join(", ")
        )));
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
