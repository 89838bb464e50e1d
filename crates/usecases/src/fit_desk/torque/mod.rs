//! `torque`: how tight, what limits it, and what to set on the wrench.

mod shown;

use super::basis::Basis;
use super::screen::exact;
use super::screw::Screw;
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::fasteners::bearing::Head;
use refettle_facts::fasteners::critical::{SanityBand, Verdict};
use refettle_facts::fasteners::friction::Friction;
use refettle_facts::fasteners::material;
use refettle_facts::fasteners::torque::{Answer, Figure, FixingUse, Question, Tapped, answer as core_answer};
use refettle_facts::fasteners::wrench::{self, Extension};
use refettle_facts::quantity::{Length, Torque, from_mm, mm, parse_angle, parse_length, parse_torque};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct TorqueRequest {
    /// Thread: `M10x1.25`, `5/16-24`.
    pub thread: String,
    /// Property class: `8.8`, `A2-70`.
    pub class: String,
    /// Coefficient or condition: `0.12`, `oiled`.
    pub friction: String,
    /// Friction under the head, where it differs.
    pub head_friction: Option<String>,
    /// `hex` (the default), `flange` or `socket`.
    pub head: Option<String>,
    /// Measured outside of the bearing face, instead of a head.
    pub face: Option<String>,
    /// Measured clearance hole.
    pub hole: Option<String>,
    /// Metal of the tapped hole.
    pub into: Option<String>,
    /// Thread engaged in it.
    pub engaged: Option<String>,
    /// Metal of the part under the head.
    pub clamped: Option<String>,
    /// Torque of a lock nut running free.
    pub drag: Option<String>,
    /// Extension from the wrench's square to the nut.
    pub extension: Option<String>,
    /// Angle of the extension to the wrench; straight on without it.
    pub angle: Option<String>,
    /// Wrench from square to the middle of the grip.
    pub wrench: Option<String>,
    /// The maker's figure, to be checked and set on the wrench.
    pub maker: Option<String>,
    /// Whether its failure can hurt: brakes, steering, wheels, frame.
    pub critical: bool,
}

/// What one part allows.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitView {
    /// Which part.
    pub part: &'static str,
    /// Preload it allows.
    pub preload_kn: f64,
    /// How it was reckoned.
    pub reason: String,
}

/// What one general table says.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GeneralTableView {
    /// Which table.
    pub table: &'static str,
    /// Least.
    pub low_nm: f64,
    /// Most.
    pub high_nm: f64,
    /// Where from, and how far opened.
    pub source: String,
}

/// The answer. On a critical fixing there is a band and no figure.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TorqueView {
    /// Thread, tidied.
    pub thread: &'static str,
    /// Class, tidied.
    pub class: &'static str,
    /// Preload aimed at.
    pub preload_kn: Option<f64>,
    /// Least preload the torque may give.
    pub preload_least_kn: Option<f64>,
    /// Most preload the torque may give.
    pub preload_most_kn: Option<f64>,
    /// Torque at the nut, running drag included.
    pub torque_nm: Option<f64>,
    /// The same in kilogram-force metres.
    pub torque_kgf_m: Option<f64>,
    /// The same in pound-force feet.
    pub torque_lbf_ft: Option<f64>,
    /// The same in pound-force inches.
    pub torque_lbf_in: Option<f64>,
    /// What limits: `screw`, `tapped thread`, `clamped part`.
    pub limited_by: Option<&'static str>,
    /// What each part allows, weakest first.
    pub limits: Vec<LimitView>,
    /// What a general table for the class would say.
    pub general_table_nm: Option<f64>,
    /// Engagement at which the screw would be the weakest.
    pub engagement_for_screw_mm: Option<f64>,
    /// Published general tables for this size, for their disagreement.
    pub general_tables: Vec<GeneralTableView>,
    /// Highest of those figures over the lowest: how far they disagree.
    pub general_tables_factor: Option<f64>,
    /// Lower edge of the band a maker's figure should lie in.
    pub band_low_nm: f64,
    /// Upper edge of it.
    pub band_high_nm: f64,
    /// The maker's figure, where it was given.
    pub maker_nm: Option<f64>,
    /// Where it lies.
    pub maker_verdict: Option<&'static str>,
    /// What to set on the wrench: the maker's figure where it was given, this one otherwise; nothing for a maker's
    /// figure over the band.
    pub wrench_setting_nm: Option<f64>,
    /// Whether it is a critical fixing.
    pub critical: bool,
    /// What to know before using it.
    pub warnings: Vec<String>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

