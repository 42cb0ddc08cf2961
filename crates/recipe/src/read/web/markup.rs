//! Words out of strings that may carry HTML.

use super::super::entities::decode;
use html5gum::{Token, Tokenizer};

/// A paragraph, list item or line of a string.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    pub text: String,
    /// It stood in a heading element.
    pub heading: bool,
}

/// Elements that part one piece from the next.
const BLOCKS: [&str; 22] = [
    "article",
    "blockquote",
    "dd",
    "div",
    "dl",
    "dt",
    "figcaption",
    "footer",
    "header",
    "h1",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "li",
    "ol",
    "p",
    "section",
    "table",
    "tr",
    "ul",
];
/// Other elements taken for markup; anything else in angle brackets is text.
const INLINE: [&str; 45] = [
    "a", "abbr", "b", "big", "br", "button", "center", "cite", "code", "del", "em", "figure",
    "font", "hr", "i", "iframe", "img", "input", "ins", "label", "link", "main", "mark", "meta",
    "noscript", "picture", "pre", "q", "s", "script", "small", "source", "span", "strike",
    "strong", "style", "sub", "sup", "svg", "tbody", "td", "th", "thead", "time", "u",
];

fn is_tag(name: &str) -> bool {
    let name = name.to_ascii_lowercase();
    BLOCKS.contains(&name.as_str()) || INLINE.contains(&name.as_str()) || name == "wbr"
}

/// Whether `rest`, which begins with '<', begins with an element's tag.
fn starts_tag(rest: &str) -> bool {
    let inner = rest[1..].strip_prefix('/').unwrap_or(&rest[1..]);
    let end = inner
        .bytes()
        .take_while(u8::is_ascii_alphanumeric)
        .take(12)
        .count();
    let closed = matches!(
        inner.as_bytes().get(end),
        Some(b'>' | b'/' | b' ' | b'\t' | b'\n' | b'\r')
    );
    closed && is_tag(&inner[..end])
}

/// Puts `&lt;` for every '<' that is no markup; whether any markup is left.
fn guard(text: &str) -> (String, bool) {
    let last = text.rfind('>').unwrap_or(0);
    let comment = text.rfind("-->").unwrap_or(0);
    let mut out = String::with_capacity(text.len() + 16);
    let mut tags = false;
    let mut at = 0;
    while let Some(next) = text[at..].find('<').map(|i| at + i) {
        out.push_str(&text[at..next]);
        let rest = &text[next..];
        let marks =
            next < last && starts_tag(rest) || next + 4 <= comment && rest.starts_with("<!--");
        if marks {
            tags = true;
            out.push('<');
        } else {
            out.push_str("&lt;");
        }
        at = next + 1;
    }
    out.push_str(&text[at..]);
    (out, tags)
}

/// White space and control characters become one space.
pub(super) fn squeeze(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for word in text.split(|c: char| c.is_whitespace() || c.is_control() || c == '\u{feff}') {
        if word.is_empty() {
            continue;
        }
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(word);
    }
    out
}

/// All words of a string on one line, entities read and markup taken off.
pub(super) fn line(text: &str) -> String {
    let all: Vec<String> = pieces(text, false).into_iter().map(|p| p.text).collect();
    all.join(" ")
}

/// The paragraphs and list items of a string.
///
/// `lines`: the string stands alone, so its line breaks part pieces too.
pub(super) fn pieces(text: &str, lines: bool) -> Vec<Piece> {
    let (mut guarded, mut tags) = guard(text);
    // Markup that was escaped once more.
    if !tags && text.contains("&lt;") {
        let (again, found) = guard(&decode(text));
        if found {
            (guarded, tags) = (again, true);
        }
    }
    let mut raw = if tags {
        split_markup(&guarded, lines)
    } else {
        None
    };
    if raw.is_none() && lines {
        let each = text.split(['\n', '\r', '\u{2028}', '\u{2029}']);
        raw = Some(each.map(|t| (decode(t), false)).collect());
    }
    let raw = raw.unwrap_or_else(|| vec![(decode(text), false)]);
    raw.into_iter()
        .map(|(text, heading)| Piece {
            text: squeeze(&decode(&text)),
            heading,
        })
        .filter(|p| !p.text.is_empty())
        .collect()
}

/// Pieces of marked-up text, or `None` when a tag is left open and would swallow words.
fn split_markup(guarded: &str, lines: bool) -> Option<Vec<(String, bool)>> {
    let mut out: Vec<(String, bool)> = Vec::new();
    let mut now = String::new();
    let mut heading = false;
    let mut parted = false;
    for token in Tokenizer::new(guarded) {
        let Ok(token) = token;
        let (name, opens) = match &token {
            Token::StartTag(t) => (String::from_utf8_lossy(&t.name.0).into_owned(), true),
            Token::EndTag(t) => (String::from_utf8_lossy(&t.name.0).into_owned(), false),
            Token::String(s) => {
                now.push_str(&String::from_utf8_lossy(&s.value.0));
                continue;
            }
            Token::Error(e) => {
                use html5gum::Error;
                if matches!(e.value, Error::EofInTag | Error::EofInComment) {
                    return None;
                }
                continue;
            }
            _ => continue,
        };
        let name = name.as_str();
        if BLOCKS.contains(&name) || name == "br" && lines {
            parted = true;
            if !now.trim().is_empty() {
                out.push((std::mem::take(&mut now), heading));
            }
            let level = name.len() == 2 && name.starts_with('h') && name != "hr";
            if level {
                heading = opens;
            }
        } else if matches!(name, "br" | "td" | "th" | "hr" | "img") {
            now.push(' ');
        } else if name == "sup" && opens && now.ends_with(|c: char| c.is_ascii_digit()) {
            // '1<sup>1</sup>/2' is one and a half, not eleven halves.
            now.push(' ');
        }
    }
    out.push((now, heading));
    if !parted && lines {
        out = out
            .iter()
            .flat_map(|(t, h)| t.split(['\n', '\r']).map(move |l| (l.to_owned(), *h)))
            .collect();
    }
    Some(out)
}
