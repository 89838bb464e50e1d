//! Causes, worth, price and a bike to buy: the whole way on the bike that is half apart, and bad input at each door.

use crate::garage::{Garage, Page};
use axum::http::StatusCode;
use refettle_memory::entry::Entry;
use refettle_usecases::demo_bike;
use refettle_usecases::look::{Look, Read};

const TAP: [&str; 9] = [
    "tap-judging-1",
    "tap-judging-2",
    "tap-judging-3",
    "tap-judging-4",
    "tap-judging-5",
    "tap-judging-6",
    "tap-judging-7",
    "tap-judging-8",
    "tap-judging-9",
];

/// A page, asked for again as long as it says that it is being worked out.
async fn patient(garage: &Garage, path: &str) -> Page {
    for _ in 0..200 {
        let page = garage.get(path).await;
        if !page.headers.contains_key("refresh") {
            return page;
        }
    }
    panic!("{path} was never worked out");
}

async fn look(garage: &Garage) -> Look {
    let memory = refettle_memory::Memory::open(garage.folder()).unwrap();
    let bike = demo_bike::bike().unwrap();
    Read::of(&memory, &bike, jiff::Timestamp::now(), None)
        .unwrap()
        .plan()
}

/// Numbers of the picture's words, `cause NN %`.
fn words(page: &Page) -> String {
    let (_, rest) = page.text.split_once("<desc id=\"causes-words\">").unwrap();
    rest.split_once("</desc>").unwrap().0.to_owned()
}

fn all_values(page: &Page, name: &str) -> Vec<String> {
    let start = format!("name=\"{name}\" value=\"");
    let mut values = Vec::new();
    let mut rest = page.text.as_str();
    while let Some((_, after)) = rest.split_once(&start) {
        let (value, after) = after.split_once('"').unwrap();
        values.push(value.to_owned());
        rest = after;
    }
    values
}

/// A page without what differs each time it is made, or with each entry.
fn without_keys(page: &Page) -> String {
    let mut text = page.text.clone();
    for name in ["tap", "seen"] {
        for value in all_values(page, name) {
            text = text.replace(&value, "");
        }
    }
    let entry = text
        .split_once("data-entry=\"")
        .map(|(_, rest)| rest.split_once('"').unwrap().0.to_owned());
    entry.map_or(text.clone(), |entry| text.replace(&entry, ""))
}

