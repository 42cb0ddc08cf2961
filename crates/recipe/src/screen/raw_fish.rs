//! Fish that is eaten raw, cured or marinated: no heat kills what lives in it.

use super::Caution;
use crate::recipe::{Activity, FactKind, Step};
use crate::sentences;
use crate::weigh::Formula;
use larder::{Allergen, Function, Larder};

/// Words of dishes and steps that leave fish raw, however hot the rest gets.
const RAW: [&str; 13] = [
    "gravlax",
    "gravadlax",
    "gravad lax",
    "ceviche",
    "tartare",
    "sashimi",
    "sushi",
    "crudo",
    "carpaccio",
    "cured",
    "cure the",
    "curing",
    "raw fish",
];

/// The caution, where a recipe has fish that it cures, marinates or serves raw.
pub(super) fn caution(formula: &Formula, larder: &Larder) -> Option<Caution> {
    let recipe = &formula.recipe;
    let items = recipe
        .components
        .iter()
        .flat_map(|c| &c.lines)
        .flat_map(|l| l.items.iter().map(move |i| (l, i)));
    // A fillet, not a sauce, a tin or smoked fish.
    let mut names: Vec<String> = FISH.map(str::to_owned).to_vec();
    let fish = items.filter(|(line, item)| {
        let food = item.food.as_ref().map(|m| larder.food(m.food));
        let fillet = food.is_some_and(|f| {
            f.does(Function::Meat) && f.allergens.contains(&(Allergen::Fish, false))
        });
        let said = super::core_cautions(food, line.words(&item.name));
        said.iter().any(|c| c.code == "raw_fish") && (fillet || food.is_none())
    });
    let own = fish.flat_map(|(line, item)| words(line.words(&item.name)));
    names.extend(own.filter(|w| w.len() > 2));
    if names.len() == FISH.len() {
        return None;
    }
    let names = |text: &[String]| text.iter().any(|w| names.contains(w));
    let texts = (recipe.steps.iter().map(|s| s.text.as_str())).chain(recipe.title.as_deref());
    let raw = texts.map(words).any(|t| is_raw(&t));
    let marinated = (recipe.steps.iter()).any(|s| s.text.to_lowercase().contains("marinat"));
    let salted = is_salted(&recipe.steps, names);
    let cooked = || recipe.steps.iter().any(|s| cooks(s, names));
    (raw || (marinated || salted) && !cooked()).then_some(Caution {
        code: "raw_fish_parasites",
        text: "Fish that is cured, marinated or eaten raw is frozen through first, for the parasites that salt, sugar and acid do not kill: 7 days at -20 °C (-4 °F) or below, longer if your freezer is warmer than it says; or buy fish that was frozen for eating raw. Freezing kills no bacteria: keep it at 5 °C (41 °F) or below. Not for someone pregnant, very young, old or ill. Usual advice; local rules come first.",
        source: "FDA Food Code 3-402.11 (seen, in excerpts); the EU asks for 24 hours at -20 °C in all parts or 15 at -35 °C, Regulation (EC) 853/2004 as amended by 1276/2011, from memory",
    })
}

/// A heat above which fish is cooked, °C: foodsafety.gov, see `core_temperatures.tsv`.
const COOKS: f64 = 63.0;

/// Words of cooking that the facts of a step may lack. What is boiled may be the marinade alone.
const COOKING: [&str; 10] = [
    "bake", "fry", "grill", "roast", "poach", "steam", "broil", "barbecue", "sear", "cook",
];

/// What a fish is called beside its own name, and what it is baked in.
const FISH: [&str; 6] = ["fish", "fillet", "fishcake", "parcel", "skewer", "pie"];

/// What is cooked to go with it.
const WITH_IT: [&str; 11] = [
    "batter", "blini", "pancake", "dough", "bread", "toast", "bun", "bagel", "potato", "rice",
    "onion",
];

/// Words behind a verb that cooks what was spoken of before: 'grill for 5 minutes', 'fry it'.
const NO_OBJECT: [&str; 16] = [
    "for", "at", "in", "on", "over", "under", "until", "till", "both", "each", "skin", "gently",
    "it", "them", "and", "then",
];

/// The least that fish is left in salt to be cured rather than seasoned, minutes.
const CURES: f64 = 60.0;

/// The words of a text in small letters, without the s of many.
fn words(text: &str) -> Vec<String> {
    let text = text.to_lowercase();
    let words = text.split(|c: char| !c.is_alphanumeric());
    let words = words.filter(|w| !w.is_empty());
    words
        .map(|w| w.strip_suffix('s').unwrap_or(w).to_owned())
        .collect()
}

/// Whether words name a dish or a step that leaves fish raw; tartare sauce is none.
fn is_raw(text: &[String]) -> bool {
    let says = |raw: &str| {
        let raw = words(raw);
        let places = text.windows(raw.len()).enumerate();
        let mut places = places.filter(|(_, at)| *at == raw.as_slice());
        places.any(|(n, _)| text.get(n + raw.len()).is_none_or(|next| next != "sauce"))
    };
    RAW.iter().any(|w| says(w))
}

/// Whether fish is left in salt for hours: three sentences on end name the fish, the salt and the time.
fn is_salted(steps: &[Step], names: impl Fn(&[String]) -> bool) -> bool {
    let mut said: Vec<(Vec<String>, bool)> = Vec::new();
    for step in steps {
        for range in sentences(&step.text) {
            let text = words(&step.text[range.clone()]);
            let is_long = |kind: &FactKind| match kind {
                FactKind::Duration { value, doing } => {
                    *doing != Some(Activity::Bake) && value.likely().as_minutes() >= CURES
                }
                _ => false,
            };
            let waits = (step.facts.iter())
                .any(|f| range.contains(&f.span.start) && is_long(&f.kind))
                || text.iter().any(|w| w == "overnight");
            let waits = waits && !text.iter().any(|w| WITH_IT.contains(&&**w));
            said.push((text, waits));
        }
    }
    (0..said.len()).any(|n| {
        let near = &said[n..said.len().min(n + 3)];
        near.iter().any(|(text, _)| names(text))
            && near
                .iter()
                .any(|(text, _)| text.iter().any(|w| w == "salt"))
            && near.iter().any(|(_, waits)| *waits)
    })
}

/// Whether a step cooks the fish: a clause that cooks names it, or nothing else.
fn cooks(step: &Step, names: impl Fn(&[String]) -> bool) -> bool {
    sentences(&step.text).into_iter().any(|range| {
        let sentence = &step.text[range.clone()];
        let with_it = words(sentence).iter().any(|w| WITH_IT.contains(&&**w));
        let mut from = range.start;
        sentence.split_inclusive(',').any(|clause| {
            let at = from..from + clause.len();
            from = at.end;
            let text = words(clause);
            let hot = step
                .facts
                .iter()
                .any(|f| at.contains(&f.span.start) && is_hot(&f.kind));
            let verb = text.iter().position(|w| COOKING.contains(&&**w));
            let object = verb.map_or_else(|| text.first(), |v| text.get(v + 1));
            let alone = object.is_none_or(|w| {
                NO_OBJECT.contains(&&**w) || w.starts_with(|c: char| c.is_ascii_digit())
            });
            (hot || verb.is_some()) && (names(&text) || alone && !with_it)
        })
    })
}

fn is_hot(kind: &FactKind) -> bool {
    match kind {
        FactKind::Temperature { value, .. } => value.likely().as_celsius() >= COOKS,
        FactKind::Doing(a) | FactKind::Duration { doing: Some(a), .. } => *a == Activity::Bake,
        _ => false,
    }
}
