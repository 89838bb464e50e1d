//! Which jobs pay on a bike: priced once beside the desk, after that each tap answered from what is known.

use super::judging::{
    AtDesk, at_desk, keep, lines, our_fault, read, read_now, soon, standing, with_query, wrong_form,
};
use super::price::median;
use super::{Fields, Shared, asked, field, fields, no_such_bike};
use crate::judged::{Answer, Judged};
use crate::pages::frame::{Here, OfBike, path};
use crate::pages::judging;
use crate::pages::worth;
use crate::respond::page;
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use refettle_facts::ids::BikeId;
use refettle_judgement::worth::selection::Stand;
use refettle_usecases::look::Read;
use refettle_usecases::refused::Refused;
use refettle_usecases::request::{Request, Standing};
use refettle_usecases::worth::{Desk, WorthRequest};
use refettle_usecases::worth_of_bike::{listed, musts, on_offer, others, taken};
use refettle_usecases::worth_view::WorthView;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/bike/{bike}/worth", get(worth_page))
        .route("/bike/{bike}/worth/take", post(take))
}

/// What jobs were priced with.
#[derive(Clone, PartialEq)]
pub(crate) struct Key {
    standing: Option<Standing>,
    offered: Vec<String>,
    musts: Vec<String>,
    typed: Typed,
}

/// Jobs priced, and the best set of them.
pub(crate) struct Priced {
    desk: Desk,
    best: WorthView,
}

pub(crate) type Kept = Judged<Key, Result<Priced, Refused>>;

/// Amounts as typed.
#[derive(Clone, PartialEq, Default)]
pub(crate) struct Typed {
    pub(crate) price: String,
    pub(crate) as_is: String,
    pub(crate) hours: String,
    pub(crate) cash: String,
    pub(crate) rate: String,
}

impl Typed {
    fn of(fields: &Fields) -> Typed {
        let said = |name| field(fields, name).unwrap_or_default().trim().to_owned();
        Typed {
            price: said("price"),
            as_is: said("as_is"),
            hours: said("hours"),
            cash: said("cash"),
            rate: said("rate"),
        }
    }

    /// As fields of a form or a query, those left empty left out.
    pub(crate) fn fields(&self) -> Vec<(&'static str, &str)> {
        let all = [
            ("price", self.price.as_str()),
            ("as_is", &self.as_is),
            ("hours", &self.hours),
            ("cash", &self.cash),
            ("rate", &self.rate),
        ];
        all.into_iter().filter(|(_, text)| !text.is_empty()).collect()
    }
}

async fn worth_page(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    query: Result<Query<Fields>, QueryRejection>,
) -> Response {
    let asked = asked(query);
    let at = match read(desk, bike).await {
        Ok(at) => at,
        Err(response) => return *response,
    };
    shown(&at, &asked).await
}

async fn shown(at: &AtDesk, asked: &Fields) -> Response {
    let read = &at.read;
    let mut typed = Typed::of(asked);
    let mut price_from = "";
    if typed.price.is_empty() {
        (typed.price, price_from) = known_price(at);
    }
    let mut page_of = worth::Shown {
        bike: read.bike(),
        title: &read.now().title,
        last: &read.now().last,
        typed: &typed,
        price_from,
        listed: listed(read),
        others: Vec::new(),
        offered: asked
            .iter()
            .filter(|(name, job)| name == "offer" && !job.is_empty())
            .map(|(_, job)| job.clone())
            .collect(),
        taken: field(asked, "taken").is_some(),
        set: None,
        refused: Vec::new(),
    };
    if typed.price.is_empty() {
        return page(StatusCode::OK, &worth::page(&page_of));
    }
    let (key, request) = match question(read, asked, &typed) {
        Ok(question) => question,
        Err(refused) => return wrong_form(&lines(&refused)),
    };
    let forced = key.musts.clone();
    page_of.others = others(read, &key.offered);
    match at.judgements.worth.answer(key, move || priced(&request)).await {
        Answer::Made(priced) => match priced.as_ref() {
            Ok(priced) => {
                let (set, mistakes) = chosen(priced, asked, &forced);
                page_of.refused = mistakes;
                page_of.set = Some(&set);
                let status = if page_of.refused.is_empty() {
                    StatusCode::OK
                } else {
                    StatusCode::UNPROCESSABLE_ENTITY
                };
                page(status, &worth::page(&page_of))
            }
            Err(refused) => {
                page_of.refused = lines(refused);
                page(StatusCode::UNPROCESSABLE_ENTITY, &worth::page(&page_of))
            }
        },
        Answer::Soon => soon(&judging::soon(
            Here::Bike(read.bike(), OfBike::Bike),
            "Worth",
            "a plan for each job alone, from how the bike stands now",
        )),
        Answer::Failed => our_fault(),
    }
}

/// The price in order that is known without anybody typing it, and where it is from.
fn known_price(at: &AtDesk) -> (String, &'static str) {
    if let Some(median) = median(at) {
        return (
            format!("{median:.0}"),
            "as likely above as below, by the comparables",
        );
    }
    let asking = refettle_memory::state::book(at.read.entries()).asking;
    let Some(asking) = asking else {
        return (String::new(), "");
    };
    let text = refettle_usecases::money_words::shown(&asking);
    let digits = text.split(' ').next().unwrap_or_default().to_owned();
    (digits, "what is asked for it")
}

