//! Foods that only the method or a note names, for the allergens they bring and the labels to read.

use super::held::Held;
use crate::beforehand::ripens;
use crate::recipe::Recipe;
use larder::{Food, FoodId, Function, Gluten, Larder};
use quantity::Locale;
use std::ops::Range;

/// Foods bought ready that a method's words mean as the bake itself, when the list holds flour:
/// 'the pastry case', 'the pizza dough'.
const THE_BAKE_ITSELF: [&str; 10] = [
    "pie_crust",
    "pizza_dough",
    "bought_cake",
    "roux",
    "bread",
    "crusty_bread",
    "puff_pastry",
    "fresh_pasta",
    "gnocchi_bought",
    "fish_cakes",
];

/// Words of a method that makes its gravy itself.
const MAKES_GRAVY: [&str; 4] = [
    "make the gravy",
    "make a gravy",
    "for the gravy",
    "into a gravy",
];

/// Names of foods that are another word as well: 'bitter chocolate', 'discard the rest'.
const NO_FOOD: [&str; 3] = ["discard", "bitter", "flour"];
/// Names of one word that a method says of whatever is baked of flour, or does to it: 'cool the bread',
/// 'toast the nuts', 'wrap the dough'.
const OF_ANY_BAKE: [&str; 14] = [
    "cake",
    "muffin",
    "bread",
    "toast",
    "bap",
    "bun",
    "biscuit",
    "cookie",
    "pastry",
    "shortcrust",
    "puff",
    "wrap",
    "roux",
    "dumpling",
];

/// What is baked: the food that a recipe's title ends in ('Soft flatbreads with dip'), and those
/// that the names of its parts do.
pub(crate) struct TheBake {
    foods: Vec<FoodId>,
    /// The words that name them, in small letters.
    words: Vec<String>,
    /// The title and the names of the parts up to 'with' and the like, in small letters.
    heads: Vec<String>,
    /// The method makes a gravy of what is listed.
    gravy: bool,
}

/// Keys of foods that are bought dried or fresh: cut into tagliatelle, fresh pasta is that too.
const PASTA: [&str; 2] = ["pasta", "fresh_pasta"];

/// Whether a food may be what is baked: a sauce, a beer or a grain never is.
pub(crate) fn is_baked(food: &Food) -> bool {
    matches!(
        food.function(),
        Function::Prepared | Function::Crumb | Function::Pasta | Function::Inclusion
    )
}

/// A recipe as it was read: what its lines hold, and what is baked.
pub(crate) struct Original<'r> {
    pub(crate) held: Held<'r>,
    pub(crate) baked: TheBake,
}

impl<'r> Original<'r> {
    pub(crate) fn of(recipe: &'r Recipe, larder: &'r Larder, locale: Locale) -> Self {
        Self {
            held: Held::of(recipe, larder),
            baked: TheBake::of(recipe, larder, locale),
        }
    }
}

impl TheBake {
    /// Of a recipe.
    pub(crate) fn of(recipe: &Recipe, larder: &Larder, locale: Locale) -> Self {
        let parts = recipe.components.iter().map(|c| c.name.as_str());
        let names = recipe.title.as_deref().into_iter().chain(parts);
        let heads: Vec<&str> = names.filter_map(head_of).collect();
        let of = |head: &&str| {
            let (food, span) = larder.names().mentions(head, locale).pop()?;
            (is_baked(larder.food(food)) && span.end == head.len())
                .then(|| (food, head[span].to_lowercase()))
        };
        let (foods, words) = heads.iter().filter_map(of).unzip();
        let heads = heads.iter().map(|h| h.to_lowercase()).collect();
        let steps = recipe.steps.iter().map(|s| s.text.to_lowercase());
        let gravy = steps
            .into_iter()
            .any(|s| MAKES_GRAVY.iter().any(|w| s.contains(w)));
        Self {
            foods,
            words,
            heads,
            gravy,
        }
    }

    /// Whether a word, in small letters and without the plural's s, names it.
    pub(crate) fn is_called(&self, stem: &str) -> bool {
        self.words.iter().any(|w| w.trim_end_matches('s') == stem)
    }

    /// Whether the title or a part's name ends in these words, in small letters: 'fry the meatballs' of lamb
    /// meatballs.
    pub(crate) fn is_titled(&self, words: &str) -> bool {
        let one = words.trim_end_matches('s');
        self.heads.iter().any(|h| {
            let rest = h.trim_end_matches('s').strip_suffix(one);
            rest.is_some_and(|r| !r.ends_with(char::is_alphanumeric))
        })
    }

