//! `refettle log`: every kind of entry, by the names people use.

mod answer;
mod arrival;
mod found;
mod garage_wide;
mod leaving;
mod photo;
mod surprise;
mod tally;

use super::opened::{Opened, Tapped, failed, mistaken};
use super::typed::Names;
use crate::commands::json;
use crate::outcome::Failure;
use anyhow::anyhow;
use clap::Subcommand;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_machine::model::Machine;
use refettle_memory::PersonalId;
use refettle_memory::entry::{Amount, Currency, Day, Entry, GARAGE};
use refettle_usecases::look::NotTakenUp;
use refettle_usecases::told::told;
use serde::Serialize;

/// `--json` of what records: `refettle-logged/1`.
#[derive(Serialize)]
pub struct LoggedView {
    format: &'static str,
    subject: String,
    entry: String,
}

/// What was recorded, as JSON.
pub fn answered(subject: &BikeId, entry: &EntryId) -> LoggedView {
    LoggedView {
        format: "refettle-logged/1",
        subject: subject.to_string(),
        entry: entry.to_string(),
    }
}

#[derive(Subcommand)]
#[command(disable_help_subcommand = true)]
pub enum Log {
    /// Answer a bench card: done, wrong, another-way or not-now
    #[command(after_help = "Example:\n  refettle log answer red take-off.0.seat done --data garage")]
    Answer(answer::Answer),
    /// The jobs wanted from here on
    #[command(after_help = "Example:\n  refettle log jobs red --jobs oil-and-filter --data garage")]
    Jobs(answer::Jobs),
    /// What this garage can do for this bike
    #[command(after_help = "Example:\n  refettle log garage red --people 2 --corroded --data garage")]
    Garage(answer::GarageIs),
    /// Answer a question about the model
    #[command(after_help = "Example:\n  refettle log question red cooling=air --data garage")]
    Question(answer::Question),
    /// Adopt the plan from here: it is kept as it is
    #[command(after_help = "Example:\n  refettle log plan red --data garage")]
    Plan(answer::Adopt),
    /// Facts about the bike: year, distance, numbers, seller
    #[command(
        after_help = "Example:\n  refettle log facts red --year 1994 --distance \"48213 km\" --data garage"
    )]
    Facts(arrival::Facts),
    /// A paper was looked for, or a register asked
    #[command(after_help = "Example:\n  refettle log paper red theft-check --good --data garage")]
    Paper(arrival::Paper),
    /// Set a day: it arrives, is to be ready, is fetched
    #[command(after_help = "Example:\n  refettle log due red ready --on 2031-05-20 --data garage")]
    Due(arrival::Due),
    /// A bike that was expected is here
    #[command(after_help = "Example:\n  refettle log arrived red --data garage")]
    Arrived(arrival::Arrived),
    /// An offer, by us or by them
    #[command(after_help = "Example:\n  refettle log offer red us 450 --currency EUR --data garage")]
    Offer(arrival::Offer),
    /// What is asked for it
    #[command(after_help = "Example:\n  refettle log asking red 1290 --currency EUR --data garage")]
    Asking(arrival::Asking),
    /// The bike's own sheet differs from the layout
    #[command(
        after_help = "Example:\n  refettle log sheet red circuit.oil.quantity --value \"2.4 L\" --source manual --from \"page 12\" --data garage"
    )]
    Sheet(arrival::Sheet),
    /// Begin although an order is still to come
    #[command(after_help = "Example:\n  refettle log begin-anyway red ORDER")]
    BeginAnyway(arrival::BeginAnyway),
    /// Something that is not right
    #[command(
        after_help = "Example:\n  refettle log finding red --region fork --note \"left leg weeps\" --data garage"
    )]
    Finding(found::Finding),
    /// A finding is settled
    #[command(after_help = "Example:\n  refettle log settled red FINDING put-right")]
    Settled(found::Settled),
    /// A check of a likely cause came out so
    #[command(after_help = "Example:\n  refettle log check red fuel-at-tap flows --data garage")]
    Check(found::Check),
    /// How fixings are: right, odd, missing, damaged
    #[command(after_help = "Example:\n  refettle log fixing red missing --fixings seat=0 --data garage")]
    Fixing(found::Fixing),
    /// A setting, before it is lost
    #[command(
        after_help = "Example:\n  refettle log setting red seat \"hook\" \"second hole\" --data garage"
    )]
    Setting(found::Setting),
    /// Something measured
    #[command(after_help = "Example:\n  refettle log measured red \"front tread\" \"1.9 mm\" --data garage")]
    Measured(found::Measurement),
    /// Fixings into a bag
    #[command(
        after_help = "Example:\n  refettle log bag-in red 3 \"2 x M6 x 25\" --place shelf --data garage"
    )]
    BagIn(found::BagIn),
    /// A bag emptied, with what was over or missing
    #[command(after_help = "Example:\n  refettle log bag-out red 3 --over \"1 x M6 x 25\" --data garage")]
    BagOut(found::BagOut),
    /// A photo from a file
    #[command(
        after_help = "Example:\n  refettle log photo red cables.jpg --part tank --caption \"routing\" --data garage"
    )]
    Photo(photo::Photo),
    /// Start, stop or correct a timer
    #[command(
        after_help = "Examples:\n  refettle log timer red start --data garage\n  refettle log timer red stop --data garage\n  refettle log timer red correct --minutes 35 --data garage"
    )]
    Timer(tally::Timer),
    /// Time spent that no timer saw
    #[command(after_help = "Example:\n  refettle log time red driving 90 --data garage")]
    Time(tally::Time),
    /// Money in or out
    #[command(after_help = "Example:\n  refettle log money red out bike 450 --currency EUR --data garage")]
    Money(tally::Money),
    /// A shortcut was taken
    #[command(after_help = "Example:\n  refettle log shortcut red seal-reused --circuit oil --data garage")]
    Shortcut(surprise::Shortcut),
    /// A shortcut passed its closing test
    #[command(after_help = "Example:\n  refettle log cleared red SHORTCUT --note \"dry after the ride\"")]
    Cleared(surprise::Cleared),
    /// A shortcut is left for later, and told to the buyer
    #[command(after_help = "Example:\n  refettle log due-later red SHORTCUT \"at the next oil change\"")]
    DueLater(surprise::DueLater),
    /// A surprise: seized, snapped, stripped, rounded, missing …
    #[command(
        after_help = "Example:\n  refettle log trouble red snapped --part seat --note \"flush\" --data garage"
    )]
    Trouble(surprise::Trouble),
    /// What is to be done about a surprise
    #[command(after_help = "Example:\n  refettle log way-out red TROUBLE extractor")]
    WayOut(surprise::WayOut),
    /// A surprise is over
    #[command(after_help = "Example:\n  refettle log solved red TROUBLE")]
    Solved(surprise::Solved),
    /// An item of the road check
    #[command(
        after_help = "Example:\n  refettle log road-check red brake.front.lever static --passes --data garage"
    )]
    RoadCheck(leaving::RoadCheck),
    /// A critical fixing had its second look
    #[command(after_help = "Example:\n  refettle log recheck red rear-axle-nut --data garage")]
    Recheck(leaving::Recheck),
    /// A paper was issued, and is kept as it was
    #[command(after_help = "Example:\n  refettle log issued red sale-paper my-bike.json --sha256 HASH")]
    Issued(leaving::Issued),
    /// The bike is sold
    #[command(
        after_help = "Example:\n  refettle log sold red 1250 --currency EUR --leaves trailer --not-roadworthy --data garage"
    )]
    Sold(leaving::Sold),
    /// The bike is no longer here
    #[command(after_help = "Example:\n  refettle log gone red sold --data garage")]
    Gone(leaving::Gone),
    /// How much of something the drawer holds
    #[command(
        after_help = "Example:\n  refettle log drawer \"brake fluid DOT 4\" low --opened 2031-03-01 --data garage"
    )]
    Drawer(garage_wide::Drawer),
    /// "Got one?": the answer for a line of a bike's kit
    #[command(after_help = "Example:\n  refettle log got red oil some --place \"top shelf\"")]
    Got(garage_wide::Got),
    /// An order was placed
    #[command(
        after_help = "Example:\n  refettle log order \"2 x fork seals 37 mm\" --for red --due 2031-05-06 --data garage"
    )]
    Order(garage_wide::Order),
    /// An order, or some of it, arrived
    #[command(after_help = "Example:\n  refettle log order-in ORDER")]
    OrderIn(garage_wide::OrderIn),
    /// An order is due on another day
    #[command(after_help = "Example:\n  refettle log order-due ORDER --on 2031-05-08")]
    OrderDue(garage_wide::OrderDue),
    /// An order was cancelled
    #[command(after_help = "Example:\n  refettle log order-off ORDER")]
    OrderOff(garage_wide::OrderOff),
    /// The price of a bike like one of ours
    #[command(
        after_help = "Example:\n  refettle log comparable \"a twin like the blue one\" asked 1390 --currency EUR --data garage"
    )]
    Comparable(garage_wide::Comparable),
    /// A comparable counts no more
    #[command(after_help = "Example:\n  refettle log comparable-off COMPARABLE")]
    ComparableOff(garage_wide::ComparableOff),
    /// Own rate, currency, units, yearly sales
    #[command(after_help = "Example:\n  refettle log settings --currency EUR --rate 25 --data garage")]
    Settings(garage_wide::Settings),
    /// Any kind of entry, its body as JSON (see docs/entries.md)
    #[command(
        after_help = "Example:\n  refettle log entry red setting-noted '{\"part\":\"seat\",\"what\":\"hook\",\"value\":\"second hole\"}'"
    )]
    Entry(answer::Any),
}

