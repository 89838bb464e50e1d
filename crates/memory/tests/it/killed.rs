//! Nothing acknowledged is ever lost: two clients write to one folder and are killed at random moments.
//!
//! The test starts itself again as a client, told by the environment what to do.

use crate::sample::{answered, bike, bring_in, noon, tap};
use refettle_facts::ids::PartId;
use refettle_memory::entry::{Action, Answer, Entry};
use refettle_memory::{Memory, Stored};
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::sync::mpsc::{Receiver, Sender};
use std::thread::JoinHandle;
use std::time::Duration;

const FOLDER: &str = "REFETTLE_TEST_KILLED_FOLDER";
const CLIENT: &str = "REFETTLE_TEST_KILLED_CLIENT";
const FROM: &str = "REFETTLE_TEST_KILLED_FROM";

/// Rounds of killing; each kills two clients.
const ROUNDS: usize = 60;
/// A client whose killer is gone stops by itself.
const MOST_TAPS: usize = 20_000;

fn nth(client: &str, n: usize) -> Entry {
    let action = Action::TakeOff {
        part: PartId::new("tank").unwrap(),
        way: 0,
    };
    answered(&format!("{client}.{n}"), action, Answer::Done)
}

/// Answers cards one after the other and says each entry once it is acknowledged.
fn be_a_client(folder: &Path, client: &str, from: usize) {
    let mut memory = Memory::open(folder).unwrap();
    for n in from..from + MOST_TAPS {
        let key = tap(&format!("{client}-{n:08}"));
        let id = memory
            .append(&bike("b1"), noon(), Some(&key), &nth(client, n))
            .unwrap();
        let mut out = std::io::stdout().lock();
        if writeln!(out, "ack {n} {id}").and_then(|()| out.flush()).is_err() {
            return;
        }
    }
}

