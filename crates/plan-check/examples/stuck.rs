use refettle_machine::{garage::Garage, layouts, sheet, state::BikeState};
use refettle_plan::{ask::{Ask, Goal}, solve::attempt};
fn main() {
    let mut a = std::env::args().skip(1);
    let layout = a.next().unwrap(); let jobs = a.next().unwrap();
    let m = sheet::read(layouts::named(&layout).unwrap()).unwrap();
    let jobs: Vec<_> = jobs.split(',').map(|j| m.jobs.iter().position(|x| x.name == j).map(refettle_machine::ix::JobIx).unwrap()).collect();
    let (s, g) = (BikeState::whole(&m), Garage::usual(&m));
    let t = std::time::Instant::now();
    let ask = Ask { machine: &m, state: &s, garage: &g, jobs: &jobs, goal: Goal::Ready, effort: a.next().map_or(30_000, |e| e.parse().unwrap()) };
    let task = refettle_plan::compile::compile(&ask).unwrap();
    println!("{} atoms {} operators", task.atoms.len(), task.operators.len());
    if std::env::var("TRACE").is_ok() { refettle_plan::solve::trace_bound(&task, 400_000); for p in m.parts.iter().enumerate() { print!("{}={} ", p.0, p.1.name); } println!(); for p in m.steps.iter().enumerate() { print!("{}={} ", p.0, p.1.name); } println!(); for p in m.criticals.iter().enumerate() { print!("{}={} ", p.0, p.1.name); } println!(); for p in m.stances.iter().enumerate() { print!("{}={} ", p.0, p.1.name); } println!(); }
    match attempt(&ask) { Ok(f) => println!("{} >= {} states {} {:?}", f.hands_on.0, f.lower_bound.0, f.looked_at, t.elapsed()), Err(e) => println!("{:?} {:?}", e, t.elapsed()) }
}
