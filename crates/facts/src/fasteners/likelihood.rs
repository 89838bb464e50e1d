//! How well a thread of the table explains a reading: the likelihoods behind [`identify`](super::identify).

use super::identify::{COUNT_SPREAD, IdentifyError, Measured, Origin, PITCH_SHARE, Pitch};
use super::thread::{self, Thread};
use crate::quantity::{INCH_M, Length, mm};
use crate::shown::said_mm;
use uom::si::length::meter;

/// Weight of a thread foreign to the machine's origin (a choice, no source): past owners fit what they have.
const FOREIGN_WEIGHT: f64 = 0.1;
/// "None of these", per mm² of reading: half the weight of one thread (a choice, no source), spread over 22 mm of
/// outside sizes and 2.5 mm of pitches.
pub(super) const NONE_DENSITY: f64 = 0.5 / (22.0 * 2.5);

/// A checked reading, all in mm.
pub(super) struct Reading {
    outside: f64,
    outside_error: f64,
    pitch: f64,
    pitch_error: f64,
    wear: f64,
    plating: f64,
    origin: Origin,
}

impl Reading {
    /// Takes a reading that can be meant.
    pub(super) fn of(measured: &Measured) -> Result<Reading, IdentifyError> {
        let outside = mm(measured.outside);
        let (least, most) = (2.5, 26.0);
        if !(least..=most).contains(&outside) {
            return Err(IdentifyError::OutsideRange {
                mm: said_mm(measured.outside),
                least_mm: format!("{least}"),
                most_mm: format!("{most}"),
            });
        }
        let (pitch, usual_error) = match measured.pitch {
            Pitch::Length(length) => (mm(length), PITCH_SHARE * mm(length)),
            Pitch::PerInch(count) => {
                let pitch = INCH_M * 1e3 / count;
                (pitch, pitch * COUNT_SPREAD / count)
            }
        };
        if !(0.4..=3.5).contains(&pitch) {
            return Err(IdentifyError::PitchRange {
                mm: format!("{pitch:.3}"),
                per_inch: format!("{:.1}", INCH_M * 1e3 / pitch),
            });
        }
        let allowed = |what, length: Length, least: (f64, &'static str), most: (f64, &'static str)| {
            if (least.0..=most.0).contains(&mm(length)) {
                Ok(mm(length))
            } else {
                Err(IdentifyError::Allowance {
                    what,
                    mm: said_mm(length),
                    least: least.1,
                    most: most.1,
                })
            }
        };
        let pitch_error = measured
            .pitch_error
            .unwrap_or_else(|| Length::new::<meter>(usual_error.max(0.01) / 1e3));
        Ok(Reading {
            outside,
            outside_error: allowed(
                "a caliper error",
                measured.outside_error,
                (0.002, "0.002"),
                (0.5, "0.5"),
            )?,
            pitch,
            pitch_error: allowed("a pitch error", pitch_error, (0.005, "0.005"), (0.3, "0.3"))?,
            wear: allowed("wear", measured.wear, (0.0, "0"), (0.5, "0.5"))?,
            plating: allowed("plating", measured.plating, (0.0, "0"), (0.1, "0.1"))?,
            origin: measured.origin,
        })
    }

    /// Prior weight times likelihood, per mm² of reading.
    pub(super) fn weight(&self, thread: &Thread) -> f64 {
        let (least, most) = thread.outside_range();
        let (low, high) = (mm(least) - self.wear, mm(most) + self.plating);
        let spread = self.outside_error;
        let outside = (normal_share((self.outside - low) / spread)
            - normal_share((self.outside - high) / spread))
            / (high - low).max(1e-3);
        let off = (self.pitch - mm(thread.pitch)) / self.pitch_error;
        let pitch = (-0.5 * off * off).exp() / (self.pitch_error * (2.0 * std::f64::consts::PI).sqrt());
        self.prior(thread) * outside.max(0.0) * pitch
    }

    fn prior(&self, thread: &Thread) -> f64 {
        let foreign = match self.origin {
            Origin::Unknown => false,
            Origin::Metric => thread.series.is_unified(),
            Origin::Inch => thread.series.is_metric(),
        };
        if foreign { FOREIGN_WEIGHT } else { 1.0 }
    }

    /// The thread with the fewest standard deviations between it and the reading.
    pub(super) fn nothing_fits(&self) -> IdentifyError {
        let away = |t: &Thread| {
            let (least, most) = t.outside_range();
            let short = (mm(least) - self.wear - self.outside).max(0.0);
            let long = (self.outside - mm(most) - self.plating).max(0.0);
            let outside = (short + long) / self.outside_error;
            let pitch = (self.pitch - mm(t.pitch)) / self.pitch_error;
            outside.hypot(pitch)
        };
        let nearest = thread::all().min_by(|a, b| away(a).total_cmp(&away(b)));
        let its_sizes = |t: Thread| {
            let (least, most) = t.outside_range();
            format!(
                "{} to {} mm outside and {} mm pitch",
                said_mm(least),
                said_mm(most),
                said_mm(t.pitch)
            )
        };
        IdentifyError::NothingFits {
            reading: format!(
                "{:.2} mm outside and a pitch of {:.3} mm",
                self.outside, self.pitch
            ),
            nearest: nearest.map_or("", |t| t.name),
            its_sizes: nearest.map(its_sizes).unwrap_or_default(),
        }
    }

    /// What the answer rests on.
    pub(super) fn assumptions(&self, measured: &Measured) -> Vec<String> {
        let origin = match measured.origin {
            Origin::Unknown => "origin of the machine not known: every thread equally likely beforehand",
            Origin::Metric => "a metric machine: UNC and UNF a tenth as likely beforehand",
            Origin::Inch => "an inch machine: metric threads a tenth as likely beforehand",
        };
        vec![
            format!(
                "caliper good to {} mm, pitch to {:.3} mm",
                self.outside_error, self.pitch_error
            ),
            format!(
                "up to {} mm worn off and {} mm of plating on the diameter",
                self.wear, self.plating
            ),
            "limits of size 6g (ISO 965) and 2A (ASME B1.1)".to_owned(),
            origin.to_owned(),
            "Whitworth, BSF, BA and British cycle threads are not in the table".to_owned(),
        ]
    }
}

/// Share of a normal distribution below `z` standard deviations.
///
/// Abramowitz and Stegun 26.2.17, error below 7.5e-8; far tails are 0 or 1.
fn normal_share(z: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * z.abs());
    let poly = t
        * (0.319_381_530
            + t * (-0.356_563_782 + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    let upper = (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt() * poly;
    if z >= 0.0 { 1.0 - upper } else { upper }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_normal_share_is_that_of_the_tables() {
        // Φ(0) = 0.5, Φ(1) = 0.841344746, Φ(1.96) = 0.975002105, Φ(-3) = 0.001349898 (standard normal table).
        for (z, share) in [
            (0.0, 0.5),
            (1.0, 0.841_344_746),
            (1.96, 0.975_002_105),
            (-3.0, 0.001_349_898),
        ] {
            assert!((normal_share(z) - share).abs() < 1e-7, "{z}");
        }
    }
}
