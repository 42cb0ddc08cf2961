//! Meat, poultry and fish in a bake: done by the temperature of the middle, not by colour.

use super::Caution;
use crate::data::rows;
use larder::{Food, Function};
use std::sync::LazyLock;

/// A kind of meat with what is said of it. Its source stands in `core_temperatures.tsv`.
pub(super) struct Row {
    foods: Vec<&'static str>,
    words: Vec<&'static str>,
    pub caution: Caution,
}

pub(super) static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    rows(include_str!("../../data/core_temperatures.tsv"))
        .map(|r| Row {
            foods: r.get("foods").split(' ').collect(),
            words: r.get("words").split('|').collect(),
            caution: Caution {
                code: r.get("code"),
                text: r.get("text"),
                source: r.get("source"),
            },
        })
        .collect()
});

/// With one of these right behind it a name is no meat: fat, stock and sauce are no pieces to be
/// cooked through. 'Duck breast in plum sauce' is meat all the same.
const NO_MEAT_BEHIND: &[&str] = &[
    "egg",
    "eggs",
    "fat",
    "dripping",
    "stock",
    "broth",
    "bouillon",
    "gravy",
    "sauce",
    "paste",
    "seasoning",
    "spice",
    "lettuce",
    "bean",
    "beans",
];
/// With one of these right before it neither.
const NO_MEAT_BEFORE: &[&str] = &[
    "vegan",
    "vegetarian",
    "meatless",
    "mock",
    "based",
    "jackfruit",
];
/// What is said of a meat of the kitchen's own whose name tells no kind.
const UNTOLD: &str = "raw_meat";

/// What is said of an ingredient: of a food of the larder by its key, of any other that is meat, or
/// may be, by its words. Nothing for what is no meat, poultry or fish.
///
/// # Arguments
/// * `food` — what it surely is; nothing where the larder has it not, or only nearly.
/// * `words` — its name as written.
///
/// # Source
/// foodsafety.gov, safe minimum internal temperatures (copies seen).
#[must_use]
pub fn core_cautions(food: Option<&Food>, words: &str) -> Vec<Caution> {
    let key = food.map_or("", |f| f.key.as_str());
    let meat = food.is_some_and(|f| f.does(Function::Meat));
    let chosen = |fits: &dyn Fn(&Row) -> bool| -> Vec<Caution> {
        let rows = ROWS.iter().filter(|r| fits(r));
        rows.map(|r| r.caution).collect()
    };
    let by_key = chosen(&|r| r.foods.contains(&key));
    if !by_key.is_empty() || (food.is_some() && !meat) {
        return by_key;
    }
    let words = words.to_lowercase();
    let words: Vec<&str> = words
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    let said = |name: &str| {
        let name: Vec<&str> = name.split(' ').collect();
        words.windows(name.len()).enumerate().any(|(at, w)| {
            let mut behind = words.iter().skip(at + name.len()).filter(|w| **w != "s");
            let before = at.checked_sub(1).map(|b| words[b]);
            w == name
                && !behind.next().is_some_and(|w| NO_MEAT_BEHIND.contains(w))
                && !before.is_some_and(|w| NO_MEAT_BEFORE.contains(&w))
        })
    };
    let by_words = chosen(&|r| r.words.iter().any(|w| said(w)));
    if by_words.is_empty() && meat {
        return chosen(&|r| r.caution.code == UNTOLD);
    }
    by_words
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;

    #[test]
    fn every_meat_of_the_larder_has_its_core() {
        let larder = Larder::built_in().expect("tables");
        let mut seen = 0;
        for id in larder.ids() {
            let food = larder.food(id);
            let said = core_cautions(Some(food), &food.name);
            assert_eq!(!said.is_empty(), food.does(Function::Meat), "{}", food.key);
            assert!(said.len() < 2, "{}", food.key);
            seen += said.len();
        }
        let listed: usize = ROWS.iter().map(|r| r.foods.len()).sum();
        assert_eq!(seen, listed, "a key of the table is in no larder");
    }

    /// The published figures, °C and °F.
    ///
    /// # Source
    /// foodsafety.gov, safe minimum internal temperatures (copies seen): ground meat and sausage
    /// 160 °F, poultry 165 °F, whole cuts 145 °F and 3 minutes, fish 145 °F, casseroles 165 °F.
    #[test]
    fn figures_are_the_published_ones() {
        for (code, fahrenheit) in [
            ("sausage_or_mince", vec![160, 165]),
            ("raw_poultry", vec![165]),
            ("raw_meat", vec![145, 165]),
            ("raw_fish", vec![145]),
            ("cooked_meat", vec![165]),
        ] {
            let row = ROWS.iter().find(|r| r.caution.code == code).expect(code);
            for f in fahrenheit {
                let celsius = f64::from(f - 32) / 1.8;
                let said = format!("{celsius:.0} °C ({f} °F)");
                assert!(row.caution.text.contains(&said), "{code}: {said}");
            }
            assert!(row.caution.text.contains("local rules come first"));
        }
    }

    #[test]
    fn what_the_larder_has_not_is_known_by_its_words() {
        let codes = |words: &str| -> Vec<&str> {
            core_cautions(None, words).iter().map(|c| c.code).collect()
        };
        assert_eq!(codes("turkey thigh, diced"), ["raw_poultry"]);
        assert_eq!(codes("Lamb mince"), ["sausage_or_mince", "raw_meat"]);
        assert_eq!(codes("smoked trout"), ["raw_fish"]);
        assert_eq!(codes("queen scallops"), ["raw_shellfish"]);
        for words in [
            "duck breast in plum sauce",
            "pork and beans",
            "beef in gravy",
            "fat-trimmed lamb",
        ] {
            assert!(!codes(words).is_empty(), "{words}");
        }
        for words in [
            "goose fat",
            "duck eggs",
            "vegan sausages",
            "lamb's lettuce",
            "plant-based burger",
            "crab apples",
            "kidney beans",
        ] {
            assert!(codes(words).is_empty(), "{words}");
        }
    }
}
