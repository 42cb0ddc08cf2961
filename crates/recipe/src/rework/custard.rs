//! What egg sets in the oven, with hardly any flour: a cheesecake, a custard tart, a clafoutis. No
//! style of dough or batter fits it, and no published sauce holds egg.

use super::engine::Work;
use super::method::{does, last_of};
use super::steps::steps_of;
use super::style::Style;
use crate::aside::taking;
use crate::recipe::{Activity, Step};
use crate::sentences::{each, singular};
use larder::Function;

/// What it is called.
pub(super) const SET_BY_EGG: &str =
    "egg sets it in the oven and its flour only thickens, as in a cheesecake or a custard tart";
/// Egg weighs as much as the flour at least, percent.
const LEAST_EGG: f64 = 100.0;
/// Less flour than this share of the meat or fish beside it coats or thickens (common practice, no
/// source).
const COATING: f64 = 0.3;
/// What it is called.
pub(super) const COATS: &str =
    "its flour coats or thickens meat or fish, and makes no batter or dough";
/// More egg than this, percent of the flour, and it is no sauce as they are published: none of the
/// formulas in crates/evidence/data/formulas has any.
const NO_EGG: f64 = 25.0;
/// Words of what thickens on the stove, before it is baked or without being baked.
pub(super) const ON_THE_STOVE: [&str; 15] = [
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

/// A word in small letters, without a plural's 's'.
fn one(word: &str) -> String {
    singular(&word.to_lowercase()).to_owned()
}

/// Whether a sentence in small letters puts what is called so into something, or fills without saying with
/// what.
fn puts(said: &str, called: &[String]) -> bool {
    const PUTS: [&str; 12] = [
        "add", "fill", "ladle", "layer", "pipe", "pour", "put", "scrape", "spoon", "spread", "tip",
        "top",
    ];
    let words = || said.split(|c: char| !c.is_alphanumeric()).map(one);
    let puts = words().any(|w| PUTS.contains(&w.as_str()));
    let fills = words().any(|w| w == "fill") && !said.contains(" with ");
    fills || puts && words().any(|w| called.contains(&w))
}

impl Work<'_> {
    /// Whether egg sets it in the oven, where it was taken for this style.
    pub(super) fn is_set_by_egg(&self, style: Style) -> bool {
        let says = |s: &&Step, words: &[&str]| {
            let text = s.text.to_lowercase();
            words.iter().any(|w| text.contains(w))
        };
        self.original.egg >= LEAST_EGG
            && !self.coats_meat()
            && self.holds_yolk()
            && (style.is_thickened() || self.no_batter(style).is_some())
            && !self.steps.iter().any(|s| says(s, &ON_THE_STOVE))
            && self.is_baked_by_the_method()
    }

    /// Whether its flour is next to nothing beside meat or fish: what it coats is no batter or dough.
    pub(super) fn coats_meat(&self) -> bool {
        let meat = self.weighed.items.iter().filter(|w| {
            let food = w.food.map(|f| self.larder.food(f));
            w.in_formula && food.is_some_and(|f| f.does(Function::Meat))
        });
        let meat: f64 = meat
            .filter_map(|w| w.grams)
            .map(|g| g.likely().as_grams())
            .sum();
        self.original.flour.likely().as_grams() < COATING * meat && !self.is_called_batter()
    }

    /// Whether its name or its steps call it a batter, or egg and at least the flour's weight of liquid make
    /// it one: no sauce holds egg.
    fn is_called_batter(&self) -> bool {
        let name = &self.formula.recipe.components[self.at].name;
        let steps = self.steps.iter().map(|s| s.text.as_str());
        let said = |text: &str| {
            let mut words = text.split(|c: char| !c.is_alphabetic());
            words.any(|w| one(w) == "batter")
        };
        let liquids = self.weighed.items.iter().filter(|w| {
            let food = w.food.map(|f| self.larder.food(f));
            w.in_formula && food.is_some_and(|f| f.does(Function::Liquid))
        });
        let liquid: f64 = liquids
            .filter_map(|w| w.grams)
            .map(|g| g.likely().as_grams())
            .sum();
        let flour = self.original.flour.likely().as_grams();
        let pours = flour > 0.0 && liquid >= flour && self.original.egg > NO_EGG;
        pours || steps.chain([name.as_str()]).any(said)
    }

    /// Whether the method bakes it: in a step of its own, in one of a part that weighs it, or in what it is
    /// put into before.
    fn is_baked_by_the_method(&self) -> bool {
        let recipe = &self.formula.recipe;
        let first = self.steps.first().map_or(0, |s| s.number);
        let later = || recipe.steps.iter().filter(|s| s.number >= first);
        let bakes = |s: &Step| does(s, Activity::Bake);
        let owners = steps_of(recipe);
        let owner = |s: &Step| owners.get(s.number - 1).copied().unwrap_or(self.at);
        let weighs = |part: usize| {
            let mut items = self.formula.components[part].items.iter();
            items.any(|i| i.component == Some(self.at))
        };
        let name = recipe.components[self.at].name.as_str();
        if later().any(|s| bakes(s) && (name.is_empty() || owner(s) == self.at || weighs(owner(s))))
        {
            return true;
        }
        let Some(last) = later().rfind(|s| bakes(s)) else {
            return false;
        };
        let mut before = later().filter(|s| s.number <= last.number);
        before.any(|s| {
            let bake = last_of(s, Activity::Bake);
            let to = bake.filter(|_| s.number == last.number);
            let text = &s.text[..to.map_or(s.text.len(), |f| f.span.start)];
            let text = taking(text).to_lowercase();
            let called = self.called(name, owner(s) == self.at);
            each(&text).any(|said| puts(said, &called))
        })
    }

    /// The words that name it in a step: the last of its name; in the steps of others also what in it sets.
    fn called(&self, name: &str, own_step: bool) -> Vec<String> {
        let items = self.weighed.items.iter().filter_map(|i| i.food);
        let sets = items.map(|f| self.larder.food(f));
        let sets = sets.filter(|f| f.spoils() && !own_step);
        let last = |name: &str| name.split_whitespace().next_back().map(one);
        let own = sets.filter_map(|f| last(&f.name)).chain(last(name));
        own.chain(["custard", "filling"].map(one)).collect()
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
