//! Parts that the method boils down: what is weighed of them is their weight before.

use super::Formula;
use crate::rework::owners;
use crate::sentences::each;

/// Words behind 'reduced by'.
const SHARES: [&str; 8] = [
    "half", "a", "one", "two", "three", "third", "quarter", "thirds",
];
/// Units behind 'reduced to 200'.
const UNITS: [&str; 13] = [
    "ml", "l", "dl", "g", "cup", "cups", "litre", "litres", "liter", "liters", "pint", "pints",
    "oz",
];
/// What is boiled 'down', or 'until the water is gone'.
const BOILS: [&str; 8] = [
    "boil", "boiled", "boiling", "cook", "cooked", "simmer", "simmered", "bubble",
];
const LIQUIDS: [&str; 5] = ["water", "liquid", "juice", "juices", "wine"];

/// Whether a sentence boils something down: 'until reduced by half', 'boil down to 200 ml', 'until the liquid is gone'. 'Reduce
/// the oven to 180 °C' and 'reduce the heat' do not.
fn boils_down(said: &str) -> bool {
    let lower = said.to_lowercase();
    let all = lower.split(|c: char| !c.is_alphanumeric() && c != '.');
    let all: Vec<&str> = all.filter(|w| !w.is_empty()).collect();
    let is = |n: usize, list: &[&str]| all.get(n).is_some_and(|w| list.contains(w));
    let number = |n: usize| {
        all.get(n)
            .is_some_and(|w| w.starts_with(|c: char| c.is_ascii_digit()))
    };
    let has = |list: &[&str]| all.iter().any(|w| list.contains(w));
    let reduces = (0..all.len()).filter(|n| is(*n, &["reduce", "reduced", "reduces"]));
    let mut reduces = reduces.filter(|n| {
        let until = (n.saturating_sub(3)..*n).any(|b| is(b, &["until", "till"]));
        let until = until && all.get(*n) != Some(&"reduce");
        let by = is(n + 1, &["by"]) && is(n + 2, &SHARES);
        let to = is(n + 1, &["to"]) && number(n + 2) && is(n + 3, &UNITS);
        until || by || to
    });
    let down = || (1..all.len()).any(|n| is(n, &["down"]) && is(n - 1, &BOILS));
    let gone = || has(&LIQUIDS) && has(&["gone", "evaporated", "evaporates"]);
    reduces.next().is_some() || down() || gone()
}

impl Formula {
    /// What is said beside the weight of a part that the method boils down; `None` where it does not.
    #[must_use]
    pub fn boiled_down(&self, part: usize) -> Option<String> {
        let steps = self.recipe.steps.iter().zip(owners(&self.recipe));
        let step = steps
            .filter(|(_, owner)| *owner == part)
            .map(|(step, _)| step)
            .find(|step| each(&step.text).any(boils_down))?;
        Some(format!(
            "Weighed before step {} boils it down: what is left is lighter, and so are the pieces it goes into. Weigh it then.",
            self.recipe.step_label(step.number)
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::boils_down;

    #[test]
    fn only_what_boils_down_is_boiled_down() {
        for said in [
            "Simmer the plums until reduced by half",
            "Simmer until the water is nearly gone",
            "Boil down to 200 ml",
            "Let it bubble until it has reduced to a syrup",
            "Simmer, reduced to 1 cup, about 20 minutes",
            "Cook until the liquid has evaporated",
        ] {
            assert!(boils_down(said), "{said}");
        }
        for said in [
            "Reduce the oven to 180 °C",
            "Reduce the heat and simmer for 10 minutes",
            "Reduce to 180 °C and bake for 20 minutes",
            "Lower the oven temperature, reduced by 20 °C",
            "Boil the syrup for 2 minutes",
            "Bake until the wobble is gone",
            "Knock down the dough",
        ] {
            assert!(!boils_down(said), "{said}");
        }
    }
}
