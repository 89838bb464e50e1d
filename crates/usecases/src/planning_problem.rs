//! A request as a standard planning problem.

use crate::evening;
use crate::refused::Refused;
use crate::request::{Request, settle};
use refettle_plan::compile::compile;
use refettle_plan::pddl::{self, Pddl};

/// The two files of the hands-on task of a request.
///
/// # Errors
/// [`Refused`] when the request is wrong, or can be seen to have no plan.
pub fn write(request: &Request) -> Result<Pddl, Refused> {
    let settled = settle(request)?;
    let task = compile(&settled.ask()).map_err(|none| evening::no_plan(&settled.machine, &none))?;
    Ok(pddl::write(&task, &settled.machine))
}
