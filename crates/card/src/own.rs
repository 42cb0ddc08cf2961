//! Words of the developer's own method that stand in the source.

use std::collections::HashSet;

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

/// Whole sentences of four words or more of a source that stand in a text, as they stand there: what is
/// short is no run of eight, and is the source's wording all the same.
///
/// # Inputs
/// - `own`: the developer's words.
/// - `source`: sentences of the source.
#[must_use]
pub fn taken_whole<'t>(own: &'t str, source: &[&str]) -> Vec<&'t str> {
    const LEAST: usize = 4;
    let ours = words(own);
    let plain: Vec<&str> = ours.iter().map(|w| w.2.as_str()).collect();
    let found = source.iter().filter_map(|sentence| {
        let theirs = words(sentence);
        let theirs: Vec<&str> = theirs.iter().map(|w| w.2.as_str()).collect();
        if theirs.len() < LEAST {
            return None;
        }
        let at = plain.windows(theirs.len()).position(|w| w == theirs)?;
        own.get(ours[at].0..ours[at + theirs.len() - 1].1)
    });
    found.collect()
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
    fn a_short_sentence_taken_whole_is_borrowed_too() {
        let source = ["Keeps 3 days in a tin", "Freezes well"];
        let own = "Mine KEEPS 3 days, in a tin, and freezes well.";
        assert!(borrowed(own, &source).is_empty());
        assert_eq!(taken_whole(own, &source), ["KEEPS 3 days, in a tin"]);
        assert!(taken_whole("Two days, then toast it", &source).is_empty());
        assert!(taken_whole("", &source).is_empty());
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
