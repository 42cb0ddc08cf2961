//! Data blocks of a page: finding them, and reading JSON that is not quite JSON.

use html5gum::{DefaultEmitter, Token, Tokenizer};
use serde_json::Value;

/// Top values read of one block.
const MOST_VALUES: usize = 10_000;

/// The text of one block and where it begins in the page.
#[derive(Debug)]
pub(super) struct Block {
    pub text: String,
    /// Byte of the page.
    pub start: usize,
}

/// What a page was found to hold.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub blocks: Vec<Block>,
    /// Script elements of any kind.
    pub scripts: usize,
    /// The page marks a recipe in its own text (`itemtype`).
    pub marked: bool,
}

/// Finds the blocks of an HTML page.
pub(super) fn find(page: &str) -> Found {
    let mut found = Found::default();
    let mut emitter = DefaultEmitter::<usize>::new_with_span();
    emitter.naively_switch_states(true);
    let mut open: Option<(usize, String)> = None;
    for token in Tokenizer::new_with_emitter(page, emitter) {
        let Ok(token) = token;
        match token {
            Token::StartTag(tag) => {
                let value = |name: &[u8]| {
                    let found = tag.attributes.iter().find(|(k, _)| k.0.as_slice() == name);
                    found.map(|(_, v)| String::from_utf8_lossy(&v.value.0).to_ascii_lowercase())
                };
                let kind = value(b"itemtype").unwrap_or_default();
                found.marked |= kind.contains("schema.org/recipe");
                if tag.name.0.as_slice() == b"script" {
                    found.scripts += 1;
                    let kind = value(b"type").unwrap_or_default();
                    let data = kind
                        .split(';')
                        .next()
                        .is_some_and(|k| k.trim() == "application/ld+json");
                    open = data.then(|| (tag.span.end, String::new()));
                }
            }
            Token::String(s) => {
                if let Some((_, text)) = &mut open {
                    text.push_str(&String::from_utf8_lossy(&s.value.0));
                }
            }
            Token::EndTag(tag) if tag.name.0.as_slice() == b"script" => {
                if let Some((start, text)) = open.take() {
                    found.blocks.push(block(page, start, tag.span.start, text));
                }
            }
            _ => {}
        }
    }
    // A page cut off inside its data.
    if let Some((start, text)) = open {
        found.blocks.push(block(page, start, page.len(), text));
    }
    found
}

/// The page's own letters where the tokenizer's places fit them, else the tokenizer's text.
fn block(page: &str, start: usize, end: usize, text: String) -> Block {
    let bytes = page.as_bytes();
    let fits = start
        .checked_sub(1)
        .is_some_and(|i| bytes.get(i) == Some(&b'>'))
        && bytes.get(end).is_none_or(|b| *b == b'<');
    match page.get(start..end) {
        Some(own) if fits => Block {
            text: own.to_owned(),
            start,
        },
        _ => Block {
            text,
            start: start.min(page.len()),
        },
    }
}

/// What was read of a block.
#[derive(Debug, Default)]
pub(super) struct Parsed {
    /// Whole top values, in order.
    pub values: Vec<Value>,
    /// Byte of the block where reading stopped, and why.
    pub broken: Option<(usize, String)>,
}

/// Reads a block: strictly first, then with the usual slips mended.
pub(super) fn parse(block: &str) -> Parsed {
    let (from, body) = unwrap(block);
    if body.is_empty() {
        return Parsed::default();
    }
    let strict = stream(body);
    if strict.broken.is_none() {
        return strict;
    }
    if is_escaped(body) {
        let plain = unescape(body);
        let strict = stream(&plain.text);
        if strict.broken.is_none() {
            return strict;
        }
        let mended = repair(&plain.text);
        return stream(&mended.text).placed(|at| from + plain.source(mended.source(at)));
    }
    let mended = repair(body);
    stream(&mended.text).placed(|at| from + mended.source(at))
}

