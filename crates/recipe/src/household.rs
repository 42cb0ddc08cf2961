//! Measured back: a weight as cups, spoons, sticks or eggs that a kitchen has.

mod eggs;
mod piece;
mod scale;
#[cfg(test)]
mod tests;
mod written;

pub use eggs::OneEgg;
pub(crate) use eggs::{eggs, whole_eggs};
pub(crate) use piece::{OnePiece, plural};
pub use scale::{
    PINCH, Scale, clean, is_fine, of_flour, percent, percent_figure, scale_grams, spread_grams,
    weight,
};
pub(crate) use written::as_spooned;
pub use written::as_written;

use crate::rework::blend::Blend;
use larder::{FoodId, Function, Larder, State};
use quantity::household::{ERROR, words};
use quantity::{Hold, Locale, Mass, Spread, Unit};

/// Said in place of household measures where none comes near enough.
pub const WEIGH_IT: &str = "weigh it";

/// Whose cups and spoons, which of them are in the drawer, and the scales beside it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drawer {
    scoops: quantity::household::Drawer,
    scale: Scale,
}

impl Drawer {
    /// Only the scoops named, such as `1/2 cup`; a name that this locale has no scoop for is
    /// passed over.
    #[must_use]
    pub fn of<S: AsRef<str>>(locale: Locale, names: &[S]) -> Self {
        let scoops = quantity::household::Drawer::of(locale, names);
        let scale = Scale::default();
        Self { scoops, scale }
    }
    /// Beside grams that stand as these scales show them.
    #[must_use]
    pub fn beside(self, scale: Scale) -> Self {
        Self { scale, ..self }
    }
    /// The grams that stand beside the measure: what is measured back. All of them where the scales show
    /// nothing of it.
    fn stands(self, grams: Mass, fine: bool) -> Mass {
        let shown = self.scale.rounded(grams, fine);
        if shown > 0.0 {
            Mass::grams(shown)
        } else {
            grams
        }
    }
    /// Whose cups and spoons.
    #[must_use]
    pub fn locale(self) -> Locale {
        self.scoops.locale()
    }
}

impl From<Locale> for Drawer {
    /// All the scoops that a kitchen of this locale usually has.
    fn from(locale: Locale) -> Self {
        let scoops = locale.into();
        let scale = Scale::default();
        Self { scoops, scale }
    }
}

/// A household amount with its error.
#[derive(Debug, Clone, PartialEq)]
pub struct Household {
    /// The words: `1 cup + 2 tbsp`, `2 large eggs + 20 g beaten egg`.
    pub words: String,
    /// (measured − asked) ÷ asked, of the grams that stand beside it.
    pub error: f64,
}

impl Household {
    /// The words, with the error where it is more than the stated one: `⅔ cup`, `1½ tsp (8 %
    /// under the weight)`.
    #[must_use]
    pub fn shown(&self) -> String {
        let off = self.off().map(|off| format!(" ({off})"));
        format!("{}{}", self.words, off.unwrap_or_default())
    }

    /// How far it is off, where that is more than the [stated error](come_within).
    #[must_use]
    pub fn off(&self) -> Option<String> {
        let percent = (self.error * 100.0).round();
        let side = if percent > 0.0 { "over" } else { "under" };
        (percent.abs() > 100.0 * ERROR).then(|| format!("{:.0} % {side} the weight", percent.abs()))
    }
}

/// How near the measures of a locale come to the grams, in a sentence, for wherever amounts are
/// [shown](Household::shown).
#[must_use]
pub fn come_within(locale: Locale) -> String {
    let measures = match locale {
        Locale::Us => "US cups and spoons",
        Locale::Metric => "Metric cups and spoons",
        Locale::Uk => "Spoons and millilitres",
        Locale::Au => "Australian cups and spoons",
    };
    format!(
        "{measures} come within {:.0} % of the grams where no more is said.",
        100.0 * ERROR
    )
}

/// How much the cups hold of lines that keep a recipe's words, where amounts are worked out in the measures
/// of a country without cups; `None` elsewhere.
#[must_use]
pub fn kept_cups(recipe: Locale, worked_out_in: Locale) -> Option<String> {
    let ml = match Unit::Cup.hold(recipe) {
        Hold::Volume(v) if recipe != worked_out_in => v.likely().as_millilitres(),
        _ => return None,
    };
    Some(format!(
        "A cup that a line keeps from the recipe is {ml:.0} mL."
    ))
}

