//! The tally against the entries it is made from, added up by a way of its own.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_memory::Memory;
use refettle_memory::entry::{
    Amount, BikeBroughtIn, BikeSold, Currency, Day, Entry, GARAGE, LeavesWord, MoneyKind, MoneyMoved,
    MoneyWay, SettingsSet, TimeKind, TimeSpent, TimerCorrected, TimerStarted, TimerStopped, Undone,
};
use refettle_usecases::tally::{csv, view};
use refettle_usecases::{layouts, tally::SumView};
use std::collections::BTreeMap;

const CURRENCIES: [&str; 3] = ["EUR", "USD", "JPY"];

fn amount(minor: i64, currency: usize) -> Amount {
    Amount::new(minor, Currency::new(CURRENCIES[currency % 3]).unwrap()).unwrap()
}

/// Something a person records; `undo` takes it back at once.
#[derive(Debug, Clone)]
enum Said {
    Money {
        bike: usize,
        out: bool,
        minor: i64,
        currency: usize,
        year: i16,
        undo: bool,
    },
    Time {
        bike: usize,
        kind: usize,
        minutes: u32,
        year: i16,
        undo: bool,
    },
    Timer {
        bike: usize,
        seconds: i64,
        corrected: Option<u32>,
    },
    Sold {
        bike: usize,
        minor: i64,
        year: i16,
    },
}

fn said() -> impl Strategy<Value = Said> {
    prop_oneof![
        (
            0..3_usize,
            any::<bool>(),
            0..=1_000_000_000_000_i64,
            0..3_usize,
            2029..2033_i16,
            any::<bool>()
        )
            .prop_map(|(bike, out, minor, currency, year, undo)| Said::Money {
                bike,
                out,
                minor,
                currency,
                year,
                undo
            }),
        (
            0..3_usize,
            0..7_usize,
            0..100_000_u32,
            2029..2033_i16,
            any::<bool>()
        )
            .prop_map(|(bike, kind, minutes, year, undo)| Said::Time {
                bike,
                kind,
                minutes,
                year,
                undo
            }),
        (0..2_usize, 0..40_000_i64, prop::option::of(0..500_u32)).prop_map(|(bike, seconds, corrected)| {
            Said::Timer {
                bike,
                seconds,
                corrected,
            }
        }),
        (0..2_usize, 0..900_000_i64, 2029..2033_i16).prop_map(|(bike, minor, year)| Said::Sold {
            bike,
            minor,
            year
        }),
    ]
}

/// What the test adds up itself: bench and other minutes, and money by currency, in and out.
#[derive(Debug, Default, PartialEq, Eq)]
struct Own {
    bench: u64,
    elsewhere: u64,
    money: BTreeMap<String, (i64, i64)>,
}

impl Own {
    fn take(&mut self, into: bool, minor: i64, currency: usize) {
        let flow = self.money.entry(CURRENCIES[currency % 3].to_owned()).or_default();
        if into { flow.0 += minor } else { flow.1 += minor }
    }
    fn is(&self, sum: &SumView) -> bool {
        let money: BTreeMap<String, (i64, i64)> = sum
            .money
            .iter()
            .map(|flow| (flow.currency.clone(), (flow.in_minor, flow.out_minor)))
            .collect();
        let net = sum.money.iter().all(|f| f.net_minor == f.in_minor - f.out_minor);
        net && sum.bench_minutes == self.bench
            && sum.elsewhere_minutes == self.elsewhere
            && money == self.money
    }
}

struct Desk {
    memory: Memory,
    at: Timestamp,
    subjects: [BikeId; 3],
    _dir: tempfile::TempDir,
}

