//! What a source says of how its bake keeps: to read beside one's own words for the card, which never
//! prints it. It is said of the bake with wheat.

use crate::Recipe;

/// Spans of keeping.
const SPANS: [&str; 6] = ["day", "days", "week", "weeks", "month", "months"];

/// The sentences of a recipe's notes and steps that say how it keeps, as they stand there.
#[must_use]
pub fn said(recipe: &Recipe) -> Vec<&str> {
    let notes = recipe.notes.iter().map(String::as_str);
    let steps = recipe.steps.iter().map(|s| s.text.as_str());
    let all = notes.chain(steps).flat_map(sentences);
    all.filter(|s| keeps(s)).collect()
}

/// Sentences without their ends; the point of '1.5' ends none.
fn sentences(text: &str) -> impl Iterator<Item = &str> {
    let lines = text.lines().flat_map(|l| l.split(". "));
    let ends = |s: &'_ str| s.trim().trim_end_matches(['.', '!']).len();
    lines
        .map(move |s| &s.trim()[..ends(s)])
        .filter(|s| !s.is_empty())
}

fn keeps(sentence: &str) -> bool {
    let low = sentence.to_lowercase();
    let words: Vec<&str> = low.split(|c: char| !c.is_alphanumeric()).collect();
    let has = |any: &[&str]| words.iter().any(|w| any.contains(w));
    let stored = words.iter().enumerate().any(|(i, w)| {
        let bought = words.get(i + 1) == Some(&"bought");
        matches!(*w, "store" | "stored" | "storage" | "storing") && !bought
    });
    let frozen = has(&["freezes", "frozen", "freezer", "freeze"]);
    stored
        || has(&["airtight", "stale", "leftovers"])
        || has(&["keep", "keeps", "kept", "lasts"]) && has(&SPANS)
        || frozen && (has(&SPANS) || has(&["well", "can", "freezes"]))
        || low.contains("best eaten")
        || low.contains("eat within")
        || has(&["best"]) && low.contains(" day it ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{Sheet, work};
    use larder::Larder;
    use quantity::Locale;

    #[test]
    fn what_tells_how_it_keeps_is_found_among_notes_and_steps() {
        for (words, yes) in [
            ("Keeps 3 days in a tin", true),
            ("They will keep for a week in an airtight box", true),
            ("Store in a cool place", true),
            ("Freezes well for up to 2 months", true),
            ("The slices can be frozen", true),
            ("Best eaten warm", true),
            ("These are at their best the day it is baked", true),
            ("Keep the butter cold", false),
            ("Keep stirring until it thickens", false),
            ("Use store-bought pastry", false),
            ("Use frozen berries straight from the bag", false),
            ("Let the dough rest for a day", false),
            ("The best flour is fine", false),
        ] {
            assert_eq!(keeps(words), yes, "{words}");
        }
        let text = "Plum Slices\n\n200 g plain flour\n100 g butter\n50 g sugar\n\n1. Rub in. Keep the butter cold.\n2. Bake at 180 °C for 30 minutes. Store the slices in a tin for 2.5 days.\n\nNotes\nFreezes well. Nice with cream.\n";
        let larder = Larder::built_in().expect("the built-in tables");
        let sheet = Sheet::new(text, Locale::Uk);
        let recipe = work(&sheet, &[], &larder, &[])
            .expect("a recipe")
            .formula
            .recipe;
        assert_eq!(
            said(&recipe),
            ["Freezes well", "Store the slices in a tin for 2.5 days"]
        );
    }
}