pub fn run(log: &Log) -> Result<String, Failure> {
    match log {
        Log::Answer(c) => c.run(),
        Log::Jobs(c) => record(c),
        Log::Garage(c) => record(c),
        Log::Question(c) => record(c),
        Log::Plan(c) => record(c),
        Log::Facts(c) => record(c),
        Log::Paper(c) => record(c),
        Log::Due(c) => record(c),
        Log::Arrived(c) => record(c),
        Log::Offer(c) => record(c),
        Log::Asking(c) => record(c),
        Log::Sheet(c) => record(c),
        Log::BeginAnyway(c) => record(c),
        Log::Finding(c) => record(c),
        Log::Settled(c) => record(c),
        Log::Check(c) => record(c),
        Log::Fixing(c) => record(c),
        Log::Setting(c) => record(c),
        Log::Measured(c) => record(c),
        Log::BagIn(c) => record(c),
        Log::BagOut(c) => record(c),
        Log::Photo(c) => c.run(),
        Log::Timer(c) => record(c),
        Log::Time(c) => record(c),
        Log::Money(c) => record(c),
        Log::Shortcut(c) => record(c),
        Log::Cleared(c) => record(c),
        Log::DueLater(c) => record(c),
        Log::Trouble(c) => record(c),
        Log::WayOut(c) => record(c),
        Log::Solved(c) => record(c),
        Log::RoadCheck(c) => record(c),
        Log::Recheck(c) => record(c),
        Log::Issued(c) => record(c),
        Log::Sold(c) => record(c),
        Log::Gone(c) => record(c),
        Log::Drawer(c) => record(c),
        Log::Got(c) => record(c),
        Log::Order(c) => record(c),
        Log::OrderIn(c) => record(c),
        Log::OrderDue(c) => record(c),
        Log::OrderOff(c) => record(c),
        Log::Comparable(c) => record(c),
        Log::ComparableOff(c) => record(c),
        Log::Settings(c) => record(c),
        Log::Entry(c) => record(c),
    }
}