impl Parsed {
    fn placed(mut self, place: impl Fn(usize) -> usize) -> Self {
        self.broken = self.broken.map(|(at, what)| (place(at), what));
        self
    }
}

/// One or more JSON values one after the other.
fn stream(text: &str) -> Parsed {
    let mut parsed = Parsed::default();
    for value in serde_json::Deserializer::from_str(text).into_iter::<Value>() {
        match value {
            Ok(value) if parsed.values.len() < MOST_VALUES => parsed.values.push(value),
            Ok(_) => break,
            Err(e) => {
                let what = e.to_string();
                let what = what
                    .rfind(" at line ")
                    .map_or(what.as_str(), |i| &what[..i]);
                let what = if e.is_eof() {
                    "it breaks off before its end".to_owned()
                } else if what.starts_with("recursion limit") {
                    "it is nested too deep".to_owned()
                } else {
                    what.to_owned()
                };
                parsed.broken = Some((offset(text, e.line(), e.column()), what));
                break;
            }
        }
    }
    parsed
}

/// Byte of a line and a column counted in bytes, both from 1.
fn offset(text: &str, line: usize, column: usize) -> usize {
    let start: usize = text
        .split_inclusive('\n')
        .take(line.saturating_sub(1))
        .map(str::len)
        .sum();
    (start + column.saturating_sub(1)).min(text.len())
}

fn is_blank(c: char) -> bool {
    c.is_whitespace() || c.is_control() || matches!(c, '\u{feff}' | '\u{200b}')
}

/// Takes comment and CDATA wrappers off; the byte where the rest begins, and the rest.
fn unwrap(block: &str) -> (usize, &str) {
    const BEFORE: [&str; 7] = [
        "//<![CDATA[",
        "// <![CDATA[",
        "/*<![CDATA[*/",
        "/* <![CDATA[ */",
        "<![CDATA[",
        "<!--//-->",
        "<!--",
    ];
    const AFTER: [&str; 9] = [
        "//]]>",
        "// ]]>",
        "/*]]>*/",
        "/* ]]> */",
        "]]>",
        "//-->",
        "// -->",
        "-->",
        ";",
    ];
    let mut body = block.trim_matches(is_blank);
    while let Some(rest) = BEFORE.iter().find_map(|p| body.strip_prefix(p)) {
        body = rest.trim_start_matches(is_blank);
    }
    while let Some(rest) = AFTER.iter().find_map(|p| body.strip_suffix(p)) {
        body = rest.trim_end_matches(is_blank);
    }
    (body.as_ptr() as usize - block.as_ptr() as usize, body)
}

/// Whether the quotes of the whole block are written as entities.
fn is_escaped(body: &str) -> bool {
    let first = body.find('"').unwrap_or(body.len());
    ["&quot;", "&#34;", "&#034;", "&#x22;"]
        .iter()
        .any(|q| body[..first].contains(q))
}

/// Changed text that knows where its letters stood before.
#[derive(Debug, Default)]
struct Mapped {
    text: String,
    /// Byte here, byte there; only where the distance changes.
    marks: Vec<(usize, usize)>,
}

impl Mapped {
    fn push(&mut self, piece: &str, from: usize) {
        let here = self.text.len();
        if self.source(here) != from {
            self.marks.push((here, from));
        }
        self.text.push_str(piece);
    }
    /// Where byte `at` came from.
    fn source(&self, at: usize) -> usize {
        let i = self.marks.partition_point(|(here, _)| *here <= at);
        match i.checked_sub(1).and_then(|i| self.marks.get(i)) {
            Some((here, there)) => there + (at - here),
            None => at,
        }
    }
}

