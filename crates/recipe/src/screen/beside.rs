//! Foods that a line names beside its ingredients: behind a comma, in brackets, after 'and'.
//!
//! No amount is theirs, so nothing weighs them; what they hold is looked for all the same.

use super::words;
use crate::read::no_food;
use larder::{FoodId, Gluten, Larder};
use quantity::Locale;
use std::ops::Range;

/// Words before a name that keep the food out: 'not bread flour', 'cut into long noodles'.
const KEPT_OUT: [&str; 15] = [
    "no",
    "not",
    "non",
    "never",
    "without",
    "minus",
    "avoid",
    "free from",
    "instead of",
    "in place of",
    "rather than",
    "don't",
    "omit",
    "unlike",
    "cut into",
];

/// Words right before a name, or its article, that say what the ingredient is for or becomes: 'for the
/// pasta', 'into noodles'.
const BECOMES: [&str; 4] = ["for", "into", "as", "per"];
const AS_WELL: [&str; 3] = ["as", "well", "as"];
const ARTICLES: [&str; 4] = ["the", "a", "an", "your"];

/// Things that are called after what is baked or cut with them: 'cake tin', 'bread knife'.
const TOOLS: [&str; 34] = [
    "tin", "tins", "pan", "pans", "tray", "trays", "dish", "dishes", "case", "cases", "cup",
    "cups", "knife", "cutter", "cutters", "brush", "board", "mould", "mold", "moulds", "molds",
    "ring", "rings", "stone", "machine", "rack", "stand", "liner", "liners", "wheel", "bag",
    "maker", "iron", "irons",
];

/// Whether a name is the first word of a tool's: 'brioche tin'.
pub(super) fn names_a_tool(text: &str, name: &Range<usize>) -> bool {
    let behind = text.get(name.end..).unwrap_or_default();
    let spaced = behind.starts_with([' ', '-']);
    let next = behind
        .split(|c: char| !c.is_alphabetic())
        .find(|w| !w.is_empty());
    spaced && next.is_some_and(|w| TOOLS.contains(&&*w.to_lowercase()))
}

/// Names that are other words as well: 'discard the stalks', 'a bitter orange', 'to toast'.
const OTHER_WORDS: [&str; 12] = [
    "discard", "bitter", "flour", "toast", "wrap", "puff", "starter", "gram", "date", "nut",
    "port", "spread",
];

/// The foods a line names outside what was read as its ingredients, with where.
///
/// # Arguments
/// * `text` — what the line says.
/// * `read` — the bytes of its ingredients' names.
/// * `here` — the foods of its ingredients, and what may be taken instead.
pub(super) fn beside(
    text: &str,
    read: &[Range<usize>],
    here: &[FoodId],
    larder: &Larder,
    locale: Locale,
) -> Vec<(FoodId, Range<usize>)> {
    let mut found = larder.names().mentions(text, locale);
    found.retain(|(food, span)| {
        let is_read = read
            .iter()
            .any(|r| r.start < span.end && span.start < r.end);
        // 'Vinegar, white wine': more of the name.
        let name_of = |f: &FoodId| {
            let named = text.get(span.clone()).unwrap_or_default().to_lowercase();
            let (here, other) = (larder.food(*f), larder.food(*food));
            let mut brings = other.allergens.iter().map(|(a, _)| a);
            let inside = |at: usize| at <= span.start && span.end <= at + here.name.len();
            // A line may be called by the food's whole name.
            let whole = text.match_indices(&*here.name).any(|(at, _)| inside(at));
            // The butter beside peanut butter brings milk.
            // The 'rum' in crumbs is none.
            let own = here.name.to_lowercase();
            let mut places = own.match_indices(&*named);
            let begins = |(at, _): (usize, &str)| !own[..at].ends_with(char::is_alphanumeric);
            whole
                || places.any(begins) && brings.all(|a| here.allergens.iter().any(|(b, _)| a == b))
        };
        let labelled = words::labelled(text, span, &words::breath(text, span));
        // 'Custard: 500 ml milk, 4 yolks': what a part in one line is called, and makes.
        let heads = text[..span.start].trim().is_empty()
            && text[span.end..].starts_with(':')
            && larder.food(*food).gluten != Gluten::Contains;
        !is_read
            && !heads
            && !here.contains(food)
            && !here.iter().any(name_of)
            && !labelled
            && !no_food(text, span)
            && !is_aside(text, span)
    });
    found
}

/// Words by which brackets say what may be in a food, or stand in its place, rather than what is.
const HEDGES: [&str; 26] = [
    "may",
    "maybe",
    "might",
    "can",
    "such",
    "like",
    "eg",
    "e.g",
    "or",
    "optional",
    "optionally",
    "if",
    "trace",
    "traces",
    "choice",
    "preferably",
    "no",
    "not",
    "without",
    "free",
    "instead",
    "for",
    "line",
    "lines",
    "facility",
    "factory",
];

