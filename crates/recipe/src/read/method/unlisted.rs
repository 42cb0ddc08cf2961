//! Amounts of foods that only the method names: 'simmer with 1/4 cup water' where no line has water.

use super::{Original, named_only};
use crate::doubt::{Doubt, DoubtCode};
use crate::read::Reader;
use crate::recipe::{FactKind, Recipe};
use larder::{Certainty, FoodId, Function};
use quantity::{UnitKind, fraction};

/// Words that end the naming of a food.
const ENDS: &[&str] = &[
    "and", "or", "until", "in", "into", "over", "then", "for", "with", "to", "on", "at", "if",
    "just", "plus", "from", "gas", "oven", "fan",
];

/// Signs that end the naming of a food.
const STOPS: [char; 6] = [',', ';', '.', ':', ')', '!'];

/// Measures of the hand. 'A' or 'one' stands before them, and perhaps how much they hold.
const BY_HAND: [&str; 12] = [
    "dash", "drop", "glug", "grating", "grind", "handful", "knob", "pinch", "spoonful", "splash",
    "sprinkle", "squeeze",
];

/// An amount of a food that only the method names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unlisted {
    /// The step's number, see [`crate::Step::number`].
    pub step: usize,
    /// Its words: '1/4 cup water'.
    pub words: String,
}

/// One doubt for all such amounts: it is settled for all of them.
pub(in crate::read) fn doubt(recipe: &Recipe, reader: &Reader<'_>) -> Option<Doubt> {
    let found = unlisted(recipe, reader);
    let takes: Vec<String> = found
        .iter()
        .map(|u| format!("step {} takes {}", recipe.step_label(u.step), u.words))
        .collect();
    let (stands, it) = match takes.len() {
        0 => return None,
        1 => ("which stands on no line and is in no figure", "it goes"),
        _ => ("which stand on no line and are in no figure", "they go"),
    };
    Some(Doubt::new(
        DoubtCode::InMethodOnly,
        format!(
            "{}, {stands}: if {it} into the food, write a line for it in its part",
            takes.join(", ")
        ),
    ))
}

/// The amounts of the method whose food stands on no line, and foods without an amount there that
/// bring an allergen which no line brings, or raise.
#[must_use]
pub fn unlisted(recipe: &Recipe, reader: &Reader<'_>) -> Vec<Unlisted> {
    let larder = reader.larder;
    let original = Original::of(recipe, larder, reader.locale);
    let listed = &original.held;
    let mut out: Vec<Unlisted> = Vec::new();
    let mut named: Vec<FoodId> = Vec::new();
    for step in &recipe.steps {
        // '12-cup muffin tin' measures no muffins.
        let pans = step
            .facts
            .iter()
            .filter(|f| matches!(f.kind, FactKind::Pan { .. }));
        let pans: Vec<&str> = pans.map(|f| &step.text[f.span.clone()]).collect();
        let by_hand = by_hand(&step.text);
        for words in amounts(&step.text).into_iter().chain(by_hand) {
            if pans.iter().any(|p| p.contains(&*words)) {
                continue;
            }
            let line = reader.line(&words);
            let [item] = line.items.as_slice() else {
                continue;
            };
            let sure = item.food.as_ref();
            let Some(id) = sure
                .filter(|m| m.certainty == Certainty::Sure)
                .map(|m| m.food)
            else {
                continue;
            };
            let food = larder.food(id);
            let mut units = item.amounts.iter().filter_map(|a| a.unit);
            let measured = units.any(|u| matches!(u.kind(), UnitKind::Mass | UnitKind::Volume));
            let counted = food.function() == Function::Egg && !item.amounts.is_empty()
                || !words.starts_with(|c: char| c.is_numeric());
            let name = line.words(&item.name).to_lowercase();
            let name = name.trim_start_matches("of ").trim_start_matches("the ");
            let oil = name == "oil" && listed.has_an_oil();
            // 'Put 1 tbsp stuffing in each': of the part called so.
            if (measured || counted) && !oil && !listed.stands(food) && !listed.has_part(name) {
                named.push(id);
                out.push(Unlisted {
                    step: step.number,
                    words,
                });
            }
        }
    }
    for found in named_only(recipe, listed, &original, larder, reader.locale) {
        let food = larder.food(found.food);
        let new = food
            .allergens
            .iter()
            .any(|(a, maybe)| !maybe && !listed.brings(*a));
        if let Some(step) = found.step.filter(|_| new && !named.contains(&found.food)) {
            out.push(Unlisted {
                step,
                words: found.words,
            });
        }
    }
    for step in &recipe.steps {
        for (id, span) in larder.names().mentions(&step.text, reader.locale) {
            let (food, words) = (larder.food(id), &step.text[span.clone()]);
            let behind = step.text[span.end..].trim_start();
            let of_another = [
                "bread", "scone", "farl", "cracker", "water", "cod", "beef", "pork", "crust",
            ]
            .iter()
            .any(|w| behind.starts_with(w));
            // Dough without its salt is another, and no other word takes it in.
            let raises = matches!(
                food.function(),
                Function::Leavening | Function::Yeast | Function::Salt
            );
            let lower = words.to_lowercase();
            if raises
                && !of_another
                && !listed.stands(food)
                && !listed.says(&lower)
                && !named.contains(&id)
            {
                named.push(id);
                out.push(Unlisted {
                    step: step.number,
                    words: words.to_owned(),
                });
            }
        }
    }
    out.sort_by_key(|u| u.step);
    out
}

