//! Which seeds to try: a fixed range, or another one by hand (`FROM=0 TO=9000 cargo test …`).

use std::ops::Range;

#[allow(
    clippy::disallowed_methods,
    reason = "a person at the keyboard may ask for more seeds"
)]
pub fn seeds(from: u64, to: u64) -> Range<u64> {
    let number = |name: &str, usual: u64| {
        let said = std::env::var(name).ok();
        said.and_then(|s| s.parse().ok()).unwrap_or(usual)
    };
    number("FROM", from)..number("TO", to)
}