/// Whether the brackets behind a food, or a list behind a colon, say for certain that the name is in it:
/// 'mixed seeds (sesame, pumpkin)'.
pub(super) fn is_stated(text: &str, span: &Range<usize>) -> bool {
    let before = text.get(..span.start).unwrap_or_default();
    let bracket = before.rfind(['(', '[']);
    let bracket = bracket.filter(|at| !before[*at..].contains([')', ']']));
    let Some(open) = bracket.or_else(|| before.rfind(':')) else {
        return false;
    };
    let inside = &text[open + 1..];
    let end = if bracket.is_some() {
        inside.find([')', ']'])
    } else {
        inside.find(['(', ';', '.'])
    };
    let inside = inside[..end.unwrap_or(inside.len())].to_lowercase();
    let mut words = inside.split(|c: char| !c.is_alphanumeric() && c != '.');
    before[..open].contains(char::is_alphabetic)
        && !words.any(|w| HEDGES.contains(&w.trim_end_matches('.')))
}

/// Whether a name stands for no food that goes in: it is kept out, a tool, a look, what the bake becomes.
fn is_aside(text: &str, span: &Range<usize>) -> bool {
    let clause = |c: char| matches!(c, ',' | ';' | '(' | ')' | '[' | ']' | '.' | ':' | '–' | '—');
    let before = text.get(..span.start).unwrap_or_default().to_lowercase();
    let before = before.rsplit(clause).next().unwrap_or_default();
    let last: Vec<&str> = before.split_whitespace().rev().take(4).collect();
    let last: Vec<&str> = last.into_iter().rev().collect();
    let says = |w: &str| {
        let wanted: Vec<&str> = w.split(' ').collect();
        last.windows(wanted.len()).any(|have| have == wanted)
    };
    let after = text.get(span.end..).unwrap_or_default().to_lowercase();
    let next = after.split_whitespace().next().unwrap_or_default();
    let joined = after.starts_with(['-', '\u{2011}']) && !next.ends_with("and");
    let free = next.trim_matches('-') == "free" && !after.contains("free range");
    let named = text.get(span.clone()).unwrap_or_default().to_lowercase();
    let named = named.trim_end_matches('s');
    let bare = match last.split_last() {
        Some((article, before)) if ARTICLES.contains(article) => before,
        _ => &last,
    };
    let becomes = bare.last().is_some_and(|w| BECOMES.contains(w)) && !bare.ends_with(&AS_WELL);
    // 'For topping the cake' is for what the recipe makes, as 'for the cake' is.
    let topped = matches!(bare, [.., "for", verb] if verb.ends_with("ing"));
    // 'Served on toast' is no verb.
    let eaten = named == "toast" && bare.last().is_some_and(|w| ["on", "with"].contains(w));
    KEPT_OUT.iter().any(|w| says(w))
        || becomes
        || topped
        || joined
        || free
        || TOOLS.contains(&next.trim_end_matches(clause))
        || OTHER_WORDS.contains(&named) && !eaten
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 'For topping the cake' is for what the recipe makes; 'over the croutons' may name what no line has.
    #[test]
    fn what_the_recipe_makes_is_no_food_beside() {
        let larder = Larder::built_in().expect("the built-in tables");
        let names = |text: &str| -> Vec<String> {
            let found = beside(text, &[], &[], &larder, Locale::Uk);
            found
                .into_iter()
                .map(|(_, at)| text[at].to_owned())
                .collect()
        };
        for text in ["50 g kernels, for topping cake", "for dusting the cake"] {
            assert_eq!(names(text), [""; 0], "{text}");
        }
        assert_eq!(names("to serve with the crackers"), ["crackers"]);
        assert_eq!(names("a handful, then biscuits"), ["biscuits"]);
        assert_eq!(names("to scatter over the biscuits"), ["biscuits"]);
    }

    #[test]
    fn a_food_is_not_within_a_word_of_another() {
        let larder = Larder::built_in().expect("the built-in tables");
        let key = |k| larder.by_key(k).expect("a food");
        let text = "30 g raisins soaked in rum, 80 g fresh breadcrumbs";
        let here = [key("raisins"), key("fresh_breadcrumbs")];
        let read = [5..12, 33..50];
        let found = beside(text, &read, &here, &larder, Locale::Uk);
        let found: Vec<&str> = found.into_iter().map(|(_, at)| &text[at]).collect();
        assert_eq!(found, ["rum"]);
    }
}