#[tokio::test]
async fn from_a_finding_to_a_plan_made_anew_the_state_carried() {
    let garage = Garage::new();
    let before = look(&garage).await;
    let kit_before = garage.get("/bike/demo/kit").await;

    // The finding, and what is likely.
    let page = garage.get("/bike/demo/causes").await;
    assert!(page.text.contains("What does it do?") && page.text.contains("symptom=dies-idle"));
    let form = format!("symptom=dies-idle&tap={}", TAP[0]);
    let noted = garage.post_to("/bike/demo/causes/finding", form).await;
    assert_eq!(noted.status, StatusCode::SEE_OTHER);
    let page = patient(&garage, "/bike/demo/causes").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("Next check") || page.text.contains("Or check first"));
    let asked = words(&page);
    assert!(
        asked.contains(", with answer A "),
        "ghost bars have words: {asked}"
    );

    // An answer moves the causes as its ghost bars said.
    let (check, outcome) = (page.field("check"), page.field("outcome"));
    let form = format!("symptom=dies-idle&check={check}&outcome={outcome}&tap={}", TAP[1]);
    let answered = garage.post_to("/bike/demo/causes/check", form).await;
    assert_eq!(answered.status, StatusCode::SEE_OTHER);
    let page = patient(&garage, "/bike/demo/causes?symptom=dies-idle").await;
    let now = words(&page);
    let share = |text: &str, cause: &str, after: &str| -> String {
        let (_, rest) = text.split_once(cause).unwrap();
        let rest = rest.split_once(". ").map_or(rest, |(own, _)| own);
        let (_, rest) = rest.split_once(after).unwrap();
        rest.split_once(" %").unwrap().0.to_owned()
    };
    for cause in [
        "Pilot jet or float bowl gummed",
        "Air leak at an inlet boot or vacuum cap",
        "Tight valves",
    ] {
        let told = share(&asked[asked.find(". ").unwrap()..], cause, ", with answer A ");
        let is = share(&now[now.find(". ").unwrap()..], cause, " ");
        assert_eq!(told, is, "{cause}");
    }
    assert!(page.text.contains("Answered"));

    // A cause's job goes on the list, and nothing else changes.
    let job = page.field("job");
    let added = garage
        .post_to(
            "/bike/demo/causes/job",
            format!("symptom=dies-idle&job={job}&tap={}", TAP[2]),
        )
        .await;
    assert_eq!(added.status, StatusCode::SEE_OTHER);
    let page = patient(&garage, added.headers["location"].to_str().unwrap()).await;
    assert!(page.text.contains("On the list: "));
    let then = look(&garage).await;
    let ix = then.machine.job(&job).unwrap();
    assert!(!before.now.jobs.contains(&ix) && then.now.jobs.contains(&ix));
    assert!(before.now.jobs.iter().all(|j| then.now.jobs.contains(j)));
    assert_eq!(before.now.state.off, then.now.state.off, "what is off stays off");

    // Worth: the new job is weighed beside the others; a tap changes the totals and records nothing.
    let entries = garage.entries().len();
    let page = patient(&garage, "/bike/demo/worth?price=2400").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains(&format!("id=\"job-{job}\"")));
    for way in ["as it stands", "stop here", "for parts"] {
        assert!(page.text.contains(way), "{way}");
    }
    let set = |jobs: &[String]| {
        let pairs: Vec<String> = jobs.iter().map(|j| format!("&chosen={j}")).collect();
        format!("/bike/demo/worth?price=2400&set=1{}", pairs.concat())
    };
    let with = patient(&garage, &set(&["carb-clean".to_owned(), job.clone()])).await;
    let without = patient(
        &garage,
        &format!("{}&toggle={job}", set(&["carb-clean".to_owned(), job.clone()])),
    )
    .await;
    assert!(with.text.contains("these 2 jobs") && without.text.contains("these 1 jobs"));
    assert_eq!(garage.entries().len(), entries, "a tap records nothing");

    // Taken, it is what plan and kit are made from.
    let offered: Vec<String> = all_values(&with, "offered")
        .iter()
        .map(|j| format!("&offered={j}"))
        .collect();
    let body = format!(
        "price=2400&set=1&chosen=carb-clean&chosen={job}&seen={}&tap={}{}",
        with.field("seen"),
        TAP[3],
        offered.concat()
    );
    let taken = garage.post_to("/bike/demo/worth/take", body.clone()).await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.text);
    let page = patient(&garage, taken.headers["location"].to_str().unwrap()).await;
    assert!(page.text.contains("Worth"));
    let after = look(&garage).await;
    let names: Vec<&str> = after
        .now
        .jobs
        .iter()
        .map(|j| after.machine.jobs[j.0].name.as_str())
        .collect();
    assert_eq!(names.len(), 2);
    assert!(names.contains(&"carb-clean") && names.contains(&job.as_str()));
    assert_eq!(before.now.state.off, after.now.state.off);
    assert_ne!(
        before.plan.as_ref().unwrap().found,
        after.plan.as_ref().unwrap().found
    );
    let added = after.machine.job(&job).unwrap();
    assert!(after.plan.as_ref().unwrap().settled.jobs.contains(&added));
    let kit_after = garage.get("/bike/demo/kit").await;
    assert_ne!(without_keys(&kit_before), without_keys(&kit_after));

    // Sent again from the old page with another key, it is told that the bike has moved on.
    let stale = garage
        .post_to("/bike/demo/worth/take", body.replace(TAP[3], TAP[4]))
        .await;
    assert_eq!(stale.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn an_answer_is_taken_back_and_the_causes_stand_as_before() {
    let garage = Garage::new();
    let page = patient(&garage, "/bike/demo/causes?symptom=fork-leak").await;
    let before = words(&page);
    let (check, outcome) = (page.field("check"), page.field("outcome"));
    let form = format!("symptom=fork-leak&check={check}&outcome={outcome}&tap={}", TAP[0]);
    garage.post_to("/bike/demo/causes/check", form).await;
    let page = patient(&garage, "/bike/demo/causes?symptom=fork-leak").await;
    assert_ne!(words(&page), before);
    let back = format!("symptom=fork-leak&entry={}&tap={}", page.field("entry"), TAP[1]);
    let again = back.replace(TAP[1], TAP[2]);
    assert_eq!(
        garage.post_to("/bike/demo/causes/back", back).await.status,
        StatusCode::SEE_OTHER
    );
    let page = patient(&garage, "/bike/demo/causes?symptom=fork-leak").await;
    assert_eq!(words(&page), before);
    let entries = garage.entries().len();
    assert_eq!(
        garage.post_to("/bike/demo/causes/back", again).await.status,
        StatusCode::SEE_OTHER
    );
    assert_eq!(garage.entries().len(), entries, "taken back once only");
}

#[tokio::test]
async fn bad_input_at_each_door_of_causes_and_worth_is_named_and_nothing_recorded() {
    let garage = Garage::new();
    let entries = garage.entries().len();
    let tap = TAP[0];
    for (to, body, told) in [
        (
            "causes/check",
            format!("symptom=dies-idel&check=x&outcome=y&tap={tap}"),
            "did you mean",
        ),
        (
            "causes/check",
            format!("symptom=dies-idle&check=x&outcome=y&tap={tap}"),
            "there is no check",
        ),
        ("causes/check", format!("tap={tap}"), "there is no finding"),
        (
            "causes/finding",
            format!("symptom=%3Cb%3E&tap={tap}"),
            "there is no finding",
        ),
        (
            "causes/finding",
            "symptom=dies-idle&tap=x".to_owned(),
            "is no tap key",
        ),
        (
            "causes/job",
            format!("symptom=dies-idle&job=nothing&tap={tap}"),
            "there is no job",
        ),
        (
            "worth/take",
            format!("chosen=carb-clean&tap={tap}"),
            "open Worth anew",
        ),
    ] {
        let page = garage.post_to(&format!("/bike/demo/{to}"), body.clone()).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{to} {body}");
        assert!(
            page.text.contains(told),
            "{to} {body} is not told '{told}': {}",
            page.text
        );
        assert!(!page.text.contains("<b>"), "shown as text");
    }
    let page = patient(&garage, "/bike/demo/causes?symptom=nothing").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = patient(&garage, "/bike/demo/worth?price=-5&cash=1e9&hours=-1").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    for told in ["price in order", "money for parts", "hours"] {
        assert!(page.text.contains(told), "{told}");
    }
    assert!(
        !page.text.contains("--"),
        "no option of the command line is shown"
    );
    let page = patient(&garage, "/bike/demo/worth?price=2000&set=1&chosen=nothing").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        page.text.contains("there is no job &#39;nothing&#39;")
            || page.text.contains("there is no job 'nothing'")
    );
    for page in ["causes", "worth", "price"] {
        assert_eq!(
            garage.get(&format!("/bike/nobody/{page}")).await.status,
            StatusCode::NOT_FOUND
        );
    }
    assert_eq!(garage.entries().len(), entries);
}

