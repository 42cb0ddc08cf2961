//! Which part the words of a sentence name.

use super::does;
use super::part::{Known, Part, Parts, any};
use crate::recipe::{Activity, Step};
use crate::sentences::words;
use std::collections::HashSet;

/// Words that stand before the name of a part that is not what the step works on.
const INTO: &[&str] = &[
    "over",
    "onto",
    "on",
    "into",
    "in",
    "with",
    "around",
    "to",
    "from",
    "of",
    "between",
    "for",
    "under",
    "inside",
    "reserved",
    "remaining",
    "through",
    "against",
    "along",
    "beside",
    "off",
];

/// Words that may stand between those and the name.
const ARTICLES: &[&str] = &[
    "the", "a", "an", "your", "its", "their", "rest", "half", "all", "some", "prepared", "cooled",
    "cold", "hot", "warm", "chilled", "baked", "each", "top", "of",
];

const CRUSHING: &[&str] = &["crush", "crushed", "blitz", "bash"];

/// Words that tell how a part looks, behind its name.
const LOOKS: &[&str] = &["are", "feel", "feels", "has", "have", "is", "look", "looks"];

/// Words of ingredient names that say nothing about which part they are in.
const COMMON: &[&str] = &[
    "cool",
    "cold",
    "warm",
    "hot",
    "lukewarm",
    "boiling",
    "bake",
    "easy",
    "the",
    "and",
    "for",
    "until",
    "about",
    "from",
    "well",
    "very",
    "without",
    "them",
    "all",
    "cold",
    "warm",
    "soft",
    "softened",
    "melted",
    "fine",
    "large",
    "medium",
    "small",
    "whole",
    "fresh",
    "chopped",
    "grated",
    "sliced",
    "baking",
    "plain",
    "purpose",
    "temperature",
    "room",
    "half",
    "extra",
    "into",
    "with",
    "plus",
    "more",
    "powder",
    "light",
    "dark",
    "white",
    "brown",
    "flour",
    // Of 'cake flour', 'pastry flour'; 'the cake' is what was baked.
    "cake",
    "pastry",
    "water",
    "salt",
    "sugar",
    "butter",
    "egg",
    "milk",
    "pan",
    "tin",
    "oven",
    "unsalted",
    "freshly",
    "ground",
    "finely",
    "thinly",
    "lightly",
    "pieces",
    "pinch",
    "reserved",
    "topping",
];

/// 'Mix the poolish with everything else', 'add the water to the starter'.
pub(super) fn mixed_in(sentence: &[String], part: &Known, parts: &Parts) -> bool {
    (0..sentence.len()).any(|i| {
        let n = part.named(sentence, i);
        let next = sentence.get(i + n).map_or("", String::as_str);
        let before = sentence[..i].iter().rev().find(|w| !any(w, ARTICLES));
        // 'Beat in the egg, the milk and the poolish': one of several.
        let listed = |w: &String| any(w, &["and", "plus"]) || parts.foods.contains_key(w);
        let among = i > 3 && before.is_some_and(listed);
        n > 0
            && (any(next, &["with", "into", "in", "to"])
                || among
                || before.is_some_and(|w| any(w, &["to", "add", "with", "into"])))
    })
}

/// 'Stir poolish, water and salt to a paste': the part begun beforehand is one of several foods.
pub(super) fn listed(text: &str, part: &Known, parts: &Parts) -> bool {
    let lower = text.to_lowercase();
    let Some(name) = part.name.last() else {
        return false;
    };
    lower.match_indices(name.as_str()).any(|(at, name)| {
        let rest = &lower[at + name.len()..];
        let next = rest.strip_prefix(", ").or(rest.strip_prefix(" and "));
        let next = next.map(words).unwrap_or_default();
        let next = next.iter().find(|w| !any(w, ARTICLES));
        next.is_some_and(|w| parts.foods.contains_key(w))
    })
}

/// 'Stir flour, water and yeast together for the poolish': the part begun beforehand that is made.
pub(super) fn begun(sentence: &[String], known: &[Known]) -> Option<usize> {
    known.iter().position(|k| {
        k.beforehand.is_some()
            && (0..sentence.len()).any(|i| {
                let before = sentence[..i].iter().rev().find(|w| !any(w, ARTICLES));
                k.named(sentence, i) > 0 && before.is_some_and(|w| any(w, &["for"]))
            })
    })
}

/// 'Mix the flour and sugar for the crumble': the part that is made; not 'keep some milk for the glaze'.
pub(super) fn made_for(step: &Step, sentence: &[String], parts: &Parts) -> Option<usize> {
    const MAKES: [Activity; 5] = [
        Activity::Mix,
        Activity::RubIn,
        Activity::Whip,
        Activity::Cream,
        Activity::Melt,
    ];
    const KEEPS: &[&str] = &["reserve", "keep", "save", "set", "leave", "divide", "half"];
    // Not 'for 4 minutes' behind it.
    let whose = |i: &usize| {
        sentence[*i] == "for" && any(sentence.get(i + 1).map_or("", String::as_str), ARTICLES)
    };
    let at = (0..sentence.len()).rev().find(whose)?;
    let (before, name) = (&sentence[..at], sentence.get(at + 2..)?);
    let makes = MAKES.iter().any(|a| does(step, *a));
    if !makes || before.iter().any(|w| any(w, KEEPS)) {
        return None;
    }
    // Not 'for the crumble topping of the cake'.
    let all = |c: &usize| {
        let next = name.get(parts.known[*c].named(name, 0));
        next.is_none_or(|w| any(w, &["and", "in", "then", "together", "until"]))
    };
    longest(name, 0, parts).filter(all)
}

