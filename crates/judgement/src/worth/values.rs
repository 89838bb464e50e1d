//! What fixes add to the price of a bike, what parts cost, how often a job goes wrong: shipped figures, each with its
//! source, and a person's own in their place.
//!
//! A table is tab-separated with the columns `what name low high per group source`:
//!
//! | what | name | low, high | per | group |
//! |---|---|---|---|---|
//! | `added` | a job | fraction of the clean price it adds | | jobs of one group add once |
//! | `price` | an item | money in minor units | for so many pieces, ml, mm or g | |
//! | `wrong` | a job, or `*` for the others | chance that it goes wrong, 0 to 1 | | |
//! | `extra-minutes` | the same | minutes more when it does | | |
//! | `extra-money` | the same | money more when it does | | |
//! | `other` | one of [`OTHERS`] | a fraction of the clean price, hours, or money an hour | | |
//!
//! What is reckoned with is the middle of low and high. Almost all of it is judgement; none of it is a maker's.

use refettle_facts::money::Money;
use refettle_facts::nearest::nearest;
use std::collections::BTreeMap;

/// The shipped table.
pub const SHIPPED: &str = include_str!("../../data/worth/values.tsv");

const HEADER: &str = "what\tname\tlow\thigh\tper\tgroup\tsource";

/// Figures that belong to no job: fraction of the clean price a bike brings for parts; what is lost when it is sold apart;
/// hours to sell it; hours to sell it in parts; what an hour of one's own is worth, minor units.
pub const OTHERS: [&str; 5] = [
    "for-parts",
    "sold-apart",
    "selling-hours",
    "for-parts-hours",
    "own-hour",
];

const WHATS: [&str; 6] = ["added", "price", "wrong", "extra-minutes", "extra-money", "other"];

/// Two ends and where they are from.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
    /// Where it is from.
    pub source: String,
}

impl Figure {
    /// The middle, which is what is reckoned with.
    #[must_use]
    pub fn middle(&self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

/// What an item costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    /// Minor units for [`Self::per`] of it.
    pub figure: Figure,
    /// Pieces, millilitres, millimetres or grams.
    pub per: u32,
}

impl Price {
    /// The middle, to a whole minor unit.
    #[must_use]
    pub fn price(&self) -> Money {
        money(self.figure.middle())
    }
}

/// What a job adds.
#[derive(Debug, Clone, PartialEq)]
pub struct Added {
    /// Fraction of the clean price.
    pub figure: Figure,
    /// Jobs of one group add once.
    pub group: Option<String>,
}

/// All figures.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Values {
    /// By job.
    pub added: BTreeMap<String, Added>,
    /// By item.
    pub prices: BTreeMap<String, Price>,
    /// By job, `*` for the others: chance, minutes, money.
    pub wrong: [BTreeMap<String, Figure>; 3],
    /// By one of [`OTHERS`].
    pub others: BTreeMap<String, Figure>,
}

/// What a job is expected to cost beyond the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Risk<'v> {
    /// Chance that it goes wrong.
    pub chance: &'v Figure,
    /// Minutes more then.
    pub minutes: &'v Figure,
    /// Minor units more then.
    pub money: &'v Figure,
}

/// A number as whole minor units; what is no number counts as none.
pub(crate) fn money(amount: f64) -> Money {
    #[allow(
        clippy::cast_possible_truncation,
        reason = "clamped to what fits on this line"
    )]
    Money(amount.round().clamp(-1e12, 1e12) as i64)
}

impl Values {
    /// The shipped figures.
    #[must_use]
    pub fn shipped() -> Values {
        let mut values = Values::default();
        // The shipped table is read by a test; a row that could not be read would be missing there.
        let _ = values.read(SHIPPED);
        values
    }

    /// Reads a table over what is there: a row for the same thing takes its place.
    ///
    /// # Errors
    /// Every mistake in it, a line each; nothing of it is taken then.
    pub fn read(&mut self, text: &str) -> Result<(), Vec<String>> {
        let mut mistakes = Vec::new();
        let mut read = self.clone();
        let mut lines = text
            .lines()
            .enumerate()
            .filter(|(_, l)| !l.trim().is_empty() && !l.starts_with('#'));
        match lines.next() {
            Some((_, header)) if header.trim_end() == HEADER => {}
            _ => mistakes.push(format!(
                "its first line is not the names of the columns; write, with tabs between: {}",
                HEADER.replace('\t', " ")
            )),
        }
        for (at, line) in lines {
            if let Err(mistake) = read.row(line) {
                mistakes.push(format!("line {}: {mistake}", at + 1));
            }
        }
        if mistakes.is_empty() {
            *self = read;
            Ok(())
        } else {
            Err(mistakes)
        }
    }

