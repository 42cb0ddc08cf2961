//! What a source says of how its bake keeps: to read beside one's own words for the card, which never
//! prints it. It is said of the bake with wheat.

use crate::Recipe;
use crate::sentences::{each, sentence};
use larder::{Food, Function};

/// What holds egg or milk and no more flour phase than this share of its weight stays moist and spoils cooked as
/// well: a custard, a cheesecake (to about 0.07). A brownie or a sponge has more (from about 0.12).
///
/// # Source
/// Ordinary formulas: common practice, no source.
pub(crate) const MOIST: f64 = 0.11;

/// Least share, by raw weight, of foods that spoil once they are cooked, and most of sugar, in what does: less is an
/// onion in a sauce, more is a jam or a sweet paste (common practice, no source).
const COOKED: (f64, f64) = (0.1, 0.33);

/// Which share of foods, with their grams, spoils in the warm once it is cooked, where that is so much that all of it
/// does: grain, pulses, potatoes or other vegetables, in no jam. In a dough or batter they are bread or cake from the mixing on.
pub(crate) fn spoils_once_cooked<'a>(
    foods: impl Iterator<Item = (Option<&'a Food>, f64)>,
) -> Option<f64> {
    let (mut all, mut cooked, mut sugar) = (0.0, 0.0, 0.0);
    for (food, grams) in foods {
        all += grams;
        for (what, sum) in [
            (food.is_some_and(Food::spoils_once_cooked), &mut cooked),
            (
                food.is_some_and(|f| f.function() == Function::Sugar),
                &mut sugar,
            ),
        ] {
            if what {
                *sum += grams;
            }
        }
    }
    let much = cooked > 0.0 && cooked >= COOKED.0 * all && sugar <= COOKED.1 * all;
    much.then(|| cooked / all)
}

/// Least weight of egg and milk, as a share of the flour, in a pastry that has its filling in its own list: an egg that
/// binds a short pastry is less (common practice, no source).
const OF_A_FILLING: f64 = 0.5;

/// Whether the foods of a pastry, with their grams, are those of its filling as well: it is baked in it, and stays
/// moist. With more sugar than flour it is a batter.
pub(crate) fn is_filled<'a>(foods: impl Iterator<Item = (Option<&'a Food>, f64)>) -> bool {
    let (mut all, mut cooked, mut flour, mut moist, mut sugar) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (food, grams) in foods {
        all += grams;
        let Some(food) = food else { continue };
        for (what, sum) in [
            (food.spoils_once_cooked(), &mut cooked),
            (food.is_flour_phase(), &mut flour),
            (food.spoils(), &mut moist),
            (food.function() == Function::Sugar, &mut sugar),
        ] {
            if what {
                *sum += grams;
            }
        }
    }
    flour > MOIST * all
        && sugar <= flour
        && (cooked >= COOKED.0 * all || moist >= OF_A_FILLING * flour)
}

/// Spans of keeping.
const SPANS: [&str; 6] = ["day", "days", "week", "weeks", "month", "months"];

/// What it is kept in.
const BOXES: [&str; 8] = [
    "tin",
    "box",
    "jar",
    "bag",
    "container",
    "fridge",
    "freezer",
    "larder",
];

/// How a sentence about the bake begins, before what is said of it.
const BAKE: [&str; 8] = [
    "this ",
    "these ",
    "it ",
    "they ",
    "the cake ",
    "the loaf ",
    "the bread ",
    "",
];

/// What is said of a bake that keeps.
const KEEPS: [&str; 9] = [
    "keeps ",
    "will keep ",
    "can be kept ",
    "freezes ",
    "will freeze ",
    "can be frozen ",
    "stores ",
    "improves ",
    "tastes better ",
];

/// What is said of when a bake is best.
const BEST: [&str; 4] = [
    "is best ",
    "are best ",
    "is at its best ",
    "are at their best ",
];

/// The sentences of a recipe's notes and steps that say how it keeps, as they stand there.
#[must_use]
pub fn said(recipe: &Recipe) -> Vec<&str> {
    told(recipe).into_iter().filter(|s| keeps(s)).collect()
}

/// All that a recipe's notes and steps say, sentence for sentence, without their stops.
#[must_use]
pub fn told(recipe: &Recipe) -> Vec<&str> {
    let notes = recipe.notes.iter().map(String::as_str);
    let steps = recipe.steps.iter().map(|s| s.text.as_str());
    let all = notes.chain(steps);
    all.flat_map(each).collect()
}

/// Whether a paragraph behind a method is a remark on the bake, no step of it: 'This keeps well in a
/// tin', 'Best on the second day'.
pub(crate) fn is_remark(text: &str) -> bool {
    const OF_IT: [&str; 8] = [
        "keep ",
        "freeze ",
        "is better ",
        "are better ",
        "tastes ",
        "also ",
        "is best ",
        "are best ",
    ];
    const ALONE: [&str; 3] = ["best eaten ", "best served ", "best on "];
    let low = text.to_lowercase();
    let starts = |any: &[&str], said: &str| any.iter().any(|w| said.starts_with(w));
    let of_it = BAKE.iter().filter(|b| !b.is_empty());
    of_it
        .filter_map(|b| low.strip_prefix(b))
        .any(|said| starts(&OF_IT, said))
        || of_the_bake(&low, &KEEPS)
        || starts(&ALONE, &low)
}

