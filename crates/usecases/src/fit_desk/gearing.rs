//! `gearing`: what other sprockets do, and road speed at an engine speed.

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::{Screen, exact, number};
use super::typed::{Typed, count, refused};
use crate::refused::Refused;
use refettle_facts::quantity::{Length, Ratio, Velocity, mm, parse_length};
use refettle_facts::running_gear::gearing::{
    DriveLine, Sprockets, TurnsPerMinute, overall_reduction, parse_engine_speed, parse_reduction,
    parse_sprockets, road_speed, sprocket_change,
};
use refettle_facts::running_gear::tyre::circumference::circumference;
use refettle_facts::running_gear::tyre::size_code;
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct GearingRequest {
    /// Sprockets, front teeth first: `15/45`.
    pub sprockets: Option<String>,
    /// Sprockets before the change.
    pub instead_of: Option<String>,
    /// Links of the chain.
    pub links: Option<String>,
    /// Final reduction of a shaft or belt, instead of sprockets.
    pub final_drive: Option<String>,
    /// Primary reduction.
    pub primary: Option<String>,
    /// Reduction of the gear engaged.
    pub gear: Option<String>,
    /// Size of the driven tyre.
    pub tyre: Option<String>,
    /// Rolling circumference, measured, instead of the size.
    pub rolling: Option<String>,
    /// Engine speed: `5000 r/min`.
    pub revs: Option<String>,
}

/// The answer; what was not asked for is missing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GearingView {
    /// Final reduction.
    pub final_reduction: f64,
    /// Change of road speed at the same engine speed, by the change of sprockets.
    pub road_speed_change_pct: Option<f64>,
    /// Change of what a speedometer driven from the gearbox shows.
    pub gearbox_driven_reading_change_pct: Option<f64>,
    /// Turns of the front sprocket until the same teeth meet the same links again.
    pub front_turns_until_repeat: Option<u32>,
    /// Crank turns for one turn of the wheel.
    pub overall_reduction: Option<f64>,
    /// Rolling circumference used.
    pub rolling_mm: Option<f64>,
    /// Road speed.
    pub speed_kmh: Option<f64>,
    /// Road speed for each thousand turns a minute.
    pub speed_per_1000_kmh: Option<f64>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// How the wheel's way is known.
struct Rolling {
    length: Length,
    source: String,
}

/// What was read.
struct Read {
    sprockets: Option<Sprockets>,
    before: Option<Sprockets>,
    links: Option<u32>,
    final_drive: Option<Ratio>,
    primary: Option<Ratio>,
    gear: Option<Ratio>,
    rolling: Option<Rolling>,
    revs: Option<TurnsPerMinute>,
}

/// Change of sprockets, and road speed where the drive line was given.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &GearingRequest) -> Result<GearingView, Refused> {
    let mut typed = Typed::default();
    let read = read(request, &mut typed);
    asked_together(request, &mut typed);
    let final_drive = read.sprockets.map(Sprockets::reduction).or(read.final_drive);
    let (Some(final_drive), true) = (final_drive, typed.is_right()) else {
        return Err(typed.refused());
    };
    let line = match (read.primary, read.gear, &read.rolling) {
        (Some(primary), Some(gear), Some(rolling)) => Some(DriveLine {
            primary,
            gear,
            final_drive,
            rolling_circumference: rolling.length,
        }),
        _ => None,
    };
    let at = |turns: u32| {
        line.as_ref()
            .map(|line| road_speed(line, TurnsPerMinute(turns)))
            .transpose()
            .map_err(|e| refused(&e))
    };
    let speed = match read.revs {
        Some(revs) => at(revs.0)?,
        None => None,
    };
    let per_thousand = at(1000)?;
    let change = read
        .sprockets
        .zip(read.before)
        .map(|(now, before)| sprocket_change(before, now));
    let pct = |ratio: Ratio| exact((ratio.value - 1.0) * 100.0);
    let kmh = |speed: Velocity| exact(speed.value * 3.6);
    Ok(GearingView {
        final_reduction: exact(final_drive.value),
        road_speed_change_pct: change.map(|change| pct(change.road_speed)),
        gearbox_driven_reading_change_pct: change.map(|change| pct(change.gearbox_driven_reading)),
        front_turns_until_repeat: read
            .sprockets
            .zip(read.links)
            .map(|(sprockets, links)| sprockets.front_turns_until_repeat(links)),
        overall_reduction: line.as_ref().map(|line| exact(overall_reduction(line).value)),
        rolling_mm: line.as_ref().map(|line| exact(mm(line.rolling_circumference))),
        speed_kmh: speed.map(kmh),
        speed_per_1000_kmh: per_thousand.map(kmh),
        basis: basis(read.rolling, read.links.is_some()),
    })
}

