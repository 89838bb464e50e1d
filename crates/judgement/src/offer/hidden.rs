//! What may be wrong with a bike unseen, and how likely.
//!
//! **Chance.** Each thing has a span from a published or practised service interval, in years standing, years of age or
//! kilometres. At the near end of the span one in five is taken to need it, at the far end four in five, along a straight
//! line of log-odds, and all of that times a ceiling: how many of those overdue really need more than the service
//! that is done anyhow. The spans have the sources named; the one in five, four in five and the ceilings are judgement, no
//! source. Every chance is shown and can be changed.

use super::costs::Triangle;

/// Where the bike stood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Storage {
    /// Dry, warm, off damp ground. A year counts as three quarters of one.
    Heated,
    /// Garage or shed. A year counts as one.
    Indoors,
    /// Outside, under a cover or roof. A year counts as one and a half.
    Covered,
    /// Outside. A year counts as two.
    Outside,
}

impl Storage {
    /// Reads the word.
    #[must_use]
    pub fn read(word: &str) -> Option<Storage> {
        match word {
            "heated" => Some(Storage::Heated),
            "indoors" => Some(Storage::Indoors),
            "covered" => Some(Storage::Covered),
            "outside" => Some(Storage::Outside),
            _ => None,
        }
    }

    /// What a year standing there counts for. Judgement, no source.
    #[must_use]
    pub const fn years_for_one(self) -> f64 {
        match self {
            Storage::Heated => 0.75,
            Storage::Indoors => 1.0,
            Storage::Covered => 1.5,
            Storage::Outside => 2.0,
        }
    }
}

/// What is known of the engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Story {
    /// Heard running from cold.
    HeardRunning,
    /// Said to run, or to have run when it was put away.
    SaidToRun,
    /// Nobody knows.
    NotKnown,
    /// Does not turn, or is said to be broken.
    Dead,
}

impl Story {
    /// Reads the word.
    #[must_use]
    pub fn read(word: &str) -> Option<Story> {
        match word {
            "heard-running" => Some(Story::HeardRunning),
            "said-to-run" => Some(Story::SaidToRun),
            "not-known" => Some(Story::NotKnown),
            "dead" => Some(Story::Dead),
            _ => None,
        }
    }
}

/// What a look from outside tells of the bike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outside {
    /// Age in years.
    pub age: f64,
    /// Years it stood.
    pub stood: f64,
    /// Kilometres run.
    pub kilometres: f64,
    /// Where it stood.
    pub storage: Storage,
    /// What is said of the engine.
    pub story: Story,
}

/// What a chance grows with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Grows {
    /// Years standing, by storage.
    Standing(f64, f64),
    /// Years of age.
    Age(f64, f64),
    /// Kilometres, in thousands.
    Distance(f64, f64),
    /// The story of the engine: heard running, said to run, not known, dead.
    Story([f64; 4]),
    /// Nothing told here.
    Always(f64),
}

/// One thing that may be wrong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hidden {
    /// Name, permanent.
    pub id: &'static str,
    /// What is wrong.
    pub title: &'static str,
    /// What its chance grows with; the likeliest counts.
    pub grows: &'static [Grows],
    /// Share of those overdue that really need it.
    pub ceiling: f64,
    /// Jobs that mend it: of each list the first the layout has.
    pub jobs: &'static [&'static [&'static str]],
    /// Parts, in whole units of money.
    pub parts: Triangle,
    /// Share of the clean price lost, where it is told to the buyer and not mended.
    pub price_cut: Triangle,
    /// How to find out before offering.
    pub check: &'static str,
    /// Minutes that takes.
    pub check_minutes: u32,
    /// Where span and money come from.
    pub source: &'static str,
}

const NO_CUT: Triangle = Triangle::certain(0.0);
const NO_PARTS: Triangle = Triangle::certain(0.0);

