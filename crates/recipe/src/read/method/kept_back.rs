//! An amount that the method takes out of a line, where the rest of it is for the table: '25 g of the butter … the
//! rest is for spreading'.

use super::unlisted::{amounts, last_word};
use crate::doubt::{Doubt, DoubtCode};
use crate::line::Purpose;
use crate::read::Reader;
use crate::recipe::Recipe;
use crate::sentences::each;
use crate::weigh;
use larder::Certainty;

/// Words for what is left of a food; the food follows.
const REST: [&str; 4] = [
    "rest of the ",
    "remaining ",
    "remainder of the ",
    "leftover ",
];
/// Words that put it on the table. 'Spread the remaining butter over the dough' does not.
const TABLE: [&str; 6] = [
    "for spreading",
    "for the table",
    "for serving",
    "to serve",
    "serve with",
    "slice and spread",
];
/// A share of the line from which it is all of it.
const ALL: f64 = 0.95;

/// The doubt, with the grams that the method gives to either.
pub(in crate::read) fn doubt(recipe: &Recipe, reader: &Reader<'_>) -> Option<Doubt> {
    let grams = |line: &crate::Line| {
        let (weighed, _) = weigh::line(line, reader.larder, reader.locale);
        Some(weighed.first()?.grams?.likely().as_grams())
    };
    let for_table = |food: &str| {
        recipe.steps.iter().flat_map(|s| each(&s.text)).any(|s| {
            let said = s.to_lowercase();
            let left = REST.iter().any(|r| said.contains(&format!("{r}{food}")));
            left && TABLE.iter().any(|t| said.contains(t))
        })
    };
    for step in &recipe.steps {
        for words in amounts(&step.text)
            .iter()
            .filter(|w| w.contains(" of the "))
        {
            let line = reader.line(&words.replacen(" of the ", " ", 1));
            let ([item], Some(name)) = (line.items.as_slice(), last_word(words)) else {
                continue;
            };
            let sure = item
                .food
                .as_ref()
                .filter(|m| m.certainty == Certainty::Sure);
            let Some(food) = sure.map(|m| m.food) else {
                continue;
            };
            let lines = recipe.components.iter().flat_map(|c| &c.lines);
            let mut listed = lines.filter(|l| {
                let first = l.items.first();
                first.is_some_and(|i| {
                    i.purpose == Purpose::Formula && i.food.as_ref().is_some_and(|m| m.food == food)
                })
            });
            // Of two lines of butter nobody knows which is meant.
            let (Some(whole), None) = (listed.next(), listed.next()) else {
                continue;
            };
            let (Some(part), Some(all)) = (grams(&line), grams(whole)) else {
                continue;
            };
            if part < ALL * all && for_table(&name) {
                let rest = all - part;
                return Some(Doubt::new(
                    DoubtCode::RestForTable,
                    format!(
                        "step {} takes {part:.0} g of the {name} and the rest is for the table, but all {all:.0} g of its line are counted: write '{part:.0} g {name}' in the part that takes it, and '{rest:.0} g {name}, to serve'",
                        recipe.step_label(step.number)
                    ),
                ));
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    fn asked(method: &str) -> Option<String> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Uk);
        let text = format!(
            "Tea loaf\n\n250 g self-raising flour\n85g butter, softened, plus extra for the tin\n30 g plain flour\n\nMethod\n{method}\n"
        );
        let recipe = crate::read::recipe(&text, &reader).expect("a recipe");
        let mut doubts = recipe.doubts.into_iter();
        doubts
            .find(|d| d.code == DoubtCode::RestForTable)
            .map(|d| d.message)
    }

    /// 85 g less 25 g is 60 g.
    #[test]
    fn the_rest_for_the_table_is_asked_about() {
        for method in [
            "1. Rub 25g of the butter into the plain flour. The rest of the butter is for spreading.",
            "1. Rub 25 g of the butter into the plain flour and bake.\n2. Slice and spread with the remaining butter.",
        ] {
            let said = asked(method).expect(method);
            assert!(
                said.contains("step 1 takes 25 g of the butter")
                    && said.contains("all 85 g")
                    && said.contains("'60 g butter, to serve'"),
                "{said}"
            );
        }
        for method in [
            "1. Rub 25g of the butter into the flour. Spread the remaining butter over the dough.",
            "1. Rub 85g of the butter into the flour. Serve with the remaining butter.",
            "1. Rub in the butter. Serve with more butter.",
        ] {
            assert_eq!(asked(method), None, "{method}");
        }
    }
}
