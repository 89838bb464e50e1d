use refettle_plan::solve::attempt;
use refettle_plan_check::cheapest::{Cheapest, cheapest};
use refettle_plan_check::check::check;
use refettle_plan_check::invent::invent;

#[test]
fn survey() {
    let from: u64 = std::env::var("FROM")
        .ok()
        .and_then(|s| s.parse().ok())
        .unwrap_or(0);
    let to: u64 = std::env::var("TO")
        .ok()
        .and_then(|s| s.parse().ok())
        .unwrap_or(300);
    let (mut exact, mut imp, mut large, mut bad) = (0, 0, 0, 0);
    for seed in from..to {
        let task = invent(seed).unwrap();
        let ask = task.ask(300_000);
        let brute = cheapest(&ask, 100_000);
        match brute {
            Cheapest::Exactly(_) => exact += 1,
            Cheapest::Impossible => imp += 1,
            Cheapest::TooLarge => large += 1,
        }
        if std::env::var("TRACE").is_ok() {
            eprintln!("{seed} {brute:?}");
        }
        let said = std::thread::scope(|s| {
            std::thread::Builder::new()
                .stack_size(1 << 28)
                .spawn_scoped(s, || attempt(&ask))
                .unwrap()
                .join()
                .unwrap()
        });
        let line = match (&said, brute) {
            (Ok(found), _) => match check(&ask, &found.actions) {
                Err(fouls) => Some(format!(
                    "FOUL {}",
                    fouls.iter().map(|f| f.to_string()).collect::<Vec<_>>().join("; ")
                )),
                Ok(t) if t != found.hands_on => Some(format!("SUM {t:?} {:?}", found.hands_on)),
                Ok(t) => match brute {
                    Cheapest::Exactly(b) if b != t || found.lower_bound > b => Some(format!(
                        "COST planner {} bound {} brute {}",
                        t.0, found.lower_bound.0, b.0
                    )),
                    Cheapest::Impossible => Some("IMPOSSIBLE but planned".into()),
                    _ => None,
                },
            },
            (Err(none), Cheapest::Exactly(b)) => Some(format!(
                "NOPLAN certain {} causes {:?} brute {}",
                none.certain, none.causes, b.0
            )),
            (Err(none), _) if !none.certain => Some("uncertain".into()),
            _ => None,
        };
        if let Some(line) = line {
            bad += 1;
            println!("seed {seed} {:?}: {line}", task.goal);
        }
    }
    println!("exact {exact} impossible {imp} large {large} bad {bad}");
}