/// The last word of a name, in small letters.
pub(super) fn last_word(name: &str) -> Option<String> {
    name.split_whitespace().last().map(str::to_lowercase)
}

/// Amounts by the hand in a step: 'a good pinch of salt'.
fn by_hand(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut out = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let of = words.get(at + 1).is_some_and(|w| *w == "of");
        if !of || !BY_HAND.contains(&word.to_lowercase().as_str()) {
            continue;
        }
        let article = |back: usize| {
            let before = at.checked_sub(back).map(|n| words[n].to_lowercase());
            before.is_some_and(|w| matches!(w.as_str(), "a" | "an" | "one"))
        };
        let Some(back) = (1..=2).find(|back| article(*back)) else {
            continue;
        };
        let end = clause_end(&words, at + 2);
        if end > at + 2 {
            out.push(bare(&words[at - back..end]));
        }
    }
    out
}

/// Where the naming of a food that begins at a word ends.
fn clause_end(words: &[&str], from: usize) -> usize {
    let mut end = from;
    while end < words.len() && end < from + 4 && !ENDS.contains(&words[end].to_lowercase().as_str())
    {
        end += 1;
        if words[end - 1].ends_with(STOPS) {
            break;
        }
    }
    end
}

/// Words without the stop behind them.
fn bare(words: &[&str]) -> String {
    words.join(" ").trim_end_matches(STOPS).to_owned()
}