    /// Whether words of the method or a note mean it rather than a food bought ready: 'cool the bread',
    /// 'roll the pastry case', 'the gingersnaps' of that title; not 'serve with bread' of what is called
    /// otherwise.
    ///
    /// # Arguments
    /// * `food` — what the words name in the larder.
    /// * `text`, `at` — the words, and what stands around them.
    /// * `flour` — whether the list holds flour.
    pub(crate) fn is(
        &self,
        food: FoodId,
        (text, at): (&str, &Range<usize>),
        flour: bool,
        larder: &Larder,
    ) -> bool {
        let words = text.get(at.clone()).unwrap_or("").to_lowercase();
        let words = words.as_str();
        let flour = flour && (self.is_titled(words) || !is_brought(text, at));
        let key = |f: FoodId| larder.food(f).key.as_str();
        let one = words.strip_suffix('s').unwrap_or(words);
        let said = |list: &[&str]| list.contains(&words) || list.contains(&one);
        said(&NO_FOOD)
            || flour && (said(&OF_ANY_BAKE) || ripens(one) || words == "pastries")
            || self.foods.contains(&food)
            || flour && self.is_titled(words) && the(text, at) && is_baked(larder.food(food))
            || PASTA.contains(&key(food)) && self.foods.iter().any(|f| PASTA.contains(&key(*f)))
            || flour
                && THE_BAKE_ITSELF.contains(&key(food))
                && (self.gravy || !words.contains("gravy"))
    }
}

/// Verbs by which what was made goes to the table.
const TO_THE_TABLE: [&str; 11] = [
    "serve", "served", "serving", "eat", "eaten", "enjoy", "pile", "stuff", "tuck", "sandwich",
    "mop",
];

/// What stands between such a verb and what is eaten beside it.
const BESIDE: [&str; 10] = [
    "with",
    "in",
    "on",
    "onto",
    "into",
    "inside",
    "between",
    "alongside",
    "over",
    "up",
];

/// Words of what is at hand already.
const AT_HAND: [&str; 6] = ["the", "this", "these", "your", "each", "every"];

/// Words right before the name of what comes from a shop or another day: 'a slice of bread', 'ready-rolled pastry'.
const NOT_MADE_HERE: [&str; 13] = [
    "bought", "ready", "stale", "frozen", "slice", "slices", "packet", "sheet", "sheets",
    "crumble", "crush", "crushed", "crumbled",
];

/// Whether a text brings a named food to what is made: 'serve with bread', 'pile into a bun', 'on the toast', 'a
/// slice of stale bread'; not 'serve the bread warm', 'serve with butter while the bread is warm', 'each slice of
/// cake'.
fn is_brought(text: &str, name: &Range<usize>) -> bool {
    let before = text.get(..name.start).unwrap_or_default().to_lowercase();
    let clause = before.rsplit(['.', '!', '?', ';', '\n']).next();
    let words: Vec<&str> = clause
        .unwrap_or_default()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    let (from, last) = words.split_at(words.len().saturating_sub(4));
    let bought = last.iter().position(|w| NOT_MADE_HERE.contains(w));
    let at_hand = |w: &&str| AT_HAND.contains(w);
    if let Some(bought) = bought {
        let article = from.iter().chain(&last[..bought]).next_back();
        return !article.is_some_and(at_hand) && !last[bought..].iter().any(at_hand);
    }
    let Some(beside) = words.iter().rposition(|w| BESIDE.contains(w)) else {
        return false;
    };
    words[..beside].iter().any(|w| TO_THE_TABLE.contains(w))
        && !words[beside..].iter().skip(2).any(at_hand)
}

/// What a title or a part's name is called by: up to 'with' and the like, or 'and'.
fn head_of(name: &str) -> Option<&str> {
    let whole = whole_head_of(name);
    let end = [" and ", " & "].iter().filter_map(|w| whole.find(w)).min();
    whole.get(..end.unwrap_or(whole.len())).map(str::trim_end)
}

/// The same with all that 'and' joins: 'cheddar and chive puffs'.
pub(super) fn whole_head_of(name: &str) -> &str {
    let ends = [
        " with ", " in ", " on ", " of ", " for ", " from ", ",", "(",
    ];
    let end = ends.iter().filter_map(|w| name.find(w)).min();
    name[..end.unwrap_or(name.len())].trim_end()
}

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

/// Who likes something.
const LIKES: [&str; 6] = [
    "i like",
    "we like",
    "you like",
    "would like",
    "'d like",
    "they like",
];

/// Whether words before a place, in small letters, only compare: 'until it looks like breadcrumbs'.
pub(crate) fn only_compares(before: &str) -> bool {
    let from = before.char_indices().rev().nth(29).map_or(0, |c| c.0);
    // 'I like mine in a bun' compares nothing.
    let near = LIKES
        .iter()
        .fold(before[from..].to_owned(), |t, w| t.replace(w, ""));
    LOOKS.iter().any(|w| near.contains(w))
}

/// Things that pieces are as large as.
const SIZES: [&str; 9] = [
    "walnut", "hazelnut", "almond", "pea", "egg", "apricot", "plum", "cherry", "lemon",
];