impl Desk {
    fn new() -> Desk {
        let dir = tempfile::tempdir().unwrap();
        let mut memory = Memory::open(dir.path()).unwrap();
        let subjects = ["red", "blue", GARAGE].map(|id| BikeId::new(id).unwrap());
        let at: Timestamp = "2031-05-01T12:00:00Z".parse().unwrap();
        let sheet = memory
            .store_sheet(&layouts::written_out("tiny-trainer").unwrap())
            .unwrap();
        for bike in &subjects[..2] {
            let entry = Entry::BikeBroughtIn(BikeBroughtIn {
                title: format!("The {bike} one"),
                layout: "tiny-trainer".into(),
                sheet: sheet.clone(),
            });
            memory.append(bike, at, None, &entry).unwrap();
        }
        Desk {
            memory,
            at,
            subjects,
            _dir: dir,
        }
    }

    fn append(&mut self, subject: usize, entry: &Entry) -> EntryId {
        self.memory
            .append(&self.subjects[subject], self.at, None, entry)
            .unwrap()
    }

    fn undo(&mut self, subject: usize, entry: EntryId) {
        self.append(subject, &Entry::Undone(Undone { entry }));
    }
}

fn day(year: i16) -> Day {
    Day(jiff::civil::date(year, 3, 9))
}

/// Records what was said and gives the test's own sums, each by subject and year.
fn record(desk: &mut Desk, all: &[Said]) -> BTreeMap<(usize, i16), Own> {
    let mut own: BTreeMap<(usize, i16), Own> = BTreeMap::new();
    let mut sold: BTreeMap<usize, (i16, i64)> = BTreeMap::new();
    for said in all {
        match said.clone() {
            Said::Money {
                bike,
                out,
                minor,
                currency,
                year,
                undo,
            } => {
                let entry = desk.append(
                    bike,
                    &Entry::MoneyMoved(MoneyMoved {
                        way: if out { MoneyWay::Out } else { MoneyWay::In },
                        of: MoneyKind::Parts,
                        amount: amount(minor, currency),
                        day: Some(day(year)),
                        order: None,
                        note: None,
                    }),
                );
                if undo {
                    desk.undo(bike, entry);
                } else {
                    own.entry((bike, year)).or_default().take(!out, minor, currency);
                }
            }
            Said::Time {
                bike,
                kind,
                minutes,
                year,
                undo,
            } => {
                let on = TimeKind::ALL[kind % TimeKind::ALL.len()];
                let entry = desk.append(
                    bike,
                    &Entry::TimeSpent(TimeSpent {
                        on,
                        minutes,
                        day: Some(day(year)),
                        note: None,
                    }),
                );
                if undo {
                    desk.undo(bike, entry);
                } else {
                    let own = own.entry((bike, year)).or_default();
                    if on == TimeKind::Bench {
                        own.bench += u64::from(minutes);
                    } else {
                        own.elsewhere += u64::from(minutes);
                    }
                }
            }
            Said::Timer {
                bike,
                seconds,
                corrected,
            } => {
                let timer = desk.append(
                    bike,
                    &Entry::TimerStarted(TimerStarted {
                        about: None,
                        card: None,
                    }),
                );
                let year = jiff::tz::Offset::UTC.to_datetime(desk.at).year();
                desk.at += SignedDuration::from_secs(seconds);
                desk.append(bike, &Entry::TimerStopped(TimerStopped { timer: timer.clone() }));
                if let Some(minutes) = corrected {
                    desk.append(
                        bike,
                        &Entry::TimerCorrected(TimerCorrected {
                            timer,
                            minutes,
                            note: None,
                        }),
                    );
                }
                let shown = corrected.map_or((seconds as u64 + 30) / 60, u64::from);
                own.entry((bike, year)).or_default().bench += shown;
            }
            Said::Sold { bike, minor, year } => {
                desk.append(
                    bike,
                    &Entry::BikeSold(BikeSold {
                        price: amount(minor, 0),
                        on: day(year),
                        roadworthy: false,
                        leaves: LeavesWord::Trailer,
                        buyer: None,
                        paper: None,
                        note: None,
                    }),
                );
                // The last sale said is the sale.
                sold.insert(bike, (year, minor));
            }
        }
    }
    for (bike, (year, minor)) in sold {
        own.entry((bike, year)).or_default().take(true, minor, 0);
    }
    own
}

