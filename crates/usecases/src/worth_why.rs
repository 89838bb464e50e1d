//! What each number of [`crate::worth`] rests on: inputs, weights, sources.

use crate::amount::shown;
use crate::worth::Desk;
use refettle_facts::time::Seconds;
use refettle_judgement::worth::selection::Stand;
use refettle_judgement::worth::values::Figure;

fn percent(fraction: f64) -> String {
    let text = format!("{:.2}", fraction * 100.0);
    format!("{} %", text.trim_end_matches('0').trim_end_matches('.'))
}

fn range(figure: &Figure) -> String {
    format!(
        "{} to {}: {}",
        percent(figure.low),
        percent(figure.high),
        figure.source
    )
}

fn plain(number: f64) -> String {
    let text = format!("{number:.1}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// One job.
pub(crate) fn job(desk: &Desk, at: usize, marginal: Seconds, by_plan: bool) -> Vec<String> {
    let Some(line) = desk.model.lines.get(at) else {
        return Vec::new();
    };
    let machine = &desk.settled.machine;
    let name = machine.jobs[line.job.0].name.as_str();
    let mut why = Vec::new();
    match desk.values.added.get(name) {
        Some(added) => {
            why.push(format!(
                "adds {} of the clean price {}, that is {} ({})",
                percent(added.figure.middle()),
                shown(desk.model.terms.clean_price),
                shown(line.value),
                range(&added.figure)
            ));
            if let Some(group) = &added.group {
                why.push(format!(
                    "of the jobs about '{group}' only the one that adds most counts"
                ));
            }
        }
        None => why.push("adds nothing: the table has no row for it".to_owned()),
    }
    why.push(format!(
        "takes {marginal} beside the other chosen jobs, {}; {} alone, {}",
        if by_plan {
            "the difference of two plans"
        } else {
            "by the model of shared work"
        },
        line.alone.hands_on,
        if line.alone.at_least >= line.alone.hands_on {
            "proven least"
        } else {
            "not proven least"
        }
    ));
    if let Some(risk) = desk.values.risk(name) {
        why.push(format!(
            "may go wrong: {} × {} min and {}, that is {} and {} expected ({}; {}; {})",
            percent(risk.chance.middle()),
            plain(risk.minutes.middle()),
            shown(money(risk.money.middle())),
            line.extra,
            shown(line.extra_cash),
            risk.chance.source,
            risk.minutes.source,
            risk.money.source
        ));
    }
    for cost in &line.kit {
        let item = &machine.items[cost.item.0];
        match (cost.cost, desk.values.prices.get(&item.name)) {
            (Some(money), Some(price)) => why.push(format!(
                "alone uses {}{} × {}: {} ({} to {} for {}; {})",
                cost.n,
                symbol(item.unit),
                item.title,
                shown(money),
                shown(self::money(price.figure.low)),
                shown(self::money(price.figure.high)),
                price.per,
                price.figure.source
            )),
            _ => why.push(format!(
                "alone uses {} × {}: no price known, counted as nothing",
                cost.n, item.title
            )),
        }
    }
    why
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "the table holds amounts to ten million"
)]
fn money(amount: f64) -> refettle_facts::money::Money {
    refettle_facts::money::Money(amount.round() as i64)
}

/// The unit after a number, a space before it.
fn symbol(unit: refettle_machine::model::ItemUnit) -> String {
    match unit.symbol() {
        "" => String::new(),
        symbol => format!(" {symbol}"),
    }
}

fn other(desk: &Desk, name: &str, show: impl Fn(f64) -> String) -> String {
    desk.values.others.get(name).map_or_else(
        || "no figure in the table, counted as nothing".to_owned(),
        |figure| {
            format!(
                "{} ({} to {}: {})",
                show(figure.middle()),
                show(figure.low),
                show(figure.high),
                figure.source
            )
        },
    )
}

fn stands(desk: &Desk) -> String {
    let clean = desk.model.terms.clean_price;
    if desk.as_typed {
        format!("it fetches {} now, as typed", shown(desk.as_it_stands))
    } else {
        let all = desk.model.value(&vec![true; desk.model.lines.len()]);
        format!(
            "it fetches {} now: the clean price {} less {} that all the jobs on offer add, and not less than for parts",
            shown(desk.as_it_stands),
            shown(clean),
            shown(all)
        )
    }
}

/// Ways out beside the chosen set.
pub(crate) fn way_out(desk: &Desk, way: &str, apart: bool) -> Vec<String> {
    let rate = desk.model.terms.rate;
    let selling = format!(
        "hours to sell it: {}, at {} an hour",
        other(desk, "selling-hours", plain),
        shown(rate)
    );
    match way {
        "for-parts" => vec![
            format!(
                "it brings for parts, of the clean price: {}",
                other(desk, "for-parts", percent)
            ),
            format!(
                "hours to take it apart and sell it: {}, at {} an hour",
                other(desk, "for-parts-hours", plain),
                shown(rate)
            ),
        ],
        "stop-here" => vec![
            stands(desk),
            "the jobs that must be done add to that; minutes and money are theirs, closing up included"
                .to_owned(),
            selling,
        ],
        _ => {
            let mut why = vec![stands(desk)];
            if apart {
                why.push(format!(
                    "sold apart it loses of that: {}",
                    other(desk, "sold-apart", percent)
                ));
            }
            why.push(selling);
            why
        }
    }
}

/// What the whole answer rests on.
pub(crate) fn all(desk: &Desk) -> Vec<String> {
    let terms = desk.model.terms;
    let own = if desk.rate_typed {
        format!("an hour of your own: {}, as typed", shown(terms.rate))
    } else {
        format!(
            "an hour of your own: {}",
            other(desk, "own-hour", |n| shown(money(n)))
        )
    };
    let mut why = vec![
        format!("clean price {}, as typed: what it fetches with everything done", shown(terms.clean_price)),
        stands(desk),
        own,
        "what jobs add is added up; it is judgement, to be changed with --values FILE".to_owned(),
        "minutes are the planner's for the chosen set; beside it stand those of a model in which two jobs share every action both their own plans have".to_owned(),
        "no set gains more than the bound: in it each set takes only the work no plan can do without".to_owned(),
    ];
    if desk.stands.contains(&Stand::Must) {
        why.push("jobs that must be done are in, whether they pay or not".to_owned());
    }
    why
}
