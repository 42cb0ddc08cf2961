//! HTML entities in pasted text.

/// Reads `&frac12;`, `&amp;`, `&#189;` and the like; other text comes back as it is.
pub(crate) fn decode(text: &str) -> String {
    if !text.contains('&') || !text.contains(';') {
        return text.to_owned();
    }
    // The tokenizer reads tags too: a lone '<' of '2 < 3' must stay.
    let safe = text.replace('<', "&lt;");
    let mut out = String::with_capacity(text.len());
    for token in html5gum::Tokenizer::new(safe.as_str()) {
        if let Ok(html5gum::Token::String(s)) = token {
            out.push_str(&String::from_utf8_lossy(&s));
        }
    }
    out
}
