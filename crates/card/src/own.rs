//! The developer's own method: its steps, and words in it that stand in the source.

use crate::view::tidy;
use std::collections::HashSet;

/// Steps under a heading, or without one.
#[derive(Debug, PartialEq)]
pub(crate) struct Steps {
    pub(crate) heading: Option<String>,
    /// Number of its first step.
    pub(crate) from: usize,
    pub(crate) steps: Vec<String>,
}

/// The steps of a method, one a line; a short line that ends in a colon is a heading.
pub(crate) fn steps(method: &str) -> Vec<Steps> {
    let mut out: Vec<Steps> = Vec::new();
    let mut number = 1;
    let lines: Vec<String> = method.lines().map(tidy).filter(|l| !l.is_empty()).collect();
    for (i, line) in lines.iter().enumerate() {
        let more = lines.get(i + 1).is_some();
        if let Some(heading) = line.strip_suffix(':')
            && more
            && unnumbered(line) == line
            && heading.split_whitespace().count() <= 6
        {
            out.push(Steps {
                heading: Some(heading.to_owned()),
                from: number,
                steps: Vec::new(),
            });
            continue;
        }
        let step = unnumbered(line);
        if step.is_empty() {
            continue;
        }
        if out.is_empty() {
            out.push(Steps {
                heading: None,
                from: number,
                steps: Vec::new(),
            });
        }
        if let Some(last) = out.last_mut() {
            last.steps.push(step.to_owned());
            number += 1;
        }
    }
    out
}

/// A line without the number or mark it begins with: the card numbers its steps itself.
fn unnumbered(line: &str) -> &str {
    let bare = line.trim_start_matches(['-', '–', '•', '*', ' ']);
    let rest = bare.trim_start_matches(|c: char| c.is_ascii_digit());
    let digits = bare.len() - rest.len();
    match rest.strip_prefix(['.', ')']) {
        // '1.5 cups' is no number of a step.
        Some(after)
            if (1..=2).contains(&digits) && (after.is_empty() || after.starts_with(' ')) =>
        {
            after.trim_start()
        }
        _ => bare,
    }
}

/// So many words in a row are no accident.
const RUN: usize = 8;

/// Runs of eight words or more that a text shares with a source's steps, as they stand in the
/// text. Case, stops and line ends count for nothing.
///
/// # Inputs
/// - `own`: the developer's words.
/// - `source`: the source's steps, in order; a run may go from one to the next.
#[must_use]
pub fn borrowed<'t>(own: &'t str, source: &[&str]) -> Vec<&'t str> {
    let theirs: Vec<String> = source.iter().flat_map(|s| words(s)).map(|w| w.2).collect();
    let runs: HashSet<&[String]> = theirs.windows(RUN).collect();
    let ours = words(own);
    let plain: Vec<String> = ours.iter().map(|w| w.2.clone()).collect();
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (at, run) in plain.windows(RUN).enumerate() {
        if runs.contains(run) {
            match found.last_mut() {
                Some((_, end)) if at < *end => *end = at + RUN,
                _ => found.push((at, at + RUN)),
            }
        }
    }
    found
        .into_iter()
        .filter_map(|(from, to)| own.get(ours.get(from)?.0..ours.get(to - 1)?.1))
        .collect()
}

/// Words with where they stand, in small letters.
fn words(text: &str) -> Vec<(usize, usize, String)> {
    let mut out: Vec<(usize, usize, String)> = Vec::new();
    let mut open = false;
    for (at, c) in text.char_indices() {
        let end = at + c.len_utf8();
        if c.is_alphanumeric() {
            match out.last_mut() {
                Some(word) if open => {
                    word.1 = end;
                    word.2.extend(c.to_lowercase());
                }
                _ => out.push((at, end, c.to_lowercase().collect())),
            }
            open = true;
        } else if !(open && matches!(c, '\'' | '’')) {
            open = false;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_a_step_and_a_short_one_with_a_colon_a_heading() {
        let got =
            steps("For the dough:\n1. Whisk  it.\n\n2) Let it stand:\nFor the glaze:\n- Stir.\n");
        let section = |heading: &str, from, all: &[&str]| Steps {
            heading: Some(heading.to_owned()),
            from,
            steps: all.iter().map(|s| (*s).to_owned()).collect(),
        };
        assert_eq!(
            got,
            [
                section("For the dough", 1, &["Whisk it.", "Let it stand:"]),
                section("For the glaze", 3, &["Stir."]),
            ]
        );
        let plain = steps("Warm the milk.\n1.5 cups go in.\n 3.\nBake it:");
        assert_eq!(plain.len(), 1);
        assert_eq!(
            plain[0].steps,
            ["Warm the milk.", "1.5 cups go in.", "Bake it:"]
        );
        assert!(steps(" \n ").is_empty());
    }

    #[test]
    fn eight_words_in_a_row_are_borrowed_and_seven_are_not() {
        let source = [
            "Rub the butter in, until it looks like damp sand.",
            "Bake it.",
        ];
        let seven = "Rub the butter in until it looks right.";
        assert!(borrowed(seven, &source).is_empty());
        let eight = "First rub the butter in\nuntil it LOOKS like crumbs.";
        assert_eq!(
            borrowed(eight, &source),
            ["rub the butter in\nuntil it LOOKS like"]
        );
        let longer = "Then until it looks like damp sand. Bake it. Then eat.";
        assert_eq!(
            borrowed(longer, &source),
            ["until it looks like damp sand. Bake it"]
        );
        let two = format!("{eight} And so: {longer}");
        assert_eq!(borrowed(&two, &source).len(), 2);
        assert!(borrowed("", &source).is_empty());
        assert!(borrowed(eight, &[]).is_empty());
    }

    #[test]
    fn an_apostrophe_splits_no_word() {
        let source = ["It’s the baker's own way to do it well."];
        assert_eq!(
            borrowed("it's the baker’s own way to do it", &source).len(),
            1
        );
    }
}
