//! The gland as typed: which kind it is, and its dimensions with their tolerances.

use super::RingRequest;
use crate::fit_desk::typed::Typed;
use refettle_facts::quantity::{Length, QuantityError, from_mm, parse_length};
use refettle_facts::seals::Gland;
use refettle_facts::seals::desk::caliper_doubt;
use refettle_facts::seals::dimension::Toleranced;

/// The gland; `None` when it is wrong, and then the reasons are kept.
pub(super) fn read(request: &RingRequest, typed: &mut Typed) -> Option<Gland> {
    let doubt = match request.doubt.as_deref() {
        Some(text) => typed.read("doubt", text, parse_length)?,
        None => caliper_doubt(),
    };
    let mut dimension =
        |field, text: &Option<String>| typed.read_if(field, text.as_deref(), |text| toleranced(text, doubt));
    let groove = dimension("groove", &request.groove);
    let bore = dimension("bore", &request.bore);
    let rod = dimension("rod", &request.rod);
    let depth = dimension("depth", &request.depth);
    let held_on = dimension("held-on", &request.held_on);
    let width = typed.read("width", &request.width, |text| toleranced(text, doubt));
    let given = [
        &request.groove,
        &request.bore,
        &request.rod,
        &request.depth,
        &request.held_on,
    ]
    .map(Option::is_some);
    match given {
        [true, true, false, false, false] => Some(Gland::Piston {
            groove_diameter: groove?,
            bore: bore?,
            width: width?,
        }),
        [true, false, true, false, false] => Some(Gland::Rod {
            groove_diameter: groove?,
            rod: rod?,
            width: width?,
        }),
        [false, false, false, true, held] => {
            let held_on = if held { Some(held_on?) } else { None };
            Some(Gland::Face {
                depth: depth?,
                width: width?,
                held_on,
            })
        }
        _ => {
            typed.refuse(
                "gland: give groove and bore (groove in the inner part), groove and rod (groove in the outer part), \
                 or depth and, where the ring is held on an inner wall, held-on (groove in a face)",
            );
            None
        }
    }
}

/// Reads `30 mm`, `30mm±0.05mm` or `30mm+0/-0.1mm`.
fn toleranced(text: &str, doubt: Length) -> Result<Toleranced, QuantityError> {
    // Nothing needs no unit.
    let side = |text: &str| {
        if text.trim() == "0" {
            Ok(from_mm(0.0))
        } else {
            parse_length(text)
        }
    };
    if let Some((nominal, either_way)) = text.split_once('±') {
        return Ok(Toleranced::within(parse_length(nominal)?, side(either_way)?));
    }
    let both = text.split_once('+').and_then(|(nominal, sides)| {
        let (plus, minus) = sides.split_once("/-")?;
        Some((nominal, plus, minus))
    });
    match both {
        Some((nominal, plus, minus)) => Ok(Toleranced {
            nominal: parse_length(nominal)?,
            plus: side(plus)?,
            minus: side(minus)?,
        }),
        None => Ok(Toleranced::within(parse_length(text)?, doubt)),
    }
}
