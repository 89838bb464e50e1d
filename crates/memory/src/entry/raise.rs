//! Reading a body of any version ever written: older text is raised to today's, step by step.

use super::Entry;
use super::kinds::KINDS;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// Turns a body of one version into the next.
pub(super) type Raise = fn(Value) -> Result<Value, String>;

/// A kind of entry and how its older bodies are raised. The first function turns version 1 into 2, and so on.
pub(super) struct Kind {
    pub(super) name: &'static str,
    pub(super) raises: &'static [Raise],
    pub(super) typed: fn(Value) -> Result<Entry, String>,
}

impl Kind {
    /// The version written today: one more than there are raises.
    pub(super) fn version(&self) -> i64 {
        i64::try_from(self.raises.len()).map_or(i64::MAX, |n| n + 1)
    }
}

/// The typed body of a JSON one.
pub(super) fn typed<T: DeserializeOwned>(body: Value, wrap: fn(T) -> Entry) -> Result<Entry, String> {
    serde_json::from_value(body)
        .map(wrap)
        .map_err(|error| error.to_string())
}

pub(super) fn kind(name: &str) -> Option<&'static Kind> {
    KINDS.iter().find(|k| k.name == name)
}

/// Why a stored body was not read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NotRead {
    /// No such kind here.
    Kind,
    /// No such version of it here.
    Version {
        /// Newest version known here.
        known: i64,
    },
    /// The text is not what kind and version promise.
    Body(String),
}

impl NotRead {
    /// In words.
    pub(crate) fn reason(&self) -> String {
        match self {
            NotRead::Kind => "its kind is unknown".into(),
            NotRead::Version { known } => format!("the newest version known is {known}"),
            NotRead::Body(reason) => reason.clone(),
        }
    }
}

/// Reads a body of any known kind and version.
pub(crate) fn read(name: &str, version: i64, body: &str) -> Result<Entry, NotRead> {
    let kind = kind(name).ok_or(NotRead::Kind)?;
    read_as(kind, version, body)
}

fn read_as(kind: &Kind, version: i64, body: &str) -> Result<Entry, NotRead> {
    let known = kind.version();
    let from = usize::try_from(version)
        .ok()
        .and_then(|v| v.checked_sub(1))
        .and_then(|done| kind.raises.get(done..))
        .ok_or(NotRead::Version { known })?;
    let text: Value = serde_json::from_str(body).map_err(|error| NotRead::Body(error.to_string()))?;
    let today = from
        .iter()
        .try_fold(text, |older, raise| raise(older))
        .map_err(NotRead::Body)?;
    (kind.typed)(today).map_err(NotRead::Body)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::entry::QuestionAnswered;
    use proptest::prelude::*;
    use refettle_facts::ids::QuestionId;

    /// A kind whose version 1 called the answer `text`, and whose version 2 called the question `q`.
    const RENAMED: Kind = Kind {
        name: "question-answered",
        raises: &[
            |body| rename(body, "text", "answer"),
            |body| rename(body, "q", "question"),
        ],
        typed: |body| typed(body, Entry::QuestionAnswered),
    };

    fn rename(mut body: Value, old: &str, new: &str) -> Result<Value, String> {
        let fields = body.as_object_mut().ok_or("not an object")?;
        let value = fields.remove(old).ok_or(format!("no '{old}'"))?;
        fields.insert(new.to_owned(), value);
        Ok(body)
    }

    #[test]
    fn an_older_body_is_raised_through_every_version_to_todays() {
        let today = Entry::QuestionAnswered(QuestionAnswered {
            question: QuestionId::new("belly-panel").unwrap(),
            answer: "closed".into(),
        });
        for (version, body) in [
            (1, r#"{"q":"belly-panel","text":"closed"}"#),
            (2, r#"{"q":"belly-panel","answer":"closed"}"#),
            (3, r#"{"question":"belly-panel","answer":"closed"}"#),
        ] {
            assert_eq!(read_as(&RENAMED, version, body), Ok(today.clone()), "{version}");
        }
    }

    #[test]
    fn a_version_from_the_future_or_from_nowhere_is_refused() {
        for version in [4, 0, -1, i64::MAX, i64::MIN] {
            assert_eq!(
                read_as(
                    &RENAMED,
                    version,
                    r#"{"question":"belly-panel","answer":"closed"}"#
                ),
                Err(NotRead::Version { known: 3 }),
                "{version}"
            );
        }
    }

    #[test]
    fn a_field_nobody_knows_is_refused_rather_than_lost() {
        let body = r#"{"question":"belly-panel","answer":"closed","sure":false}"#;
        assert!(matches!(
            read("question-answered", 1, body),
            Err(NotRead::Body(_))
        ));
    }

    #[test]
    fn no_two_kinds_share_a_name() {
        for kind in KINDS {
            assert_eq!(
                KINDS.iter().filter(|k| k.name == kind.name).count(),
                1,
                "{}",
                kind.name
            );
        }
    }

    proptest! {
        #[test]
        fn no_text_makes_reading_fail_otherwise_than_by_saying_so(
            which in 0..KINDS.len(),
            version in -3_i64..4,
            body in prop_oneof![".*", r#"[\[\]{}":,a-z0-9 ]{0,60}"#],
        ) {
            let name = KINDS[which].name;
            if let Ok(entry) = read(name, version, &body) {
                prop_assert_eq!(entry.kind(), name);
            }
        }
    }

    #[test]
    fn deep_nesting_is_refused() {
        let body = format!("{{\"plan\":{}{}}}", "[".repeat(100_000), "]".repeat(100_000));
        assert!(matches!(read("plan-adopted", 1, &body), Err(NotRead::Body(_))));
    }
}
