//! What a balance cannot tell: water that boils off before mixing, and what stands on a label alone.

use super::balance::Balance;
use super::engine::Work;
use super::reworked::Kept;
use crate::household::percent;
use crate::sentences::each;
use crate::{Doubt, DoubtCode};
use larder::{FoodId, Function};

/// Words for butter that is browned, whole; 'fry in butter until brown' is of what is fried.
const BROWNED: [&str; 11] = [
    "brown the butter",
    "brown butter",
    "browned butter",
    "butter browns",
    "butter is brown",
    "butter has browned",
    "butter turns brown",
    "butter until brown",
    "butter is nutty",
    "noisette",
    "nutty",
];
/// What is toasted in butter until it smells nutty.
const TOASTED: [&str; 10] = [
    "oat", "nuts", "crumb", "coconut", "flour", "seed", "almond", "hazel", "rice", "bulgur",
];
/// Fat with less water than this is clear already, %.
const CLEAR: f64 = 5.0;
/// Less than this of the flour is no food of the formula's balance, %.
const LITTLE: f64 = 5.0;

/// Whether a step browns the butter.
fn browns(step: &str) -> bool {
    each(step).any(|s| {
        let said = s.to_lowercase();
        let toasts = || TOASTED.iter().any(|w| said.contains(w));
        let how = BROWNED.iter().find(|w| said.contains(*w));
        said.contains("butter") && how.is_some_and(|w| *w != "nutty" || !toasts())
    })
}