/// Whether a sentence says one of some things of the bake.
fn of_the_bake(low: &str, any: &[&str]) -> bool {
    let said = BAKE.iter().filter_map(|b| low.strip_prefix(b));
    said.into_iter()
        .any(|said| any.iter().any(|w| said.starts_with(w)))
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
    let where_or_how = || has(&SPANS) || has(&BOXES) || has(&["well", "moist", "fresh", "night"]);
    stored
        || has(&["airtight", "stale", "leftovers"])
        || has(&["keep", "keeps", "kept", "lasts"]) && has(&SPANS)
        || frozen && (has(&SPANS) || has(&["well", "can", "freezes"]))
        || low.contains("best eaten")
        || low.contains("eat within")
        || has(&["best"]) && low.contains(" day it ")
        || of_the_bake(&low, &KEEPS) && where_or_how()
        || (low.starts_with("best on ") || of_the_bake(&low, &BEST)) && has(&SPANS)
}

/// Whether a sentence says how long something keeps, or that it may be made before the day: no wait of it (common
/// practice, no source).
///
/// # Arguments
/// * `at` — where in the text its time stands, in bytes.
/// * `stated` — the most minutes it states, where it states a time.
pub(crate) fn how_it_keeps(text: &str, at: usize, stated: Option<f64>) -> bool {
    const KEEPS: [&str; 11] = [
        "keeps",
        "they keep",
        "these keep",
        "stays fresh",
        "stay fresh",
        "will keep",
        "keep well",
        "can be kept",
        "may be kept",
        "freezes",
        "freeze well",
    ];
    const MAY: [&str; 4] = ["can ", "may ", "could ", "will "];
    const BEFORE: [&str; 5] = ["ahead", "in advance", "frozen", "stored", "freeze"];
    const STORED: [&str; 6] = [
        "store ",
        "stored",
        "airtight",
        "leftover",
        "best eaten",
        "best within",
    ];
    let said = sentence(text, at).to_lowercase();
    let has = |words: &[&str]| words.iter().any(|w| said.contains(w));
    // 'The cake improves for two days', not 'Chill overnight: the flavour improves'.
    let from = sentence(text, at).as_ptr() as usize - text.as_ptr() as usize;
    let before = text.get(from..at).map(str::to_lowercase);
    let improves = before.is_some_and(|b| {
        let clause = b.rsplit([';', ':', ',']).next().unwrap_or_default();
        let if_left = ["if ", "when ", "left", "rest"];
        clause.contains("improve") && !if_left.iter().any(|w| clause.contains(w))
    });
    // 'The babas keep 2 days'.
    let many = said.split_once(" keep ").is_some_and(|(who, _)| {
        who.starts_with("the ") && who.ends_with('s') && who.split(' ').count() <= 4
    });
    if has(&KEEPS) || many || improves || has(&MAY) && has(&BEFORE) {
        return true;
    }
    match stated {
        Some(most) if most >= 720.0 => {
            let before = text[..at].to_lowercase();
            has(&STORED) || ["up to ", "within "].iter().any(|w| before.ends_with(w))
        }
        Some(_) => false,
        None => has(&["airtight", "leftover"]),
    }
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
            ("Keeps well in a tin", true),
            ("The loaf keeps moist", true),
            ("Best on the second day", true),
            ("Stores well", true),
            ("Improves after a night", true),
            ("They are best on the day", true),
            ("It is best to use a hot pan", false),
            ("This keeps the crust crisp", false),
            ("Keep the butter cold", false),
            ("Keep stirring until it thickens", false),
            ("Use store-bought pastry", false),
            ("Use frozen berries straight from the bag", false),
            ("Let the dough rest for a day", false),
            ("The best flour is fine", false),
        ] {
            assert_eq!(keeps(words), yes, "{words}");
        }
        for (text, yes) in [
            ("The cake improves for two days.", true),
            ("Chill for two days: the flavour improves.", false),
            ("The dough improves if left for two days.", false),
        ] {
            let at = text.find("two").expect("a time");
            assert_eq!(how_it_keeps(text, at, Some(2880.0)), yes, "{text}");
        }
        let text = "Plum Slices\n\n200 g plain flour\n100 g butter\n50 g sugar\n\n1. Rub in. Keep the butter cold.\n2. Bake at 180 °C for 30 minutes. Store the slices in a tin for 2.5 days.\n\nNotes\nFreezes well! Nice with cream. They keep approx. 3 days.\n";
        let larder = Larder::built_in().expect("the built-in tables");
        let sheet = Sheet::new(text, Locale::Uk);
        let recipe = work(&sheet, &[], &larder, &[])
            .expect("a recipe")
            .formula
            .recipe;
        assert_eq!(
            said(&recipe),
            [
                "Freezes well",
                "They keep approx. 3 days",
                "Store the slices in a tin for 2.5 days"
            ]
        );
    }
}