#[tokio::test]
async fn comparables_are_noted_pasted_and_dropped_and_the_price_asked() {
    let garage = Garage::new();
    let page = garage.get("/bike/demo/price").await;
    assert!(page.text.contains("First: its model year"));
    let wrong = garage
        .post_to(
            "/bike/demo/price/about",
            format!("own_year=08&own_distance=far&tap={}", TAP[0]),
        )
        .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        wrong.text.contains("model year 8") && wrong.text.contains("distance"),
        "both are told"
    );
    assert!(wrong.text.contains("value=\"far\""), "what was typed comes back");
    let about = format!("own_year=2008&own_distance=31000+km&tap={}", TAP[0]);
    assert_eq!(
        garage.post_to("/bike/demo/price/about", about).await.status,
        StatusCode::SEE_OTHER
    );

    // Every wrong line is told at once, and the text comes back.
    let table = "kind,date,year,distance_km,price%0Asold,2020-05-01,2008,30000,1900%0Agiven,2020-05-01,2008,1,5%0Asold,2020-05-01,1700,1,free%0A";
    let page = garage
        .post_to("/bike/demo/price/paste", format!("table={table}&tap={}", TAP[1]))
        .await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        page.text.contains("line 3: kind")
            && page.text.contains("line 4: year")
            && page.text.contains("line 4: price")
    );
    assert!(page.text.contains("given,2020-05-01,2008,1,5"));
    assert!(
        garage
            .get("/bike/demo/price")
            .await
            .text
            .contains("None noted yet"),
        "all of it or nothing"
    );

    let good = "kind,date,year,distance_km,price,papers%0Asold,2020-05-01,2008,30000,1900,clean%0Aasked,2020-06-01,2009,20000,2400,rebuilt%0Abid,2020-05-01,2008,1,5,%0A";
    let form = format!("table={good}&tap={}", TAP[2]);
    let noted = garage.post_to("/bike/demo/price/paste", form.clone()).await;
    assert_eq!(noted.status, StatusCode::SEE_OTHER);
    let told = garage.get(noted.headers["location"].to_str().unwrap()).await.text;
    assert!(told.contains("2 noted") && told.contains("a bid not met counts for nothing"));
    garage.post_to("/bike/demo/price/paste", form).await;
    let by_hand = format!(
        "kind=sold&date=2020-05-02&year=2007&distance_km=40000&price=1700&papers=clean&note=a+%22red%22+one&tap={}",
        TAP[3]
    );
    assert_eq!(
        garage.post_to("/bike/demo/price/note", by_hand).await.status,
        StatusCode::SEE_OTHER
    );
    let page = garage.get("/bike/demo/price").await;
    assert!(page.text.contains("Comparables (3)"), "the same tap counts once");
    assert!(
        page.text.contains("<svg class=\"figure\"") && page.text.contains("four in five bikes like this one")
    );
    let bad = format!("kind=sold&date=yesterday&year=2007&price=-1&tap={}", TAP[4]);
    let page = garage.post_to("/bike/demo/price/note", bad).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("date &#39;yesterday&#39;") || page.text.contains("date 'yesterday'"));
    assert!(!page.text.contains("line 2:"));

    let page = garage.get("/bike/demo/price?within=soon&open=nothing").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("whole number") && page.text.contains("there is no finding"));
    let page = garage.get("/bike/demo/price?within=20&open=fork-leak").await;
    assert!(page.text.contains("What each open finding costs"));

    let refused = garage
        .post_to("/bike/demo/price/asking", format!("asking=lots&tap={}", TAP[5]))
        .await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let set = garage
        .post_to("/bike/demo/price/asking", format!("asking=1890&tap={}", TAP[5]))
        .await;
    assert_eq!(set.status, StatusCode::SEE_OTHER);
    assert!(
        garage
            .entries()
            .iter()
            .any(|e| matches!(&e.entry, Entry::AskingPriceSet(b) if b.price.money().0 == 189_000))
    );

    let page = garage.get("/bike/demo/price").await;
    let drop = format!("comparable={}&tap={}", page.field("comparable"), TAP[6]);
    garage.post_to("/bike/demo/price/drop", drop).await;
    assert!(
        garage
            .get("/bike/demo/price")
            .await
            .text
            .contains("Comparables (2)")
    );

    // Worth takes the price from them.
    let worth = patient(&garage, "/bike/demo/worth").await;
    assert!(worth.text.contains("by the comparables"));
}

