//! `refettle now`

use super::log::answered;
use super::opened::{Tapped, mistaken};
use super::typed::{Names, word};
use crate::commands::json;
use crate::outcome::Failure;
use clap::Args;
use refettle_memory::entry::{EngineWord, HeatWord, LevelWord, StateById, Words};
use refettle_usecases::seen;

#[derive(Args)]
pub struct Now {
    /// The bike, by id or title
    bike: String,
    /// Parts that are off now, separated by commas
    #[arg(long, value_name = "P,Q", value_delimiter = ',')]
    off: Vec<String>,
    /// Parts that are on again
    #[arg(long, value_name = "P,Q", value_delimiter = ',')]
    on: Vec<String>,
    /// Critical fixings that are loose
    #[arg(long, value_name = "F,G", value_delimiter = ',')]
    loose: Vec<String>,
    /// Critical fixings that are tight
    #[arg(long, value_name = "F,G", value_delimiter = ',')]
    tight: Vec<String>,
    /// How the bike is held
    #[arg(long)]
    stance: Option<String>,
    /// How warm the engine is
    #[arg(long, value_parser = word(HEATS))]
    heat: Option<HeatWord>,
    /// What is known of the engine
    #[arg(long, value_parser = word(ENGINES))]
    engine: Option<EngineWord>,
    /// What is true or untrue: fact=true; may be repeated
    #[arg(long, value_name = "FACT=BOOL")]
    fact: Vec<String>,
    /// How full a circuit is: circuit=full, low or drained; may be repeated
    #[arg(long, value_name = "CIRCUIT=LEVEL")]
    level: Vec<String>,
    /// A part that is away: part=days; may be repeated
    #[arg(long, value_name = "PART=DAYS")]
    awaiting: Vec<String>,
    /// Everything of the plan is done up to and with this card
    #[arg(long, value_name = "CARD")]
    done_to: Option<String>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

const HEATS: &[(&str, HeatWord)] = &[
    ("cold", HeatWord::Cold),
    ("cool", HeatWord::Cool),
    ("warm", HeatWord::Warm),
    ("hot", HeatWord::Hot),
];
const ENGINES: &[(&str, EngineWord)] = &[
    ("runs", EngineWord::Runs),
    ("has-stood", EngineWord::HasStood),
    ("dead", EngineWord::Dead),
];
const LEVELS: &[(&str, LevelWord)] = &[
    ("full", LevelWord::Full),
    ("low", LevelWord::Low),
    ("drained", LevelWord::Drained),
];

impl Now {
    pub fn run(&self) -> Result<String, Failure> {
        let mut opened = self.tapped.open()?;
        let bike = opened.bike(&self.bike)?;
        // A repeat of a tap that counted already.
        if let Some(tap) = &opened.tap {
            let entries = opened.memory.entries(&bike).map_err(super::opened::failed)?;
            if let Some(stored) = entries.iter().find(|s| s.tap.as_ref() == Some(tap)) {
                return self.told(&opened, &bike, &stored.id.clone());
            }
        }
        let read = opened.read(&bike)?;
        let mut state = match &self.done_to {
            Some(card) => seen::done_to(&opened.look(&bike)?, card, opened.at)?,
            None => StateById::of(read.machine(), &read.now().at(read.machine(), opened.at))
                .map_err(|e| Failure::Ours(e.into()))?,
        };
        let mut mistakes = Vec::new();
        self.over(
            &mut state,
            &Names {
                machine: read.machine(),
            },
            &mut mistakes,
        );
        if !mistakes.is_empty() {
            return Err(mistaken(mistakes));
        }
        let id = opened.append(&bike, &seen::observed(state, self.note.as_ref()))?;
        self.told(&opened, &bike, &id)
    }

    fn told(
        &self,
        opened: &super::opened::Opened,
        bike: &refettle_facts::ids::BikeId,
        id: &refettle_facts::ids::EntryId,
    ) -> Result<String, Failure> {
        if self.tapped.json {
            return json(&answered(bike, id));
        }
        let mut out = String::new();
        for line in seen::lines(&opened.read(bike)?) {
            out.push_str(&refettle_papers::wrap::message(&line));
        }
        out.push_str(&format!("entry {id}\n"));
        Ok(out)
    }

    /// What was said, over what was known.
    fn over(&self, state: &mut StateById, names: &Names<'_>, mistakes: &mut Vec<String>) {
        for part in &self.off {
            if let Some(part) = names.part(part.trim(), mistakes) {
                state.undone_before.insert(part.clone());
                // Its fixings are off with it.
                let criticals = &names.machine.criticals;
                let held = criticals
                    .iter()
                    .filter(|c| names.machine.parts.get(c.part.0).is_some_and(|p| p.id == part));
                state.loose.extend(held.map(|c| c.id.clone()));
                state.off.insert(part);
            }
        }
        for part in &self.on {
            if let Some(part) = names.part(part.trim(), mistakes) {
                state.off.remove(&part);
                state.awaiting.remove(&part);
            }
        }
        for fixing in &self.loose {
            state.loose.extend(names.fixing(fixing.trim(), mistakes));
        }
        for fixing in &self.tight {
            if let Some(fixing) = names.fixing(fixing.trim(), mistakes) {
                state.loose.remove(&fixing);
            }
        }
        if let Some(stance) = &self.stance
            && let Some(stance) = names.stance(stance, mistakes)
        {
            state.stance = stance;
        }
        state.heat = self.heat.unwrap_or(state.heat);
        state.engine = self.engine.unwrap_or(state.engine);
        self.told_values(state, names, mistakes);
    }

    fn told_values(&self, state: &mut StateById, names: &Names<'_>, mistakes: &mut Vec<String>) {
        for typed in &self.fact {
            match typed
                .split_once('=')
                .map(|(fact, known)| (fact, known.parse::<bool>()))
            {
                Some((fact, Ok(known))) => {
                    if let Some(fact) = names.fact(fact, mistakes) {
                        state.facts.insert(fact, known);
                    }
                }
                _ => mistakes.push(format!("'{typed}' tells nothing; write fact=true or fact=false")),
            }
        }
        for typed in &self.level {
            let level = |word: &str| LEVELS.iter().find(|(w, _)| *w == word).map(|(_, level)| *level);
            match typed
                .split_once('=')
                .map(|(circuit, word)| (circuit, level(word)))
            {
                Some((circuit, Some(level))) => {
                    if let Some(circuit) = names.circuit(circuit, mistakes) {
                        state.levels.insert(circuit, level);
                    }
                }
                _ => mistakes.push(format!(
                    "'{typed}' tells nothing; write circuit=full, circuit=low or circuit=drained"
                )),
            }
        }
        for typed in &self.awaiting {
            match typed
                .split_once('=')
                .map(|(part, days)| (part, days.parse::<u32>()))
            {
                Some((part, Ok(days @ 0..=366))) => {
                    if let Some(part) = names.part(part, mistakes) {
                        state.awaiting.insert(part, days * 86_400);
                    }
                }
                _ => mistakes.push(format!("'{typed}' tells nothing; write part=days, up to 366")),
            }
        }
    }
}
