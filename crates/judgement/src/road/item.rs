//! The items of the road check: what is asked, in which unit, against which limit, from which source.

use super::evidence::Said;
use super::stage::Stage;
use refettle_facts::published::{Row, rows};
use refettle_facts::quantity::{from_mm, mm};
use refettle_facts::running_gear::wear_limits::{self, Fails, item_named, rules_for};
use refettle_machine::ix::{CircuitIx, PartIx};
use refettle_machine::model::Machine;

const TABLE: &str = include_str!("../../data/road_check.tsv");

/// What a reading is held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// Seen, not measured.
    BySight,
    /// The wear limits of the schemes; the reading is a length in millimetres.
    Wear(wear_limits::Item),
    /// Between these, both included, in the item's unit.
    Between(Option<f64>, Option<f64>),
}

/// One item.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    /// Permanent name.
    pub name: &'static str,
    /// The stage it opens.
    pub opens: Stage,
    /// `brakes`, `wheels`, …
    pub system: &'static str,
    /// What must be so.
    pub title: &'static str,
    /// How to look.
    pub how: &'static str,
    /// Unit of its reading; empty when it is seen.
    pub unit: &'static str,
    /// What it is held against.
    pub limit: Limit,
    /// Items of one group stand for each other: answering one answers all. Empty: none.
    pub group: &'static str,
    /// Asked again on the day of sale.
    pub sale_day: bool,
    /// Name of a caution.
    pub caution: Option<&'static str>,
    /// Where it is from.
    pub source: &'static str,
    has: &'static str,
    touched_parts: &'static str,
    touched_circuits: &'static str,
}

/// Why an answer cannot be taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotAnswered {
    /// A tick where a number exists.
    #[error("{title}: a tick is not enough, give the reading in {unit}")]
    NeedsNumber {
        /// The item.
        title: &'static str,
        /// Its unit.
        unit: &'static str,
    },
    /// A number where something is to be seen.
    #[error("{title}: nothing is measured here; say whether it is right or what is wrong")]
    NoNumber {
        /// The item.
        title: &'static str,
    },
    /// A reading that cannot be.
    #[error("{title}: {reading} {unit} cannot be; measure again and check the unit")]
    Implausible {
        /// The item.
        title: &'static str,
        /// The reading.
        reading: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// No scheme has a number, and the maker's was not given.
    #[error(
        "{title}: no general limit is a number; give the maker's too, stamped on the part or printed in the manual"
    )]
    NeedsMakers {
        /// The item.
        title: &'static str,
    },
}

/// What a reading or a look comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// Whether it passes.
    pub passes: bool,
    /// Against what, in words.
    pub against: String,
    /// The strictest rule beside the chosen one, in words, where there is one and it is another.
    pub strictest: Option<String>,
    /// Whether the strictest rule is passed too.
    pub passes_strictest: bool,
}

/// All items, in the order in which they are asked.
#[must_use]
pub fn items() -> Vec<Item> {
    rows(TABLE).filter_map(|row| read(&row)).collect()
}

fn read(row: &Row) -> Option<Item> {
    let number = |cell: &str| row.cell(cell).parse::<f64>().ok();
    let limit = match (row.cell("kind"), row.cell("limit")) {
        ("seen", _) => Limit::BySight,
        ("number", "") => Limit::Between(number("least"), number("most")),
        ("number", name) => Limit::Wear(item_named(name).ok()?),
        _ => return None,
    };
    Some(Item {
        name: row.cell("item"),
        opens: Stage::named(row.cell("opens"))?,
        system: row.cell("system"),
        title: row.cell("title"),
        how: row.cell("how"),
        unit: row.cell("unit"),
        limit,
        group: row.cell("group"),
        sale_day: row.cell("sale_day") == "yes",
        caution: Some(row.cell("caution")).filter(|c| !c.is_empty()),
        source: row.cell("source"),
        has: row.cell("has"),
        touched_parts: row.cell("touched_parts"),
        touched_circuits: row.cell("touched_circuits"),
    })
}

/// The items a machine has: those that ask for a part ask only where one of that name is on its sheet.
#[must_use]
pub fn of_machine(machine: &Machine) -> Vec<Item> {
    let on_sheet = |names: &str| names.split(',').any(|name| machine.part(name).is_some());
    items()
        .into_iter()
        .filter(|item| item.has.is_empty() || on_sheet(item.has))
        .collect()
}

impl Item {
    /// Parts whose coming off or going on makes it be asked again.
    pub fn touched_parts(&self, machine: &Machine) -> Vec<PartIx> {
        self.touched_parts
            .split(',')
            .filter_map(|name| machine.part(name))
            .collect()
    }

    /// Circuits whose opening makes it be asked again.
    pub fn touched_circuits(&self, machine: &Machine) -> Vec<CircuitIx> {
        self.touched_circuits
            .split(',')
            .filter_map(|name| {
                machine
                    .circuits
                    .iter()
                    .position(|c| c.name == name)
                    .map(CircuitIx)
            })
            .collect()
    }

