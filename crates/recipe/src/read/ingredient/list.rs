//! Cutting names at 'or', 'and' and commas.

use larder::Match;
use std::ops::Range;

/// The place of 'or' (or a slash between words) in the first part of a name.
pub(super) fn find_or(lower: &str) -> Option<(usize, usize)> {
    let cut = [" for ", " to serve", " as ", " more"]
        .iter()
        .filter_map(|c| lower.find(c))
        .min()
        .unwrap_or(lower.len());
    // A bracket that begins with it offers a choice as well.
    let or = [" and/or ", " or ", "(or ", "[or "]
        .iter()
        .filter_map(|or| Some((lower.find(or)?, or.len())))
        .min();
    if let Some(or) = or.filter(|(at, _)| *at < cut) {
        return Some(or);
    }
    let at = lower.find('/').filter(|at| *at < cut)?;
    let before = lower[..at].chars().next_back()?;
    let after = lower[at + 1..].chars().next()?;
    (before.is_alphabetic() && after.is_alphabetic()).then_some((at, 1))
}

/// The two sides of the first ' and ', '&' or '+' outside brackets.
pub(super) fn split_and(text: &str) -> Option<(Range<usize>, Range<usize>)> {
    for sign in [" and ", " & ", " + ", " AND ", " And "] {
        let found = text
            .match_indices(sign)
            .map(|(at, _)| at)
            .find(|at| depth(&text[..*at]) == 0);
        if let Some(at) = found {
            return Some((0..at, at + sign.len()..text.len()));
        }
    }
    None
}

/// Brackets open at the end of a text.
fn depth(text: &str) -> usize {
    text.bytes().fold(0, |n: usize, b| match b {
        b'(' | b'[' => n + 1,
        b')' | b']' => n.saturating_sub(1),
        _ => n,
    })
}

/// Puts spaces in place of bytes, so that all other places stay.
pub(super) fn blank(text: &mut String, span: Range<usize>) {
    if text.get(span.clone()).is_some() {
        text.replace_range(span.clone(), &" ".repeat(span.len()));
    }
}

/// Blanks what a line says is not in it, or may be: '(contains no wheat, rye or barley)', 'no added
/// sugar', 'not self-raising', '(may contain nuts)'. Such words name no food and offer no choice.
pub(super) fn blank_denials(text: &mut String) {
    // One look at most names: every denial holds one of these.
    let may = text.as_bytes().windows(3).any(|w| {
        matches!(
            &[w[0] | 0x20, w[1] | 0x20, w[2] | 0x20],
            b"no " | b"no-" | b"not" | b"may" | b"tai" | b"hou" | b"tea" | b"tha" | b"ree"
        )
    });
    if !may {
        return;
    }
    let lower = text.to_ascii_lowercase();
    let words: Vec<Range<usize>> = word_spans(&lower);
    let mut i = 0;
    while let Some(span) = words.get(i) {
        let at = |n: usize| words.get(i + n).map_or("", |r| &lower[r.clone()]);
        let denial = match &lower[span.clone()] {
            "not" | "without" => true,
            "contains" | "containing" => matches!(at(1), "no" | "neither" | "zero"),
            "free" => at(1) == "from",
            "may" => at(1) == "contain",
            "rather" => at(1) == "than",
            "instead" => at(1) == "of",
            "no" => {
                // 'no added sugar', 'no salt added': three words, not the food behind them.
                let three = at(1) == "added" || at(2) == "added";
                if three && let Some(last) = words.get(i + 2) {
                    blank(text, span.start..last.end);
                    i += 3;
                    continue;
                }
                true
            }
            _ => false,
        };
        if !denial {
            i += 1;
            continue;
        }
        // To the end of the bracket; outside brackets to the next comma.
        let inside = depth(&lower[..span.start]) > 0;
        let rest = &lower[span.start..];
        let length = if inside {
            rest.find([')', ']'])
        } else {
            rest.find([',', ';', '(', ')', '['])
        };
        let end = length.map_or(lower.len(), |n| span.start + n);
        blank(text, span.start..end);
        while words.get(i).is_some_and(|w| w.start < end) {
            i += 1;
        }
    }
}

/// The words of a text: runs of letters.
pub(super) fn word_spans(text: &str) -> Vec<Range<usize>> {
    let mut spans = Vec::new();
    let mut from = None;
    for (at, c) in text.char_indices() {
        if c.is_alphanumeric() || c == '\'' {
            from.get_or_insert(at);
        } else if let Some(start) = from.take() {
            spans.push(start..at);
        }
    }
    if let Some(start) = from {
        spans.push(start..text.len());
    }
    spans
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
    let mut open = 0usize;
    while at < text.len() {
        let rest = &text[at..];
        match rest.as_bytes().first() {
            Some(b'(' | b'[') => open += 1,
            Some(b')' | b']') => open = open.saturating_sub(1),
            _ => {}
        }
        let skip = [", and ", " and ", " & ", ", ", "; "]
            .iter()
            .find(|s| open == 0 && rest.starts_with(**s));
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
    // The bracket of a list ends no name of its own.
    let open = text[start..end].contains(['(', '[']);
    if !open && text[start..end].ends_with(')') {
        end -= 1;
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

/// A name without its last '(optional)' or ', optional': that is said of the line, not of the food.
pub(super) fn without_optional(text: &str, name: Range<usize>) -> Range<usize> {
    let lower = text[name.clone()].to_ascii_lowercase();
    let bare = lower.trim_end_matches(')');
    match bare.strip_suffix("optional").map(str::len) {
        Some(len) if lower[..len].ends_with(['(', ',', ' ']) => {
            let bare = trim_name(text, name.start..name.start + len);
            if bare.is_empty() { name } else { bare }
        }
        _ => name,
    }
}
