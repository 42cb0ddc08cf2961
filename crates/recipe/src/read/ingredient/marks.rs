//! Bullets, numbers and marks around a line.

/// Whether a line begins with a word that no ingredient begins with.
pub(super) fn is_opening(text: &str) -> bool {
    const OPENINGS: [&str; 26] = [
        "makes", "serves", "yield", "yields", "note", "notes", "tip", "tips", "adapted", "source",
        "preheat", "heat", "bake", "prep", "cook", "recipe", "optional", "adjust", "oven", "our",
        "you", "we", "tin", "pan", "total", "time",
    ];
    let first: String = text
        .trim()
        .chars()
        .take_while(|c| c.is_alphabetic())
        .flat_map(char::to_lowercase)
        .collect();
    let known = OPENINGS.contains(&first.as_str());
    known && !(first == "tin" && text[3..].trim_start().starts_with("of "))
}

/// Takes a bullet, a number or a tick box off. Returns where the text begins and whether the
/// line was marked as a heading by '#' or '='.
pub(super) fn strip_bullet(text: &str) -> (usize, bool) {
    let mut at = text.len() - text.trim_start().len();
    let mut marked = false;
    loop {
        let rest = &text[at..];
        let Some(c) = rest.chars().next() else { break };
        let next = rest[c.len_utf8()..].chars().next();
        let bullet = matches!(
            c,
            '•' | '·'
                | '◦'
                | '▪'
                | '■'
                | '□'
                | '☐'
                | '☑'
                | '☒'
                | '✓'
                | '✔'
                | '►'
                | '▢'
                | '▸'
                | '‣'
                | '●'
                | '○'
                | '>'
                | '†'
                | '‡'
        ) || (matches!(c, '-' | '–' | '—' | '+')
            && next.is_some_and(char::is_whitespace))
            || (c == '*' && next != Some('*'));
        if bullet {
            at += c.len_utf8();
        } else if c == '#' && next.is_some_and(|n| n == '#' || n.is_whitespace()) || c == '=' {
            at += c.len_utf8();
            marked = true;
        } else if let Some(r) = rest
            .strip_prefix("[ ]")
            .or(rest.strip_prefix("[x]"))
            .or(rest.strip_prefix("[]"))
        {
            at = text.len() - r.len();
        } else if let Some(n) = list_number(rest) {
            at += n;
        } else {
            break;
        }
        at += text[at..].len() - text[at..].trim_start().len();
    }
    (at, marked)
}

/// Bytes of a list number '1. ' or '2) ' before something else than a unit.
pub(crate) fn list_number(text: &str) -> Option<usize> {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    if digits == 0 || digits > 2 {
        return None;
    }
    let rest = &text[digits..];
    let mark = rest.starts_with(['.', ')']);
    (mark && rest[1..].starts_with([' ', '\t', '\u{a0}']) && rest.trim().len() > 2)
        .then_some(digits + 1)
}

/// Takes `**bold**`, `__`, `<b>` and trailing `==` off; says whether it was so marked.
pub(super) fn strip_marks(text: &str) -> (&str, bool) {
    let mut inner = text.trim();
    let mut marked = false;
    for (open, close) in [
        ("**", "**"),
        ("__", "__"),
        ("<b>", "</b>"),
        ("<strong>", "</strong>"),
        ("<h3>", "</h3>"),
        ("_", "_"),
        ("*", "*"),
    ] {
        if let Some(x) = inner.strip_prefix(open).and_then(|x| {
            x.strip_suffix(close)
                .or_else(|| x.strip_suffix(&format!("{close}:")))
        }) && !x.is_empty()
        {
            inner = x.trim();
            marked = true;
        }
    }
    if let Some(x) = inner.strip_suffix("==") {
        inner = x.trim_end_matches('=').trim();
    }
    (inner.trim_end_matches(['#', ' ']), marked)
}