    /// Judges what was said, by the scheme chosen (`None`: the strictest that counts).
    ///
    /// # Errors
    /// [`NotAnswered`] when what was said is no answer to this item.
    pub fn judge(&self, said: &Said, scheme: Option<&str>) -> Result<Verdict, NotAnswered> {
        match (said, self.limit) {
            (Said::NotThere, _) => Ok(plain(true, "not on this bike".to_owned())),
            (Said::Wrong(why), _) => Ok(plain(false, why.clone())),
            (Said::Right, Limit::BySight) => Ok(plain(true, format!("seen right ({})", self.source))),
            (Said::Right, _) => Err(NotAnswered::NeedsNumber {
                title: self.title,
                unit: self.unit,
            }),
            (Said::Number { .. }, Limit::BySight) => Err(NotAnswered::NoNumber { title: self.title }),
            (Said::Number { reading, maker }, Limit::Between(least, most)) => {
                self.plausible(*reading, 1_000.0)?;
                Ok(self.between(*reading, *maker, least, most))
            }
            (Said::Number { reading, maker }, Limit::Wear(item)) => self.worn(*reading, *maker, item, scheme),
        }
    }

    fn plausible(&self, reading: f64, most: f64) -> Result<(), NotAnswered> {
        if reading.is_finite() && (0.0..=most).contains(&reading) {
            return Ok(());
        }
        Err(NotAnswered::Implausible {
            title: self.title,
            reading,
            unit: self.unit,
        })
    }

    fn between(&self, reading: f64, maker: Option<f64>, least: Option<f64>, most: Option<f64>) -> Verdict {
        // The maker's figure replaces a typical upper limit, or the lower one where there is no upper.
        let (least, most, whose) = match (maker, most) {
            (Some(own), Some(_)) => (least, Some(own), "the maker's limit"),
            (Some(own), None) => (Some(own), most, "the maker's limit"),
            (None, _) => (least, most, self.source),
        };
        let passes = least.is_none_or(|l| reading >= l) && most.is_none_or(|m| reading <= m);
        let range = match (least, most) {
            (Some(l), Some(m)) => format!("{l} to {m} {}", self.unit),
            (Some(l), None) => format!("at least {l} {}", self.unit),
            (None, Some(m)) => format!("at most {m} {}", self.unit),
            (None, None) => "no limit".to_owned(),
        };
        plain(
            passes,
            format!("{reading} {}, to be {range} ({whose})", self.unit),
        )
    }

    fn worn(
        &self,
        reading: f64,
        maker: Option<f64>,
        item: wear_limits::Item,
        scheme: Option<&str>,
    ) -> Result<Verdict, NotAnswered> {
        let report =
            wear_limits::judge(item, from_mm(reading), maker.map(from_mm)).map_err(|error| match error {
                wear_limits::WearLimitError::NoLimit { .. } => NotAnswered::NeedsMakers { title: self.title },
                _ => NotAnswered::Implausible {
                    title: self.title,
                    reading,
                    unit: self.unit,
                },
            })?;
        let said = |rule: &wear_limits::Rule| {
            let side = match rule.fails {
                Fails::Below => "at least",
                Fails::Above => "at most",
                Fails::AtOrAbove => "less than",
                Fails::ByLook => "as seen:",
            };
            let limit = rule
                .limit
                .map_or_else(String::new, |l| format!("{} mm", tidy(mm(l))));
            format!(
                "{reading} mm, to be {side} {limit} ({}: {})",
                rule.scheme, rule.citation.source
            )
        };
        let Some(strictest) = report.strictest.and_then(|j| j.passes.map(|p| (j.rule, p))) else {
            return Err(NotAnswered::NeedsMakers { title: self.title });
        };
        // The maker's own limit always counts; of the schemes, the one chosen, or the strictest where it says nothing.
        let chosen = report
            .rules
            .iter()
            .filter(|j| j.rule.counts() && j.rule.limit.is_some())
            .find(|j| scheme.is_some_and(|s| j.rule.scheme == s))
            .and_then(|j| j.passes.map(|p| (j.rule, p)))
            .unwrap_or(strictest);
        let broken = report
            .rules
            .iter()
            .find(|j| j.rule.scheme == "maker" && j.passes == Some(false));
        Ok(Verdict {
            passes: chosen.1 && broken.is_none(),
            against: broken.map_or_else(|| said(&chosen.0), |own| said(&own.rule)),
            strictest: (strictest.0.scheme != chosen.0.scheme).then(|| said(&strictest.0)),
            passes_strictest: strictest.1,
        })
    }

    /// Schemes that have a number for this item.
    #[must_use]
    pub fn schemes(&self) -> Vec<&'static str> {
        match self.limit {
            Limit::Wear(item) => rules_for(item)
                .iter()
                .filter(|r| r.counts() && r.limit.is_some())
                .map(|r| r.scheme)
                .collect(),
            _ => Vec::new(),
        }
    }
}

/// A length without needless digits.
fn tidy(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

fn plain(passes: bool, against: String) -> Verdict {
    Verdict {
        passes,
        against,
        strictest: None,
        passes_strictest: passes,
    }
}