impl Work<'_> {
    /// A doubt where the method browns butter that was weighed raw: its water is in the hydration, as in the
    /// published formulas that it is held against, and not in the bowl.
    pub(super) fn boils_off(&self) -> Option<Doubt> {
        let steps = || self.steps.iter().map(|s| s.text.as_str());
        let lines = || {
            let read = &self.formula.recipe.components[self.at].lines;
            self.lines
                .iter()
                .filter(|l| {
                    let food = l.food.map(|f| self.larder.food(f));
                    let butter = food.is_some_and(|f| {
                        f.function() == Function::Fat && f.key.ends_with("_butter")
                    });
                    l.in_formula && l.kept != Kept::Dropped && butter
                })
                .map(|l| {
                    let text = l
                        .origin
                        .and_then(|o| read.get(o.0))
                        .map_or("", |r| r.clean.as_str());
                    (l, browns(text))
                })
        };
        let by_method = steps().any(browns);
        let said = lines().any(|l| l.1);
        let water: f64 = lines()
            .filter(|l| if said { l.1 } else { by_method })
            .filter_map(|(l, _)| {
                let share = self
                    .larder
                    .composition(l.food?)
                    .water
                    .filter(|w| *w >= CLEAR)?;
                Some(l.grams?.likely().as_grams() * share / 100.0)
            })
            .sum();
        let balance = self.balance();
        let (flour, wet) = (
            balance.flour.likely().as_grams(),
            balance.hydration?.likely().get(),
        );
        let less = 100.0 * water / flour;
        (water > 0.0 && less >= 1.0).then(|| {
            Doubt::new(
                DoubtCode::WaterBoilsOff,
                format!(
                    "the butter is browned: up to {water:.0} g of its water boils off, which the hydration of {} counts, as published formulas do; without it {}",
                    percent(wet),
                    percent(wet - less)
                ),
            )
        })
    }

    /// A doubt for what was put in and has its composition on its label alone: fat, sugar and water of the balance
    /// after leave it out.
    pub(super) fn on_the_label(&self, after: &Balance) -> Option<Doubt> {
        let flour = after.flour.likely().as_grams();
        let known = |f: FoodId| {
            let c = self.larder.composition(f);
            c.fat.is_some() || c.sugars.is_some() || c.water.is_some()
        };
        let lines = self.lines.iter().filter(|l| {
            let unknown = l
                .food
                .is_some_and(|f| !known(f) && !self.larder.food(f).is_flour_phase());
            let share = l
                .grams
                .map_or(0.0, |g| 100.0 * g.likely().as_grams() / flour);
            l.in_formula && l.kept != Kept::Dropped && unknown && share >= LITTLE
        });
        let names: Vec<String> = lines
            .filter_map(|l| {
                Some(format!(
                    "{} of {}",
                    self.grams(l.food, l.grams?.likely()),
                    l.name
                ))
            })
            .collect();
        (!names.is_empty()).then(|| {
            Doubt::new(
                DoubtCode::CompositionOnLabel,
                format!(
                    "what is in {} stands on its label: fat, sugar and water of the balance after are without it, and at least what they say",
                    names.join(" and ")
                ),
            )
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::{Reader, recipe};
    use crate::rework::{Options, rework};
    use larder::Larder;
    use quantity::Locale;

    /// The message of a doubt about the first part of a recipe.
    fn doubt(text: &str, code: DoubtCode) -> Option<String> {
        let larder = Larder::built_in().expect("the built-in tables");
        let read = recipe(text, &Reader::new(&larder, Locale::Us)).expect("a recipe");
        let formula = crate::weigh::formula(read, &larder, Locale::Us).expect("a formula");
        let done = rework(formula, &larder, &Options::default());
        let mut doubts = done
            .components
            .into_iter()
            .next()
            .expect("a part")
            .doubts
            .into_iter();
        doubts.find(|d| d.code == code).map(|d| d.message)
    }

    fn cake(butter: &str, method: &str) -> String {
        format!(
            "Plum cake\n\n100 g plain flour\n{butter}\n120 g sugar\n100 g egg\n\nMethod\n1. {method}\n2. Beat the eggs and sugar, fold in the flour and bake at 180 C for 30 minutes.\n"
        )
    }

    /// Unsalted butter is 17.94 % water (SR28 01145): 100 g holds 18 g, 18 % of 100 g of flour.
    #[test]
    fn water_of_browned_butter_is_told() {
        for (butter, method) in [
            (
                "100 g unsalted butter",
                "Melt the butter over medium heat and cook until it smells nutty.",
            ),
            ("100 g unsalted butter", "Brown the butter, then cool it."),
            (
                "100 g unsalted butter, browned and cooled",
                "Take a browned butter that is cool.",
            ),
        ] {
            let got = doubt(&cake(butter, method), DoubtCode::WaterBoilsOff).expect(method);
            assert!(got.contains("up to 18 g of its water"), "{got}");
            let figures: Vec<f64> = got
                .split(' ')
                .filter_map(|w| {
                    w.trim_end_matches(['%', ';'])
                        .split('\u{a0}')
                        .next()?
                        .parse()
                        .ok()
                })
                .collect();
            let (with, without) = (figures[1], figures[2]);
            assert!((with - without - 18.0).abs() <= 1.0, "{got}");
        }
        for (butter, method) in [
            ("100 g unsalted butter", "Melt the butter."),
            (
                "100 g unsalted butter",
                "Butter the tin and bake until brown. Butter is best soft.",
            ),
            (
                "100 g unsalted butter",
                "Toast the flour in the butter until nutty.",
            ),
            (
                "100 g ghee",
                "Heat until nutty; it takes the place of butter.",
            ),
        ] {
            assert_eq!(
                doubt(&cake(butter, method), DoubtCode::WaterBoilsOff),
                None,
                "{method}"
            );
        }
    }

    /// Biscuits labelled gluten-free have no composition in the larder: their sugar is not 0.
    #[test]
    fn what_stands_on_a_label_is_told() {
        let text = |crumbs: &str| {
            format!(
                "Crumb topping\n\n90 g plain flour\n{crumbs}\n60 g butter\n\nMethod\n1. Rub together and bake for 20 minutes.\n"
            )
        };
        let got = doubt(
            &text("30 g graham cracker crumbs"),
            DoubtCode::CompositionOnLabel,
        );
        let got = got.expect("a doubt");
        assert!(got.contains("of cookies, labelled gluten-free"), "{got}");
        assert_eq!(
            doubt(&text("30 g sugar"), DoubtCode::CompositionOnLabel),
            None
        );
    }
}
