//! The sums beside the work: parts, fees, selling hours, standing. Each a triangle of least, usual and most.

use refettle_facts::money::Money;

const PRACTICE: &str = "common practice, no source";

/// A figure between a least and a most, most likely at the usual.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Triangle {
    /// Least.
    pub least: f64,
    /// Most likely.
    pub usual: f64,
    /// Most.
    pub most: f64,
}

impl Triangle {
    /// From least, usual and most, in order.
    #[must_use]
    pub const fn new(least: f64, usual: f64, most: f64) -> Triangle {
        Triangle { least, usual, most }
    }

    /// Always the same.
    #[must_use]
    pub const fn certain(value: f64) -> Triangle {
        Triangle::new(value, value, value)
    }

    /// `(a + m + b)/3`.
    #[must_use]
    pub fn mean(&self) -> f64 {
        (self.least + self.usual + self.most) / 3.0
    }

    /// `(a² + m² + b² − am − ab − mb)/18`.
    #[must_use]
    pub fn variance(&self) -> f64 {
        let Triangle {
            least: a,
            usual: m,
            most: b,
        } = *self;
        (a * a + m * m + b * b - a * m - a * b - m * b) / 18.0
    }

    /// The value below which a share `u` of cases lies.
    #[must_use]
    pub fn quantile(&self, u: f64) -> f64 {
        let Triangle {
            least: a,
            usual: m,
            most: b,
        } = *self;
        if b <= a {
            return m;
        }
        if u < (m - a) / (b - a) {
            a + (u * (b - a) * (m - a)).sqrt()
        } else {
            b - ((1.0 - u) * (b - a) * (b - m)).sqrt()
        }
    }

    /// All three times a factor of nought or more.
    #[must_use]
    pub fn times(&self, factor: f64) -> Triangle {
        Triangle::new(self.least * factor, self.usual * factor, self.most * factor)
    }
}

/// A named figure of the sum, with its unit and source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    /// Name, permanent.
    pub id: &'static str,
    /// As a person reads it.
    pub title: &'static str,
    /// Its figures.
    pub figures: Triangle,
    /// The unit: `money` is in whole units, `h` hours, `days`, or `of work and parts`.
    pub unit: &'static str,
    /// Where they come from.
    pub source: &'static str,
}

/// Parts and fluids of the work that is always done: oil, filter, washers, brake fluid, petrol.
pub const BASE_PARTS: Item = Item {
    id: "base-parts",
    title: "oil, filter, washers, brake fluid, petrol",
    figures: Triangle::new(40.0, 65.0, 110.0),
    unit: "money",
    source: PRACTICE,
};
/// What nobody thought of, as a share of work and parts.
pub const ALLOWANCE: Item = Item {
    id: "allowance",
    title: "what nobody thought of",
    figures: Triangle::new(0.10, 0.20, 0.30),
    unit: "of work and parts",
    source: PRACTICE,
};
/// Hours of photographs, advertisement, answers and showing.
pub const SELLING: Item = Item {
    id: "selling-hours",
    title: "photographs, advertisement, answers, showing",
    figures: Triangle::new(4.0, 7.0, 12.0),
    unit: "h",
    source: PRACTICE,
};
/// Papers into one's own name, plate and tax.
pub const PAPERS: Item = Item {
    id: "papers",
    title: "papers into your name, plate, tax",
    figures: Triangle::new(50.0, 150.0, 400.0),
    unit: "money",
    source: "no source: depends on the state",
};
/// Advertisement.
pub const ADVERTISEMENT: Item = Item {
    id: "advertisement",
    title: "advertisement",
    figures: Triangle::new(0.0, 0.0, 60.0),
    unit: "money",
    source: PRACTICE,
};
/// Days until it is sold at the right price in season.
pub const DAYS_TO_SELL: Item = Item {
    id: "days-to-sell",
    title: "days until it is sold",
    figures: Triangle::new(3.0, 10.0, 21.0),
    unit: "days",
    source: PRACTICE,
};
/// Days until it is sold in winter.
pub const DAYS_TO_SELL_IN_WINTER: Item = Item {
    id: "days-to-sell",
    title: "days until it is sold",
    figures: Triangle::new(20.0, 45.0, 90.0),
    unit: "days",
    source: PRACTICE,
};
/// What a day costs: money tied up, space, insurance.
pub const STANDING: Item = Item {
    id: "standing",
    title: "a day's money, space, insurance",
    figures: Triangle::new(1.0, 2.0, 4.0),
    unit: "money a day",
    source: PRACTICE,
};
/// What the own hour is worth when nobody said: 25.00. Common practice, no source (15 to 40).
pub const OWN_HOUR: Money = Money(2_500);
/// Real minutes over the plan's: from as planned to half as much again, evenly, as the plan's own range has it.
pub const SLOWER: (f64, f64) = (1.0, 1.5);
