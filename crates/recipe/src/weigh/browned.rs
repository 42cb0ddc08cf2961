//! Butter that the method browns: its water boils off before it is mixed in, and it counts as brown butter.

use super::{Weighed, counts_as_wet};
use crate::Recipe;
use crate::sentences::{each, words};
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Spread};

/// What a food counts as where the method changes it before it is mixed in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CountsAs {
    /// The food as it is weighed: of another in its place nothing is known.
    of: FoodId,
    /// The food whose composition is counted.
    food: FoodId,
    /// Grams of that for a gram as it is weighed.
    share: f64,
}

/// Where the water of both butters is from.
const SOURCE: &str = "water of butter: USDA SR28; of brown butter: common practice, no source";

/// Fat with less water than this is clear already, %.
const CLEAR: f64 = 5.0;

/// Words that may stand between 'brown' and 'butter'.
const BETWEEN: [&str; 10] = [
    "all", "the", "your", "this", "unsalted", "salted", "cold", "diced", "cubed", "melted",
];
/// Words that make 'brown' say nothing of the butter: 'beat the butter and brown sugar'.
const BROWN_FOODS: [&str; 9] = [
    "sugar",
    "rice",
    "bread",
    "flour",
    "lentil",
    "paper",
    "breadcrumb",
    "crumb",
    "sauce",
];
/// How brown butter is known.
const BROWN: [&str; 8] = [
    "brown",
    "browned",
    "browns",
    "browning",
    "nutty",
    "nuttily",
    "noisette",
    "hazelnutty",
];
/// How butter is brought there.
const HEATS: [&str; 12] = [
    "boil", "boiling", "bubble", "cook", "cooking", "foam", "foaming", "heat", "melt", "simmer",
    "swirl", "swirling",
];
/// What tells that something else browns: in the butter, or in the oven.
const OTHERS: [&str; 26] = [
    "add",
    "bake",
    "breadcrumb",
    "brush",
    "crumb",
    "dot",
    "fry",
    "grill",
    "mushroom",
    "oat",
    "nut",
    "onion",
    "roast",
    "rub",
    "saute",
    "sauté",
    "seed",
    "sear",
    "spread",
    "sprinkle",
    "toast",
    "toss",
    "almond",
    "walnut",
    "coconut",
    "flour",
];
/// Part of it only.
const PART: [&str; 6] = ["half", "third", "quarter", "some", "remaining", "rest"];

/// Whether a sentence browns butter, all of it.
///
/// # Arguments
/// * `melts` — whether the sentence before melts butter and names nothing else.
fn browns(said: &[String], melts: bool) -> bool {
    let is = |n: usize, list: &[&str]| said.get(n).is_some_and(|w| list.contains(&w.as_str()));
    let has = |list: &[&str]| (0..said.len()).any(|n| is(n, list));
    if has(&PART) {
        return false;
    }
    let butter = |n: &usize| is(*n, &["butter"]) && !is(n + 1, &["bean", "beans"]);
    let called = (0..said.len()).filter(butter).any(|n| {
        let at = (0..n).rev().find(|b| !is(*b, &BETWEEN));
        at.is_some_and(|b| is(b, &["brown", "browned", "browning"]))
    });
    if called {
        return true;
    }
    let fried = (0..said.len())
        .filter(butter)
        .any(|n| (n.saturating_sub(3)..n).any(|b| is(b, &["in", "with"])));
    let brown = (0..said.len()).any(|n| is(n, &BROWN) && !is(n + 1, &BROWN_FOODS));
    let it = (0..said.len()).any(|n| butter(&n)) || melts;
    it && brown && has(&HEATS) && !fried && !has(&OTHERS)
}

/// Whether a sentence melts butter and names nothing else.
fn melts(said: &[String]) -> bool {
    let has = |list: &[&str]| said.iter().any(|w| list.contains(&w.as_str()));
    has(&["butter"])
        && has(&["melt", "heat", "place", "put"])
        && !has(&OTHERS)
        && !has(&["sugar", "milk", "oil"])
}

/// Whether a step browns butter.
fn step_browns(text: &str) -> bool {
    let all: Vec<Vec<String>> = each(text).map(words).collect();
    (0..all.len()).any(|n| browns(&all[n], n > 0 && melts(&all[n - 1])))
}