/// 'FILLING: melt the butter'.
pub(super) fn labelled(text: &str, known: &[Known]) -> Option<usize> {
    let (label, _) = text.split_once(':').filter(|(l, _)| l.len() <= 40)?;
    let label = words(label);
    let named =
        |k: &Known| !k.name.is_empty() && (label.ends_with(&k.name) || k.name.ends_with(&label));
    known.iter().position(named).filter(|_| !label.is_empty())
}

/// 'Make the filling', 'For the base'.
pub(super) fn made(sentence: &[String], parts: &Parts) -> Option<usize> {
    const MAKE: &[&str] = &["make", "prepare", "for"];
    let skip = usize::from(any(
        sentence.first()?,
        &["meanwhile", "to", "now", "next", "then"],
    ));
    let verb = any(sentence.get(skip)?, MAKE);
    let from = if verb { skip + 1 } else { skip };
    let article = any(sentence.get(from)?, &["the", "a", "your"]);
    let from = from + usize::from(article);
    if from >= sentence.len() || !verb {
        return None;
    }
    // The name, perhaps behind a word of its own: 'make the quick glaze'.
    (from..sentence.len().min(from + 3)).find_map(|i| longest(sentence, i, parts))
}

/// The component with the longest name at `i`, the first of equals.
pub(super) fn longest(sentence: &[String], i: usize, parts: &Parts) -> Option<usize> {
    let places = parts.names.get(sentence.get(i)?)?;
    let (c, n) = places
        .iter()
        .rev()
        .map(|c| (*c, parts.known[*c].named(sentence, i)))
        .max_by_key(|(_, n)| *n)?;
    (n > 0).then_some(c)
}

/// The base, where a step crushes biscuits that are its ingredient.
pub(super) fn crushed(sentences: &[Vec<String>], parts: &Parts) -> Option<usize> {
    let crushes = sentences.iter().flatten().any(|w| any(w, CRUSHING));
    if !crushes {
        return None;
    }
    let crumbs = |k: &Known| k.foods.contains("crushed");
    parts
        .first(Part::Base)
        .or_else(|| parts.known.iter().position(crumbs))
}

/// The first part the sentence does something to: not 'over the base', not 'the remaining
/// glaze'.
pub(super) fn object(sentence: &[String], parts: &Parts) -> Option<usize> {
    const BAKES: &[&str] = &["dough", "pastry", "bun", "loaf", "cake", "pie"];
    let mut i = 0;
    while i < sentence.len() {
        let found = longest(sentence, i, parts).or_else(|| {
            // 'Brush the buns': the dough, under another name.
            parts.dough.filter(|_| any(&sentence[i], BAKES))
        });
        let Some(c) = found else {
            i += 1;
            continue;
        };
        let next = i + parts.known[c].named(sentence, i).max(1);
        // 'the base of the tin', 'the dough hook' are other things.
        let other = sentence
            .get(next)
            .is_some_and(|w| any(w, &["of", "hook", "cutter", "tin", "scraper"]));
        let mut before = sentence[..i].iter().rev().take(4);
        let last = before.clone().next();
        let aside = before.find(|w| !any(w, ARTICLES)).or(last);
        // 'Bake until the filling is set': it is the tart that bakes.
        let until = aside.is_some_and(|w| w == "until");
        // 'Until the crumble is brown and the custard is just set' tells how both look.
        let ends = sentence[..i].iter().rposition(|w| w == "until");
        let looks = sentence.get(next).is_some_and(|w| any(w, LOOKS));
        let until = until || ends.is_some() && looks;
        let baked = &sentence[..ends.unwrap_or(i)];
        let sets = until && baked.iter().any(|w| w == "bake");
        let aside = [aside, last].into_iter().flatten().any(|w| any(w, INTO));
        // The sugar of the dough, where a part is called 'egg and pearl sugar'.
        let food = next == i + 1
            && parts.known[c].name.len() > 1
            && any(&sentence[i], &["egg", "flour", "milk", "sugar"])
            && parts.foods.get(&sentence[i]) == Some(&None);
        if !other && !aside && !sets && !food {
            return Some(c);
        }
        i = next;
    }
    None
}

/// The part most of whose own ingredients the step names; the first named wins a tie.
pub(super) fn by_foods(sentences: &[Vec<String>], parts: &Parts) -> Option<usize> {
    counted(sentences, parts)
        .into_iter()
        .max_by_key(|(_, score, at)| (*score, usize::MAX - at))
        .map(|(c, ..)| c)
}

/// Of each part how many of its own ingredients a step names, and where the first stands.
pub(super) fn counted(sentences: &[Vec<String>], parts: &Parts) -> Vec<(usize, usize, usize)> {
    let mut seen: HashSet<&str> = HashSet::new();
    let mut found: Vec<(usize, usize, usize)> = Vec::new();
    for (at, word) in sentences.iter().flatten().enumerate() {
        let Some(Some(c)) = parts.foods.get(word) else {
            continue;
        };
        let count = word.starts_with(|c: char| c.is_ascii_digit());
        if count || any(word, COMMON) || !seen.insert(word) {
            continue;
        }
        match found.iter_mut().find(|(x, ..)| x == c) {
            Some((_, score, _)) => *score += 1,
            None => found.push((*c, 1, at)),
        }
    }
    found
}
