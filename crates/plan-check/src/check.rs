//! Judging a whole plan.

use crate::foul::{Foul, Rule};
use crate::referee::Referee;
use refettle_facts::time::Seconds;
use refettle_plan::ask::{Action, Ask};

/// Replays a plan from the state asked about and returns its hands-on time.
///
/// # Errors
/// Every rule broken up to the first action that is not allowed, wrong times among them; if all are allowed, also
/// what is missing at the end.
pub fn check(ask: &Ask<'_>, plan: &[Action]) -> Result<Seconds, Vec<Foul>> {
    let referee = Referee::new(ask);
    let mut now = referee.start();
    let mut total = Seconds::ZERO;
    let mut fouls = Vec::new();
    for (at, action) in plan.iter().enumerate() {
        let (next, time) = match referee.apply(&now, action.act) {
            Ok(done) => done,
            Err(foul) => {
                fouls.push(Foul { at: Some(at), ..foul });
                return Err(fouls);
            }
        };
        if time != action.time {
            let wrong = Foul::new(ask, Some(action.act), Rule::WrongTime(action.time, time));
            fouls.push(Foul {
                at: Some(at),
                ..wrong
            });
        }
        total += time;
        now = next;
    }
    if let Err(missing) = referee.done(&now) {
        fouls.extend(missing);
    }
    if fouls.is_empty() { Ok(total) } else { Err(fouls) }
}
