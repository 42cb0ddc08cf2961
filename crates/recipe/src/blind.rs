//! A case that is baked empty, and filled then.

use crate::sentences::words;

/// What stands behind the last words by which a text bakes a case empty: 'blind', or under beans or weights, which
/// are no food where there is paper between. `None` where it bakes none.
pub(crate) fn since_empty(text: &str) -> Option<&str> {
    const EMPTY: [&str; 4] = ["blind", "baking beans", "baking weights", "pie weights"];
    const LOOSE: [&str; 4] = ["dried beans", "dry beans", "uncooked rice", "weights"];
    const PAPER: [&str; 3] = ["foil", "paper", "parchment"];
    // Bytes stay where they are.
    let low = text.to_ascii_lowercase();
    let paper = PAPER.iter().any(|w| low.contains(w));
    let loose = LOOSE.iter().filter(|_| paper);
    let ends = EMPTY.iter().chain(loose);
    let end = ends.filter_map(|w| Some(low.rfind(w)? + w.len())).max()?;
    text.get(end..)
}

/// Whether a text is about a case that is baked empty: it says 'blind', or fills it no more.
pub(crate) fn bakes_a_case(text: &str) -> bool {
    let says = || words(text).iter().any(|w| w == "blind");
    since_empty(text).is_some_and(|since| says() || !fills(since))
}

/// Whether words put something into a case.
pub(crate) fn fills(text: &str) -> bool {
    const FILLS: [&str; 6] = ["add", "fill", "filling", "pour", "spoon", "spread"];
    words(text).iter().any(|w| FILLS.contains(&w.as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_case_is_empty_under_beans_whatever_the_words() {
        for (text, empty) in [
            ("Bake blind for 15 minutes.", true),
            ("Blind bake the case. Remove the weights and bake on.", true),
            (
                "Line with paper and baking beans; bake for 15 minutes.",
                true,
            ),
            ("Line with foil, fill with dried beans and bake.", true),
            (
                "Bake blind, then pour in the custard and bake again.",
                false,
            ),
            ("Soak the dried beans, then bake in the pot.", false),
            ("Bake the tart for 30 minutes.", false),
        ] {
            let found = since_empty(text).is_some_and(|since| !fills(since));
            assert_eq!(found, empty, "{text}");
        }
    }
}