/// Whether words right before the name of a thing shape as much as it: 'pipe 24 walnuts', 'roll into walnuts'.
fn is_a_size(before: &str, named: &str) -> bool {
    if !SIZES.contains(&named.strip_suffix('s').unwrap_or(named)) {
        return false;
    }
    let words = || before.split_whitespace().rev();
    let count = |w: &&str| {
        let number = w
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, '–' | '-'));
        number
            || matches!(
                *w,
                "about" | "small" | "little" | "large" | "dozen" | "a" | "two"
            )
    };
    let counted = words().take_while(count).count();
    let mut led = words().skip(counted);
    match led.next().unwrap_or_default() {
        "pipe" => true,
        "shape" | "form" => counted > 0,
        "into" => led
            .take(4)
            .any(|w| matches!(w, "pipe" | "shape" | "form" | "roll" | "divide")),
        _ => false,
    }
}

/// Tools that are called by a food.
const TOOLS: [&str; 7] = [
    "brush", "cutter", "knife", "machine", "maker", "scoop", "slicer",
];

/// Whether the words name no food: 'cream the sugar', 'sprinkle with', 'walnut-sized'.
pub(crate) fn no_food(text: &str, span: &Range<usize>) -> bool {
    let before = text.get(..span.start).unwrap_or("").to_lowercase();
    let after = text.get(span.end..).unwrap_or("").to_lowercase();
    let named = text.get(span.clone()).unwrap_or("").to_lowercase();
    // The verb stands at the head of its clause or behind 'and', 'then', 'to', with its object.
    let object = [
        "the ", "together", "it ", "them ", "until", "in the ", "up ",
    ];
    let object = object.iter().any(|w| after.trim_start().starts_with(w));
    // 'Sprinkle with seeds', 'a sprinkle of salt': the food is called sprinkles.
    let verb = named == "cream" && object || named == "sprinkle";
    // 'For the sake of the crust', 'for safety's sake'.
    let reason = before.ends_with("for the ") && after.starts_with(" of ")
        || before.ends_with("'s ")
        || before.ends_with("’s ");
    // 'With an ice cream scoop', 'in a bread machine'.
    let next = after
        .split(|c: char| !c.is_alphanumeric())
        .find(|w| !w.is_empty());
    let tool = after.starts_with([' ', '-']) && next.is_some_and(|w| TOOLS.contains(&w));
    verb || tool
        || named == "sake" && reason
        || after
            .trim_start_matches(['-', '\u{2011}', ' '])
            .starts_with("size")
        || after.starts_with("-colo")
        || is_a_size(&before, &named)
        || only_compares(&before)
}

/// Whether 'the' stands right before a name.
fn the(text: &str, name: &Range<usize>) -> bool {
    let before = text.get(..name.start).unwrap_or_default();
    let last = before.split_whitespace().next_back();
    last.is_some_and(|w| w.eq_ignore_ascii_case("the"))
}

/// Foods with allergens, or of which only the label can tell, that the method or a note names and no line holds: 'brush with beaten egg'.
/// What holds gluten and is said of the bake at hand ('bread', 'cake') is left aside.
pub(crate) fn named_only(
    recipe: &Recipe,
    held: &Held<'_>,
    original: &Original<'_>,
    larder: &Larder,
    locale: Locale,
) -> Vec<Named> {
    let steps = recipe.steps.iter().map(|s| (Some(s.number), &s.text));
    let notes = recipe.notes.iter().map(|n| (None, n));
    // A food of the title or the yield that the original's lines held is told there.
    let Original { held: lines, baked } = original;
    let names = recipe
        .title
        .iter()
        .chain(recipe.makes.iter().map(|m| &m.text));
    let mut out: Vec<Named> = Vec::new();
    let told = steps.chain(notes).map(|(step, text)| (step, text, false));
    let named = names.map(|text| (None, text, true));
    for (step, text, name) in told.chain(named) {
        for (id, span) in larder.names().mentions(text, locale) {
            let food = larder.food(id);
            let words = text.get(span.clone()).unwrap_or("").to_lowercase();
            let bake =
                food.gluten == Gluten::Contains && baked.is(id, (text, &span), held.flour, larder);
            // What only a label can tell counts as well as what is certain.
            let brings =
                food.gluten == Gluten::Check || food.allergens.iter().any(|(_, maybe)| !maybe);
            if !brings
                || bake
                || food.does(Function::Prepared) && baked.is_titled(&words)
                || held.is_whole_part(&words)
                || no_food(text, &span)
                || held.stands(food)
                || held.says(&words)
                || held.is_kind_of_line(text, &span)
                || (name || the(text, &span)) && held.makes(&words)
                || name && (lines.stands(food) || lines.says(&words))
                || name && is_baked(food) && lines.names_the_bake(text, &span)
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