/// A command that records one entry.
trait Says {
    /// Of what: a bike as a person names it, or the garage.
    fn subject(&self) -> &str;
    fn tapped(&self) -> &Tapped;
    /// The entry; `None` with mistakes told.
    fn entry(&self, telling: &mut Telling<'_>) -> Option<Entry>;
}

/// What an entry is made with.
struct Telling<'a> {
    opened: &'a mut Opened,
    subject: &'a BikeId,
    machine: Option<&'a Machine>,
    currency: Option<Currency>,
    mistakes: Vec<String>,
}

impl Telling<'_> {
    fn today(&self) -> Day {
        self.opened.today()
    }

    /// Names of the bike's sheet; the garage has none, and its commands ask for none.
    fn named<T>(&mut self, read: impl FnOnce(&Names<'_>, &mut Vec<String>) -> Option<T>) -> Option<T> {
        let machine = self.machine?;
        read(&Names { machine }, &mut self.mistakes)
    }

    fn amount(&mut self, text: &str, currency: Option<&Currency>) -> Option<Amount> {
        let currency = currency.or(self.currency.as_ref()).cloned();
        super::typed::amount(text, currency.as_ref(), &mut self.mistakes)
    }

    /// Keeps personal data, once all else is right: what is refused keeps nothing.
    fn personal(&mut self, what: &str, text: Option<&String>) -> Option<PersonalId> {
        let text = text.filter(|_| self.mistakes.is_empty())?;
        let tap = self.opened.tap.clone();
        self.opened
            .memory
            .keep_personal(what, text, tap.as_ref())
            .map_err(|e| self.mistakes.push(e.to_string()))
            .ok()
    }
}

