//! A weight of egg as eggs.

use super::{Household, scale_grams};
use crate::weigh::egg_size;
use larder::{FoodId, Function, Larder, State};
use quantity::{Locale, Mass};

/// An egg, yolk or white as it is counted.
#[derive(Debug, Clone, PartialEq)]
pub struct OneEgg {
    /// Out of its shell.
    pub weighs: Mass,
    /// Its size: `large`.
    pub size: String,
}

impl OneEgg {
    /// One of the size that a line names, else that of the country: what weighs 50 g out of the shell is a
    /// large egg in the US and a medium one in Europe. `None` of other foods.
    pub(crate) fn of(
        larder: &Larder,
        food: FoodId,
        said: Option<&'static str>,
        locale: Locale,
    ) -> Option<Self> {
        if larder.food(food).function() != Function::Egg {
            return None;
        }
        let usual = match locale {
            Locale::Us | Locale::Au => "large",
            Locale::Uk | Locale::Metric => "medium",
        };
        let of = |said| larder.measure(food, egg_size(said, locale), State::Usual);
        let (one, size) = match said.and_then(|s| Some((of(Some(s))?, s))) {
            Some(named) => named,
            None => (larder.measure(food, "large", State::Usual)?, usual),
        };
        Some(Self {
            weighs: one.grams.likely(),
            size: size.to_owned(),
        })
    }
}

/// Whole ones of a count of eggs, and the share of one that is left to be beaten: a tenth more or less is
/// none.
pub(crate) fn whole_eggs(count: f64) -> (f64, f64) {
    const NONE: f64 = 0.1 + 1e-9;
    let whole = (count + NONE).floor();
    let rest = count - whole;
    (whole, if rest <= NONE { 0.0 } else { rest })
}

/// Whole eggs and the rest as beaten grams. A rest below a tenth of an egg is left out, and from nine
/// tenths on is one.
pub(crate) fn eggs(name: &str, egg: &OneEgg, grams: Mass) -> Household {
    let (one, g, size) = (egg.weighs.as_grams(), grams.as_grams(), &egg.size);
    let (whole, rest) = whole_eggs(g / one);
    let rest = rest * one;
    let s = if whole == 1.0 { "" } else { "s" };
    let beaten = |g: f64| format!("{} g beaten {name}", scale_grams(Mass::grams(g), false));
    if whole == 0.0 {
        return Household {
            words: beaten(g),
            error: 0.0,
        };
    }
    let words = if rest > 0.0 {
        format!("{whole:.0} {size} {name}{s} + {}", beaten(rest))
    } else {
        format!("{whole:.0} {size} {name}{s}")
    };
    Household {
        words,
        error: (whole * one + rest) / g - 1.0,
    }
}
