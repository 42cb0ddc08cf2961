//! What a step of a method says that it does not take.

mod beside;
mod later;

use crate::read::is_clause;
pub(crate) use beside::{Beside, beside};
pub(crate) use later::only_later;
use std::borrow::Cow;
use std::ops::Range;

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

/// Foods named by a word in '-ing'. Any other behind 'without' is something not done: 'without browning'.
const FOODS: [&str; 9] = [
    "coating",
    "dressing",
    "filling",
    "frosting",
    "icing",
    "pudding",
    "shortening",
    "stuffing",
    "topping",
];

/// What the second word of a food is whose first ends in 'ing': 'baking powder', 'whipping cream'.
const BEHIND_ING: [&str; 12] = [
    "powder",
    "soda",
    "cream",
    "flour",
    "sugar",
    "chocolate",
    "apple",
    "apples",
    "spray",
    "fat",
    "ammonia",
    "margarine",
];

/// A step's words without what it says that it does not take: 'all but the nuts', 'except the
/// cherries', 'without the icing', 'while the dough rises', 'while you make the filling'.
pub(crate) fn taking(text: &str) -> Cow<'_, str> {
    let taken = match beside::waiting(text) {
        None => without_but(text),
        Some(gone) => {
            let rest = format!("{} {}", &text[..gone.start], &text[gone.end..]);
            Cow::Owned(without_but(&rest).into_owned())
        }
    };
    let verbs = creams(&taken);
    if verbs.is_empty() {
        return taken;
    }
    let mut out = String::new();
    let mut from = 0;
    for verb in verbs {
        out.push_str(&taken[from..verb.start]);
        from = verb.end;
    }
    out.push_str(&taken[from..]);
    Cow::Owned(out)
}

/// The verbs of 'cream the butter', 'cream together': no cream is taken.
fn creams(text: &str) -> Vec<Range<usize>> {
    const DONE_TO: [&str; 9] = [
        "the",
        "butter",
        "fat",
        "margarine",
        "sugar",
        "together",
        "soft",
        "softened",
        "up",
    ];
    let lower = text.to_ascii_lowercase();
    let places = lower.match_indices("cream ").map(|(at, _)| at);
    let verbs = places.filter(|&at| {
        let before = lower[..at].trim_end();
        let begins = before.is_empty()
            || before.ends_with(['.', ',', ';', ':', '!', ')'])
            || [" and", " then"].iter().any(|w| before.ends_with(w));
        let next = lower[at + 6..].split(|c: char| !c.is_alphanumeric()).next();
        begins && next.is_some_and(|w| DONE_TO.contains(&w))
    });
    verbs.map(|at| at..at + 6).collect()
}

fn without_but(text: &str) -> Cow<'_, str> {
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
        let names = |at: &usize| *b != "without " || !is_doing(&lower[*at + b.len()..]);
        Some((places.find(|at| begins(at) && names(at))?, *b))
    });
    // The longest of those that begin at one place.
    found.min_by_key(|(at, b)| (*at, usize::MAX - b.len()))
}

/// Whether what is left aside is no food but something done: 'stopping', 'filling the case'.
fn is_doing(rest: &str) -> bool {
    const DONE_TO: [&str; 5] = [" the ", " it", " them", " a ", " any "];
    let end = rest.find(|c: char| !c.is_alphanumeric());
    let (word, next) = rest.split_at(end.unwrap_or(rest.len()));
    let food = FOODS.contains(&word) && !DONE_TO.iter().any(|d| next.starts_with(d));
    // 'Baking powder', 'whipping cream', 'rising flour'.
    let mut words = next
        .split(|c: char| !c.is_alphabetic())
        .filter(|w| !w.is_empty());
    let of_two = words.next().is_some_and(|w| BEHIND_ING.contains(&w));
    word.ends_with("ing") && !food && !of_two
}

/// Bytes of what is left aside: up to a stop, or to 'and' with what is done next.
fn end_of_but(rest: &str) -> usize {
    let stop = rest.find(['.', ',', ';', ':', '(', ')', '!', '–']);
    let stop = stop.unwrap_or(rest.len());
    let lower = rest[..stop].to_ascii_lowercase();
    let goes_on = |n: &usize| is_clause(&lower[*n + " and ".len()..]);
    let and = lower.match_indices(" and ").map(|(n, _)| n).find(goes_on);
    let then = [" then ", " for "].iter().filter_map(|w| lower.find(w));
    and.into_iter().chain(then).min().unwrap_or(stop)
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
            (
                "Cream the butter and sugar. Whip the cream.",
                "the butter and sugar. Whip the cream.",
            ),
            ("Add the cream. Cream together.", "Add the cream. together."),
            (
                "Cream sugar and fat. For the icing, cream the butter.",
                "sugar and fat. For the icing, the butter.",
            ),
            (
                "Pour the cream the day before.",
                "Pour the cream the day before.",
            ),
            ("Leave without icing overnight.", "Leave ."),
            ("Mix without baking powder.", "Mix ."),
            (
                "Whisk without whipping cream, then chill.",
                "Whisk , then chill.",
            ),
            (
                "Bake without baking the case.",
                "Bake without baking the case.",
            ),
            // What is named behind 'and' is left aside too, verbs though the words may be.
            ("Mix all but the butter and cream.", "Mix ."),
            (
                "Mix everything except the butter and cream until smooth.",
                "Mix everything .",
            ),
            (
                "Add all but the butter and cream in a bowl, then fold.",
                "Add , then fold.",
            ),
            (
                "Combine all but the nuts and cream the butter with the sugar.",
                "Combine  and the butter with the sugar.",
            ),
            (
                "Mix all except the currants and roll out.",
                "Mix all  and roll out.",
            ),
            ("Mix all except the nuts and rest.", "Mix all  and rest."),
            (
                "Add all but the nuts then cut in the butter.",
                "Add  then cut in the butter.",
            ),
            // Nothing of it is left aside.
            (
                "Whisk the yolks without stopping until thick.",
                "Whisk the yolks without stopping until thick.",
            ),
            (
                "Melt the butter without browning it and stir in the cocoa.",
                "Melt the butter without browning it and stir in the cocoa.",
            ),
            (
                "Fold in the whites without knocking out the air.",
                "Fold in the whites without knocking out the air.",
            ),
            (
                "Bake blind without filling the case.",
                "Bake blind without filling the case.",
            ),
            // Some of it stays aside: the rest is taken.
            (
                "Mix in all but 2 tbsp of the sugar.",
                "Mix in all but 2 tbsp of the sugar.",
            ),
            (
                "Add all but a handful of the nuts.",
                "Add all but a handful of the nuts.",
            ),
            // Minutes are no amount of it.
            (
                "Beat everything but the walnuts for 2 minutes, then fold those in.",
                "Beat  for 2 minutes, then fold those in.",
            ),
            ("Stir in the nuts.", "Stir in the nuts."),
            (
                "While the pastry rests, fry the leeks.",
                " , fry the leeks.",
            ),
            (
                "Chill the pastry while you make the filling.",
                "Chill the pastry  .",
            ),
            // What is warm yet is taken.
            (
                "While the syrup is still hot, pour it over.",
                "While the syrup is still hot, pour it over.",
            ),
        ] {
            assert_eq!(taking(text), want);
        }
    }
}
