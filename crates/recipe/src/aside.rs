//! What a step of a method says that it does not take.

use std::borrow::Cow;

/// Words before what a step leaves aside.
const BUT: [&str; 11] = [
    "except for ",
    "except ",
    "apart from ",
    "all but ",
    "everything but ",
    "other than ",
    "but not ",
    "without ",
    "leaving out ",
    "omitting ",
    "excluding ",
];

/// Words by which only some of it is left aside: the rest is taken.
const SOME: [&str; 16] = [
    "few",
    "little",
    "some",
    "half",
    "third",
    "quarter",
    "handful",
    "last",
    "tbsp",
    "tablespoon",
    "tsp",
    "teaspoon",
    "cup",
    "pinch",
    "g",
    "ml",
];

/// Verbs that begin a new clause behind 'and'.
const GOES_ON: [&str; 51] = [
    "add", "arrange", "bake", "beat", "blend", "boil", "brush", "chill", "combine", "cook", "cool",
    "cover", "cream", "cut", "drizzle", "dust", "fold", "fry", "grease", "heat", "knead", "leave",
    "let", "line", "melt", "mix", "place", "pour", "press", "put", "rest", "rise", "roll",
    "scatter", "serve", "set", "shape", "simmer", "slice", "spoon", "spread", "sprinkle", "stir",
    "top", "toss", "transfer", "turn", "whip", "whisk", "work", "wrap",
];

/// A step's words without what it says that it does not take: 'all but the nuts', 'except the
/// cherries', 'without the icing'.
pub(crate) fn taking(text: &str) -> Cow<'_, str> {
    let lower = text.to_ascii_lowercase();
    if next_but(&lower, 0).is_none() {
        return Cow::Borrowed(text);
    }
    let mut out = String::new();
    let mut from = 0;
    while let Some((at, word)) = next_but(&lower, from) {
        let rest = &text[at + word.len()..];
        let long = end_of_but(rest);
        let aside = lower[at + word.len()..][..long].split(|c: char| !c.is_alphanumeric());
        let mut aside = aside.map(|w| w.strip_suffix('s').unwrap_or(w));
        let some = aside.any(|w| SOME.contains(&w) || w.starts_with(|c: char| c.is_ascii_digit()));
        let to = at + word.len() + long;
        out.push_str(&text[from..if some { to } else { at }]);
        from = to;
    }
    out.push_str(&text[from..]);
    Cow::Owned(out)
}

fn next_but(lower: &str, from: usize) -> Option<(usize, &'static str)> {
    let found = BUT.iter().filter_map(|b| {
        let mut places = lower[from..].match_indices(b).map(|(n, _)| from + n);
        let begins = |at: &usize| !lower[..*at].ends_with(|c: char| c.is_alphanumeric());
        Some((places.find(begins)?, *b))
    });
    // The longest of those that begin at one place.
    found.min_by_key(|(at, b)| (*at, usize::MAX - b.len()))
}

/// Bytes of what is left aside: up to a stop, or to 'and' with what is done next.
fn end_of_but(rest: &str) -> usize {
    let stop = rest.find(['.', ',', ';', ':', '(', ')', '!', '–']);
    let stop = stop.unwrap_or(rest.len());
    let lower = rest[..stop].to_ascii_lowercase();
    let mut joins: Vec<usize> = Vec::new();
    for word in [" and ", " then "] {
        let does = |n: &usize| {
            let next = lower[*n + word.len()..]
                .split(' ')
                .next()
                .unwrap_or_default();
            word == " then " || GOES_ON.contains(&next)
        };
        joins.extend(lower.match_indices(word).map(|(n, _)| n).filter(does));
    }
    joins.into_iter().min().unwrap_or(stop)
}

#[cfg(test)]
mod tests {
    use super::taking;

    #[test]
    fn what_a_step_leaves_aside_is_not_taken() {
        for (text, want) in [
            (
                "Mix all the ingredients except the cherries and the nuts.",
                "Mix all the ingredients .",
            ),
            (
                "Mix everything except for the cherries and bake for 20 minutes.",
                "Mix everything  and bake for 20 minutes.",
            ),
            (
                "Stir in all but the nuts, then fold.",
                "Stir in , then fold.",
            ),
            ("Chill without the icing.", "Chill ."),
            // Some of it stays aside: the rest is taken.
            (
                "Mix in all but 2 tbsp of the sugar.",
                "Mix in all but 2 tbsp of the sugar.",
            ),
            (
                "Add all but a handful of the nuts.",
                "Add all but a handful of the nuts.",
            ),
            ("Stir in the nuts.", "Stir in the nuts."),
        ] {
            assert_eq!(taking(text), want);
        }
    }
}