/// Reads the entities of a wholly escaped block, once.
fn unescape(text: &str) -> Mapped {
    let mut out = Mapped::default();
    let mut at = 0;
    while let Some(next) = text[at..].find('&').map(|i| at + i) {
        out.push(&text[at..next], at);
        let end = text.as_bytes()[next..]
            .iter()
            .take(34)
            .position(|b| *b == b';');
        let Some(end) = end.map(|i| next + i + 1) else {
            out.push("&", next);
            at = next + 1;
            continue;
        };
        match &text[next..end] {
            "&quot;" | "&#34;" | "&#034;" | "&#x22;" => out.push("\"", next),
            "&amp;" => out.push("&", next),
            "&lt;" => out.push("<", next),
            "&gt;" => out.push(">", next),
            "&#39;" | "&#039;" | "&apos;" => out.push("'", next),
            other => out.push(&super::super::entities::decode(other), next),
        }
        at = end;
    }
    out.push(&text[at..], at);
    out
}

/// Mends what is often wrong and can mean only one thing: raw control characters and bad escapes
/// inside strings, commas before a closing bracket, comments, odd blanks between values.
fn repair(text: &str) -> Mapped {
    let mut out = Mapped::default();
    let mut chars = text.char_indices().peekable();
    let mut inside = false;
    let mut comma: Option<usize> = None;
    let mut buffer = [0_u8; 4];
    while let Some((at, c)) = chars.next() {
        if inside {
            match c {
                '"' => {
                    inside = false;
                    out.push("\"", at);
                }
                '\\' => {
                    let rest = &text[at..];
                    let (piece, taken) = escape(rest);
                    out.push(&piece, at);
                    while chars.next_if(|(i, _)| *i < at + taken).is_some() {}
                }
                '\r' if matches!(chars.peek(), Some((_, '\n'))) => {}
                '\n' | '\r' => out.push("\\n", at),
                '\t' => out.push("\\t", at),
                c if c < ' ' => out.push(" ", at),
                c => out.push(c.encode_utf8(&mut buffer), at),
            }
            continue;
        }
        if c == '/' && matches!(chars.peek(), Some((_, '/' | '*'))) {
            let rest = &text[at..];
            let line = rest.starts_with("//");
            let end = if line {
                rest.find('\n')
            } else {
                rest.get(2..).and_then(|r| r.find("*/")).map(|i| i + 4)
            };
            let end = at + end.unwrap_or(rest.len());
            while chars.next_if(|(i, _)| *i < end).is_some() {}
            continue;
        }
        if c == ',' {
            comma = comma.or(Some(at));
            continue;
        }
        if is_blank(c) {
            out.push(if c == '\n' { "\n" } else { " " }, at);
            continue;
        }
        if let Some(place) = comma.take()
            && !matches!(c, '}' | ']')
        {
            out.push(",", place);
        }
        inside = c == '"';
        out.push(c.encode_utf8(&mut buffer), at);
    }
    out
}

/// The escape at the start of `rest` as JSON allows it, and the bytes it took.
fn escape(rest: &str) -> (String, usize) {
    let Some(next) = rest[1..].chars().next() else {
        return (String::new(), 1);
    };
    match next {
        '"' | '\\' | '/' | 'b' | 'f' | 'n' | 'r' | 't' => (rest[..2].to_owned(), 2),
        'u' => match hex(rest) {
            Some(0xd800..=0xdbff) => match rest.get(6..).and_then(hex) {
                Some(0xdc00..=0xdfff) => (rest[..12].to_owned(), 12),
                _ => ("\\ufffd".to_owned(), 6),
            },
            Some(0xdc00..=0xdfff) => ("\\ufffd".to_owned(), 6),
            Some(_) => (rest[..6].to_owned(), 6),
            None => ("\\\\u".to_owned(), 2),
        },
        // A line carried on, or a letter that needs no escape.
        c if c < ' ' => (" ".to_owned(), 2),
        c => (c.to_string(), 1 + c.len_utf8()),
    }
}

/// The number of `\uXXXX`.
fn hex(text: &str) -> Option<u32> {
    let digits = text.strip_prefix("\\u")?.get(..4)?;
    digits
        .bytes()
        .all(|b| b.is_ascii_hexdigit())
        .then(|| u32::from_str_radix(digits, 16).ok())?
}
