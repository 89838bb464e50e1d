//! Two devices answer cards while the server is killed at random moments, again and again.
//!
//! The number of kills is REFETTLE_KILLS; when that is not set, as many as fit in a minute, 150 at most and 8 at least,
//! however busy the machine is. The seed is
//! REFETTLE_SEED; both are in the failure's text.

use crate::server::{FORM, Server, command, garage, get, of_bike, post};
use refettle_memory::Memory;
use refettle_memory::entry::Entry;
use refettle_usecases::demo_bike;
use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::sync::mpsc::{Sender, channel};
use std::time::{Duration, Instant};

/// Numbers that look random and are the same for the same seed (xorshift, 64 bits).
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % end
    }
}

/// One device: what it was told, and the tap it has had no answer to.
struct Device {
    name: &'static str,
    taps: u32,
    pending: Option<(String, String)>,
    acknowledged: Vec<String>,
    refused: Vec<String>,
}

impl Device {
    fn new(name: &'static str) -> Device {
        Device {
            name,
            taps: 0,
            pending: None,
            acknowledged: vec![],
            refused: vec![],
        }
    }

    /// Looks at the card and taps an answer, or sends the last tap again if it was not answered.
    fn tap(&mut self, address: SocketAddr) -> std::io::Result<()> {
        if self.pending.is_none() {
            let page = get(address, &of_bike(""))?;
            let (Some(card), Some(seen)) = (page.field("card"), page.field("seen")) else {
                return Err(std::io::Error::other("no card"));
            };
            self.taps += 1;
            let key = format!("{}-{:06}", self.name, self.taps);
            let answer = ["something-wrong&note=thread+is+stripped", "not-now"]
                [usize::from(self.taps.is_multiple_of(2))];
            let form = format!("card={card}&seen={seen}&tap={key}&answer={answer}");
            self.pending = Some((key, form));
        }
        let Some((key, form)) = &self.pending else {
            return Ok(());
        };
        let answer = post(address, &of_bike("/answer"), FORM, form.as_bytes(), "")?;
        match answer.status {
            303 => self.acknowledged.push(key.clone()),
            // The other device was quicker.
            409 => self.refused.push(key.clone()),
            other => panic!("{other}: {}", answer.text()),
        }
        self.pending = None;
        Ok(())
    }

    /// Says when it was first answered.
    fn until_it_dies(mut self, address: SocketAddr, tell: &Sender<()>) -> Device {
        while self.tap(address).is_ok() {
            // Nobody may be waiting for it.
            let _ = tell.send(());
        }
        self
    }
}

/// Fewest kills of a run that is not told how many.
const LEAST: u64 = 8;

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).map_or(usual, |text| text.parse().unwrap())
}

#[test]
fn every_answer_the_server_acknowledged_is_there_once_however_it_was_killed() {
    let wanted = number("REFETTLE_KILLS", 150);
    let bounded = std::env::var_os("REFETTLE_KILLS").is_none();
    let begun = Instant::now();
    let mut kills = 0;
    let seed = number("REFETTLE_SEED", 0x5eed);
    let mut dice = Dice(seed | 1);
    let dir = tempfile::tempdir().unwrap();
    garage(dir.path());
    let mut devices = vec![Device::new("left"), Device::new("right")];
    let late = |kills| bounded && kills >= LEAST && begun.elapsed() > Duration::from_secs(60);
    while kills < wanted && !late(kills) {
        kills += 1;
        let mut child = command(dir.path(), &[]).spawn().unwrap();
        if dice.below(8) == 0 {
            // While it starts.
            std::thread::sleep(Duration::from_micros(dice.below(40_000)));
            child.kill().unwrap();
            child.wait().unwrap();
            continue;
        }
        let server = Server::of(child).unwrap_or_else(|said| panic!("{said}"));
        let address = server.address;
        let (tell, answered) = channel();
        let running: Vec<_> = devices
            .drain(..)
            .map(|device| {
                let tell = tell.clone();
                std::thread::spawn(move || device.until_it_dies(address, &tell))
            })
            .collect();
        // Most are surely killed in the middle of answering, however busy the machine is; the rest at any moment.
        if dice.below(4) > 0 {
            answered.recv_timeout(Duration::from_secs(60)).unwrap();
        }
        std::thread::sleep(Duration::from_micros(dice.below(150_000)));
        server.kill();
        devices.extend(running.into_iter().map(|device| device.join().unwrap()));
    }
    let server = Server::start(dir.path(), &[]);
    for device in &mut devices {
        while device.pending.is_some() {
            device.tap(server.address).unwrap();
        }
    }
    server.kill();
    let mut memory = Memory::open(dir.path()).unwrap();
    memory.check().unwrap();
    let mut kept: BTreeMap<String, usize> = BTreeMap::new();
    for stored in memory.entries(&demo_bike::bike().unwrap()).unwrap() {
        if let (Entry::ActionAnswered(_), Some(tap)) = (&stored.entry, &stored.tap)
            && !tap.as_str().starts_with("demo-bike")
        {
            *kept.entry(tap.to_string()).or_default() += 1;
        }
    }
    let told = format!("REFETTLE_SEED={seed} REFETTLE_KILLS={kills}");
    let mut acknowledged = 0;
    for device in &devices {
        for key in &device.acknowledged {
            assert_eq!(kept.remove(key), Some(1), "{key}, {told}");
            acknowledged += 1;
        }
        for key in &device.refused {
            assert_eq!(kept.get(key), None, "{key} was refused, {told}");
        }
    }
    // Every tap was answered in the end, so nothing else can be there.
    assert!(kept.is_empty(), "{kept:?}, {told}");
    assert!(
        acknowledged as u64 >= (kills / 4).max(1),
        "too few to prove anything: {acknowledged}, {told}"
    );
    let lists = memory.bikes().unwrap();
    memory.rebuild_lists().unwrap();
    assert_eq!(memory.bikes().unwrap(), lists);
    // Nothing was lost and nothing is there twice, or this line would not be reached.
    println!("{kills} kills, {acknowledged} acknowledged answers, 0 lost, 0 double");
}
