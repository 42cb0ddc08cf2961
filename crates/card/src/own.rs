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

/// Words that a short text shares with a source, as they stand in the text: runs of eight or more, and
/// runs of four or more that are most of a sentence, the text's or the source's. What is short is no run
/// of eight, and is the source's wording all the same.
///
/// # Inputs
/// - `own`: the developer's words.
/// - `source`: sentences of the source, in order.
#[must_use]
pub fn worded_alike<'t>(own: &'t str, source: &[&str]) -> Vec<&'t str> {
    const LEAST: usize = 4;
    let mut found = borrowed(own, source);
    let theirs: Vec<Words> = source.iter().map(|s| words(s)).collect();
    for at in recipe::sentences(own) {
        let said = &own[at];
        let ours = words(said);
        for theirs in &theirs {
            let (from, long) = shared(&ours, theirs);
            if long < LEAST || 2 * long <= ours.len().min(theirs.len()) {
                continue;
            }
            let run = &said[ours[from].0..ours[from + long - 1].1];
            let within = |a: &str, b: &str| b.as_bytes().as_ptr_range().contains(&a.as_ptr());
            if !found.iter().any(|f| within(run, f) || within(f, run)) {
                found.push(run);
            }
        }
    }
    found
}

/// The longest run of words that two texts share: where it begins in the first, and how many.
fn shared(ours: &Words, theirs: &Words) -> (usize, usize) {
    let run = |i: usize, j: usize| {
        let pairs = ours[i..].iter().zip(&theirs[j..]);
        pairs.take_while(|(a, b)| a.2 == b.2).count()
    };
    let all = (0..ours.len()).map(|i| (i, (0..theirs.len()).map(|j| run(i, j)).max().unwrap_or(0)));
    all.fold((0, 0), |best, now| if now.1 > best.1 { now } else { best })
}

/// Words with where they stand.
type Words = Vec<(usize, usize, String)>;

/// Words with where they stand, in small letters.
fn words(text: &str) -> Words {
    let mut out = Words::new();
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
    fn a_short_sentence_of_the_source_is_borrowed_too() {
        let source = [
            "Keeps 3 days in a tin, or for a week if you put it in the fridge",
            "Freezes well",
        ];
        let own = "Mine KEEPS 3 days, in a tin, and freezes well.";
        assert!(borrowed(own, &source).is_empty());
        assert_eq!(worded_alike(own, &source), ["KEEPS 3 days, in a tin"]);
        // Most of one's own sentence; most of the source's.
        assert_eq!(
            worded_alike("Nice. Good for a week if cold", &source),
            ["for a week if"]
        );
        assert_eq!(
            worded_alike(
                "Wrap the slices well while they are warm and they will keep for days",
                &["They will keep for days if wrapped"]
            ),
            ["they will keep for days"]
        );
        let whole = format!("{}.", source[0]);
        assert_eq!(worded_alike(&whole, &source), [source[0]]);
        assert!(worded_alike("Two days, then toast it", &source).is_empty());
        assert!(
            worded_alike(
                "For a week I had slices that were good, in the end",
                &source
            )
            .is_empty()
        );
        assert!(worded_alike("", &source).is_empty());
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