fn start(test: &str, folder: &Path, client: &str, from: usize) -> Child {
    Command::new(std::env::current_exe().unwrap())
        .args([test, "--exact", "--nocapture", "--test-threads=1"])
        .env(FOLDER, folder)
        .env(CLIENT, client)
        .env(FROM, from.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

fn a_random_while(most_ms: u32) {
    let micros = getrandom::u32().unwrap() % (most_ms * 1000);
    std::thread::sleep(Duration::from_micros(micros.into()));
}

/// A client under way, and what it says.
struct Client {
    child: Child,
    first_ack: Receiver<()>,
    said: JoinHandle<Vec<(usize, String)>>,
}

impl Client {
    fn start(test: &str, folder: &Path, client: &str, from: usize) -> Client {
        let mut child = start(test, folder, client, from);
        let out = child.stdout.take().unwrap();
        let (tell, first_ack) = std::sync::mpsc::channel();
        let said = std::thread::spawn(move || listen(out, &tell));
        Client {
            child,
            first_ack,
            said,
        }
    }

    /// Waits for the first acknowledged entry, however busy the machine is.
    fn wait_for_an_ack(&self) {
        self.first_ack.recv_timeout(Duration::from_secs(60)).unwrap();
    }

    /// Everything it said before it was killed.
    fn killed(mut self) -> Vec<(usize, String)> {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
        self.said.join().unwrap()
    }
}

/// All acknowledged entries a client names. A line it did not finish was not said.
fn listen(out: ChildStdout, tell: &Sender<()>) -> Vec<(usize, String)> {
    let mut out = BufReader::new(out);
    let mut acks = vec![];
    let mut line = String::new();
    while out.read_line(&mut line).unwrap() > 0 {
        if let Some((_, ack)) = line.split_once("ack ")
            && let Some(ack) = ack.strip_suffix('\n')
        {
            let (n, id) = ack.split_once(' ').unwrap();
            acks.push((n.parse().unwrap(), id.to_owned()));
            // Nobody may be waiting for it.
            let _ = tell.send(());
        }
        line.clear();
    }
    acks
}

/// The client's cards in the order in which they lie in the log, with the ids of their entries.
fn kept(entries: &[Stored], client: &str) -> Vec<(usize, String)> {
    entries
        .iter()
        .filter_map(|stored| match &stored.entry {
            Entry::ActionAnswered(body) => {
                let n = body.card.strip_prefix(client)?.strip_prefix('.')?;
                Some((n.parse().unwrap(), stored.id.to_string()))
            }
            _ => None,
        })
        .collect()
}

#[test]
fn every_acknowledged_entry_outlives_its_killed_client_and_none_is_there_twice() {
    const THIS: &str = "killed::every_acknowledged_entry_outlives_its_killed_client_and_none_is_there_twice";
    if let Some(folder) = std::env::var_os(FOLDER) {
        let client = std::env::var(CLIENT).unwrap();
        let from = std::env::var(FROM).unwrap().parse().unwrap();
        return be_a_client(Path::new(&folder), &client, from);
    }
    let dir = tempfile::tempdir().unwrap();
    bring_in(&mut Memory::open(dir.path()).unwrap(), "b1");
    let clients = ["left", "right"];
    let mut acknowledged: BTreeMap<&str, Vec<(usize, String)>> = clients.map(|c| (c, vec![])).into();
    for round in 0..ROUNDS {
        // Each begins with the tap after its last acknowledged one: the one that may or may not have been kept
        // when it was killed is sent again under the same key.
        let running = clients.map(|client| {
            let from = acknowledged[client].len() + 1;
            (client, Client::start(THIS, dir.path(), client, from))
        });
        // Every other round is surely killed in the middle of writing; the rest at any moment.
        if round % 2 == 0 {
            running.iter().for_each(|(_, client)| client.wait_for_an_ack());
        }
        a_random_while(60);
        for (name, client) in running {
            acknowledged.get_mut(name).unwrap().extend(client.killed());
        }
    }
    let mut memory = Memory::open(dir.path()).unwrap();
    memory.check().unwrap();
    let entries = memory.entries(&bike("b1")).unwrap();
    for client in clients {
        let said = &acknowledged[client];
        let kept = kept(&entries, client);
        assert!(
            said.len() >= ROUNDS / 2,
            "too few to prove anything: {}",
            said.len()
        );
        assert_eq!(&kept[..said.len()], &said[..], "{client}");
        assert!(
            kept.len() - said.len() <= 1,
            "{client}: at most the tap under way"
        );
        let numbers: Vec<usize> = kept.iter().map(|(n, _)| *n).collect();
        assert_eq!(numbers, (1..=kept.len()).collect::<Vec<_>>(), "{client}");
    }
    let lists = memory.bikes().unwrap();
    memory.rebuild_lists().unwrap();
    assert_eq!(memory.bikes().unwrap(), lists);
}

#[test]
fn a_client_killed_while_the_file_is_made_leaves_one_that_opens() {
    const THIS: &str = "killed::a_client_killed_while_the_file_is_made_leaves_one_that_opens";
    if let Some(folder) = std::env::var_os(FOLDER) {
        let mut memory = Memory::open(Path::new(&folder)).unwrap();
        bring_in(&mut memory, "b1");
        return be_a_client(Path::new(&folder), "left", 1);
    }
    for _ in 0..24 {
        let dir = tempfile::tempdir().unwrap();
        let folder = dir.path().join("garage");
        let client = Client::start(THIS, &folder, "left", 1);
        a_random_while(40);
        let said = client.killed();
        let mut memory = Memory::open(&folder).unwrap();
        memory.check().unwrap();
        if memory.bikes().unwrap().is_empty() {
            assert!(said.is_empty());
            bring_in(&mut memory, "b1");
        }
        let entries = memory.entries(&bike("b1")).unwrap();
        assert_eq!(&kept(&entries, "left")[..said.len()], &said[..]);
    }
}