/// Whether a food is butter of milk, not of peanuts.
pub(crate) fn is_butter(larder: &Larder, food: FoodId) -> bool {
    let food = larder.food(food);
    food.function() == Function::Fat && food.does(Function::Dairy) && food.key.ends_with("_butter")
}

/// Marks the butter that the method, or its own line, says is browned. Of two lines of butter in a part nobody
/// knows which is meant.
pub(super) fn mark(recipe: &Recipe, parts: &mut [Vec<Weighed>], larder: &Larder) {
    let owners = crate::rework::owners(recipe);
    let steps = recipe.steps.iter().zip(&owners);
    let of: Vec<usize> = steps
        .filter(|(s, _)| step_browns(&s.text))
        .map(|(_, c)| *c)
        .collect();
    let is_butter = |w: &Weighed| w.in_formula && w.food.is_some_and(|f| is_butter(larder, f));
    let butters = |items: &[Weighed]| items.iter().filter(|w| is_butter(w)).count();
    let all: usize = parts.iter().map(|p| butters(p)).sum();
    for (c, items) in parts.iter_mut().enumerate() {
        let one = butters(items) == 1;
        // The step may stand under another part's heading.
        let by_step = one && (of.contains(&c) || all == 1 && !of.is_empty());
        for w in items.iter_mut().filter(|w| is_butter(w)) {
            let line = &recipe.components[c].lines[w.line];
            let name = &line.items[w.item].name;
            let behind = line.clean.get(name.start..).unwrap_or_default();
            let by_line = step_browns(behind) || words(behind).iter().any(|s| s == "browned");
            if by_step || by_line {
                w.counts_as = CountsAs::brown(w.food, larder);
            }
        }
    }
}

impl CountsAs {
    /// A butter as brown butter of as much fat.
    fn brown(food: Option<FoodId>, larder: &Larder) -> Option<Self> {
        let (of, brown) = (food?, larder.by_key("brown_butter")?);
        let (raw, fat) = (larder.composition(of), larder.composition(brown).fat?);
        raw.water.filter(|w| *w >= CLEAR)?;
        Some(Self {
            of,
            food: brown,
            share: raw.fat? / fat,
        })
    }
}

/// The food and the grams that are counted of what is weighed.
pub(crate) fn counted(
    food: FoodId,
    grams: Spread<Mass>,
    as_what: Option<CountsAs>,
) -> (FoodId, Spread<Mass>) {
    match as_what.filter(|c| c.of == food) {
        Some(c) => (c.food, grams.scaled(c.share)),
        None => (food, grams),
    }
}

/// What is said where water that boils off is not counted; `None` where there is none.
pub(crate) fn said(
    foods: impl Iterator<Item = (FoodId, Spread<Mass>, Option<CountsAs>)>,
    larder: &Larder,
) -> Option<String> {
    let water = |f: FoodId| larder.composition(f).water.unwrap_or(0.0) / 100.0;
    let off: f64 = foods
        .filter(|(f, ..)| counts_as_wet(larder, *f))
        .map(|(f, g, c)| {
            let (as_food, left) = counted(f, g, c);
            g.likely().as_grams() * water(f) - left.likely().as_grams() * water(as_food)
        })
        .sum();
    (off >= 0.5)
        .then(|| format!("{off:.0} g of the butter, which boils off as it browns ({SOURCE})"))
}

#[cfg(test)]
mod tests {
    use super::step_browns;

    #[test]
    fn browned_butter_is_told_from_what_browns_in_it() {
        for text in [
            "Brown the butter in a small pan, then cool it.",
            "Melt the butter over medium heat and cook, swirling, until it smells nutty.",
            "Melt the butter in a pan. Simmer until it foams and turns brown.",
            "Whisk the eggs into the brown butter.",
            "Heat the butter until noisette.",
        ] {
            assert!(step_browns(text), "{text}");
        }
        for text in [
            "Melt butter, fry the onions until brown.",
            "Fry the onions in the butter until brown.",
            "Beat the butter and brown sugar.",
            "Heat the butter and brown sugar until melted.",
            "Dot with butter and bake until golden brown.",
            "Toast the flour in the butter until nutty.",
            "Brown half of the butter.",
            "Melt the butter, add the oats and cook until nutty.",
            "Bake until brown. Butter a dish.",
            "Cook the butter beans until brown.",
            "Melt the butter.",
        ] {
            assert!(!step_browns(text), "{text}");
        }
    }
}
