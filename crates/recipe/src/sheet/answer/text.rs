//! A line's text with parts of it replaced or taken out.

use std::ops::Range;

/// A text with a part replaced; `None` where the part is not whole characters of it.
pub(super) fn splice(text: &str, span: Range<usize>, words: &str) -> Option<String> {
    let before = text.get(..span.start)?;
    let after = text.get(span.end..)?;
    let joined = format!("{before}{words}{after}");
    Some(joined.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// A text without some parts of it, and without brackets and dividers left empty.
pub(super) fn without(text: &str, mut spans: Vec<Range<usize>>) -> String {
    spans.sort_by_key(|s| std::cmp::Reverse(s.start));
    let mut out = text.to_owned();
    for span in spans {
        if out.get(span.clone()).is_some() {
            out.replace_range(span, " ");
        }
    }
    let mut last = String::new();
    while last != out {
        last.clone_from(&out);
        out = out.split_whitespace().collect::<Vec<_>>().join(" ");
        for (empty, whole) in [
            ("( )", " "),
            ("()", " "),
            ("[ ]", " "),
            ("[]", " "),
            ("(/ ", "("),
            (" /)", ")"),
            ("(, ", "("),
            (" / ", " "),
            (" = ", " "),
            (" | ", " "),
            (" ,", ","),
        ] {
            out = out.replace(empty, whole);
        }
        let ends = |c: char| matches!(c, '/' | '=' | '|' | ',' | ';' | ' ' | '–' | '-');
        out = out.trim_start_matches(ends).to_owned();
        out = out.trim_end_matches(ends).to_owned();
    }
    out
}

#[cfg(test)]
mod tests {
    use super::without;

    #[test]
    fn no_blank_is_left_before_a_comma() {
        let line = "1 1/2 pounds ripe plums (about 8), pitted";
        let at = line.find("about 8").expect("the count");
        let count = at..at + "about 8".len();
        let left = without(line, Vec::from([count]));
        assert_eq!(left, "1 1/2 pounds ripe plums, pitted");
    }
}
