//! Draws that are the same on every machine for the same seed.
//!
//! SplitMix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators"): a counter stepped by
//! the golden gamma and mixed. It passes the usual statistical batteries and is far longer than any run here needs.

/// A stream of draws.
#[derive(Debug, Clone)]
pub struct Draws {
    state: u64,
    /// The second of a pair of normal draws, kept for the next call.
    spare: Option<f64>,
}

impl Draws {
    /// The stream of a seed.
    #[must_use]
    pub const fn new(seed: u64) -> Draws {
        Draws {
            state: seed,
            spare: None,
        }
    }

    /// 64 bits.
    pub const fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Uniform on (0, 1): the middle of one of 2⁵³ equal cells, never an end.
    #[allow(clippy::cast_precision_loss, reason = "53 bits fit a double exactly")]
    pub fn uniform(&mut self) -> f64 {
        ((self.bits() >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// Standard normal, by the polar method (Marsaglia and Bray 1964).
    pub fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let (u, v) = (
                self.uniform().mul_add(2.0, -1.0),
                self.uniform().mul_add(2.0, -1.0),
            );
            let s = u.mul_add(u, v * v);
            if s > 0.0 && s < 1.0 {
                let k = (-2.0 * s.ln() / s).sqrt();
                self.spare = Some(v * k);
                return u * k;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The five outputs for seed 1234567 printed with the public-domain reference program of the generator.
    #[test]
    fn the_stream_is_the_published_one() {
        let mut draws = Draws::new(1_234_567);
        let drawn: Vec<u64> = (0..5).map(|_| draws.bits()).collect();
        assert_eq!(
            drawn,
            [
                6_457_827_717_110_365_317,
                3_203_168_211_198_807_973,
                9_817_491_932_198_370_423,
                4_593_380_528_125_082_431,
                16_408_922_859_458_223_821
            ]
        );
    }

    #[test]
    fn normal_draws_have_the_moments_of_the_normal() {
        let mut draws = Draws::new(3);
        let n = 200_000;
        let xs: Vec<f64> = (0..n).map(|_| draws.normal()).collect();
        let moment = |k: i32| xs.iter().map(|x| x.powi(k)).sum::<f64>() / f64::from(n);
        // Five standard errors: sqrt(1/n), sqrt(2/n), sqrt(15/n), sqrt(96/n).
        assert!(moment(1).abs() < 0.0112);
        assert!((moment(2) - 1.0).abs() < 0.0159);
        assert!(moment(3).abs() < 0.0434);
        assert!((moment(4) - 3.0).abs() < 0.1096);
    }
}
