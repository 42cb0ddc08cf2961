//! Styles that no ratio to the flour tells: what is in it does, and what it is called.

use super::engine::{UNSURE, Work};
use super::reworked::StyleChoice;
use super::steps::{is_crumb, is_folded_in, laminates};
use super::style::{Guess, Style};
use crate::sentences::words;
use crate::weigh::is_nut_filling;
use larder::{Function, Gluten};

/// What is called so and made of what it is made of is it.
const BY_NAME: f64 = 0.95;
/// Ratios and name say one style.
const SAID: f64 = 0.8;
/// A guess from ratios that fit no style's windows is less sure.
const FITS_NONE: f64 = 0.2;
/// Nuts are at least this share of the flour phase of a frangipane, whose butter, sugar, nuts and egg weigh
/// about the same, with a little flour or none (common practice, no source).
const NUTS: f64 = 0.6;
/// Fat, sugar and egg of a frangipane at the least, percent of its nuts and flour.
const LEAST: f64 = 30.0;
/// Flour of a potato dough at the least, of the weight of the mash; with less it is a batter or only
/// dusted (common practice, no source).
const LEAST_FLOUR: f64 = 0.12;
/// The most sugar, egg and liquid of one, percent of the flour: with more it is a cake, a batter, a soup.
const MOST: [f64; 3] = [20.0, 60.0, 80.0];
/// Starch of a meringue at the most, of the weight of its whites (common practice, no source).
const MOST_STARCH: f64 = 0.15;
/// Words that say that it is handled as a dough.
const DOUGH: [&str; 7] = [
    "dough", "gnocchi", "dumpling", "lefse", "scone", "farl", "knead",
];

/// Cakes by another name. A word for one of these styles speaks for each: set as the one or the other, a cake is a cake,
/// whatever it does to a sauce or a cookie.
const CAKES: [&str; 3] = ["butter_cake", "sponge_cake", "muffin_quick_bread"];
/// What else a cake is called that is baked in a tin and cut, one of it ('loaves' as [`words`] has it).
const CUT_CAKES: [&str; 9] = [
    "bar", "buckle", "slab", "traybake", "torte", "gateau", "gâteau", "square", "loave",
];

/// Whether words, in small letters, speak for a style, or for its kind of cake.
fn speaks_for(style: Style, called: &[String]) -> bool {
    let cakes = || Style::all().filter(|s| CAKES.contains(&s.key()));
    let cake = |w: &str| CUT_CAKES.contains(&w) || cakes().any(|s| s.is_said_by(w));
    let is_cake = CAKES.contains(&style.key());
    called
        .iter()
        .any(|w| style.is_said_by(w) || is_cake && cake(w))
}