fn read(request: &GearingRequest, typed: &mut Typed) -> Read {
    let by_size = typed.read_if("tyre", request.tyre.as_deref(), |text| {
        let size = size_code::parse(text).map_err(|e| e.to_string())?;
        circumference(&size).map_err(|e| e.to_string())
    });
    let measured = typed.read_if("rolling", request.rolling.as_deref(), parse_length);
    Read {
        sprockets: typed.read_if("sprockets", request.sprockets.as_deref(), parse_sprockets),
        before: typed.read_if("instead-of", request.instead_of.as_deref(), parse_sprockets),
        links: typed.read_if("links", request.links.as_deref(), links),
        final_drive: typed.read_if("final", request.final_drive.as_deref(), parse_reduction),
        primary: typed.read_if("primary", request.primary.as_deref(), parse_reduction),
        gear: typed.read_if("gear", request.gear.as_deref(), parse_reduction),
        rolling: measured
            .map(|length| Rolling {
                length,
                source: "rolling circumference as measured".to_owned(),
            })
            .or(by_size.map(|around| Rolling {
                length: around.rolling,
                source: around.rolling_citation.to_string(),
            })),
        revs: typed.read_if("revs", request.revs.as_deref(), parse_engine_speed),
    }
}

fn links(text: &str) -> Result<u32, String> {
    let links = count(text)?;
    if (40..=200).contains(&links) {
        Ok(links)
    } else {
        Err(format!(
            "{links} links on a chain? 40 to 200 are taken as meant; count them again"
        ))
    }
}

fn asked_together(request: &GearingRequest, typed: &mut Typed) {
    match (&request.sprockets, &request.final_drive) {
        (Some(_), None) | (None, Some(_)) => {}
        _ => typed.refuse(
            "sprockets: give the teeth such as 15/45, or final with the reduction of a shaft or belt",
        ),
    }
    if request.sprockets.is_none() && (request.instead_of.is_some() || request.links.is_some()) {
        typed.refuse("instead-of and links: to compare or count, give sprockets too, such as 15/45");
    }
    if request.tyre.is_some() && request.rolling.is_some() {
        typed.refuse("tyre and rolling: give one; a measured circumference is the better");
    }
    let given = [
        request.primary.is_some(),
        request.gear.is_some(),
        request.tyre.is_some() || request.rolling.is_some(),
    ];
    let some = given.contains(&true) || request.revs.is_some();
    if some && given.contains(&false) {
        typed.refuse("road speed: give primary, gear, and tyre or rolling, such as 1.74, 2.5 and 120/70-17");
    }
}

fn basis(rolling: Option<Rolling>, counted: bool) -> Basis {
    let mut basis = Basis::of("gearing: v = C n / (i_primary i_gear i_final), i_final = z_rear / z_front")
        .from(["plain kinematics, no source needed"])
        .from(rolling.map(|rolling| rolling.source))
        .warning(MAKER_WINS)
        .warning(
            "other sprockets change pull, revs and, driven from the gearbox, what the speedometer shows; local law \
             may bind a machine to its approved gearing",
        )
        .cautioned(&["chain"])
        .assuming(["no slip; a scooter's belt drive has no fixed reduction"]);
    if counted {
        basis = basis.assuming([
            "a chain that meets the same teeth again soon wears unevenly, so a high count is preferred (common \
             practice, no source)",
        ]);
    }
    basis
}

impl OnScreen for GearingView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Gearing");
        screen.row("final reduction", number(self.final_reduction, 3));
        let more = |pct: f64, up: &str, down: &str| {
            format!("{} % {}", number(pct.abs(), 2), if pct < 0.0 { down } else { up })
        };
        screen.row_if(
            "at the same revs",
            self.road_speed_change_pct
                .map(|pct| more(pct, "faster: taller, less pull", "slower: shorter, more pull")),
        );
        screen.row_if(
            "speedometer",
            self.gearbox_driven_reading_change_pct.map(|pct| {
                format!(
                    "driven from the gearbox, shows {}; from the wheel, as before",
                    more(pct, "more", "less")
                )
            }),
        );
        screen.row_if(
            "same teeth, same links",
            self.front_turns_until_repeat
                .map(|turns| format!("after {turns} turns of the front sprocket")),
        );
        screen.row_if(
            "overall reduction",
            self.overall_reduction.map(|overall| number(overall, 3)),
        );
        screen.row_if(
            "rolling",
            self.rolling_mm
                .map(|rolling| format!("{} mm a turn", number(rolling, 0))),
        );
        screen.row_if(
            "road speed",
            self.speed_kmh.map(|kmh| format!("{} km/h", number(kmh, 1))),
        );
        screen.row_if(
            "each 1000 r/min",
            self.speed_per_1000_kmh
                .map(|kmh| format!("{} km/h", number(kmh, 2))),
        );
        self.basis.show(&mut screen);
        screen
    }
}
