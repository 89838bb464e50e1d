//! What was typed into a question's fields.

use super::{Field, Kind, Question, Want};
use crate::routes::{Fields, field};
use refettle_usecases::fit_desk::Today;
use refettle_usecases::fit_desk::screen::Screen;
use refettle_usecases::refused::Refused;

/// Longest text taken from one field; a sheet of valves is far below it.
const LONGEST: usize = 8_000;

/// A question with what was typed.
pub(crate) struct Typed<'a> {
    question: &'static Question,
    fields: &'a Fields,
    /// The day, for what ages.
    pub(crate) today: Today,
}

/// One thing that is wrong, and of which field when it is of one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Wrong {
    pub(crate) field: Option<&'static str>,
    pub(crate) text: String,
}

impl<'a> Typed<'a> {
    pub(crate) fn new(question: &'static Question, fields: &'a Fields, today: Today) -> Typed<'a> {
        Typed {
            question,
            fields,
            today,
        }
    }

    /// The text as it was typed, for showing it again.
    pub(crate) fn raw(&self, name: &str) -> &'a str {
        field(self.fields, name).unwrap_or_default()
    }

    /// The unit chosen beside a number: the usual one unless another that is offered was chosen.
    pub(crate) fn unit(&self, field: &Field) -> &'static str {
        let (Kind::Number(units) | Kind::Numbers(units)) = field.kind else {
            return "";
        };
        let chosen = self.raw(&unit_field(field.name));
        let usual = units.first().copied().unwrap_or_default();
        units
            .iter()
            .copied()
            .find(|unit| *unit == chosen)
            .unwrap_or(usual)
    }

    /// The text, a bare number with its unit; nothing when it was left empty.
    pub(crate) fn given(&self, name: &str) -> Option<String> {
        let text = self.raw(name).trim();
        let text: String = text.chars().take(LONGEST).collect();
        let known = self.question.fields.iter().find(|field| field.name == name)?;
        (!text.is_empty()).then(|| with_unit(&text, self.unit(known)))
    }

    /// The text of a field that must be given; empty when it was not.
    pub(crate) fn must(&self, name: &str) -> String {
        self.given(name).unwrap_or_default()
    }

    /// Each of several, with its unit. A reading that is a pair, `50:54`, has its unit on both.
    pub(crate) fn each(&self, name: &str) -> Vec<String> {
        let unit = self
            .question
            .fields
            .iter()
            .find(|field| field.name == name)
            .map_or("", |field| self.unit(field));
        let text: String = self.raw(name).chars().take(LONGEST).collect();
        text.split(|c: char| c.is_whitespace() || c == ';')
            .filter(|piece| !piece.is_empty())
            .map(|piece| with_unit(piece, unit))
            .collect()
    }

    /// Both halves of each pair with their unit.
    pub(crate) fn each_pair(&self, name: &str) -> Vec<String> {
        let unit = |text: &str| {
            let known = self.question.fields.iter().find(|field| field.name == name);
            with_unit(text, known.map_or("", |field| self.unit(field)))
        };
        let pair = |text: String| match text.split_once(':') {
            Some((left, right)) => format!("{}:{}", unit(left), unit(right)),
            None => text,
        };
        self.each(name).into_iter().map(pair).collect()
    }

    /// Each that was ticked of a list.
    pub(crate) fn all_ticked(&self, name: &str) -> Vec<String> {
        let of_name = self.fields.iter().filter(|(known, _)| known == name);
        of_name
            .map(|(_, text)| text.chars().take(LONGEST).collect::<String>())
            .filter(|text| !text.is_empty())
            .collect()
    }

    /// Whether it was ticked.
    pub(crate) fn ticked(&self, name: &str) -> bool {
        !self.raw(name).is_empty()
    }

    /// The answer, or everything that is wrong: what is missing first, then what cannot be.
    pub(crate) fn answer(&self) -> Result<Screen, Vec<Wrong>> {
        let missing: Vec<&'static Field> = self
            .question
            .fields
            .iter()
            .filter(|field| field.want == Want::Must && self.given(field.name).is_none())
            .collect();
        let said = match (self.question.answer)(self) {
            Ok(screen) if missing.is_empty() => return Ok(screen),
            Ok(_) => Vec::new(),
            Err(Refused::Wrong(lines)) => lines,
            Err(Refused::NoPlan(_)) => vec!["no answer was found".to_owned()],
        };
        let mut wrong: Vec<Wrong> = missing
            .iter()
            .map(|field| Wrong {
                field: Some(field.name),
                text: format!("it is missing; such as {}", field.such_as),
            })
            .collect();
        wrong.extend(
            said.iter()
                .map(|line| self.of_a_field(line))
                .filter(|wrong| !missing.iter().any(|field| Some(field.name) == wrong.field)),
        );
        Err(wrong)
    }

    fn of_a_field(&self, line: &str) -> Wrong {
        let named = line.split_once(": ").and_then(|(name, text)| {
            let field = self.question.fields.iter().find(|field| field.name == name)?;
            Some((field.name, text))
        });
        match named {
            Some((field, text)) => Wrong {
                field: Some(field),
                text: text.to_owned(),
            },
            None => Wrong {
                field: None,
                text: line.to_owned(),
            },
        }
    }
}

