//! What hurts people, in our own words, shown at the step where it can happen.
//!
//! The texts are the usual cautions of the trade. They do not replace the maker's manual, local law or
//! licensed practice; each row of `data/cautions.tsv` says where it is from.

/// One usual caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Caution {
    /// Name used on sheets.
    pub name: &'static str,
    /// A few words for a heading.
    pub title: &'static str,
    /// What happens.
    pub risk: &'static str,
    /// What not to do.
    pub do_not: &'static str,
    /// What to do instead.
    pub instead: &'static str,
    /// Where this is from.
    pub source: &'static str,
}

const TABLE: &str = include_str!("../data/cautions.tsv");

/// All cautions, in the order of the table.
pub fn all() -> impl Iterator<Item = Caution> {
    TABLE.lines().skip(1).filter_map(|line| {
        let mut cells = line.split('\t');
        Some(Caution {
            name: cells.next()?,
            title: cells.next()?,
            risk: cells.next()?,
            do_not: cells.next()?,
            instead: cells.next()?,
            source: cells.next()?,
        })
    })
}

/// The caution of this name.
#[must_use]
pub fn named(name: &str) -> Option<Caution> {
    all().find(|caution| caution.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_whole() {
        let rows = TABLE.lines().skip(1).count();
        assert_eq!(all().count(), rows);
        for c in all() {
            for cell in [c.name, c.title, c.risk, c.do_not, c.instead, c.source] {
                assert!(!cell.trim().is_empty(), "{}", c.name);
            }
        }
    }
}
