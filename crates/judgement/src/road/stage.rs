//! The stages of the road check, each opened by what comes before it.

use std::fmt;

/// How far the bike may go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// It stands. Nothing but the static checks.
    Standing,
    /// It may be pushed by hand, engine off.
    Push,
    /// It may run at walking pace on private ground.
    Walk,
    /// It may be braked from 32 km/h on clear level ground.
    SlowBrake,
    /// The first kilometre.
    FirstKilometre,
    /// Fifteen kilometres.
    FifteenKilometres,
    /// It has passed.
    Passed,
}

impl Stage {
    /// All, in order.
    pub const ALL: [Stage; 7] = [
        Stage::Standing,
        Stage::Push,
        Stage::Walk,
        Stage::SlowBrake,
        Stage::FirstKilometre,
        Stage::FifteenKilometres,
        Stage::Passed,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Stage::Standing => "standing",
            Stage::Push => "push",
            Stage::Walk => "walk",
            Stage::SlowBrake => "slow-brake",
            Stage::FirstKilometre => "first-km",
            Stage::FifteenKilometres => "fifteen-km",
            Stage::Passed => "passed",
        }
    }

    /// What the bike may do, in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Stage::Standing => "it stands; not even pushed with trust in its brakes",
            Stage::Push => "it may be pushed by hand, engine off",
            Stage::Walk => "it may run at walking pace on private ground",
            Stage::SlowBrake => "it may be braked from 32 km/h on clear level private ground",
            Stage::FirstKilometre => "it may do its first kilometre, where the law lets it",
            Stage::FifteenKilometres => "it may do fifteen kilometres, where the law lets it",
            Stage::Passed => "it has passed this check; the law and licensed practice judge",
        }
    }

    /// The stage of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Stage> {
        Stage::ALL.into_iter().find(|stage| stage.name() == name)
    }

    /// The one before.
    #[must_use]
    pub fn before(self) -> Stage {
        let at = Stage::ALL.iter().position(|s| *s == self).unwrap_or(0);
        Stage::ALL
            .get(at.saturating_sub(1))
            .copied()
            .unwrap_or(Stage::Standing)
    }
}

impl fmt::Display for Stage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
