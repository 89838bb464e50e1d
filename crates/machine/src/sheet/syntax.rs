//! Text to tables with places, recovering from what is no TOML.

use super::report::Report;
use std::ops::Range;
use toml::de::DeTable;
use toml_parser::Source;
use toml_parser::lexer::TokenKind;

/// Deepest nesting of brackets and of dotted names. A sheet needs five. Counted before parsing, since what
/// comes after goes down a level by calling itself.
const DEEPEST: usize = 12;

/// How many places that are no TOML are kept.
const KEPT: usize = 500;

/// Parses the text. Reports what is no TOML and returns what could be read beside it; nothing when the text is
/// nested too deep to be looked at.
pub(super) fn parse<'t>(text: &'t str, report: &Report) -> Option<DeTable<'t>> {
    if let Some((span, what)) = too_deep(text) {
        report.syntax(
            span,
            what,
            format!("at most {DEEPEST} levels; a sheet needs five"),
        );
        return None;
    }
    let (root, mut errors) = DeTable::parse_recoverable(text);
    // Garbage has a mistake in every other byte: only the first of them will be shown, the rest is counted.
    let place = |error: &toml::de::Error| error.span().map_or(text.len(), |span| span.start);
    if errors.len() > KEPT {
        errors.select_nth_unstable_by_key(KEPT, place);
        report.leave_out(errors.len() - KEPT);
        errors.truncate(KEPT);
    }
    for error in errors {
        let (message, expected) = match error.message().split_once(", expected ") {
            Some((message, expected)) => (message.to_owned(), expected.to_owned()),
            None => (error.message().to_owned(), String::new()),
        };
        let expected = match (message.as_str(), expected) {
            ("duplicate key", _) => "each key once".to_owned(),
            (_, expected) => expected,
        };
        // An error without a place is one at the end of the text.
        report.syntax(error.span().unwrap_or(text.len()..text.len()), message, expected);
    }
    Some(root.into_inner())
}

/// The first place where brackets or dotted names go too deep.
fn too_deep(text: &str) -> Option<(Range<usize>, &'static str)> {
    let mut open = Vec::new();
    let mut dots = 0usize;
    for token in Source::new(text).lex() {
        let place = || token.span().start()..token.span().end();
        dots = match token.kind() {
            TokenKind::Dot => dots + 1,
            TokenKind::Atom | TokenKind::Whitespace | TokenKind::BasicString | TokenKind::LiteralString => {
                dots
            }
            _ => 0,
        };
        match token.kind() {
            TokenKind::LeftSquareBracket => open.push(TokenKind::RightSquareBracket),
            TokenKind::LeftCurlyBracket => open.push(TokenKind::RightCurlyBracket),
            // A bracket that closes nothing is not counted: that errs on the side of too deep.
            kind if open.last() == Some(&kind) => {
                open.pop();
            }
            _ => {}
        }
        if open.len() > DEEPEST {
            return Some((place(), "brackets are nested too deep"));
        }
        if dots > DEEPEST {
            return Some((place(), "a dotted name is too deep"));
        }
    }
    None
}