impl Work<'_> {
    /// The style by what is in it and what it is called.
    pub(super) fn told(&self) -> Option<StyleChoice> {
        let items = self.weighed.items.iter().filter(|w| w.in_formula);
        let foods = items.filter_map(|w| w.food);
        let (key, next, confidence) = if self.is_frangipane() {
            ("frangipane", "butter_cake", BY_NAME)
        } else if is_nut_filling(&self.weighed.name, foods, self.larder) {
            ("filling", "crumb_streusel", BY_NAME)
        } else if self.is_potato_dough() {
            let sure = self.is_called(&DOUGH);
            let sure = if sure { BY_NAME } else { UNSURE };
            ("potato_dough", "pancake_crepe", sure)
        } else if self.is_rolled_with_fat() {
            ("laminated", "enriched_dough", BY_NAME)
        } else {
            return None;
        };
        Some(StyleChoice {
            style: Style::from_key(key)?,
            confidence,
            next: Style::from_key(next),
            named: false,
            fits_none: None,
        })
    }

    /// The guess beside what it is plainly called: surer where both say one style, the name's where the ratios of a
    /// batter fit none ('banana bread', as wet as its bananas), or those of a crumb with fat in it (seeds and cheese).
    pub(super) fn as_called(&self, guess: Guess, name: &str) -> Guess {
        let batter = |s: Style| matches!(s.key(), "butter_cake" | "muffin_quick_bread");
        let crumb = |s: Style| s.key() == "crumb_streusel" && is_crumb(name);
        // 'Soda bread': no yeast raises it, so it is no flatbread.
        let unyeasted = |s: Style| s.key() == "pizza_flatbread" && self.original.leavening > 0.0;
        let called = words(name);
        let said_by = |s: Style| speaks_for(s, &called);
        let crumbles = self.original.fat >= LEAST && self.original.egg <= 0.0;
        match self.called_plainly(name) {
            Some(said) if said == guess.style => Guess {
                confidence: guess.confidence.max(SAID),
                ..guess
            },
            Some(said)
                if batter(said) && guess.confidence < UNSURE && unyeasted(guess.style)
                    || guess.confidence < FITS_NONE
                        && (batter(said) && batter(guess.style) || crumb(said) && crumbles) =>
            {
                Guess {
                    style: said,
                    confidence: SAID,
                    next: guess.style,
                }
            }
            // 'Tea cake' with the ratios of a cookie, next to a cake's.
            _ if guess.confidence < UNSURE && said_by(guess.next) && !said_by(guess.style) => {
                Guess {
                    style: guess.next,
                    next: guess.style,
                    ..guess
                }
            }
            _ => guess,
        }
    }

    /// The one style that the last two words of a name speak for: 'cheese scones', 'banana bread' without yeast. A
    /// pudding or a filling may be anything.
    fn called_plainly(&self, name: &str) -> Option<Style> {
        let lower = name.to_lowercase();
        let ends = [" with ", " and ", " in ", " on ", ",", "(", ":"];
        let end = ends.iter().filter_map(|e| lower.find(e)).min();
        let said = words(&lower[..end.unwrap_or(lower.len())]);
        let last = &said[said.len().saturating_sub(2)..];
        let anything = |w: &String| w.starts_with("pudding") || w.starts_with("filling");
        if last.last().is_none_or(anything) {
            return None;
        }
        let rises = self.risen(self.original.ratios()).yeast > 0.0;
        let of = |s: &Style| s.is_yeast_dough() == rises && last.iter().any(|w| s.is_said_by(w));
        let mut all = Style::all().filter(of);
        let first = all.next()?;
        all.next().is_none().then_some(first)
    }

    /// Whether words of its name or the title speak for a style, or it is handled as the yeast dough it was taken for.
    pub(super) fn is_named(&self, style: Style, called: &str) -> bool {
        speaks_for(style, &words(&called.to_lowercase()))
            || style.is_yeast_dough() && self.is_called(&["dough", "knead"])
    }

    /// Whether its name, its steps or the title of a recipe in one part have one of some words.
    fn is_called(&self, words: &[&str]) -> bool {
        let recipe = &self.formula.recipe;
        let title = recipe.title.as_deref();
        let title = title.filter(|_| recipe.components.len() == 1);
        let steps = self.steps.iter().map(|s| s.text.as_str());
        let mut texts = steps.chain([self.weighed.name.as_str()]).chain(title);
        texts.any(|t| {
            let t = t.to_lowercase();
            words.iter().any(|w| t.contains(w))
        })
    }

    /// Whether its steps fold a part that is butter into it: its own ratios have only what is kneaded in.
    fn is_rolled_with_fat(&self) -> bool {
        let recipe = &self.formula.recipe;
        let folded = |c: &&crate::recipe::Component| {
            c.name != self.weighed.name && is_folded_in(recipe, &c.name)
        };
        recipe.components.iter().any(|c| folded(&c))
            && !is_folded_in(recipe, &self.weighed.name)
            && self.steps.iter().any(|s| laminates(&s.text))
    }

    /// Grams of the lines of some kind.
    fn grams_of(&self, function: Function) -> f64 {
        let items = self.weighed.items.iter().filter(|w| {
            let food = w.food.map(|f| self.larder.food(f));
            w.in_formula && food.is_some_and(|f| f.function() == function)
        });
        items
            .filter_map(|w| w.grams)
            .map(|g| g.likely().as_grams())
            .sum()
    }

    /// Almond (or another nut), butter, sugar and egg with a little flour, and called so: an almond cake of
    /// the same ratios is a cake.
    fn is_frangipane(&self) -> bool {
        let b = &self.original;
        self.grams_of(Function::NutFlour) >= NUTS * b.flour.likely().as_grams()
            && [b.fat, b.sugar, b.egg].iter().all(|p| *p >= LEAST)
            && b.yeast <= 0.0
            && self.is_called(&[
                "frangipan",
                "almond cream",
                "crème d’amande",
                "crème d'amande",
            ])
    }

    /// Sugar beaten into as many whites at least, with a little starch or none: no dough or batter, and nothing
    /// in it but wheat starch is swapped.
    pub(super) fn is_meringue(&self) -> bool {
        let items = || self.weighed.items.iter().filter(|w| w.in_formula);
        let mut foods = items().filter_map(|w| w.food.map(|f| self.larder.food(f)));
        let light = foods.all(|f| match f.function() {
            Function::Egg => matches!(f.key.as_str(), "egg_white" | "egg_white_powder"),
            Function::Fat | Function::NutFlour => false,
            // Wheat starch becomes maize starch.
            Function::Starch => true,
            _ => f.gluten != Gluten::Contains,
        });
        let (whites, sugar) = (self.grams_of(Function::Egg), self.grams_of(Function::Sugar));
        let starch = self.original.flour.likely().as_grams();
        light && whites > 0.0 && sugar >= whites && starch <= MOST_STARCH * whites
    }

    /// Flour worked into mash that outweighs it, with little beside it.
    fn is_potato_dough(&self) -> bool {
        let b = &self.original;
        let flour = b.flour.likely().as_grams();
        let Some((_, mash)) = self.mash() else {
            return false;
        };
        let sugar = 100.0 * self.grams_of(Function::Sugar) / flour;
        let beside = [sugar, b.egg, b.free_liquid];
        mash > flour
            && flour >= LEAST_FLOUR * mash
            && b.yeast <= 0.0
            && self.grams_of(Function::Meat) <= 0.0
            && beside.iter().zip(MOST).all(|(is, most)| *is <= most)
    }
}
