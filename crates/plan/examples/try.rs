use refettle_machine::{garage::Garage, sheet, state::BikeState};
use refettle_plan::ask::{Ask, Goal, USUAL_EFFORT};
fn main() {
    let args: Vec<String> = std::env::args().collect();
    let text = std::fs::read_to_string(&args[1]).unwrap();
    let m = sheet::read(&text).unwrap_or_else(|e| panic!("{e}"));
    let state = BikeState::whole(&m);
    let garage = Garage::usual(&m);
    let sets: Vec<Vec<String>> = if args.len() > 2 {
        vec![args[2].split(',').map(String::from).collect()]
    } else {
        m.jobs
            .iter()
            .map(|j| vec![j.name.clone()])
            .chain([m.jobs.iter().map(|j| j.name.clone()).collect()])
            .collect()
    };
    for set in &sets {
        let jobs: Vec<_> = set.iter().map(|j| m.job(j).unwrap()).collect();
        let t = std::time::Instant::now();
        let ask = Ask {
            machine: &m,
            state: &state,
            garage: &garage,
            jobs: &jobs,
            goal: Goal::Ready,
            effort: USUAL_EFFORT,
        };
        let found = refettle_plan::solve::solve(&ask);
        match found {
            Ok(f) => {
                println!(
                    "{:<50} {:>5} lb {:>5} looked {:>8} {:?}",
                    set.join(","),
                    f.hands_on.0 / 60,
                    f.lower_bound.0 / 60,
                    f.looked_at,
                    t.elapsed()
                );
                if args.len() > 2 {
                    for a in &f.actions {
                        println!("   {:?} {}", name(&m, a.act), a.time);
                    }
                }
            }
            Err(e) => println!("{:<50} {:?} {:?}", set.join(","), e, t.elapsed()),
        }
    }
}
fn name(m: &refettle_machine::model::Machine, a: refettle_plan::ask::Act) -> String {
    use refettle_plan::ask::Act::*;
    match a {
        TakeOff { part, way } => format!("off {} {way}", m.parts[part.0].name),
        PutOn { part, way } => format!("on {} {way}", m.parts[part.0].name),
        Loosen(c) => format!("loosen {}", m.criticals[c.0].name),
        Tighten(c) => format!("tighten {}", m.criticals[c.0].name),
        Stand(s) => format!("stand {}", m.stances[s.0].name),
        Do { step, fuel, cold } => format!("do {} {fuel:?} {cold}", m.steps[step.0].name),
        Cool(h) => format!("cool {h:?}"),
        Await(p) => format!("await {}", m.parts[p.0].name),
    }
}
