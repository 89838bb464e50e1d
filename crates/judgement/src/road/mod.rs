//! The road check: is it safe to ride, with numbers, stage by stage.
//!
//! Static checks open the push, the push opens the walk, the walk the slow brake test, that the first kilometre, that the
//! fifteenth; what is looked at after it makes the bike pass. Where a number exists a tick is refused. Every critical
//! fixing is gone over one by one, wheels down, after a pause, whether or not anybody saw it touched. What is opened
//! after it was answered is asked again. An open shortcut on brakes, wheels, steering, fuel or structure keeps the bike
//! from passing; one that is due later is told and does not.
//!
//! No legal standing: the local authority and licensed practice judge. Start at [`check`].

mod check;
mod evidence;
mod item;
mod stage;

#[cfg(test)]
mod tests;

pub use check::{Disclosed, Open, RoadCheck, Scheme, check};
pub use evidence::{Answer, Evidence, Order, Recheck, Said, Shortcut, ShortcutArea, ShortcutStanding, Touch};
pub use item::{Item, Limit, NotAnswered, Verdict, items, of_machine};
pub use stage::Stage;

/// Least pause between the last work on a critical fixing and going over it again: things settle, and the hand forgets what
/// it believes. Judgement, no source.
pub const PAUSE: jiff::SignedDuration = jiff::SignedDuration::from_mins(30);