/// A weight of a food in household measures: of the grams as the scales of the drawer show them, so that the
/// two that stand beside each other are within the stated error.
///
/// # Returns
/// Eggs as whole eggs plus beaten grams; butter sold in sticks as sticks and tablespoons in the
/// US; small round numbers of counted fruit; else the fewest cups and spoons within 3 %.
/// `None` when nothing comes near enough, or the food has no household weight: then it is
/// weighed.
#[must_use]
pub fn household(
    larder: &Larder,
    food: FoodId,
    grams: Mass,
    drawer: impl Into<Drawer>,
) -> Option<Household> {
    let drawer = drawer.into();
    let locale = drawer.locale();
    if grams.as_grams() <= 0.0 || !grams.as_grams().is_finite() {
        return None;
    }
    let is = larder.food(food);
    if let Some(one) = OneEgg::of(larder, food, None, locale) {
        return Some(eggs(&is.name, &one, grams));
    }
    let grams = drawer.stands(grams, is_fine(larder, food));
    let g = grams.as_grams();
    // Meat and fish are weighed, not pressed into a cup.
    if is.function() == Function::Meat {
        return None;
    }
    if locale == Locale::Us
        && is.function() == Function::Fat
        && let Some(stick) = larder.measure(food, "stick", State::Usual)
    {
        return sticks(stick.grams.likely().as_grams(), g, drawer);
    }
    let whole = matches!(is.function(), Function::Fruit | Function::Vegetable);
    // Pieces differ: only a few of them say more than a weight.
    if whole
        && let Some(one) = OnePiece::usual(larder, food)
        && (0.45..=4.2).contains(&(g / one.weighs.as_grams()))
        && let Some(pieces) = one.count(grams)
    {
        return Some(pieces);
    }
    if locale != Locale::Us && is.function() == Function::Fat && is.density.is_none() && g > BLOCK {
        return None;
    }
    let holds = |unit| {
        let weight = larder.weigh(food, unit, None, State::Usual, locale)?;
        Some(weight.grams.likely().as_grams()).filter(|g| *g > 0.0)
    };
    let ml = g / holds(Unit::Ml)?;
    if locale == Locale::Uk && ml > SPOONED && pours(larder, food) {
        let shown = (ml / 5.0).round() * 5.0;
        return Some(Household {
            words: format!("{shown:.0} ml"),
            error: shown / ml - 1.0,
        });
    }
    scooped(g, holds, drawer)
}

/// Solid fat above so many grams, two tablespoons, is cut from a block by weight where it is not sold in sticks
/// (common practice, no source).
const BLOCK: f64 = 30.0;

/// Liquids above so many mL, three tablespoons, are poured into a jug where no cups are used.
const SPOONED: f64 = 45.0;

/// Whether a food is poured: water, milk, cream, oil.
fn pours(larder: &Larder, food: FoodId) -> bool {
    let is = larder.food(food);
    let named = |words: &[&str]| words.iter().any(|w| is.name.split(' ').any(|n| n == *w));
    match is.function() {
        Function::Water | Function::Liquid | Function::Alcohol => true,
        Function::Dairy => {
            named(&["milk", "buttermilk", "cream"]) && !named(&["cheese", "powder", "dried"])
        }
        Function::Fat => named(&["oil"]),
        _ => false,
    }
}

/// A weight of a blend in cups and spoons, by its calculated cup.
#[must_use]
pub fn of_blend(
    larder: &Larder,
    blend: &Blend,
    grams: Mass,
    drawer: impl Into<Drawer>,
) -> Option<Household> {
    let cup = blend.cup(larder)?.likely().as_grams();
    let drawer = drawer.into();
    let ml = |unit: Unit, locale| match unit.hold(locale) {
        Hold::Volume(v) => Some(v.likely().as_millilitres()),
        _ => None,
    };
    let per_ml = cup / ml(Unit::Cup, Locale::Us)?;
    let holds = |unit| Some(per_ml * ml(unit, drawer.locale())?);
    scooped(drawer.stands(grams, false).as_grams(), holds, drawer)
}