fn added<'a>(parts: impl Iterator<Item = (&'a (usize, i16), &'a Own)>) -> Own {
    let mut all = Own::default();
    for (_, part) in parts {
        all.bench += part.bench;
        all.elsewhere += part.elsewhere;
        for (currency, (into, out)) in &part.money {
            let flow = all.money.entry(currency.clone()).or_default();
            flow.0 += into;
            flow.1 += out;
        }
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// To the last minor unit and minute, whatever was recorded and taken back, per bike and per year.
    #[test]
    fn the_tally_is_what_the_entries_say(all in prop::collection::vec(said(), 0..25)) {
        let mut desk = Desk::new();
        let own = record(&mut desk, &all);
        let seen = view(&desk.memory, desk.at, None, None).unwrap();
        let whole = added(own.iter());
        prop_assert!(whole.is(&seen.all), "{whole:?} {:?}", seen.all);
        let garage = added(own.iter().filter(|((of, _), _)| *of == 2));
        prop_assert!(garage.is(&seen.garage), "{garage:?} {:?}", seen.garage);
        for (at, bike) in seen.bikes.iter().enumerate() {
            let of = added(own.iter().filter(|((of, _), _)| *of == at));
            prop_assert!(of.is(&bike.sum), "{of:?} {:?}", bike.sum);
        }
        for year in 2029..2033 {
            let of = added(own.iter().filter(|((_, of), _)| *of == year));
            let seen = view(&desk.memory, desk.at, None, Some(year)).unwrap();
            prop_assert!(of.is(&seen.all), "{year}: {of:?} {:?}", seen.all);
        }
        // The table adds up to the same.
        let table = csv(&desk.memory, None, None).unwrap();
        let minutes: u64 = table.lines().skip(1).filter_map(|l| l.split(',').nth(4)?.parse::<u64>().ok()).sum();
        prop_assert_eq!(minutes, whole.bench + whole.elsewhere);
    }
}

#[test]
fn the_limit_of_sales_is_warned_of_and_hours_are_paid_by_sold_bikes_alone() {
    let mut desk = Desk::new();
    let settings = SettingsSet {
        yearly_sales: Some(2),
        ..SettingsSet::default()
    };
    desk.append(2, &Entry::SettingsSet(settings));
    let all = [
        Said::Money {
            bike: 0,
            out: true,
            minor: 40_000,
            currency: 0,
            year: 2031,
            undo: false,
        },
        Said::Money {
            bike: 1,
            out: true,
            minor: 70_000,
            currency: 0,
            year: 2031,
            undo: false,
        },
        Said::Time {
            bike: 0,
            kind: 1,
            minutes: 120,
            year: 2031,
            undo: false,
        },
        Said::Sold {
            bike: 0,
            minor: 60_000,
            year: 2031,
        },
    ];
    record(&mut desk, &all);
    let seen = view(&desk.memory, desk.at, None, None).unwrap();
    // 200.00 in two hours, by the one bike that is sold; the other one's price is not lost, it stands in the yard.
    assert_eq!(seen.earned.len(), 1);
    assert_eq!(
        (seen.earned[0].net_minor, seen.earned[0].per_hour_minor),
        (20_000, Some(10_000))
    );
    assert_eq!(seen.bikes[1].earned, Vec::new());
    assert_eq!((seen.sales.most, seen.sales.lately), (1, 1));
    let warning = seen.sales.warning.unwrap();
    assert!(
        warning.contains("the last of the limit") && warning.contains("ask the authority"),
        "{warning}"
    );
    record(
        &mut desk,
        &[Said::Sold {
            bike: 1,
            minor: 1,
            year: 2031,
        }],
    );
    let seen = view(&desk.memory, desk.at, None, None).unwrap();
    assert!(seen.sales.warning.unwrap().contains("past the limit"));
}
