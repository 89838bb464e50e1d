//! `compression`: how far the cylinders lie apart, and what a spoonful of oil says.

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::engine::compression::{CompressionSpread, WetTest, spread, wet_test};
use refettle_facts::quantity::{Pressure, parse_pressure};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CompressionRequest {
    /// Readings, cylinder by cylinder in their order.
    pub reads: Vec<String>,
    /// Readings with oil in, cylinder first: `2:900kPa`.
    pub wet: Vec<String>,
}

/// One rule's word.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CompressionRuleView {
    /// Its name.
    pub rule: &'static str,
    /// In words.
    pub words: &'static str,
    /// Least it allows for the lowest of this set.
    pub lowest_allowed_kpa: f64,
    /// Does the lowest reach it?
    pub passes: bool,
    /// Who says so.
    pub source: String,
}

/// One wet test.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WetView {
    /// Cylinder, from 1.
    pub cylinder: usize,
    /// Rise over the dry reading.
    pub rise_pct: f64,
    /// What it says.
    pub says: &'static str,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CompressionView {
    /// Every dry reading.
    pub readings_kpa: Vec<f64>,
    /// Lowest over highest; none with one cylinder.
    pub lowest_over_highest_pct: Option<f64>,
    /// Every rule, the most lenient first.
    pub rules: Vec<CompressionRuleView>,
    /// Cylinders below the most lenient rule.
    pub low_cylinders: Vec<usize>,
    /// Neighbours that are both low.
    pub low_neighbours: Vec<[usize; 2]>,
    /// Wet tests.
    pub wet: Vec<WetView>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Spread of a set, and wet tests.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &CompressionRequest) -> Result<CompressionView, Refused> {
    let mut typed = Typed::default();
    let reads: Vec<Pressure> = request
        .reads
        .iter()
        .filter_map(|text| typed.read("read", text, parse_pressure))
        .collect();
    let wet: Vec<(usize, Pressure)> = request
        .wet
        .iter()
        .filter_map(|text| typed.read("wet", text, |text| wet_reading(text, request.reads.len())))
        .collect();
    if !typed.is_right() {
        return Err(typed.refused());
    }
    // One cylinder has no spread, but oil still tells rings from valves.
    let found = if reads.len() == 1 && !wet.is_empty() {
        None
    } else {
        Some(spread(&reads).map_err(|e| refused(&e))?)
    };
    let wet = wet
        .into_iter()
        .filter_map(|(cylinder, with_oil)| Some((cylinder, *reads.get(cylinder - 1)?, with_oil)))
        .map(|(cylinder, dry, with_oil)| {
            let (says, rise) = wet_test(dry, with_oil).map_err(|e| refused(&e))?;
            Ok(WetView {
                cylinder,
                rise_pct: exact(rise.value * 100.0),
                says: match says {
                    WetTest::RingsOrBore => "rises: rings or bore",
                    WetTest::ValvesOrGasket => "does not rise: valves or head gasket",
                },
            })
        })
        .collect::<Result<Vec<WetView>, Refused>>()?;
    Ok(view(&reads, found, wet))
}

/// `2:900kPa`: the cylinder, from 1, and its reading with oil.
fn wet_reading(text: &str, cylinders: usize) -> Result<(usize, Pressure), String> {
    let (cylinder, reading) = text
        .split_once(':')
        .and_then(|(cylinder, reading)| Some((cylinder.trim().parse::<usize>().ok()?, reading)))
        .ok_or_else(|| {
            format!(
                "'{}' is no wet reading: write the cylinder and its reading, such as 2:900kPa",
                super::typed::cut(text)
            )
        })?;
    if !(1..=cylinders).contains(&cylinder) {
        return Err(format!(
            "cylinder {cylinder} has no dry reading: {cylinders} were given, counted from 1"
        ));
    }
    Ok((cylinder, parse_pressure(reading).map_err(|e| e.to_string())?))
}

fn view(reads: &[Pressure], found: Option<CompressionSpread>, wet: Vec<WetView>) -> CompressionView {
    let kpa = |pressure: Pressure| exact(pressure.value / 1e3);
    let mut basis = Basis::of("compression spread p_min / p_max; wet test (p_wet - p_dry) / p_dry")
        .assuming([
            "engine warm, all plugs out, throttle wide open, battery full, the same strokes for each cylinder",
            "a decompressor or a cold engine makes every reading low; the rules come from cars",
        ])
        .from(
            found
                .iter()
                .flat_map(|found| &found.rules)
                .map(|rule| rule.citation.to_string()),
        )
        .warning(MAKER_WINS)
        .warning("plug leads earthed and the ignition off; mixture blows out of the plug holes: no flame, face away")
        .cautioned(&["petrol-vapour", "electrical"]);
    if !wet.is_empty() {
        basis = basis.assuming([
            "a spoonful of oil, some 15 mL; a rise of more than 10 % counts (common practice, no source); flat and \
             lying cylinders take no even film and are not told apart so",
        ]);
    }
    CompressionView {
        readings_kpa: reads.iter().copied().map(kpa).collect(),
        lowest_over_highest_pct: found
            .as_ref()
            .map(|found| exact(found.lowest_over_highest.value * 100.0)),
        rules: found
            .iter()
            .flat_map(|found| &found.rules)
            .map(|rule| CompressionRuleView {
                rule: rule.rule,
                words: rule.words,
                lowest_allowed_kpa: kpa(rule.lowest_allowed),
                passes: rule.passes,
                source: rule.citation.to_string(),
            })
            .collect(),
        low_neighbours: found
            .iter()
            .flat_map(|found| &found.low_neighbours)
            .map(|(one, next)| [*one, *next])
            .collect(),
        low_cylinders: found.map(|found| found.low_cylinders).unwrap_or_default(),
        wet,
        basis,
    }
}

impl OnScreen for CompressionView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Compression");
        let readings: Vec<String> = self.readings_kpa.iter().map(|kpa| number(*kpa, 0)).collect();
        screen.row("readings", format!("{} kPa", readings.join(", ")));
        screen.row_if(
            "lowest of highest",
            self.lowest_over_highest_pct
                .map(|pct| format!("{} %", number(pct, 1))),
        );
        for rule in &self.rules {
            screen.row(
                rule.rule,
                format!(
                    "{}: at least {} kPa; {}",
                    if rule.passes { "passes" } else { "fails" },
                    number(rule.lowest_allowed_kpa, 0),
                    rule.words
                ),
            );
        }
        for cylinder in &self.low_cylinders {
            screen.row("low", format!("cylinder {cylinder}"));
        }
        for [one, next] in &self.low_neighbours {
            screen.row(
                "side by side",
                format!("{one} and {next} both low: the head gasket between them first"),
            );
        }
        for wet in &self.wet {
            screen.row(
                &format!("oil in {}", wet.cylinder),
                format!("{} % more: {}", number(wet.rise_pct, 0), wet.says),
            );
        }
        self.basis.show(&mut screen);
        screen
    }
}
