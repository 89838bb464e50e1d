//! What a screw goes into or presses on, as far as its strength bears on the torque.
//!
//! `cast-aluminium` is a casting of unknown alloy, taken at the lowest published shear strength seen. The named
//! alloys are typical values from separately cast bars; a real casting is weaker.

use crate::nearest::nearest;
use crate::published;
use crate::quantity::Pressure;
use uom::si::pressure::megapascal;

const TABLE: &str = include_str!("../../data/fasteners/tapped_materials.tsv");

/// A material that is tapped or clamped.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Name: `cast-aluminium`, `mild-steel`, `a380.0` …
    pub name: String,
    /// Ultimate shear strength.
    pub shear: Pressure,
    /// Pressure under a head at which the surface creeps away, where a source gives one.
    pub bearing_limit: Option<Pressure>,
    /// Where from and how far verified.
    pub basis: String,
}

/// Why a material was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MaterialError {
    /// Not in the table.
    #[error("no material '{text}' in the table{hint}; one of {would_do}")]
    Unknown {
        /// What was typed.
        text: String,
        /// `", did you mean …"`, or empty.
        hint: String,
        /// What there is.
        would_do: String,
    },
    /// A shear strength no workshop metal has.
    #[error("a shear strength of {mpa} MPa; metals tapped in a garage lie between 20 and 1200 MPa")]
    OutOfRange {
        /// The value given.
        mpa: String,
    },
}

fn read(row: published::Row) -> Option<Material> {
    let pressure = |column: &str| row.value(column).map(Pressure::new::<megapascal>);
    Some(Material {
        name: row.text("material")?.to_owned(),
        shear: pressure("shear_mpa")?,
        bearing_limit: pressure("bearing_limit_mpa"),
        basis: format!(
            "{}: shear strength {} MPa, {}; {} ({})",
            row.cell("material"),
            row.cell("shear_mpa"),
            row.cell("words"),
            row.cell("source"),
            row.cell("status")
        ),
    })
}

/// Every material of the table.
pub fn all() -> impl Iterator<Item = Material> {
    published::rows(TABLE).filter_map(read)
}

/// The material of this name.
///
/// # Errors
/// [`MaterialError::Unknown`], with the nearest name and what there is.
pub fn named(text: &str) -> Result<Material, MaterialError> {
    let wanted = text
        .trim()
        .to_ascii_lowercase()
        .replace([' ', '_'], "-")
        .replace("aluminum", "aluminium");
    all().find(|m| m.name == wanted).ok_or_else(|| {
        let names: Vec<&str> = published::rows(TABLE)
            .filter_map(|row| row.text("material"))
            .collect();
        let hint = nearest(&wanted, names.iter().copied())
            .map(|near| format!(", did you mean '{near}'"))
            .unwrap_or_default();
        MaterialError::Unknown {
            text: text.trim().chars().take(40).collect(),
            hint,
            would_do: names.join(", "),
        }
    })
}

/// A metal whose shear strength is known from elsewhere.
///
/// # Errors
/// [`MaterialError::OutOfRange`] outside 20 to 1200 MPa (bounds: common practice, no source).
pub fn of_shear_strength(shear: Pressure) -> Result<Material, MaterialError> {
    let mpa = shear.value / 1e6;
    if (20.0..=1200.0).contains(&mpa) {
        Ok(Material {
            name: format!("metal of {mpa} MPa shear strength"),
            shear,
            bearing_limit: None,
            basis: format!("shear strength {mpa} MPa, as given"),
        })
    } else {
        Err(MaterialError::OutOfRange {
            mpa: format!("{mpa}"),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_whole_and_unknown_castings_are_taken_as_the_weakest() {
        assert_eq!(all().count(), published::rows(TABLE).count());
        let casting = named("Cast aluminum").unwrap();
        for alloy in all().filter(|m| m.name != "mild-steel") {
            assert!(casting.shear <= alloy.shear, "{}", alloy.name);
        }
        assert!(
            named("cast-aluminim")
                .unwrap_err()
                .to_string()
                .contains("did you mean 'cast-aluminium'")
        );
    }
}