struct Wrench {
    length: Length,
    extension: Extension,
}

/// Preload, torque, what limits, and the wrench setting.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &TorqueRequest) -> Result<TorqueView, Refused> {
    let mut typed = Typed::default();
    let question = question(request, &mut typed);
    let wrench = wrench_of(request, &mut typed);
    let maker = typed.read_if("maker", request.maker.as_deref(), parse_torque);
    let (Some(question), true) = (question, typed.is_right()) else {
        return Err(typed.refused());
    };
    let band = band(&question)?;
    let figure = match core_answer(&question).map_err(|e| refused(&e))? {
        Answer::Figure(figure) => Some(figure),
        Answer::SanityBand(_) => None,
    };
    let wanted = match maker {
        // A figure no such screw bears is most likely another unit or line: nothing is set by it until it is read again.
        Some(maker) if band.judge(maker) == Verdict::Above => None,
        Some(maker) => Some(maker),
        None => figure.as_ref().map(|f| f.torque),
    };
    let setting = wanted.map(|wanted| set(wanted, wrench.as_ref())).transpose()?;
    Ok(view(&question, &band, figure, maker, setting))
}

fn question(request: &TorqueRequest, typed: &mut Typed) -> Option<Question> {
    let screw = Screw::read(
        typed,
        &request.thread,
        &request.class,
        &request.friction,
        request.head.as_deref(),
    );
    let under_head = typed.read_if("head-friction", request.head_friction.as_deref(), Friction::read);
    let face = typed.read_if("face", request.face.as_deref(), parse_length);
    let hole = typed.read_if("hole", request.hole.as_deref(), parse_length);
    let into = typed.read_if("into", request.into.as_deref(), material::named);
    let engaged = typed.read_if("engaged", request.engaged.as_deref(), parse_length);
    let clamped = typed.read_if("clamped", request.clamped.as_deref(), material::named);
    let drag = typed.read_if("drag", request.drag.as_deref(), parse_torque);
    match (&request.into, &request.engaged) {
        (Some(_), None) => typed.refuse("into: how much thread holds in it? add engaged, such as 12 mm"),
        (None, Some(_)) => typed.refuse("engaged: in which metal? add into, such as cast-aluminium"),
        _ => {}
    }
    if request.head.is_some() && request.face.is_some() {
        typed.refuse("head and face: give one; a measured face stands in for the head");
    }
    let screw = screw?;
    let friction = match under_head {
        Some(head) => screw.friction.with_head(&head),
        None => screw.friction,
    };
    let mut question = Question::new(screw.thread, screw.strength, friction);
    question.head = face.map_or(screw.head, Head::Measured);
    question.hole = hole;
    question.into = into
        .zip(engaged)
        .map(|(material, engaged)| Tapped { material, engaged });
    question.clamped = clamped;
    question.drag = drag;
    if request.critical {
        question.fixing = FixingUse::Critical;
    }
    Some(question)
}

fn wrench_of(request: &TorqueRequest, typed: &mut Typed) -> Option<Wrench> {
    let length = typed.read_if("wrench", request.wrench.as_deref(), parse_length);
    let extension = typed.read_if("extension", request.extension.as_deref(), parse_length);
    let angle = typed.read_if("angle", request.angle.as_deref(), parse_angle);
    if request.extension.is_some() && request.wrench.is_none() {
        typed.refuse("extension: on how long a wrench? add wrench, from square to the middle of the grip, such as 250 mm");
    }
    if request.angle.is_some() && request.extension.is_none() {
        typed.refuse("angle: of which extension? add extension, such as 100 mm");
    }
    Some(Wrench {
        length: length?,
        extension: Extension {
            length: extension.unwrap_or_else(|| from_mm(0.0)),
            angle: angle.unwrap_or_default(),
        },
    })
}

fn set(wanted: Torque, wrench: Option<&Wrench>) -> Result<Torque, Refused> {
    match wrench {
        Some(wrench) => {
            wrench::setting(wanted, wrench.length, wrench.extension).map_err(|problem| refused(&problem))
        }
        None => Ok(wanted),
    }
}

