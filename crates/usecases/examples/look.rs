fn main() {
    let dir = tempfile::tempdir().unwrap();
    let mut memory = refettle_memory::Memory::open(dir.path()).unwrap();
    let at: jiff::Timestamp = "2026-01-02T18:00:00Z".parse().unwrap();
    refettle_usecases::demo_bike::ensure(&mut memory, at).unwrap();
    let bike = refettle_usecases::demo_bike::bike().unwrap();
    let look = refettle_usecases::look::Read::of(&memory, &bike, at).unwrap().plan();
    println!("{:#?}", look.next(None));
    match &look.plan { Ok(e) => for (v, m) in e.actions().iter().zip(&look.may_come_first) { println!("{} {} {}", if *m {"*"} else {" "}, v.seconds/60, v.title); }, Err(e) => println!("{e}") }
}
