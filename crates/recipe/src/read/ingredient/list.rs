//! Cutting names at 'or', 'and' and commas.

use larder::Match;
use std::ops::Range;

/// The place of ' or ' (or a slash between words) in the first part of a name.
pub(super) fn find_or(lower: &str) -> Option<(usize, usize)> {
    let cut = [" for ", " to serve", " as ", " more"]
        .iter()
        .filter_map(|c| lower.find(c))
        .min()
        .unwrap_or(lower.len());
    if let Some(at) = lower.find(" or ").filter(|at| *at < cut) {
        return Some((at, 4));
    }
    let at = lower.find('/').filter(|at| *at < cut)?;
    let before = lower[..at].chars().next_back()?;
    let after = lower[at + 1..].chars().next()?;
    (before.is_alphabetic() && after.is_alphabetic() && !lower.contains("and/or"))
        .then_some((at, 1))
}

/// The two sides of the first ' and ' or '&'.
pub(super) fn split_and(text: &str) -> Option<(Range<usize>, Range<usize>)> {
    for sign in [" and ", " & ", " AND ", " And "] {
        if let Some(at) = text.find(sign) {
            return Some((0..at, at + sign.len()..text.len()));
        }
    }
    None
}

/// Whether the food stands at the start of its words, not behind other ones ('beaten and
/// mixed with milk').
pub(super) fn starts_with_food(words: &str, m: &Match) -> bool {
    !words[..m.span.start]
        .split_whitespace()
        .any(|w| matches!(w, "with" | "in" | "into" | "for" | "to"))
}

/// Splits 'cinnamon, nutmeg and cloves' into its parts.
pub(super) fn split_list(text: &str) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let mut from = 0;
    let mut push = |from: usize, to: usize| {
        let part = &text[from..to];
        let lead = part.len() - part.trim_start().len();
        let body = part.trim();
        if !body.is_empty() && body != "each" {
            parts.push(from + lead..from + lead + body.len());
        }
    };
    let mut at = 0;
    while at < text.len() {
        let rest = &text[at..];
        let skip = [", and ", " and ", " & ", ", ", "; "]
            .iter()
            .find(|s| rest.starts_with(**s));
        if let Some(s) = skip {
            push(from, at);
            at += s.len();
            from = at;
        } else {
            at += rest.chars().next().map_or(1, char::len_utf8);
        }
    }
    push(from, text.len());
    parts
}

/// Takes 'of', dots, stars and signs off the ends of a name.
pub(super) fn trim_name(text: &str, name: Range<usize>) -> Range<usize> {
    let (mut start, mut end) = (name.start, name.end);
    loop {
        let rest = &text[start..end];
        let cut = rest.trim_start_matches([
            ' ', '\u{a0}', '\t', ',', '.', ':', ';', '-', '–', '—', '*', '|', '=', ')', ']',
        ]);
        start += rest.len() - cut.len();
        let lower: String = cut.chars().take(3).flat_map(char::to_lowercase).collect();
        if lower == "of " && !cut.to_ascii_lowercase().starts_with("of the ") {
            start += 3;
            continue;
        }
        break;
    }
    let rest = &text[start..end];
    end = start
        + rest
            .trim_end_matches([
                ' ', '\u{a0}', '\t', ',', '.', ':', ';', '-', '*', '†', '‡', '(', '|', '=', '+',
            ])
            .len();
    start..end.max(start)
}
