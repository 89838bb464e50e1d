fn main() {
    let dir = tempfile::tempdir().unwrap();
    let mut memory = refettle_memory::Memory::open(dir.path()).unwrap();
    let at: jiff::Timestamp = "2026-01-02T18:00:00Z".parse().unwrap();
    refettle_usecases::demo_bike::ensure(&mut memory, at).unwrap();
    let bike = refettle_usecases::demo_bike::bike().unwrap();
    let look = refettle_usecases::look::Read::of(&memory, &bike, at, None).unwrap().plan();
    println!("{:#?}", look.next(None));
    let t=std::time::Instant::now(); let o = look.running_order(0); println!("{:?}", t.elapsed()); for l in &o.lines { println!("{} {:?} {} w{} f{} {:?}", l.group, l.when, l.title, l.wait.0, l.filled_by, l.beside) } println!("{:#?}", o.ties);
}
