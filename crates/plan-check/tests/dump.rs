use refettle_plan::ask::Act;
use refettle_plan::solve::attempt;
use refettle_plan_check::foul::name_act;
use refettle_plan_check::invent::invent;
#[test]
fn dump() {
    let Some(seed) = std::env::var("SEED").ok().and_then(|s| s.parse().ok()) else {
        return;
    };
    let t = invent(seed).unwrap();
    let m = &t.machine;
    println!(
        "goal {:?} jobs {:?}\nstate {:?}\ngarage {:?}\nheat {:?}",
        t.goal, t.jobs, t.state, t.garage, m.heat
    );
    for s in &m.stances {
        println!(
            "{} in {} out {} people {} from {:?} on {:?} off {:?} rest {} rolls {} tools {:?}",
            s.name, s.enter.0, s.leave.0, s.people, s.from, s.needs_on, s.needs_off, s.rest, s.rolls, s.tools
        );
    }
    for p in &m.parts {
        println!(
            "{} on {:?} when {:?} not_off_in {:?} opens {:?} voids {:?} rolling {} seizing {:?}",
            p.name, p.mounted_on, p.when, p.not_off_in, p.opens, p.voids, p.rolling, p.seizing
        );
        for w in &p.ways {
            println!(
                "   way when {:?} off {:?} st {:?} heat {:?} drained {:?} needs {:?} {}/{} people {} tools {:?}",
                w.when,
                w.off,
                w.stances,
                w.heat,
                w.drained,
                w.needs,
                w.take_off.0,
                w.put_on.0,
                w.people,
                w.tools
            );
        }
    }
    for c in &m.criticals {
        println!(
            "{} of {:?}\n   loosen {:?}\n   tighten {:?}",
            c.name, c.part, c.loosen, c.tighten
        );
    }
    for c in &m.circuits {
        println!("{} proofs {:?}", c.name, c.proofs);
    }
    println!("rechecks {:?}", m.rechecks);
    for f in &m.facts {
        println!("{} standing {}", f.name, f.standing);
    }
    for s in &m.steps {
        println!(
            "{} when {:?} must {:?} off {:?} on {:?} st {:?} bench {} heat {:?} cold {:?} runs {} leaves {:?} full {:?} drained {:?} drains {:?} fills {:?} needs {:?} makes {:?} voids {:?} t {} wait {} not {:?} does {:?} people {} tools {:?}",
            s.name,
            s.when,
            s.engine_must,
            s.off,
            s.on,
            s.stances,
            s.bench,
            s.heat,
            s.cold_extra,
            s.runs_engine,
            s.leaves,
            s.full,
            s.drained,
            s.drains,
            s.fills,
            s.needs,
            s.makes,
            s.voids,
            s.hands_on.0,
            s.wait.0,
            s.meanwhile_not,
            s.does,
            s.people,
            s.tools
        );
    }
    for x in &m.exclusions {
        println!("{:?}", x);
    }
    println!("engine {:?}", m.engine);
    for j in &m.jobs {
        println!("{:?}", j.wants);
    }
    for q in &m.questions {
        println!("default {}", q.default);
    }
    let ask = t.ask(300_000);
    if let Ok(found) = attempt(&ask) {
        println!("planner {}", found.hands_on.0);
        let own = refettle_plan_check::timetable::earliest(&ask, &found.actions).unwrap();
        for (i, a) in found.actions.iter().enumerate() {
            println!(
                "   {} {} at {} mine {}",
                a.time.0,
                name_act(m, a.act),
                found.starts[i].0,
                own.starts[i].0
            );
        }
        let _ = Act::Stand;
    }
    if let Some(acts) = refettle_plan_check::cheapest::route(&ask, 200_000) {
        println!("brute");
        for a in acts {
            println!("   {} {}", a.time.0, name_act(m, a.act));
        }
    }
}
