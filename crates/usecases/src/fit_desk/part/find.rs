//! Which look-up serves what was typed.

use super::views::{bearing, bulb, castle_nut, chain, circlip, pin, pin_of, stamped, washer};
use super::{Kind, PartRequest, PartView, Sizes};
use crate::fit_desk::typed::refused;
use crate::refused::Refused;
use refettle_facts::quantity::Length;
use refettle_facts::running_gear::chain::size_named;
use refettle_facts::small_parts::{
    SmallPartError, bulbs, chains, circlips, sealing_washers, split_pins, wheel_bearings,
};

pub(super) fn found(kind: Kind, request: &PartRequest, sizes: &Sizes) -> Result<Vec<PartView>, Refused> {
    let name = request.name.as_deref();
    let taken: Result<Vec<PartView>, SmallPartError> = match (kind, name) {
        (Kind::Washer, Some(name)) => sealing_washers::named(name).map(|w| vec![washer(&w)]),
        (Kind::SplitPin, Some(name)) => split_pins::named(name).map(|p| vec![pin(&p)]),
        (Kind::Bearing, Some(name)) => wheel_bearings::named(name).map(|b| vec![stamped(&b)]),
        (Kind::Bulb, Some(name)) => bulbs::named(name).map(|b| vec![bulb(&b)]),
        (Kind::CastleNut, _) => {
            let thread = name
                .or(request.thread.as_deref())
                .ok_or_else(|| refused(&"castle nut: give its thread such as M12"))?;
            split_pins::castle_nut(thread).map(|n| vec![castle_nut(&n)])
        }
        (Kind::Chain, _) => return chains_of(name, sizes),
        (Kind::Washer, None) => match (sizes.inside.zip(sizes.outside), request.thread.as_deref()) {
            (None, Some(thread)) => Ok(sealing_washers::for_thread(thread).map(|w| washer(&w)).collect()),
            // Only how many was asked.
            (None, None) if request.eyes.is_some() => Ok(Vec::new()),
            _ => {
                let (inside, outside) = both(sizes)?;
                sealing_washers::by_dimensions(inside, outside, sizes.thickness)
                    .map(|all| all.iter().map(|m| washer(&m.washer)).collect())
            }
        },
        (Kind::Bearing, None) => {
            let (bore, outside) = both(sizes)?;
            wheel_bearings::by_dimensions(bore, outside, sizes.thickness)
                .map(|all| all.iter().map(bearing).collect())
        }
        (Kind::SplitPin, None) => match (sizes.diameter, sizes.outside, request.thread.as_deref()) {
            (Some(hole), _, _) => split_pins::for_hole(hole).map(|one| one.iter().map(pin).collect()),
            (None, Some(body), _) => split_pins::by_body(body).map(|all| all.iter().map(pin).collect()),
            (None, None, Some(thread)) => split_pins::castle_nut(thread).map(|nut| {
                split_pins::of_size(nut.pin)
                    .iter()
                    .map(|p| pin_of(p, &nut))
                    .collect()
            }),
            (None, None, None) => {
                return Err(refused(
                    &"split pin: give its name such as 3.2, the diameter of its hole such as 3.2 mm, the outside of an \
                      old one, or the thread of its castle nut such as M12",
                ));
            }
        },
        (Kind::Circlip(on), _) => match (sizes.diameter, sizes.groove, sizes.free.zip(sizes.thickness)) {
            (Some(diameter), _, _) => {
                circlips::for_diameter(on, diameter).map(|one| one.iter().map(circlip).collect())
            }
            (None, Some(floor), _) => {
                circlips::for_groove(on, floor, sizes.thickness).map(|all| all.iter().map(circlip).collect())
            }
            (None, None, Some((free, thickness))) => {
                circlips::by_ring(on, free, thickness).map(|all| all.iter().map(circlip).collect())
            }
            (None, None, None) => {
                return Err(refused(
                    &"circlip: give the diameter of its shaft or bore such as 20 mm, the floor of its groove, or of a \
                      loose ring the free diameter and the thickness",
                ));
            }
        },
        (Kind::Bulb, None) => match request.cap.as_deref() {
            Some(cap) => Ok(bulbs::by_cap(cap, request.watts.as_deref())
                .iter()
                .map(bulb)
                .collect()),
            None => {
                return Err(refused(
                    &"bulb: give the category stamped on it such as P21/5W, or its cap such as BAY15d",
                ));
            }
        },
    };
    taken.map_err(|problem| refused(&problem))
}

fn both(sizes: &Sizes) -> Result<(Length, Length), Refused> {
    sizes
        .inside
        .zip(sizes.outside)
        .ok_or_else(|| refused(&"give its name, or inside and outside such as 14 mm and 20 mm"))
}

fn chains_of(name: Option<&str>, sizes: &Sizes) -> Result<Vec<PartView>, Refused> {
    if let Some(name) = name {
        return size_named(name)
            .map(|size| vec![chain(&size)])
            .map_err(|problem| refused(&problem));
    }
    let (pitch, inside) = sizes.pitch.zip(sizes.inside).ok_or_else(|| {
        refused(&"chain: give its name such as 520, or its pitch and the inside width between the plates such as 15.875 mm and 6.35 mm")
    })?;
    chains::by_dimensions(pitch, inside, sizes.roller)
        .map(|all| all.iter().map(chain).collect())
        .map_err(|problem| refused(&problem))
}