#[tokio::test]
async fn a_bike_to_buy_has_a_most_to_pay_and_papers_that_end_the_deal() {
    let garage = Garage::new();
    let page = garage.get("/buy").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("The frame number is whole"));
    let bike = "/buy?layout=small-faired-twin&year=2012&distance=18000&price=4500&stood=1&storage=indoors&story=heard-running";
    let plain = patient(&garage, bike).await;
    assert_eq!(plain.status, StatusCode::OK);
    assert!(plain.text.contains("Pay at most") && plain.text.contains("No offer before these are looked at"));
    assert!(plain.text.contains("I bought it: bring it in") && plain.text.contains("ask the authority"));
    let ended = patient(&garage, &format!("{bike}&seen-frame-number=bad")).await;
    assert!(ended.text.contains("Walk away") && ended.text.contains("may be a stolen bike"));
    assert!(!ended.text.contains("Pay at most"));

    let empty = garage.get("/buy?price=").await;
    assert_eq!(empty.status, StatusCode::UNPROCESSABLE_ENTITY);
    for told in [
        "which kind of bike",
        "the model year",
        "the distance",
        "what it fetches in order",
    ] {
        assert!(empty.text.contains(told), "{told}");
    }
    let wrong = patient(
        &garage,
        "/buy?layout=boat&year=2008&distance=wide&price=x&storage=moon&seen-engine=maybe&seen-nothing=ok&loss=2",
    )
    .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    for told in ["boat", "distance", "moon", "maybe", "nothing", "chance of loss"] {
        assert!(wrong.text.contains(told), "{told}");
    }
    assert!(!wrong.text.contains("--"));
}