/// Pieces of a step that begin with a number and end before the next clause: '1/4 cup water'.
pub(crate) fn amounts(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let number = |w: &str| w.starts_with(|c: char| c.is_ascii_digit() || fraction(c).is_some());
    let mut out = Vec::new();
    let mut at = 0;
    while at < words.len() {
        if !number(words[at]) {
            at += 1;
            continue;
        }
        let mut end = at;
        while end < words.len() && end < at + 8 {
            let word = words[end].trim_matches(|c: char| "()".contains(c));
            if end > at && ENDS.contains(&word.to_lowercase().as_str()) {
                break;
            }
            // '25 g parmesan' and no full stop, then 'gas 6' or another amount.
            if end > at && number(word) && !words[end - 1].ends_with(|c: char| c.is_numeric()) {
                break;
            }
            end += 1;
            if words[end - 1].ends_with(STOPS) {
                break;
            }
        }
        out.push(bare(&words[at..end]));
        at = end;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    fn asked(method: &str) -> Option<String> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Us);
        let text = format!(
            "Date bars\n\n200 g pitted dates\n80 g unsalted butter\n200 g plain flour\n1 tsp ground cinnamon\n\nMethod\n{method}\n"
        );
        let recipe = crate::read::recipe(&text, &reader).expect("a recipe");
        let mut doubts = recipe.doubts.into_iter();
        doubts
            .find(|d| d.code == DoubtCode::InMethodOnly)
            .map(|d| d.message)
    }

    #[test]
    fn an_amount_on_no_line_is_asked_about() {
        for (method, words) in [
            (
                "1. Simmer the dates with 1/4 cup water until jammy.",
                "1/4 cup water",
            ),
            (
                "1. Stir in 2 tablespoons of honey, then the flour.",
                "2 tablespoons of honey",
            ),
            ("1. Mash the dates (add 60 ml milk).", "60 ml milk"),
            (
                "1. Mix.\n2. Brush with 1 tbsp cream and bake.",
                "1 tbsp cream",
            ),
        ] {
            let got = asked(method).expect(method);
            assert!(got.contains(words), "{got}");
        }
        // Each is named, and one food does not stand for another with its last word.
        let both = asked("1. Simmer with 1/4 cup water.\n2. Stir in 2 tbsp peanut butter.");
        let both = both.expect("two amounts");
        assert!(
            both.contains("water") && both.contains("peanut butter"),
            "{both}"
        );
        assert!(asked("1. Brush with 1 egg and bake.").is_some());
        let soda = asked("1. Stir in the soda and the flour.").expect("soda");
        assert!(soda.contains("step 1 takes soda"), "{soda}");
        assert!(asked("1. Add the yeast.").is_some());
        for (method, words) in [
            (
                "1. Mix with a good pinch of salt, then bake.",
                "a good pinch of salt",
            ),
            ("1. Add a splash of milk and mix.", "a splash of milk"),
            ("1. Stir in the salt and the flour.", "salt"),
        ] {
            let got = asked(method).expect(method);
            assert!(got.contains(&format!("takes {words}, which")), "{got}");
        }
        for method in [
            "1. Simmer the dates with 20 g butter for 5 minutes.",
            "1. Rub 1 cup of the flour with 2 tbsp butter.",
            "1. Press into a 9-inch pan and bake at 350 F for 25 minutes.",
            "1. Roll to 5 mm and cut into 12 bars of 40 g.",
            "1. Chill 2 hours, then bake 20 minutes more.",
            "1. Serve the soda bread with butter.",
            "1. Melt a knob of butter, stir in a handful of dates and a pinch of cinnamon.",
            "1. Bring salted water to the boil.",
            "1. Divide between the holes of a 12-cup muffin tin and bake.",
            "1. Spoon into a greased 6-cup muffin tin.",
        ] {
            assert_eq!(asked(method), None, "{method}");
        }
        // '1 tbsp stuffing' is of the part called so; without one it is bought.
        let filled = |head: &str| {
            let larder = Larder::built_in().expect("the built-in tables");
            let text = format!(
                "Parcels\n\nDough\n200 g plain flour\n80 ml water\n\n{head}\n200 g minced pork\n\nMethod\n1. Mix the dough.\n2. Put 1 tbsp stuffing in each and fold.\n"
            );
            let recipe = crate::read::recipe(&text, &Reader::new(&larder, Locale::Us));
            let doubts = recipe.expect("a recipe").doubts;
            doubts.iter().any(|d| d.code == DoubtCode::InMethodOnly)
        };
        assert!(!filled("Stuffing"));
        assert!(!filled("Pork stuffing"));
        assert!(filled("Inside"));
        // 'Oil' is the olive oil of the list, not what is pressed of a nut.
        let oiled = |oil: &str, takes: &str| {
            let larder = Larder::built_in().expect("the built-in tables");
            let text = format!(
                "Flat bread\n\n400 g bread flour\n6 tbsp {oil}, divided\n\n1. Mix with {takes}.\n"
            );
            let recipe = crate::read::recipe(&text, &Reader::new(&larder, Locale::Us));
            let doubts = recipe.expect("a recipe").doubts;
            doubts.iter().any(|d| d.code == DoubtCode::InMethodOnly)
        };
        for takes in ["2 tbsp oil", "2 tbsp of the oil", "2 tbsp of oil"] {
            assert!(!oiled("olive oil", takes), "{takes}");
            assert!(oiled("walnut oil", takes), "{takes}");
        }
    }
}
