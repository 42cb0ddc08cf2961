//! What egg sets in the oven, with hardly any flour: a cheesecake, a custard tart, a clafoutis. No
//! style of dough or batter fits it, and no published sauce holds egg.

use super::engine::Work;
use super::style::Style;
use crate::recipe::{Activity, Step};
use larder::Function;

/// What it is called.
pub(super) const SET_BY_EGG: &str =
    "egg sets it in the oven and its flour only thickens, as in a cheesecake or a custard tart";
/// Egg weighs as much as the flour at least, percent.
const LEAST_EGG: f64 = 100.0;
/// More egg than this, percent of the flour, and it is no sauce as they are published: none of the
/// formulas in crates/evidence/data/formulas has any.
const NO_EGG: f64 = 25.0;
/// Words of what thickens on the stove, before it is baked or without being baked.
const ON_THE_STOVE: [&str; 15] = [
    "boil",
    "simmer",
    "thicken",
    "until thick",
    "over a low",
    "over low",
    "over a medium",
    "over medium",
    "cook,",
    "cook over",
    "cook until",
    "coats",
    "flame",
    "gentle heat",
    "stirring",
];

impl Work<'_> {
    /// Whether egg sets it in the oven, where it was taken for this style.
    pub(super) fn is_set_by_egg(&self, style: Style) -> bool {
        let says = |s: &&Step, words: &[&str]| {
            let text = s.text.to_lowercase();
            words.iter().any(|w| text.contains(w))
        };
        let first = self.steps.first().map_or(0, |s| s.number);
        let mut all = self.formula.recipe.steps.iter();
        let baked = all.any(|s| s.number >= first && super::method::does(s, Activity::Bake));
        self.original.egg >= LEAST_EGG
            && self.holds_yolk()
            && (style.is_thickened() || self.no_batter(style).is_some())
            && baked
            && !self.steps.iter().any(|s| says(s, &ON_THE_STOVE))
    }

    /// Whether there is yolk in it: whites alone make a foam, no custard.
    pub(super) fn holds_yolk(&self) -> bool {
        let foods = self.weighed.items.iter().filter(|w| w.in_formula);
        foods.filter_map(|w| w.food).any(|f| {
            let fat = self.larder.composition(f).fat.unwrap_or(0.0);
            self.larder.food(f).function() == Function::Egg && fat > 5.0
        })
    }

    /// Whether it has egg that no published formula of the style has.
    pub(super) fn has_unpublished_egg(&self, style: Style) -> bool {
        style.is_thickened() && self.original.egg > NO_EGG
    }
}
