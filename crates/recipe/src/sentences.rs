//! Where the sentences of a text lie.

use std::ops::Range;

/// Words whose point ends no sentence.
const SHORT: [&str; 6] = ["approx", "ca", "e.g", "i.e", "max", "incl"];

/// The sentences of a text in bytes, in order, each from its first letter to its stop: a point, `!`,
/// `?`, `;` or the end of a line. The point of '1.5' and of 'approx.' ends none.
#[must_use]
pub fn sentences(text: &str) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let mut from = 0;
    for (n, c) in text.char_indices() {
        let end = n + c.len_utf8();
        let next = text[end..].chars().next();
        let stops = matches!(c, ';' | '!' | '?' | '\n')
            || c == '.' && next.is_none_or(char::is_whitespace) && !is_short(&text[from..n]);
        if stops {
            out.push(from..end);
            from = end;
        }
    }
    out.push(from..text.len());
    let begins = |r: Range<usize>| r.end - text[r.clone()].trim_start().len()..r.end;
    let said = |r: &Range<usize>| text[r.clone()].contains(char::is_alphanumeric);
    out.into_iter().map(begins).filter(said).collect()
}

/// The words of each sentence of a text, without its stop.
pub(crate) fn each(text: &str) -> impl Iterator<Item = &str> {
    let bare = |r: Range<usize>| text[r].trim_end_matches(['.', ';', '!', '?', '\n', ' ']);
    sentences(text).into_iter().map(bare)
}

/// The words of a text, small letters, without a plural's 's'.
pub(crate) fn words(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    let all = lower.split(|c: char| !c.is_alphanumeric());
    all.filter(|w| !w.is_empty())
        .map(|w| singular(w).to_owned())
        .collect()
}

/// The sentence of a text at a byte, without its stop; all of the text where none stands there.
pub(crate) fn sentence(text: &str, at: usize) -> &str {
    let ends = |s: &&str| s.as_ptr() as usize - text.as_ptr() as usize + s.len() >= at;
    each(text).find(ends).unwrap_or(text)
}

fn is_short(before: &str) -> bool {
    let last = before
        .rsplit(|c: char| c.is_whitespace() || c == '(')
        .next();
    last.is_some_and(|w| SHORT.iter().any(|s| w.eq_ignore_ascii_case(s)))
}

/// A word without a plural's 's': 'plums' is 'plum', 'gas' and 'glass' stay.
pub(crate) fn singular(word: &str) -> &str {
    let long = word.len() > 3 && !word.ends_with("ss");
    word.strip_suffix('s').filter(|_| long).unwrap_or(word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plural_loses_its_s() {
        for (word, one) in [
            ("plums", "plum"),
            ("gas", "gas"),
            ("glass", "glass"),
            ("egg", "egg"),
        ] {
            assert_eq!(singular(word), one);
        }
    }

    #[test]
    fn a_point_within_a_figure_or_behind_a_short_word_ends_no_sentence() {
        let told = |text| -> Vec<&str> { sentences(text).into_iter().map(|r| &text[r]).collect() };
        assert_eq!(
            told("Keeps approx. 3 days! Wait 1.5 hours (ca. 2 in the cold). Bake;cool.\nEat ...\n"),
            [
                "Keeps approx. 3 days!",
                "Wait 1.5 hours (ca. 2 in the cold).",
                "Bake;",
                "cool.",
                "Eat ...",
            ]
        );
        assert!(told(" .\n! ").is_empty());
        let text = "Rest approx. 1.5 hours. Bake at 180 °C!";
        assert_eq!(sentence(text, 15), "Rest approx. 1.5 hours");
        assert_eq!(sentence(text, text.len() - 3), "Bake at 180 °C");
    }
}
