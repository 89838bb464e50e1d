//! What can end the deal before any sum is done, and costs nothing to check.

/// An answer to something looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// Looked at, in order.
    Right,
    /// Looked at, not in order.
    Wrong,
}

/// One thing to be settled before offering.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gate {
    /// Name, permanent.
    pub id: &'static str,
    /// What to find out.
    pub title: &'static str,
    /// Where and how.
    pub how: &'static str,
    /// Not in order, it ends the deal; otherwise it is to be known and told.
    pub ends_the_deal: bool,
    /// What to do when it is not in order.
    pub when_wrong: &'static str,
    /// Where this comes from.
    pub source: &'static str,
}

/// All of them, in the order they are asked.
pub const GATES: [Gate; 6] = [
    Gate {
        id: "named-seller",
        title: "The seller is the owner the papers name",
        how: "ask for a photo of the papers before driving there; look at an identity card, do not copy it",
        ends_the_deal: true,
        when_wrong: "only the named owner can sell or apply for lost papers: walk away, or come back when they are there",
        source: "common practice; published summaries of title rules differ by state: ask the authority",
    },
    Gate {
        id: "frame-number",
        title: "The frame number is whole and is the one on the papers",
        how: "read it on the frame, digit by digit, against the papers; two swapped digits count",
        ends_the_deal: true,
        when_wrong: "a defaced number is refused at every desk and may be a stolen bike: walk away",
        source: "67 Pa. Code ch. 175: a defaced number is rejected, one wrong digit may be corrected by form",
    },
    Gate {
        id: "not-stolen",
        title: "Not reported stolen",
        how: "the police's or insurers' public register, by frame number; write down the date and where you looked",
        ends_the_deal: true,
        when_wrong: "walk away, and tell the police",
        source: "common practice, no source",
    },
    Gate {
        id: "no-finance",
        title: "No money owed on it",
        how: "the papers' lien field or the finance register, by frame number; write down the date and where you looked",
        ends_the_deal: true,
        when_wrong: "whoever is owed can take the bike: settle at the lender with the seller present, or walk away",
        source: "common practice, no source",
    },
    Gate {
        id: "frame-straight",
        title: "Frame, stops and fork not bent, cracked or welded",
        how: "sight down the fork and along both wheels, feel the steering stops, look under the tank's edge",
        ends_the_deal: true,
        when_wrong: "it cannot be mended in a garage: walk away, or buy it as parts with papers that say so",
        source: "a used-bike checking guide; common practice",
    },
    Gate {
        id: "recall",
        title: "No recall open",
        how: "the maker's or authority's page, by frame number; write down the date and where you looked",
        ends_the_deal: false,
        when_wrong: "it is mended without charge by the maker's dealer: have it done before anyone rides",
        source: "common practice, no source",
    },
];

/// The gate of a name.
#[must_use]
pub fn gate(id: &str) -> Option<&'static Gate> {
    GATES.iter().find(|g| g.id == id)
}