#[expect(clippy::too_many_arguments, reason = "one row of a table")]
const fn mended(
    id: &'static str,
    title: &'static str,
    grows: &'static [Grows],
    ceiling: f64,
    jobs: &'static [&'static [&'static str]],
    parts: Triangle,
    check: (&'static str, u32),
    source: &'static str,
) -> Hidden {
    Hidden {
        id,
        title,
        grows,
        ceiling,
        jobs,
        parts,
        price_cut: NO_CUT,
        check: check.0,
        check_minutes: check.1,
        source,
    }
}

const fn told(
    id: &'static str,
    title: &'static str,
    grows: &'static [Grows],
    price_cut: Triangle,
    check: (&'static str, u32),
    source: &'static str,
) -> Hidden {
    Hidden {
        id,
        title,
        grows,
        ceiling: 1.0,
        jobs: &[],
        parts: NO_PARTS,
        price_cut,
        check: check.0,
        check_minutes: check.1,
        source,
    }
}

use Grows::{Age, Always, Distance, Standing};

const PRACTICE: &str = "span and money: common practice, no source; ceiling: judgement";

/// Everything looked for, the dearest first as a rule.
pub const HIDDEN: [Hidden; 17] = [
    told(
        "engine",
        "The engine is worn out or broken inside",
        &[Grows::Story([0.02, 0.12, 0.25, 0.55])],
        Triangle::new(0.30, 0.45, 0.60),
        (
            "compression of each cylinder, oil on the stick, noise from cold",
            30,
        ),
        "loss: common practice, no source (does not run, cause unknown); chances: judgement, no source",
    ),
    told(
        "distance",
        "The distance shown is not the true one",
        &[Always(0.08)],
        Triangle::new(0.10, 0.20, 0.30),
        (
            "wear of pegs, grips and discs; old inspection papers; does the counter turn",
            10,
        ),
        "loss: common practice and a published rule; chance: judgement, no source",
    ),
    mended(
        "tyres",
        "Tyres cracked or too old",
        &[Standing(2.0, 6.0)],
        0.95,
        &[&["tyre-front"], &["tyre-rear"]],
        Triangle::new(160.0, 220.0, 300.0),
        ("four figures of the date code, cracks at the tread's foot", 5),
        "span: look hard at 5 to 6 years, replace at 10 (inspection manual, safety scheme), less a tyre's middle age when put away; money: common practice, no source",
    ),
    mended(
        "carburettors",
        "Carburettors or injectors gummed",
        &[Standing(0.5, 1.5)],
        0.9,
        &[&["carb-clean", "carburettor-clean", "injectors"]],
        Triangle::new(20.0, 35.0, 60.0),
        (
            "start it from cold, choke off within two minutes, idle steady",
            15,
        ),
        "span: an owner's diary and practice, 6 to 12 months; money: common practice, no source",
    ),
    mended(
        "tank",
        "Tank rusty inside",
        &[Standing(1.0, 5.0)],
        0.7,
        &[&["tank-clean"]],
        Triangle::new(20.0, 30.0, 40.0),
        (
            "cap open, a torch that cannot spark, look and smell; no flame near",
            3,
        ),
        PRACTICE,
    ),
    mended(
        "fuel-hoses",
        "Fuel hoses hard or leaking",
        &[Standing(2.0, 6.0)],
        0.9,
        &[&["fuel-hoses"]],
        Triangle::new(10.0, 18.0, 30.0),
        ("bend each hose: hard or cracked is done", 3),
        PRACTICE,
    ),
    mended(
        "battery",
        "Battery dead",
        &[Standing(0.5, 2.0)],
        0.95,
        &[&["battery", "battery-charge"]],
        Triangle::new(35.0, 65.0, 110.0),
        ("rest voltage under 12.4 V, then does it crank", 3),
        "span: 3 to 5 years in use, sooner flat (common practice); money: common practice, no source",
    ),
    mended(
        "front-brake",
        "Front caliper seized or sticking",
        &[Standing(2.0, 6.0)],
        0.8,
        &[&["caliper-front"]],
        Triangle::new(20.0, 35.0, 60.0),
        ("pull the lever, let go, push the bike: does it roll free", 3),
        PRACTICE,
    ),
    mended(
        "rear-brake",
        "Rear brake seized or sticking",
        &[Standing(2.0, 6.0)],
        0.7,
        &[&["caliper-rear", "brake-cam-rear", "brake-shoes-rear"]],
        Triangle::new(10.0, 25.0, 45.0),
        ("press the pedal, let go, push the bike", 3),
        PRACTICE,
    ),
    mended(
        "fork-seals",
        "Fork seals leak",
        &[Distance(20.0, 40.0), Standing(4.0, 10.0)],
        0.7,
        &[&["fork-seals"]],
        Triangle::new(25.0, 38.0, 55.0),
        ("a finger round each leg after ten bounces", 3),
        "span: 20 to 40 thousand km (mixed pages), years: judgement; money: common practice, no source",
    ),
    mended(
        "chain",
        "Chain and sprockets, or belt, worn out",
        &[Distance(15.0, 25.0)],
        0.6,
        &[&["chain-and-sprockets", "drive-belt"]],
        Triangle::new(90.0, 130.0, 180.0),
        (
            "lift the chain off the rear sprocket; hooked teeth; stiff links",
            3,
        ),
        "span: 15 to 25 thousand km; money: common practice, no source",
    ),
    mended(
        "wheel-bearings",
        "Wheel bearings rough",
        &[Distance(20.0, 40.0)],
        0.35,
        &[&["wheel-bearings-front"], &["wheel-bearings-rear"]],
        Triangle::new(20.0, 35.0, 60.0),
        (
            "each wheel off the ground: rock it, spin it with a finger on it",
            5,
        ),
        PRACTICE,
    ),
    mended(
        "steering-bearings",
        "Steering bearings notched or loose",
        &[Distance(15.0, 25.0)],
        0.4,
        &[&["steering-bearings"]],
        Triangle::new(30.0, 45.0, 60.0),
        (
            "front wheel off the ground: lock to lock, notch in the middle; push and pull the fork",
            4,
        ),
        PRACTICE,
    ),
    mended(
        "valves",
        "Valve clearances out",
        &[Distance(12.0, 25.0)],
        0.5,
        &[&["valve-setting", "valve-check"]],
        Triangle::new(10.0, 25.0, 45.0),
        ("records of the last check; hard starting when hot", 5),
        PRACTICE,
    ),
    mended(
        "clutch",
        "Clutch plates stuck",
        &[Standing(1.0, 6.0)],
        0.35,
        &[&["clutch-plates"]],
        Triangle::new(40.0, 60.0, 90.0),
        ("lever in, in gear, push: does it roll", 3),
        PRACTICE,
    ),
    mended(
        "cooling-hoses",
        "Coolant hoses perished",
        &[Age(10.0, 25.0)],
        0.5,
        &[&["radiator-hoses"]],
        Triangle::new(20.0, 35.0, 60.0),
        ("squeeze them cold; white crust at the clips; coolant's colour", 3),
        PRACTICE,
    ),
    mended(
        "speedometer",
        "Speedometer cable or drive broken",
        &[Age(10.0, 30.0)],
        0.3,
        &[&["speedo-cable"]],
        Triangle::new(15.0, 40.0, 120.0),
        ("push it: does the needle or the counter move", 2),
        PRACTICE,
    ),
];

/// The thing of a name.
#[must_use]
pub fn hidden(id: &str) -> Option<&'static Hidden> {
    HIDDEN.iter().find(|h| h.id == id)
}

/// `1/(1 + e^(−ln 4 (2 (x − near)/(far − near) − 1)))`: one in five at the near end, four in five at the far end.
fn ramp(x: f64, near: f64, far: f64) -> f64 {
    let along = 2.0f64.mul_add((x - near) / (far - near), -1.0);
    1.0 / (1.0 + (-4.0f64.ln() * along).exp())
}

impl Hidden {
    /// The chance that this bike has it.
    #[must_use]
    pub fn chance(&self, bike: &Outside) -> f64 {
        let stood = bike.stood * bike.storage.years_for_one();
        let likeliest = self
            .grows
            .iter()
            .map(|grows| match grows {
                // What did not stand has no chance of having been spoiled by it.
                Standing(..) if bike.stood <= 0.0 => 0.0,
                Standing(near, far) => ramp(stood, *near, *far),
                Age(near, far) => ramp(bike.age, *near, *far),
                Distance(near, far) => ramp(bike.kilometres / 1e3, *near, *far),
                Grows::Story([heard, said, unknown, dead]) => match bike.story {
                    Story::HeardRunning => *heard,
                    Story::SaidToRun => *said,
                    Story::NotKnown => *unknown,
                    Story::Dead => *dead,
                },
                Always(chance) => *chance,
            })
            .fold(0.0, f64::max);
        (self.ceiling * likeliest).clamp(0.0, 1.0)
    }
}