/// The name of the field that chooses a unit.
pub(crate) fn unit_field(name: &str) -> String {
    format!("{name}-unit")
}

/// A number that ends bare gets the unit; one that was typed with its own keeps it.
fn with_unit(text: &str, unit: &str) -> String {
    if text.ends_with(|c: char| c.is_ascii_digit() || c == '.' || c == ',') {
        format!("{}{unit}", text.trim_end_matches(['.', ',']))
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{GROUPS, question};
    use super::*;

    fn typed(name: &str, fields: &[(&str, &str)]) -> (&'static Question, Fields) {
        let fields = fields
            .iter()
            .map(|(name, text)| ((*name).to_owned(), (*text).to_owned()))
            .collect();
        (question(name).unwrap(), fields)
    }

    #[test]
    fn a_bare_number_gets_the_unit_beside_it_and_a_whole_one_keeps_its_own() {
        let (ring, fields) = typed(
            "ring",
            &[
                ("id", "1"),
                ("id-unit", "in"),
                ("section", "0.1in"),
                ("width", "4,57"),
                ("width-unit", "furlong"),
            ],
        );
        let typed = Typed::new(ring, &fields, Today::default());
        assert_eq!(typed.must("id"), "1in");
        assert_eq!(typed.must("section"), "0.1in");
        // A unit that is not offered is not taken.
        assert_eq!(typed.must("width"), "4,57mm");
        assert_eq!(typed.given("bore"), None);
    }

    #[test]
    fn pairs_and_several_have_their_units() {
        let (speedo, fields) = typed("speedo", &[("pair", "50:54 100km/h:107"), ("pair-unit", "mph")]);
        let typed = Typed::new(speedo, &fields, Today::default());
        assert_eq!(typed.each_pair("pair"), ["50mph:54mph", "100km/h:107mph"]);
    }

    #[test]
    fn every_question_with_nothing_typed_says_all_that_is_missing() {
        let nothing = Fields::new();
        for question in GROUPS.iter().flat_map(|group| group.questions) {
            let typed = Typed::new(
                question,
                &nothing,
                Today {
                    year: 2026,
                    month: 5,
                    day: 1,
                },
            );
            let wrong = typed.answer().expect_err(question.name);
            for field in question.fields.iter().filter(|field| field.want == Want::Must) {
                let of: Vec<_> = wrong.iter().filter(|w| w.field == Some(field.name)).collect();
                assert_eq!(of.len(), 1, "{} {}: {wrong:?}", question.name, field.name);
            }
        }
    }
}
