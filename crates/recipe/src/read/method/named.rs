//! Foods that only the method or a note names, for the allergens they bring and the labels to read.

use super::held::Held;
use crate::recipe::Recipe;
use larder::{FoodId, Gluten, Larder};
use quantity::Locale;
use std::ops::Range;

/// Foods bought ready that a method's words mean as the bake itself, when the list holds flour:
/// 'the pastry case', 'the pizza dough'.
pub(crate) const THE_BAKE_ITSELF: [&str; 8] = [
    "pie_crust",
    "pizza_dough",
    "bought_cake",
    "roux",
    "bread",
    "crusty_bread",
    "puff_pastry",
    "fresh_pasta",
];

/// A food that brings allergens or has a label to read, named in a step or a note and held by no line.
pub(crate) struct Named {
    /// The step's number, see [`crate::Step::number`]; `None` for a note.
    pub step: Option<usize>,
    /// Its words there.
    pub words: String,
    /// The food.
    pub food: FoodId,
}

/// Words before the name of a food that make it a measure or a look: 'the size of a walnut'.
const LOOKS: [&str; 7] = [
    "like",
    "resembl",
    "texture",
    "consistency",
    "size of",
    "thick as",
    "colour of",
];

/// Whether words before a place, in small letters, only compare: 'until it looks like breadcrumbs'.
pub(crate) fn only_compares(before: &str) -> bool {
    let from = before.char_indices().rev().nth(29).map_or(0, |c| c.0);
    LOOKS.iter().any(|w| before[from..].contains(w))
}

/// Whether the words name no food: 'cream the sugar', 'walnut-sized', 'as thick as cream'.
fn no_food(text: &str, span: &Range<usize>) -> bool {
    let before = text.get(..span.start).unwrap_or("").to_lowercase();
    let after = text.get(span.end..).unwrap_or("").to_lowercase();
    let named = text.get(span.clone()).unwrap_or("").to_lowercase();
    // The verb stands at the head of its clause or behind 'and', 'then', 'to', with its object.
    let object = [
        "the ", "together", "it ", "them ", "until", "in the ", "up ",
    ];
    let object = object.iter().any(|w| after.trim_start().starts_with(w));
    let verb = named == "cream" && object;
    verb || after
        .trim_start_matches(['-', '\u{2011}', ' '])
        .starts_with("size")
        || after.starts_with("-colo")
        || only_compares(&before)
}

/// Foods with allergens, or of which only the label can tell, that the method or a note names and no line holds: 'brush with beaten egg'.
/// What holds gluten by one word ('bread', 'cake') is said of the bake at hand and left aside.
pub(crate) fn named_only(
    recipe: &Recipe,
    held: &Held<'_>,
    larder: &Larder,
    locale: Locale,
) -> Vec<Named> {
    let steps = recipe.steps.iter().map(|s| (Some(s.number), &s.text));
    let notes = recipe.notes.iter().map(|n| (None, n));
    let mut out: Vec<Named> = Vec::new();
    for (step, text) in steps.chain(notes) {
        for (id, span) in larder.names().mentions(text, locale) {
            let food = larder.food(id);
            let words = text.get(span.clone()).unwrap_or("").to_lowercase();
            // 'Cake', 'bread', 'pastry' are said of the bake at hand.
            let bake = food.gluten == Gluten::Contains
                && (!words.contains(' ') || THE_BAKE_ITSELF.contains(&food.key.as_str()));
            // What only a label can tell counts as well as what is certain.
            let brings =
                food.gluten == Gluten::Check || food.allergens.iter().any(|(_, maybe)| !maybe);
            if !brings
                || bake
                || held.is_whole_part(&words)
                || no_food(text, &span)
                || held.stands(food)
                || held.says(&words)
                || out.iter().any(|n| n.food == id)
            {
                continue;
            }
            out.push(Named {
                step,
                words,
                food: id,
            });
        }
    }
    out
}