fn record<S: Says>(says: &S) -> Result<String, Failure> {
    let mut opened = says.tapped().open()?;
    let subject = opened.subject(says.subject())?;
    let read = if subject.as_str() == GARAGE {
        None
    } else {
        Some(opened.read(&subject)?)
    };
    let machine = read.as_ref().map(|read| read.machine().clone());
    let currency = opened.memory.garage().map_err(failed)?.settings.currency;
    let mut telling = Telling {
        opened: &mut opened,
        subject: &subject,
        machine: machine.as_ref(),
        currency,
        mistakes: Vec::new(),
    };
    let entry = says.entry(&mut telling);
    let mistakes = telling.mistakes;
    if !mistakes.is_empty() {
        return Err(mistaken(mistakes));
    }
    let entry =
        entry.ok_or_else(|| anyhow!("this entry could not be made, and nothing says why; report this"))?;
    if let Some(read) = &read {
        refettle_usecases::surprise::allowed(read, &entry)?;
    }
    match read.map(|read| read.takes(&opened.memory, &entry)) {
        Some(Err(NotTakenUp::Memory(error))) => return Err(failed(error)),
        Some(Err(error)) => return Err(mistaken(vec![error.to_string()])),
        Some(Ok(())) | None => {}
    }
    let id = opened.append(&subject, &entry)?;
    if says.tapped().json {
        return json(&answered(&subject, &id));
    }
    let words = match &machine {
        Some(machine) => told(machine, &entry),
        None => refettle_usecases::told::told_of_garage(&entry),
    };
    Ok(format!("{words}\nentry {id}\n"))
}

/// `impl Says` for a command of a bike.
macro_rules! says {
    ($Command:ident, |$self:ident, $telling:ident| $entry:expr) => {
        impl super::Says for $Command {
            fn subject(&self) -> &str {
                &self.bike
            }
            fn tapped(&self) -> &super::Tapped {
                &self.tapped
            }
            fn entry(&self, $telling: &mut super::Telling<'_>) -> Option<refettle_memory::entry::Entry> {
                let $self = self;
                $entry
            }
        }
    };
}
use says;
