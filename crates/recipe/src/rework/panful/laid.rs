//! What a method lays on or in what is to be baked: 'press in the rhubarb', 'toss the plums and set them on top'.

use crate::line::{Item, Line};
use crate::sentences;
use crate::sentences::words;

/// The last word of what an item is, in small letters and the singular.
pub(super) fn food_word(line: &Line, item: &Item) -> Option<String> {
    let words = line.words(&item.food.as_ref()?.span);
    words.split_whitespace().next_back().map(one)
}

fn one(word: &str) -> String {
    word.trim_end_matches('s').to_lowercase()
}

pub(super) fn names(text: &str, food: &str) -> bool {
    let mut words = text.split(|c: char| !c.is_alphabetic());
    words.any(|w| w.len() > 3 && one(w) == food)
}

/// Words that lay something on or in what is to be baked.
const LAID: [&str; 12] = [
    "press", "push", "arrange", "scatter", "lay", "nestle", "dot", "stud", "top", "sprinkle",
    "tuck", "poke",
];

/// Words for what a sentence has named.
const IT: [&str; 5] = ["it", "them", "these", "this", "those"];
/// Verbs that lay it somewhere only where the place is said.
const PUT: [&str; 4] = ["place", "put", "set", "spread"];
/// Places on what is baked.
const ON: [&str; 8] = [
    "batter", "custard", "dough", "filling", "onto", "over", "row", "top",
];

/// Whether a step lays a food on or in something: 'press in the rhubarb'.
pub(super) fn lays(text: &str, food: &str) -> bool {
    let straight = sentences(text).into_iter().any(|said| {
        let said = &text[said];
        let mut words = said.match_indices(|c: char| c.is_alphabetic());
        let begins = |at: usize| !said[..at].ends_with(char::is_alphabetic);
        let verb = words.find_map(|(at, _)| {
            let word = said[at..].split(|c: char| !c.is_alphabetic()).next()?;
            let lays = LAID.iter().any(|l| word.eq_ignore_ascii_case(l));
            (begins(at) && lays).then_some(at + word.len())
        });
        verb.is_some_and(|at| names(&said[at..], food))
    });
    straight || lays_it(text, food)
}

/// Whether a step lays what it has named before, in the same sentence or the one before: 'toss the plums and set them
/// in rows on top', 'quarter the plums. Arrange in rows'; not 'brush them', 'sprinkle them with sugar', 'set aside'.
fn lays_it(text: &str, food: &str) -> bool {
    let all: Vec<Vec<String>> = sentences::each(text).map(words).collect();
    let is = |w: &String| w.len() > 3 && one(w) == food;
    let any = |w: &String, list: &[&str]| list.contains(&w.as_str());
    let lays = |behind: &[String]| {
        let place = behind.iter().skip(1).take(6).any(|w| any(w, &ON));
        let it = behind.get(1).is_some_and(|w| any(w, &IT));
        let next = behind.get(1 + usize::from(it)).map_or("", String::as_str);
        let verb = &behind[0];
        let lain = any(verb, &LAID)
            && (it || matches!(next, "in" | "on" | "over" | "all"))
            && verb != "top";
        next != "with" && next != "aside" && (lain || any(verb, &PUT) && it && place)
    };
    (0..all.len()).any(|n| {
        let named = all[n].iter().position(is);
        let before = n > 0 && all[n - 1].iter().any(is);
        let from = match named {
            Some(at) => at + 1,
            None if before => 0,
            None => return false,
        };
        (from..all[n].len()).any(|i| lays(&all[n][i..]))
    })
}

#[cfg(test)]
mod tests {
    use super::lays;

    #[test]
    fn what_a_pronoun_lays_on_is_laid() {
        for said in [
            "Toss the plums with the cornstarch and set them in rows on top.",
            "Quarter the plums. Arrange in rows over the custard.",
            "Halve the plums and lay these over.",
            "Scatter the plums over.",
        ] {
            assert!(lays(said, "plum"), "{said}");
        }
        for said in [
            "Quarter the plums and set them aside.",
            "Halve the plums, sprinkle them with sugar.",
            "Stew the plums. Set the oven to 180 C.",
        ] {
            assert!(!lays(said, "plum"), "{said}");
        }
    }
}
