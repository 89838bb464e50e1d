//! Catching up: it looks like this now, and done to here.

use super::leaving::with_read;
use super::sent::{all, mistakes, tap, text};
use super::{Fields, Shared, fields, no_such_bike, unkept, unreadable};
use crate::desk::Desk;
use crate::pages::frame::path;
use crate::pages::now::page as shown;
use crate::pages::problem;
use crate::respond::{page, see_other, with_desk};
use axum::Router;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_machine::state::BikeState;
use refettle_memory::entry::StateById;
use refettle_memory::{MemoryError, NewEntry, Tap};
use refettle_usecases::look::Read;
use refettle_usecases::seen;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/bike/{bike}/now", get(ask).post(said))
        .route("/bike/{bike}/done-to", post(done_to))
}

async fn ask(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    with_read(desk, bike, |_, read| {
        let state = read.now().at(read.machine(), Timestamp::now());
        page(StatusCode::OK, &shown(&read, &state, &[]))
    })
    .await
}

/// What became of keeping a state.
enum Kept {
    Yes,
    Stale,
}

fn keep(
    desk: &mut Desk,
    bike: &BikeId,
    tap: &Tap,
    seen: &EntryId,
    state: StateById,
) -> Result<Kept, MemoryError> {
    // A repeat of this tap is no news, whatever was recorded since.
    if desk
        .memory()
        .entries(bike)?
        .iter()
        .any(|stored| stored.tap.as_ref() == Some(tap))
    {
        return Ok(Kept::Yes);
    }
    let kept = desk.memory().append_new(NewEntry {
        bike,
        at: Timestamp::now(),
        tap: Some(tap),
        seen: Some(seen),
        entry: &seen::observed(state, None),
    });
    match kept {
        Ok(_) | Err(MemoryError::TapReused { .. }) => Ok(Kept::Yes),
        Err(MemoryError::Stale { .. }) => Ok(Kept::Stale),
        Err(error) => Err(error),
    }
}

const STALE: &str =
    "something was recorded meanwhile, perhaps on another device; look at it once more, then send it again";

async fn said(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    sent: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(sent) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| {
        let tap = match tap(&fields) {
            Ok(tap) => tap,
            Err(refused) => return *refused,
        };
        let machine = read.machine();
        let known = read.now().at(machine, Timestamp::now());
        let (off, loose) = (all(&fields, "off"), all(&fields, "loose"));
        let state = match seen::tapped(machine, &known, text(&fields, "stance"), &off, &loose) {
            Ok(state) => state,
            Err(refused) => return back(&read, &known, &fields, &mistakes(&refused)),
        };
        let by_id = match (
            StateById::of(machine, &state),
            EntryId::new(text(&fields, "seen")),
        ) {
            (Ok(by_id), Ok(seen)) => Ok((by_id, seen)),
            (Err(error), _) => Err(error.to_string()),
            (_, Err(error)) => Err(error.to_string()),
        };
        let (by_id, seen) = match by_id {
            Ok(both) => both,
            Err(why) => return back(&read, &state, &fields, &[why]),
        };
        match keep(desk, read.bike(), &tap, &seen, by_id) {
            Ok(Kept::Yes) => see_other(&path(read.bike(), "")),
            Ok(Kept::Stale) => page(StatusCode::CONFLICT, &shown(&read, &state, &[STALE.to_owned()])),
            Err(error) => unkept(&error),
        }
    })
    .await
}

/// The form again, with all that was sound in it.
fn back(read: &Read, known: &BikeState, fields: &Fields, wrong: &[String]) -> Response {
    let machine = read.machine();
    let sound = |name: &str, is: &dyn Fn(&str) -> bool| -> Vec<&str> {
        all(fields, name).into_iter().filter(|one| is(one)).collect()
    };
    let off = sound("off", &|name| machine.part(name).is_some());
    let loose = sound("loose", &|name| machine.critical(name).is_some());
    let stance = Some(text(fields, "stance")).filter(|name| machine.stance(name).is_some());
    let state = seen::tapped(machine, known, stance.unwrap_or_default(), &off, &loose);
    page(
        StatusCode::UNPROCESSABLE_ENTITY,
        &shown(read, &state.unwrap_or_else(|_| known.clone()), wrong),
    )
}

async fn done_to(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    sent: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(sent) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    with_desk(desk, move |desk| {
        let tap = match tap(&fields) {
            Ok(tap) => tap,
            Err(refused) => return *refused,
        };
        let wrong = |line: String| page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&[line]));
        let Ok(place) = text(&fields, "place").parse::<usize>() else {
            return wrong(
                "the field 'place' says no place in the running order; tap one of its buttons".to_owned(),
            );
        };
        let Ok(seen_entry) = EntryId::new(text(&fields, "seen")) else {
            return wrong("the field 'seen' is missing; open the running order again".to_owned());
        };
        let state = match desk.look(&bike, Timestamp::now()) {
            // The places are those of the plan that was shown; `keep` refuses another, and passes over a repeat.
            Ok(look) if look.now.last == seen_entry => seen::done_to_place(look, place, Timestamp::now()),
            Ok(look)
                if look
                    .entries
                    .iter()
                    .any(|stored| stored.tap.as_ref() == Some(&tap)) =>
            {
                return see_other(&path(&bike, "order"));
            }
            Ok(_) => return page(StatusCode::CONFLICT, &problem::wrong_form(&[STALE.to_owned()])),
            Err(error) => return unreadable(&error),
        };
        let state = match state {
            Ok(state) => state,
            Err(refused) => return wrong(refused.to_string()),
        };
        match keep(desk, &bike, &tap, &seen_entry, state) {
            Ok(Kept::Yes) => see_other(&path(&bike, "order")),
            Ok(Kept::Stale) => page(StatusCode::CONFLICT, &problem::wrong_form(&[STALE.to_owned()])),
            Err(error) => unkept(&error),
        }
    })
    .await
}