fn question(read: &Read, asked: &Fields, typed: &Typed) -> Result<(Key, WorthRequest), Refused> {
    let mut offered = on_offer(read)?;
    for more in asked
        .iter()
        .filter(|(name, _)| name == "offer")
        .map(|(_, job)| job)
    {
        if !more.is_empty() && !offered.contains(more) {
            offered.push(more.clone());
        }
    }
    let forced = musts(read)?;
    let optional = |text: &String| Some(text.clone()).filter(|t| !t.is_empty());
    let request = WorthRequest {
        bike: Request {
            jobs: offered.clone(),
            ..read.request()
        },
        must: forced.clone(),
        leave: Vec::new(),
        price: typed.price.clone(),
        as_it_stands: optional(&typed.as_is),
        hours: optional(&typed.hours),
        cash: optional(&typed.cash),
        rate: optional(&typed.rate),
        values: None,
    };
    let key = Key {
        standing: standing(read),
        offered,
        musts: forced,
        typed: typed.clone(),
    };
    Ok((key, request))
}

fn priced(request: &WorthRequest) -> Result<Priced, Refused> {
    let mut desk = Desk::open(request)?;
    let best = desk.answer(None)?;
    Ok(Priced { desk, best })
}

/// The set a page shows: the best, or the one in the query with the tap just made; and what is wrong with it.
fn chosen<'a>(priced: &'a Priced, asked: &Fields, forced: &[String]) -> (worth::Set<'a>, Vec<String>) {
    let names = priced.desk.names();
    let mut mistakes = Vec::new();
    let mut stands = vec![Stand::Open; names.len()];
    let mut set: Vec<bool> = names
        .iter()
        .map(|n| priced.best.set.jobs.iter().any(|j| j == n))
        .collect();
    let place = |job: &str, mistakes: &mut Vec<String>| {
        let place = names.iter().position(|name| *name == job);
        if place.is_none() {
            let shown: String = job.chars().take(60).collect();
            mistakes.push(format!(
                "there is no job '{shown}' on offer here; choose one of the rows"
            ));
        }
        place
    };
    let own = field(asked, "set").is_some();
    if own {
        set = vec![false; names.len()];
    }
    for job in forced.iter().filter(|_| !own) {
        if let Some(at) = names.iter().position(|name| name == job) {
            stands[at] = Stand::Must;
        }
    }
    for (name, job) in asked {
        match name.as_str() {
            "must" => {
                if let Some(at) = place(job, &mut mistakes) {
                    (stands[at], set[at]) = (Stand::Must, true);
                }
            }
            "chosen" => {
                if let Some(at) = place(job, &mut mistakes) {
                    set[at] = true;
                }
            }
            _ => {}
        }
    }
    for (name, job) in asked {
        match name.as_str() {
            "toggle" => {
                if let Some(at) = place(job, &mut mistakes) {
                    set[at] = !set[at];
                    stands[at] = Stand::Open;
                }
            }
            "force" => {
                if let Some(at) = place(job, &mut mistakes) {
                    let free = stands[at] == Stand::Must;
                    stands[at] = if free { Stand::Open } else { Stand::Must };
                    set[at] |= !free;
                }
            }
            _ => {}
        }
    }
    if field(asked, "best").is_some() {
        match priced.desk.chosen_at_once(&stands) {
            Ok(best) => set = best,
            Err(refused) => mistakes.extend(lines(&refused)),
        }
    }
    let (totals, lines, beside) = priced.desk.toggled_with(&stands, &set);
    let set = worth::Set {
        priced: &priced.best,
        is_best: totals.jobs == priced.best.set.jobs,
        totals,
        lines,
        beside,
    };
    (set, mistakes)
}

async fn take(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    let done = at_desk(desk, move |desk| {
        let at = read_now(desk, &bike)?;
        Ok(record(desk, &at, &fields))
    });
    done.await.unwrap_or_else(|response| *response)
}

fn record(desk: &mut crate::desk::Desk, at: &AtDesk, fields: &Fields) -> Response {
    let all = |name: &'static str| {
        fields
            .iter()
            .filter(move |(n, _)| n == name)
            .map(|(_, v)| v.clone())
    };
    let typed = Typed::of(fields);
    let to = path(at.read.bike(), "worth");
    if field(fields, "seen") != Some(at.read.now().last.as_str()) {
        return wrong_form(&[
            "something was recorded of this bike since the page was made: open Worth anew and look again"
                .to_owned(),
        ]);
    }
    let offered: Vec<String> = all("offered").collect();
    let offered: Vec<&str> = offered.iter().map(String::as_str).collect();
    let jobs: Vec<String> = all("must").chain(all("chosen")).collect();
    match taken(&at.read, &offered, &jobs) {
        Ok(entry) => {
            let mut query = typed.fields();
            query.push(("taken", "1"));
            keep(desk, at.read.bike(), fields, &entry, &with_query(&to, &query))
        }
        Err(refused) => wrong_form(&lines(&refused)),
    }
}
