//! Soda that stands with a soak of fruit, and softens it: it is no leavening of the batter.

use crate::Step;
use crate::sentences::{each, words};

/// What is softened so.
const FRUIT: [&str; 12] = [
    "date",
    "fig",
    "prune",
    "raisin",
    "sultana",
    "currant",
    "apricot",
    "fruit",
    "cranberry",
    "cranberrie",
    "cherrie",
    "peel",
];
/// How it is.
const SOAKS: [&str; 15] = [
    "soak",
    "soaked",
    "soaking",
    "steep",
    "soften",
    "boil",
    "boiling",
    "simmer",
    "simmering",
    "pour",
    "cover",
    "stand",
    "leave",
    "tea",
    "coffee",
];
/// What else soda is stirred into.
const BATTER: [&str; 9] = [
    "flour",
    "sift",
    "batter",
    "egg",
    "butter",
    "buttermilk",
    "yoghurt",
    "yogurt",
    "powder",
];

/// The step in which soda goes to fruit that is soaked or boiled: its number. `None` where the soda goes to flour
/// or batter, there or in any other step.
pub(super) fn soda_on_fruit(steps: &[&Step]) -> Option<usize> {
    let has = |all: &[String], list: &[&str]| all.iter().any(|w| list.contains(&w.as_str()));
    let soda = |all: &[String]| has(all, &["soda", "bicarb", "bicarbonate"]);
    let mut found = None;
    for step in steps {
        let all: Vec<Vec<String>> = each(&step.text).map(words).collect();
        for (n, said) in all.iter().enumerate().filter(|(_, s)| soda(s)) {
            if has(said, &BATTER) {
                return None;
            }
            // 'Simmer the dates in the water. Take off the heat and stir in the soda.'
            let near = &all[n.saturating_sub(1)..(n + 2).min(all.len())];
            let of = |list: &[&str]| near.iter().any(|s| has(s, list));
            let before = &all[n.saturating_sub(1)..=n];
            if before.iter().any(|s| has(s, &FRUIT)) && of(&SOAKS) {
                found = found.or(Some(step.number));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::step;

    fn on_fruit(method: &[&str]) -> Option<usize> {
        let all = method.iter().enumerate();
        let steps: Vec<Step> = all.map(|(n, t)| step(n + 1, t, None)).collect();
        let steps: Vec<&Step> = steps.iter().collect();
        soda_on_fruit(&steps)
    }

    #[test]
    fn soda_on_fruit_is_told_from_soda_in_the_batter() {
        for (method, want) in [
            (
                &["Tip the figs and the bicarb into a bowl, pour over the boiling water."][..],
                Some(1),
            ),
            (
                &[
                    "Cream the butter.",
                    "Simmer the dates in the water. Stir in the baking soda; it foams.",
                ],
                Some(2),
            ),
            (
                &["Soak the prunes in hot tea with the bicarbonate of soda for an hour."],
                Some(1),
            ),
            (
                &["Whisk flour, soda and salt.", "Soak the raisins in rum."],
                None,
            ),
            (
                &[
                    "Soak the dates with half the soda.",
                    "Sift the flour with the rest of the soda.",
                ],
                None,
            ),
            (
                &["Stir the soda into the buttermilk, fold in the raisins."],
                None,
            ),
            (&["Mix all. Add the soda. Leave for an hour."], None),
        ] {
            assert_eq!(on_fruit(method), want, "{method:?}");
        }
    }
}
