//! Lines broken by hand: which line goes on with the one above.

use super::super::Reader;
use super::super::ingredient::{is_span_of_time, list_number};
use crate::line::LineKind;
use quantity::fraction;

/// Words no line ends on: more must follow.
const OPEN_ENDS: [&str; 30] = [
    "with", "and", "or", "of", "in", "for", "to", "the", "a", "an", "by", "from", "at", "into",
    "on", "onto", "plus", "about", "which", "until", "than", "as", "makes", "serves", "per",
    "your", "if", "so", "then", "each",
];

/// Words no ingredient begins with: the line above goes on.
const JOINTS: [&str; 26] = [
    "or", "and", "with", "then", "until", "by", "in", "that", "so", "from", "of", "but", "plus",
    "which", "into", "on", "at", "as", "if", "when", "while", "because", "than", "about", "are",
    "is",
];

/// How far in a line begins, a tab as four.
fn indent(line: &str) -> usize {
    line.chars()
        .take_while(|c| c.is_whitespace())
        .map(|c| if c == '\t' { 4 } else { 1 })
        .sum()
}

/// The last word, lower case, if the line ends with one.
fn last_word(line: &str) -> String {
    let line = line.trim_end();
    let from = line
        .char_indices()
        .rev()
        .take_while(|(_, c)| c.is_alphabetic())
        .last()
        .map_or(line.len(), |(i, _)| i);
    line[from..].to_lowercase()
}

/// The first word, lower case.
fn first_word(line: &str) -> String {
    line.trim_start()
        .chars()
        .take_while(|c| c.is_alphabetic())
        .flat_map(char::to_lowercase)
        .collect()
}

/// Brackets opened and not closed.
fn open_bracket(line: &str) -> bool {
    let count = |c: [char; 2]| line.matches(c).count();
    count(['(', '[']) > count([')', ']'])
}

fn is_bullet(line: &str) -> bool {
    let line = line.trim_start();
    let sign = line.starts_with([
        '•', '·', '◦', '▪', '■', '□', '☐', '*', '#', '>', '▢', '●', '○', '=', '+',
    ]);
    let dash = line.starts_with(['-', '–', '—'])
        && line
            .chars()
            .nth(1)
            .is_some_and(|c| c.is_whitespace() || c == '-');
    sign || dash || line.starts_with("[ ]") || list_number(line).is_some()
}

/// Whether `next` goes on with `line`, the line right above it. `joined` is what was joined so
/// far, beginning with `line`.
pub(super) fn continues(reader: &Reader<'_>, line: &str, joined: &str, next: &str) -> bool {
    if is_bullet(next) || next.trim_end().ends_with(':') || joined.len() > 360 {
        return false;
    }
    let joined = joined.trim_end();
    let deeper = indent(next) >= indent(line) + 2;
    let lower = next.trim_start().starts_with(char::is_lowercase);
    let bracket = open_bracket(joined);
    let word_open = OPEN_ENDS.contains(&last_word(joined).as_str()) || joined.ends_with(['&', '+']);
    let closes = next.matches([')', ']']).count() > next.matches(['(', '[']).count();
    let joiner = matches!(
        last_word(joined).as_str(),
        "with" | "and" | "or" | "of" | "plus" | "makes" | "serves" | "about" | "which"
    );
    let sign = next
        .trim_start()
        .starts_with(|c: char| c.is_ascii_digit() || fraction(c).is_some());
    // 'keeps for' / 'three days': a time is no amount.
    let time = is_span_of_time(next);
    let sign = sign && !time;
    if sign && !deeper && !bracket && !joiner {
        return false;
    }
    let amount = !time && reader.begins_with_amount(next);
    // An amount begins a line of its own, unless the line above cannot end there.
    if amount {
        return deeper && (word_open || bracket || joined.ends_with(','))
            || joiner
            || bracket && closes;
    }
    if word_open && (lower || deeper || time) || bracket && closes {
        return true;
    }
    if reader.line(next).kind == LineKind::Heading {
        return false;
    }
    let stands = reader.line(joined);
    let measured = stands.items.iter().any(|i| !i.amounts.is_empty());
    if deeper && measured {
        return true;
    }
    if !lower {
        return false;
    }
    let joint = JOINTS.contains(&first_word(next).as_str());
    if joined.ends_with(['.', '!', '?', ':']) || stands.kind == LineKind::Heading {
        return false;
    }
    joint || joined.ends_with(',') && measured && !reader.begins_with_food(next)
}