fn band(question: &Question) -> Result<SanityBand, Refused> {
    let critical = Question {
        fixing: FixingUse::Critical,
        ..question.clone()
    };
    match core_answer(&critical).map_err(|problem| refused(&problem))? {
        Answer::SanityBand(band) => Ok(band),
        Answer::Figure(_) => Err(refused(&"no band could be computed for this fixing")),
    }
}

fn view(
    question: &Question,
    band: &SanityBand,
    figure: Option<Figure>,
    maker: Option<Torque>,
    setting: Option<Torque>,
) -> TorqueView {
    let scales = figure.as_ref().map(|f| wrench::on_every_scale(f.torque));
    let general = figure.as_ref().map(general_tables).unwrap_or_default();
    let in_kn = |of: fn(&Figure) -> f64| figure.as_ref().map(|f| exact(of(f) / 1e3));
    let mut basis = Basis::of(
        "VDI 2230-1 preload and tightening torque, weakest of screw, tapped thread and clamped part",
    )
    .assuming(band.basis().iter().cloned())
    .from([format!(
        "class {}: {} ({})",
        question.strength.class, question.strength.source, question.strength.status
    )]);
    if question.fixing == FixingUse::Critical {
        basis = basis.warning(band.words()).cautioned(&["licensed-work"]);
    } else {
        basis = basis.warning(
            "not for brakes, steering, wheels or frame: ask for those as critical, and tighten by the maker's figure only",
        );
    }
    TorqueView {
        thread: question.thread.name,
        class: question.strength.class,
        preload_kn: in_kn(|f| f.preload.value),
        preload_least_kn: in_kn(|f| f.preload_least.value),
        preload_most_kn: in_kn(|f| f.preload_most.value),
        torque_nm: scales.map(|s| exact(s.newton_metres)),
        torque_kgf_m: scales.map(|s| exact(s.kilogram_force_metres)),
        torque_lbf_ft: scales.map(|s| exact(s.pound_force_feet)),
        torque_lbf_in: scales.map(|s| exact(s.pound_force_inches)),
        limited_by: figure.as_ref().map(|f| f.limited_by.words()),
        limits: figure.as_ref().map(limits).unwrap_or_default(),
        general_table_nm: figure.as_ref().map(|f| exact(f.general_table.value)),
        engagement_for_screw_mm: figure
            .as_ref()
            .and_then(|f| f.engagement_for_screw)
            .map(|l| exact(mm(l))),
        general_tables_factor: factor(&general),
        general_tables: general,
        band_low_nm: exact(band.low().value),
        band_high_nm: exact(band.high().value),
        maker_nm: maker.map(|m| exact(m.value)),
        maker_verdict: maker.map(|m| band.judge(m).words()),
        wrench_setting_nm: setting.map(|s| exact(s.value)),
        critical: question.fixing == FixingUse::Critical,
        warnings: figure
            .map(|f| f.warnings.iter().map(ToString::to_string).collect())
            .unwrap_or_default(),
        basis,
    }
}

fn limits(figure: &Figure) -> Vec<LimitView> {
    let shown = |limit: &refettle_facts::fasteners::torque::LimitLoad| LimitView {
        part: limit.limit.words(),
        preload_kn: exact(limit.preload.value / 1e3),
        reason: limit.reason.clone(),
    };
    figure.limits.iter().map(shown).collect()
}

fn general_tables(figure: &Figure) -> Vec<GeneralTableView> {
    figure
        .general_tables
        .iter()
        .map(|table| GeneralTableView {
            table: table.table,
            low_nm: exact(table.low.value),
            high_nm: exact(table.high.value),
            source: format!("{} ({})", table.source, table.status),
        })
        .collect()
}

/// Highest over lowest of the general tables; nothing to compare with fewer than two.
fn factor(tables: &[GeneralTableView]) -> Option<f64> {
    let low = tables.iter().map(|table| table.low_nm).reduce(f64::min)?;
    let high = tables.iter().map(|table| table.high_nm).reduce(f64::max)?;
    (tables.len() > 1 && low > 0.0).then(|| exact(high / low))
}
