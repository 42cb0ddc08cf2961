//! Amounts of foods that only the method names: 'simmer with 1/4 cup water' where no line has water.

use crate::doubt::{Doubt, DoubtCode};
use crate::read::Reader;
use crate::recipe::Recipe;
use larder::{Certainty, FoodId};
use quantity::UnitKind;

/// Words that end the naming of a food.
const ENDS: &[&str] = &[
    "and", "or", "until", "in", "into", "over", "then", "for", "with", "to", "on", "at", "if",
    "just", "plus", "from",
];

/// An amount of a food that only the method names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unlisted {
    /// The step's number, see [`crate::Step::number`].
    pub step: usize,
    /// Its words: '1/4 cup water'.
    pub words: String,
}

/// A doubt for the first such amount.
pub(in crate::read) fn doubt(recipe: &Recipe, reader: &Reader<'_>) -> Option<Doubt> {
    let found = unlisted(recipe, reader)?;
    Some(Doubt::new(
        DoubtCode::InMethodOnly,
        format!(
            "step {} takes {}, which stands on no line and is in no figure: if it goes into the food, write it as a line of its part",
            recipe.step_label(found.step),
            found.words
        ),
    ))
}

/// The first amount of the method whose food stands on no line.
#[must_use]
pub fn unlisted(recipe: &Recipe, reader: &Reader<'_>) -> Option<Unlisted> {
    let lines = || recipe.components.iter().flat_map(|c| &c.lines);
    let listed: Vec<FoodId> = lines()
        .flat_map(|l| &l.items)
        .flat_map(|i| {
            let own = i.food.iter().map(|m| m.food);
            own.chain(i.further().map(|f| f.0))
                .chain(i.alternatives.iter().copied())
        })
        .collect();
    let texts: Vec<String> = lines().map(|l| l.text.to_lowercase()).collect();
    let unlisted = |food: FoodId| {
        let name = &reader.larder.food(food).name;
        // 'Butter' stands for unsalted butter, and 'water' for ice water.
        let last = name
            .split_whitespace()
            .last()
            .unwrap_or(name)
            .to_lowercase();
        !listed.contains(&food) && !texts.iter().any(|t| t.contains(&last))
    };
    for step in &recipe.steps {
        for words in amounts(&step.text) {
            let line = reader.line(&words);
            let [item] = line.items.as_slice() else {
                continue;
            };
            let mut units = item.amounts.iter().filter_map(|a| a.unit);
            let weighed = units.any(|u| matches!(u.kind(), UnitKind::Mass | UnitKind::Volume));
            let food = item.food.as_ref();
            let sure = food.filter(|m| m.certainty == Certainty::Sure && unlisted(m.food));
            if weighed && sure.is_some() {
                return Some(Unlisted {
                    step: step.number,
                    words,
                });
            }
        }
    }
    None
}

/// Pieces of a step that begin with a number and end before the next clause: '1/4 cup water'.
fn amounts(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let number = |w: &str| w.starts_with(|c: char| c.is_ascii_digit() || "½⅓⅔¼¾⅛".contains(c));
    let mut out = Vec::new();
    let mut at = 0;
    while at < words.len() {
        if !number(words[at]) {
            at += 1;
            continue;
        }
        let mut end = at;
        while end < words.len() && end < at + 8 {
            let bare = words[end].trim_matches(|c: char| "()".contains(c));
            if end > at && ENDS.contains(&bare.to_lowercase().as_str()) {
                break;
            }
            end += 1;
            if words[end - 1].ends_with([',', ';', '.', ':', ')', '!']) {
                break;
            }
        }
        let piece = words[at..end].join(" ");
        out.push(
            piece
                .trim_end_matches([',', ';', '.', ':', ')', '!'])
                .to_owned(),
        );
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
        for method in [
            "1. Simmer the dates with 20 g butter for 5 minutes.",
            "1. Rub 1 cup of the flour with 2 tbsp butter.",
            "1. Press into a 9-inch pan and bake at 350 F for 25 minutes.",
            "1. Roll to 5 mm and cut into 12 bars of 40 g.",
            "1. Chill 2 hours, then bake 20 minutes more.",
        ] {
            assert_eq!(asked(method), None, "{method}");
        }
    }
}