/// What the measure of a kitchen's own country holds of a blend: its cup, or 100 ml where no cups
/// are used.
///
/// # Returns
/// The measure's name and its grams: `("A cup of 250 mL", 142 g)`; `None` where a part of the
/// blend has no cup weight.
#[must_use]
pub fn measure_of_blend(
    larder: &Larder,
    blend: &Blend,
    locale: Locale,
) -> Option<(String, Spread<Mass>)> {
    let holds = |locale| match Unit::Cup.hold(locale) {
        Hold::Volume(v) => Some(v.likely().as_millilitres()),
        _ => None,
    };
    let (us, own) = (holds(Locale::Us)?, holds(locale)?);
    let (name, ml) = match locale {
        Locale::Us => ("A US cup".to_owned(), us),
        Locale::Uk => ("100 ml".to_owned(), 100.0),
        Locale::Au | Locale::Metric => (format!("A cup of {own:.0} mL"), own),
    };
    Some((name, blend.cup(larder)?.scaled(ml / us)))
}

/// Up to so many teaspoons or a tablespoon, spoons are few in kind: an eighth off is allowed, and shown.
const FEW_TEASPOONS: f64 = 3.0;
/// Up to so many, four tablespoons, a spoon too much or too little is a twentieth at most.
const SOME_TEASPOONS: f64 = 12.0;

/// What is allowed off where the stated error cannot be kept, the nearest first: an eighth off is not
/// taken where one scoop more comes near.
const WIDER: [f64; 3] = [0.05, 0.08, 0.125];

/// So many grams in the fewest scoops, each weighed as a line that is written in it would be.
fn scooped(g: f64, holds: impl Fn(Unit) -> Option<f64>, drawer: Drawer) -> Option<Household> {
    let (teaspoon, tablespoon, cup) = (holds(Unit::Tsp)?, holds(Unit::Tbsp)?, holds(Unit::Cup));
    let teaspoons = g / teaspoon;
    let holds = |unit| match unit {
        Unit::Tsp => Some(teaspoon),
        Unit::Tbsp => Some(tablespoon),
        _ => cup,
    };
    let more = match teaspoons {
        n if n < FEW_TEASPOONS || g < tablespoon => Some(0.125),
        n if n <= SOME_TEASPOONS => Some(0.05),
        _ => None,
    };
    let mut errors = std::iter::once(ERROR).chain(WIDER.into_iter().filter(|e| more >= Some(*e)));
    let found = errors.find_map(|error| drawer.scoops.measure(g, holds, error))?;
    Some(Household {
        words: words(&found),
        error: found.error,
    })
}

/// Sticks and tablespoons of butter; a tablespoon is an eighth of a stick.
fn sticks(stick: f64, g: f64, drawer: Drawer) -> Option<Household> {
    let spoon = stick / 8.0;
    let halves = (g / spoon * 2.0).round();
    let error = halves / 2.0 * spoon / g - 1.0;
    // Half tablespoons are marked on the wrapper by eye; below one, teaspoons are used.
    if g < 0.45 * spoon || error.abs() > 0.05 {
        let of_spoon = |unit: Unit| match (unit.hold(Locale::Us), Unit::Tbsp.hold(Locale::Us)) {
            (Hold::Volume(v), Hold::Volume(one)) => Some(spoon * (v.likely() / one.likely())),
            _ => None,
        };
        return scooped(g, of_spoon, drawer);
    }
    let spoons = halves / 2.0;
    let whole = (spoons / 8.0).floor();
    let rest = spoons - whole * 8.0;
    let spoon_words = |s: f64| {
        let half = if s.fract() > 0.0 { "½" } else { "" };
        let n = if s < 1.0 {
            String::new()
        } else {
            format!("{:.0}", s.floor())
        };
        format!("{n}{half} tbsp")
    };
    let stick_words = |n: f64| format!("{n:.0} stick{}", if n == 1.0 { "" } else { "s" });
    let words = match (whole > 0.0, rest > 0.0) {
        (true, true) => format!("{} + {}", stick_words(whole), spoon_words(rest)),
        (true, false) => stick_words(whole),
        _ => spoon_words(rest),
    };
    Some(Household { words, error })
}
