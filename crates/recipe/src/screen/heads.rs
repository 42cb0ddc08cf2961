//! Headings of one or two words that may name something bought: 'Zingo' over '2 tbsp oil' and '1 tsp salt'.

use super::eaten;
use super::words::split;
use crate::Recipe;
use crate::pieces::{PIECES, SHAPES};
use crate::read::{is_made_in, is_made_part};
use larder::Larder;
use quantity::Locale;

/// The headings of a recipe whose words nobody knows: no part or food, nothing that title or method make.
/// One with a colon, or of other words than names, says itself that it is a heading.
pub(super) fn unknown<'r>(recipe: &'r Recipe, larder: &Larder, locale: Locale) -> Vec<&'r str> {
    let heading = |c: &'r crate::Component| Some((c.heading.as_deref()?.trim(), c));
    let headings = recipe.components.iter().enumerate();
    let headings = headings.filter_map(|(at, c)| Some((at, heading(c)?.0)));
    headings
        .filter(|(at, text)| {
            let plain = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '\'' | '’');
            let words = split(text);
            let lower = text.to_lowercase();
            let Some(last) = words.last().filter(|_| words.len() <= 2) else {
                return false;
            };
            let last = last.text.as_str();
            let leads = matches!(words[0].text.as_str(), "for" | "to" | "the" | "make");
            let piece = |w: &&str| **w == *last || w.strip_suffix('s') == Some(last);
            let titled = recipe.title.as_deref().unwrap_or_default().to_lowercase();
            text.chars().all(plain)
                && !leads
                && !last.ends_with("ing")
                && !eaten::is_no_food(last)
                && !is_made_part(&lower)
                && !PIECES.iter().chain(&SHAPES).any(piece)
                && larder.names().mentions(text, locale).is_empty()
                && !larder.names().is_remark(text)
                && !titled.contains(&lower)
                && !recipe.steps.iter().any(|s| s.component == Some(*at))
                && !makes(recipe, &lower)
        })
        .map(|(_, text)| text)
        .collect()
}

/// Whether the method makes what is called so, in small letters: 'make the wobble', 'for the wobble, beat'.
pub(super) fn makes(recipe: &Recipe, name: &str) -> bool {
    recipe.steps.iter().any(|s| is_made_in(&s.text, name))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(heading: &str, step: &str) -> bool {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = crate::read::Reader::new(&larder, Locale::Uk);
        let text = format!(
            "Quick supper\n\n300 g rice\n1 onion\n\n{heading}\n2 tbsp oil\n1 tsp salt\n\nMethod\n1. {step}\n"
        );
        let recipe = crate::read::recipe(&text, &reader).expect("reads");
        !unknown(&recipe, &larder, Locale::Uk).is_empty()
    }

    #[test]
    fn a_word_that_nobody_knows_over_a_list_may_be_bought() {
        for heading in ["Zingo", "Tim Wafles", "ZINGO"] {
            assert!(told(heading, "Cook it all."), "{heading}");
        }
        for heading in [
            "Zingo:",
            "For the zingo",
            "Moussaka base",
            "Crumble",
            "Buttercream",
            "Assembly",
            "Topping",
            "Praline",
            "Day two",
            "Dry",
            "Finishing",
            "Levain",
            "Quick Supper",
            "Salad",
            "Swirls",
            "Pancakes",
            "Poolish",
            "Choux",
        ] {
            assert!(!told(heading, "Cook it all."), "{heading}");
        }
        assert!(!told("Zingo", "Make the zingo: fry the onion in the oil."));
        assert!(!told("Zingo", "For the zingo, fry the onion in the oil."));
        assert!(told("Zingo", "Stir in the zingo."));
        assert!(told("Zingo", "Make the zingo as its packet says."));
    }
}