    fn row(&mut self, line: &str) -> Result<(), String> {
        let cells: Vec<&str> = line.split('\t').map(str::trim).collect();
        let &[what, name, low, high, per, group, source] = cells.as_slice() else {
            return Err(format!(
                "{} cells where 7 are expected; part them with tabs",
                cells.len()
            ));
        };
        if source.is_empty() {
            return Err(format!(
                "no source for '{name}'; say where it is from, if only: my own judgement"
            ));
        }
        let figure = figure(low, high, source)?;
        let name = name.to_owned();
        let within = |least: f64, most: f64| {
            if figure.low >= least && figure.high <= most {
                Ok(())
            } else {
                Err(format!(
                    "{} to {} for '{name}' is outside {least} to {most}",
                    figure.low, figure.high
                ))
            }
        };
        match what {
            "added" => {
                within(-1.0, 1.0)?;
                let group = (!group.is_empty()).then(|| group.to_owned());
                self.added.insert(name, Added { figure, group });
            }
            "price" => {
                within(0.0, 1e7)?;
                let per = per
                    .parse()
                    .ok()
                    .filter(|n| (1..=1_000_000).contains(n))
                    .ok_or(format!(
                        "'{per}' is no number of pieces, ml, mm or g; write 1 to 1000000 under per"
                    ))?;
                self.prices.insert(name, Price { figure, per });
            }
            "wrong" => {
                within(0.0, 1.0)?;
                self.wrong[0].insert(name, figure);
            }
            "extra-minutes" => {
                within(0.0, 1e4)?;
                self.wrong[1].insert(name, figure);
            }
            "extra-money" => {
                within(0.0, 1e7)?;
                self.wrong[2].insert(name, figure);
            }
            "other" => {
                if !OTHERS.contains(&name.as_str()) {
                    return Err(format!("'{name}' is none of {}", OTHERS.join(", ")));
                }
                let most = match name.as_str() {
                    "own-hour" => 1e6,
                    hours if hours.ends_with("hours") => 200.0,
                    _ => 1.0,
                };
                within(0.0, most)?;
                self.others.insert(name, figure);
            }
            other => {
                let hint = nearest(other, WHATS.iter().copied()).map_or_else(
                    || format!("write one of {}", WHATS.join(", ")),
                    |n| format!("did you mean '{n}'?"),
                );
                return Err(format!("'{other}' is nothing the table has; {hint}"));
            }
        }
        Ok(())
    }

    /// What a job may cost beyond the plan; `None` where neither it nor `*` has a row for all three.
    #[must_use]
    pub fn risk(&self, job: &str) -> Option<Risk<'_>> {
        let [chance, minutes, money] = &self.wrong;
        let row = |table: &'_ BTreeMap<String, Figure>| -> Option<()> {
            table.get(job).or(table.get("*")).map(|_| ())
        };
        row(chance)?;
        Some(Risk {
            chance: chance.get(job).or(chance.get("*"))?,
            minutes: minutes.get(job).or(minutes.get("*"))?,
            money: money.get(job).or(money.get("*"))?,
        })
    }

    /// The middle of one of [`OTHERS`], 0 where a table has none.
    #[must_use]
    pub fn other(&self, name: &str) -> f64 {
        self.others.get(name).map_or(0.0, Figure::middle)
    }
}

fn figure(low: &str, high: &str, source: &str) -> Result<Figure, String> {
    let number = |text: &str| {
        text.parse()
            .ok()
            .filter(|n: &f64| n.is_finite())
            .ok_or(format!("'{text}' is no number"))
    };
    let (low, high) = (number(low)?, number(high)?);
    if low > high {
        return Err(format!("{low} is above {high}; write the lower first"));
    }
    Ok(Figure {
        low,
        high,
        source: source.to_owned(),
    })
}
