//! How a bike stands, by permanent ids: what entries hold, since places in a sheet's tables may change.

use super::places::{Ids, Places};
use refettle_facts::ids::{CircuitId, FactId, FixingId, PartId, QuestionId, StanceId};
use refettle_facts::time::Seconds;
use refettle_machine::model::{Heat, Level, Machine};
use refettle_machine::state::{BikeState, EngineHealth};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// An entry names something the sheet has not.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the sheet '{sheet}' has no {what} '{id}'; read this bike with the sheet it was brought in on")]
pub struct UnknownId {
    /// What kind of thing: "part", "stance" …
    pub what: &'static str,
    /// The id.
    pub id: String,
    /// Name of the sheet.
    pub sheet: String,
}

/// A heat level as written in entries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HeatWord {
    /// Stone cold.
    Cold,
    /// May be touched.
    Cool,
    /// Oil runs freely.
    Warm,
    /// Straight after a run.
    Hot,
}

impl From<HeatWord> for Heat {
    fn from(word: HeatWord) -> Heat {
        match word {
            HeatWord::Cold => Heat::Cold,
            HeatWord::Cool => Heat::Cool,
            HeatWord::Warm => Heat::Warm,
            HeatWord::Hot => Heat::Hot,
        }
    }
}

impl From<Heat> for HeatWord {
    fn from(heat: Heat) -> HeatWord {
        match heat {
            Heat::Cold => HeatWord::Cold,
            Heat::Cool => HeatWord::Cool,
            Heat::Warm => HeatWord::Warm,
            Heat::Hot => HeatWord::Hot,
        }
    }
}

/// A circuit's level as written in entries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LevelWord {
    /// As it should be.
    Full,
    /// Something is missing.
    Low,
    /// Empty.
    Drained,
}

impl From<LevelWord> for Level {
    fn from(word: LevelWord) -> Level {
        match word {
            LevelWord::Full => Level::Full,
            LevelWord::Low => Level::Low,
            LevelWord::Drained => Level::Drained,
        }
    }
}

impl From<Level> for LevelWord {
    fn from(level: Level) -> LevelWord {
        match level {
            Level::Full => LevelWord::Full,
            Level::Low => LevelWord::Low,
            Level::Drained => LevelWord::Drained,
        }
    }
}

/// What is known of the engine, as written in entries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum EngineWord {
    /// It runs.
    Runs,
    /// It has stood, or nobody knows.
    HasStood,
    /// It does not run.
    Dead,
}

impl From<EngineWord> for EngineHealth {
    fn from(word: EngineWord) -> EngineHealth {
        match word {
            EngineWord::Runs => EngineHealth::Runs,
            EngineWord::HasStood => EngineHealth::HasStood,
            EngineWord::Dead => EngineHealth::Dead,
        }
    }
}

impl From<EngineHealth> for EngineWord {
    fn from(engine: EngineHealth) -> EngineWord {
        match engine {
            EngineHealth::Runs => EngineWord::Runs,
            EngineHealth::HasStood => EngineWord::HasStood,
            EngineHealth::Dead => EngineWord::Dead,
        }
    }
}

/// [`BikeState`] by permanent ids.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StateById {
    /// How it is held.
    pub stance: StanceId,
    /// Parts that are unfitted. What rides on one of them is not listed.
    pub off: BTreeSet<PartId>,
    /// Critical fixings that are loose.
    pub loose: BTreeSet<FixingId>,
    /// Parts whose fixings have been undone since the bike came in.
    #[serde(default)]
    pub undone_before: BTreeSet<PartId>,
    /// Facts known to be true or untrue.
    #[serde(default)]
    pub facts: BTreeMap<FactId, bool>,
    /// Levels that are known.
    #[serde(default)]
    pub levels: BTreeMap<CircuitId, LevelWord>,
    /// How warm the engine is.
    pub heat: HeatWord,
    /// What is known of the engine.
    pub engine: EngineWord,
    /// Parts that cannot be refitted before this many seconds are over.
    #[serde(default)]
    pub awaiting: BTreeMap<PartId, u32>,
    /// Questions answered.
    #[serde(default)]
    pub answers: BTreeMap<QuestionId, String>,
}

impl StateById {
    /// A state with its places turned into ids.
    ///
    /// # Errors
    /// [`UnknownId`] when a place in the state is not one of this sheet's.
    pub fn of(machine: &Machine, state: &BikeState) -> Result<StateById, UnknownId> {
        let ids = Ids { machine };
        Ok(StateById {
            stance: ids.stance(state.stance)?,
            off: state.off.iter().map(|p| ids.part(*p)).collect::<Result<_, _>>()?,
            loose: state
                .loose
                .iter()
                .map(|c| ids.fixing(*c))
                .collect::<Result<_, _>>()?,
            undone_before: state
                .undone_before
                .iter()
                .map(|p| ids.part(*p))
                .collect::<Result<_, _>>()?,
            facts: state
                .facts
                .iter()
                .map(|(f, known)| Ok((ids.fact(*f)?, *known)))
                .collect::<Result<_, _>>()?,
            levels: state
                .levels
                .iter()
                .map(|(c, level)| Ok((ids.circuit(*c)?, (*level).into())))
                .collect::<Result<_, _>>()?,
            heat: state.heat.into(),
            engine: state.engine.into(),
            awaiting: state
                .awaiting
                .iter()
                .map(|(p, wait)| Ok((ids.part(*p)?, wait.0)))
                .collect::<Result<_, _>>()?,
            answers: state
                .answers
                .iter()
                .map(|(q, answer)| ids.answer(*q, *answer))
                .collect::<Result<_, _>>()?,
        })
    }

    /// The state on this sheet, exactly as listed.
    ///
    /// # Errors
    /// [`UnknownId`] when an id is not one of this sheet's.
    pub fn on(&self, machine: &Machine) -> Result<BikeState, UnknownId> {
        let places = Places { machine };
        Ok(BikeState {
            stance: places.stance(&self.stance)?,
            off: self
                .off
                .iter()
                .map(|p| places.part(p))
                .collect::<Result<_, _>>()?,
            loose: self
                .loose
                .iter()
                .map(|c| places.critical(c))
                .collect::<Result<_, _>>()?,
            undone_before: self
                .undone_before
                .iter()
                .map(|p| places.part(p))
                .collect::<Result<_, _>>()?,
            facts: self
                .facts
                .iter()
                .map(|(f, known)| Ok((places.fact(f)?, *known)))
                .collect::<Result<_, _>>()?,
            levels: self
                .levels
                .iter()
                .map(|(c, level)| Ok((places.circuit(c)?, (*level).into())))
                .collect::<Result<_, _>>()?,
            heat: self.heat.into(),
            engine: self.engine.into(),
            awaiting: self
                .awaiting
                .iter()
                .map(|(p, wait)| Ok((places.part(p)?, Seconds(*wait))))
                .collect::<Result<_, _>>()?,
            answers: self
                .answers
                .iter()
                .map(|(q, answer)| places.answer(q, answer))
                .collect::<Result<_, _>>()?,
        })
    }
}
