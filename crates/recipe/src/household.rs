//! Measured back: a weight as cups, spoons, sticks or eggs that a kitchen has.

use crate::rework::blend::Blend;
use larder::{FoodId, Function, Larder, State};
use quantity::household::{ERROR, Scoop, measure_with, scoops, words};
use quantity::{Hold, Locale, Mass, Ratio, Spread, Unit};

/// Said in place of household measures where none comes near enough.
pub const WEIGH_IT: &str = "weigh it";

/// Whose cups and spoons, and which of them are in the drawer.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawer {
    locale: Locale,
    scoops: Vec<Scoop>,
}

impl Drawer {
    /// Only the scoops named, such as `1/2 cup`; a name that this locale has no scoop for is
    /// passed over.
    #[must_use]
    pub fn of<S: AsRef<str>>(locale: Locale, names: &[S]) -> Self {
        let owned = |s: &Scoop| names.iter().any(|n| n.as_ref() == s.name());
        let scoops = scoops(locale).iter().copied().filter(owned).collect();
        Self { locale, scoops }
    }
    /// Whose cups and spoons.
    #[must_use]
    pub fn locale(&self) -> Locale {
        self.locale
    }
    /// The scoops, each with what it holds by what its whole unit holds.
    fn filled(&self, whole: impl Fn(Unit) -> Option<f64>) -> Option<Vec<(Scoop, f64)>> {
        // Scoops of a unit stand together: each unit is weighed once.
        let mut last = None;
        let scoops = self.scoops.iter();
        scoops
            .map(|s| {
                let of = match last {
                    Some((unit, of)) if unit == s.unit => of,
                    _ => whole(s.unit)?,
                };
                last = Some((s.unit, of));
                Some((*s, of * s.fraction()))
            })
            .collect()
    }
}

impl From<Locale> for Drawer {
    /// All the scoops that a kitchen of this locale usually has.
    fn from(locale: Locale) -> Self {
        let scoops = scoops(locale).to_vec();
        Self { locale, scoops }
    }
}

impl From<&Drawer> for Drawer {
    fn from(drawer: &Drawer) -> Self {
        drawer.clone()
    }
}

/// A household amount with its error.
#[derive(Debug, Clone, PartialEq)]
pub struct Household {
    /// The words: `1 cup + 2 tbsp`, `2 large eggs + 20 g beaten egg`.
    pub words: String,
    /// (measured − asked) ÷ asked.
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

/// A weight of a food in household measures.
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
    let drawer = &drawer.into();
    let locale = drawer.locale;
    let g = grams.as_grams();
    if g <= 0.0 || !g.is_finite() {
        return None;
    }
    let is = larder.food(food);
    if is.function() == Function::Egg
        && let Some(large) = larder.measure(food, "large", State::Usual)
    {
        let one = OneEgg::usual(large.grams.likely(), locale);
        return Some(eggs(&is.name, &one, grams));
    }
    if locale == Locale::Us
        && is.function() == Function::Fat
        && let Some(stick) = larder.measure(food, "stick", State::Usual)
    {
        return sticks(stick.grams.likely().as_grams(), g, drawer);
    }
    let whole = matches!(is.function(), Function::Fruit | Function::Vegetable);
    if whole && let Some(each) = larder.measure(food, "each", State::Usual) {
        let one = each.grams.likely().as_grams();
        let n = (g / one * 2.0).round() / 2.0;
        let error = n * one / g - 1.0;
        // Pieces differ: only a few of them say more than a weight.
        if (0.5..=4.0).contains(&n) && error.abs() <= 0.1 {
            let count = match (n.floor(), n.fract() > 0.0) {
                (0.0, _) => "½".to_owned(),
                (w, true) => format!("{w:.0}½"),
                (w, false) => format!("{w:.0}"),
            };
            let plural = if n > 1.0 && !is.name.ends_with('s') {
                "s"
            } else {
                ""
            };
            return Some(Household {
                words: format!("{count} {}{plural}", is.name),
                error,
            });
        }
    }
    // Solid fat is cut from a block by weight where it is not sold in sticks.
    if locale != Locale::Us && is.function() == Function::Fat && is.density.is_none() && g > 60.0 {
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
    let drawer = &drawer.into();
    let ml = |unit: Unit, locale| match unit.hold(locale) {
        Hold::Volume(v) => Some(v.likely().as_millilitres()),
        _ => None,
    };
    let per_ml = cup / ml(Unit::Cup, Locale::Us)?;
    let holds = |unit| Some(per_ml * ml(unit, drawer.locale)?);
    scooped(grams.as_grams(), holds, drawer)
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

/// Up to so many teaspoons, a tablespoon, spoons are few in kind: an eighth off is allowed, and shown.
const FEW_TEASPOONS: f64 = 3.0;
/// Up to so many, four tablespoons, a spoon too much or too little is a twentieth at most.
const SOME_TEASPOONS: f64 = 12.0;

/// What is allowed off where the stated error cannot be kept, the nearest first: an eighth off is not
/// taken where one scoop more comes near.
const WIDER: [f64; 3] = [0.05, 0.08, 0.125];

/// So many grams in the fewest scoops, each weighed as a line that is written in it would be.
fn scooped(g: f64, holds: impl Fn(Unit) -> Option<f64>, drawer: &Drawer) -> Option<Household> {
    let teaspoons = g / holds(Unit::Tsp)?;
    let set = drawer.filled(holds)?;
    let more = match teaspoons {
        n if n < FEW_TEASPOONS => Some(0.125),
        n if n <= SOME_TEASPOONS => Some(0.05),
        _ => None,
    };
    let mut errors = std::iter::once(ERROR).chain(WIDER.into_iter().filter(|e| more >= Some(*e)));
    let found = errors.find_map(|error| measure_with(&set, g, error))?;
    Some(Household {
        words: words(&found),
        error: found.error,
    })
}

/// The household amount a line was written in, for lines that are kept as they were: `1 1/2 tsp`,
/// `3 large eggs`.
#[must_use]
pub fn as_written(line: &crate::Line, item: &crate::Item) -> Option<String> {
    amount_words(line, item).map(|(_, words)| words)
}

/// The amount a line was [written in](as_written) where the spoons and cups of any kitchen hold it
/// so: not `1 5/8 tsp`, which has to be measured back.
pub(crate) fn as_spooned(line: &crate::Line, item: &crate::Item) -> Option<String> {
    amount_words(line, item)
        .filter(|(amount, _)| has_scoops(amount))
        .map(|(_, words)| words)
}

/// Whether the part of a number behind its point has a scoop of the usual sets: quarters and
/// thirds of a cup, halves of a tablespoon, quarters of a teaspoon, and its eighth alone.
fn has_scoops(amount: &crate::Amount) -> bool {
    let parts: &[f64] = match amount.unit {
        Some(Unit::Cup) => &[0.25, 1.0 / 3.0, 0.5, 2.0 / 3.0, 0.75],
        Some(Unit::Tbsp) => &[0.5],
        Some(Unit::Tsp) if amount.low < 0.2 => &[0.125],
        Some(Unit::Tsp) => &[0.25, 0.5, 0.75],
        _ => return true,
    };
    let holds = |n: f64| {
        let near = |p: f64| (n.fract() - p).abs() < 0.01;
        near(0.0) || near(1.0) || parts.iter().any(|p| near(*p))
    };
    holds(amount.low) && holds(amount.high)
}

fn amount_words<'i>(
    line: &crate::Line,
    item: &'i crate::Item,
) -> Option<(&'i crate::Amount, String)> {
    let amounts = &item.amounts;
    let kitchen = |a: &&crate::Amount| {
        a.loose.is_none()
            && a.unit.is_some_and(|u| {
                u.kind() != quantity::UnitKind::Mass && u != Unit::Ml && u != Unit::L
            })
    };
    let main = amounts
        .iter()
        .filter(|a| a.role == crate::Role::Main)
        .find(kitchen);
    let found = match main {
        Some(a) => a,
        None => amounts
            .iter()
            .filter(|a| a.role == crate::Role::Twin)
            .find(kitchen)?,
    };
    if amounts.iter().any(|a| a.role == crate::Role::Plus) {
        return None;
    }
    let words = line.words(&found.span).trim().to_owned();
    // A piece of what nobody sells by the piece says nothing.
    let says_nothing = |w: &str| {
        let mut letters = w
            .split(|c: char| !c.is_alphabetic())
            .filter(|x| !x.is_empty());
        letters.all(|x| matches!(x.to_lowercase().as_str(), "piece" | "pieces" | "a" | "one"))
    };
    if found.unit != Some(Unit::Count) && says_nothing(&words) {
        return None;
    }
    // A count says what it counts: '3 large eggs'.
    if found.unit == Some(Unit::Count) {
        let span = &item.food.as_ref()?.span;
        let name = line.words(span).trim().to_owned();
        if span.start <= found.span.start && found.span.end <= span.end {
            // 'zest of ½ lemon' holds its own number.
            return Some((found, name));
        }
        let size = item
            .qualities
            .size
            .map_or(String::new(), |s| format!("{s} "));
        let words = format!("{words} {size}{name}").replace(&format!("{size}{size}"), &size);
        return Some((found, words));
    }
    let words = apart(&usual_words(found, &words).unwrap_or(words));
    Some((found, words))
}

/// Number and unit apart: '5 fl oz' for '5fl oz'.
fn apart(words: &str) -> String {
    let mut out = String::with_capacity(words.len() + 1);
    for c in words.chars() {
        if c.is_alphabetic() && out.ends_with(|l: char| l.is_numeric()) {
            out.push(' ');
        }
        out.push(c);
    }
    out
}

/// An amount's words with its unit as it is usually written, if that is not how it stands: '1
/// dessertspoon' for '1 dsp', '1 level tbsp' for '1 level tablespoons'. 'T' and 't' are too
/// easily mistaken for each other to be written again.
fn usual_words(amount: &crate::Amount, words: &str) -> Option<String> {
    if amount.old_millilitres.is_some() {
        return None;
    }
    let (one, many): (&[&str], &[&str]) = match amount.unit? {
        Unit::Tbsp => (&["tbsp", "tablespoon"], &["tbsp", "tablespoons"]),
        Unit::Tsp => (&["tsp", "teaspoon"], &["tsp", "teaspoons"]),
        Unit::Dessertspoon => (&["dessertspoon"], &["dessertspoons"]),
        Unit::Cup => (&["cup"], &["cups"]),
        Unit::Pint => (&["pint"], &["pints"]),
        Unit::Quart => (&["quart"], &["quarts"]),
        Unit::Gill => (&["gill"], &["gills"]),
        Unit::Pinch => (&["pinch"], &["pinches"]),
        Unit::Dash => (&["dash"], &["dashes"]),
        Unit::Drop => (&["drop"], &["drops"]),
        Unit::Sprig => (&["sprig"], &["sprigs"]),
        Unit::Slice => (&["slice"], &["slices"]),
        Unit::Clove => (&["clove"], &["cloves"]),
        _ => return None,
    };
    let right = if amount.high > 1.0 { many } else { one };
    let stem = words.trim_end_matches('.');
    let cut = stem
        .char_indices()
        .rev()
        .take_while(|(_, c)| c.is_alphabetic())
        .last()
        .map(|(i, _)| i)?;
    let written = &stem[cut..];
    let lower = written.to_lowercase();
    let is = quantity::unit_words().any(|u| {
        u.unit == amount.unit && (u.word == written || written.len() > 1 && u.word == lower)
    });
    let number = stem[..cut].trim_end_matches([' ', '-', '\u{a0}']);
    if !is
        || number.is_empty()
        || right.contains(&written) && words.contains(' ') && stem.len() == words.len()
    {
        return None;
    }
    Some(format!("{number} {}", right.first()?))
}

/// An egg, yolk or white as it is counted.
#[derive(Debug, Clone, PartialEq)]
pub struct OneEgg {
    /// Out of its shell.
    pub weighs: Mass,
    /// Its size: `large`.
    pub size: String,
}

impl OneEgg {
    /// That of a country: what weighs 50 g out of the shell is a large egg in the US and a medium one in
    /// Europe.
    pub(crate) fn usual(weighs: Mass, locale: Locale) -> Self {
        let size = match locale {
            Locale::Us | Locale::Au => "large",
            Locale::Uk | Locale::Metric => "medium",
        };
        Self {
            weighs,
            size: size.to_owned(),
        }
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

/// Sticks and tablespoons of butter; a tablespoon is an eighth of a stick.
fn sticks(stick: f64, g: f64, drawer: &Drawer) -> Option<Household> {
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

/// The scales of a kitchen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// What the scale shows, g.
    pub step: f64,
    /// What the fine scale shows, g, where there is one.
    pub fine: Option<f64>,
}

impl Default for Scale {
    /// A scale to 1 g and a fine one to 0.1 g.
    fn default() -> Self {
        Self {
            step: 1.0,
            fine: Some(0.1),
        }
    }
}

/// The finest that is given where a scale shows too little, g.
const TENTH: f64 = 0.1;

impl Scale {
    /// Grams as these scales show them: the fine one below 100 g for what is weighed finely, the other
    /// for flour, sugar and the rest. The one rounding of weights.
    ///
    /// Where the step would miss more than a twentieth of the weight, the fine scale is used for the
    /// rest too, to a tenth of a gram; where that misses as much, a tenth is given all the same: it
    /// takes a spoon or a finer scale.
    #[must_use]
    pub fn rounded(&self, grams: Mass, fine: bool) -> f64 {
        self.shows(grams, fine).0
    }

    /// The [rounded](Self::rounded) grams, and whether they are finer than the scales show.
    #[must_use]
    pub fn shows(&self, grams: Mass, fine: bool) -> (f64, bool) {
        let g = grams.as_grams();
        // Steps are tenths or hundredths: the quotient is whole, its product is not.
        let to = |step: f64| ((g / step).round() * step * 100.0).round() / 100.0;
        let misses = |step: f64| (to(step) - g).abs() > 0.05 * g.abs();
        let finest = self.fine.unwrap_or(self.step);
        let first = if fine && g < 100.0 { finest } else { self.step };
        let steps = [first, first.min(finest.max(TENTH)), first.min(TENTH)];
        let step = steps.into_iter().find(|s| !misses(*s));
        let step = step.unwrap_or(steps[2]);
        (to(step), step < finest.min(self.step))
    }

    /// The [rounded](Self::rounded) grams as they are written.
    #[must_use]
    pub fn grams(&self, grams: Mass, fine: bool) -> String {
        self.rounded(grams, fine).to_string()
    }

    /// Whether these scales show nothing of a weight: it is a pinch.
    #[must_use]
    pub fn is_pinch(&self, grams: Mass) -> bool {
        grams.as_grams() > 0.0 && self.rounded(grams, true) == 0.0
    }
}

/// Grams without the last bits of a sum.
#[must_use]
pub fn clean(grams: f64) -> f64 {
    (grams * 1000.0).round() / 1000.0
}

/// What is less than a scale shows.
pub const PINCH: &str = "a pinch, under 0.1 g";

/// Grams as usual scales show them: to 1 g; to 0.1 g yeast, salt, gums and leavening below 100 g, and what
/// 1 g would miss by more than a twentieth.
#[must_use]
pub fn scale_grams(grams: Mass, fine: bool) -> String {
    Scale::default().grams(grams, fine)
}

/// A weight in words: `26.6 g`, or a pinch where a scale shows nothing of it.
#[must_use]
pub fn weight(grams: Mass, fine: bool) -> String {
    if Scale::default().is_pinch(grams) {
        PINCH.to_owned()
    } else {
        format!("{} g", scale_grams(grams, fine))
    }
}

/// Whether a food is weighed to a tenth of a gram.
#[must_use]
pub fn is_fine(larder: &Larder, food: FoodId) -> bool {
    matches!(
        larder.food(food).function(),
        Function::Yeast | Function::Salt | Function::Binder | Function::Leavening | Function::Spice
    )
}

/// A percentage with the digits it deserves: `114 %`, `5.2 %`, `0.15 %`.
#[must_use]
pub fn percent(p: f64) -> String {
    let p = p + 1e-9;
    if p >= 9.95 {
        format!("{p:.0} %")
    } else if p >= 0.995 {
        format!("{p:.1} %").replace(".0 %", " %")
    } else {
        let figure = format!("{p:.2}");
        format!("{} %", figure.trim_end_matches('0').trim_end_matches('.'))
    }
}

/// A line's percent of the flour as it is written; nothing for a pinch.
#[must_use]
pub fn of_flour(p: Spread<Ratio>) -> Option<String> {
    let p = p.likely().get();
    (p >= 0.05).then(|| percent(p))
}

/// A spread as `310 g (270–350)`, or `113 g` where it is certain.
#[must_use]
pub fn spread_grams(g: Spread<Mass>, fine: bool) -> String {
    let likely = weight(g.likely(), fine);
    let (low, high) = (scale_grams(g.low(), fine), scale_grams(g.high(), fine));
    if low == high || likely == PINCH {
        likely
    } else {
        format!("{likely} ({low}–{high})")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn says(key: &str, grams: f64, locale: Locale, want: &str) {
        let larder = Larder::built_in().expect("the built-in tables");
        let food = larder.by_key(key).expect("a food of the larder");
        let got = household(&larder, food, Mass::grams(grams), locale).map(|h| h.words);
        assert_eq!(got.as_deref(), Some(want), "{grams} g {key}");
    }

    /// Household weights of USDA SR28: 19335 sugar, 01145 butter, 01123 egg; NIST cup and spoons.
    #[test]
    fn weights_come_back_as_a_kitchen_says_them() {
        says("white_sugar", 200.0, Locale::Us, "1 cup");
        says("white_sugar", 133.0, Locale::Us, "⅔ cup");
        says("unsalted_butter", 227.0, Locale::Us, "2 sticks");
        says("unsalted_butter", 63.8, Locale::Us, "4½ tbsp");
        says("egg", 100.0, Locale::Us, "2 large eggs");
        says("egg", 70.0, Locale::Us, "1 large egg + 20 g beaten egg");
        says("egg", 20.0, Locale::Us, "20 g beaten egg");
        // As the grams beside it.
        says("egg_yolk", 8.46, Locale::Us, "8.5 g beaten egg yolk");
        says("baking_powder", 4.6, Locale::Us, "1 tsp");
        says("table_salt", 3.0, Locale::Us, "½ tsp");
    }

    /// A UK kitchen has spoons and a jug, no cups.
    #[test]
    fn a_uk_kitchen_spoons_and_pours() {
        says("whole_milk", 479.0, Locale::Uk, "465 ml");
        says("whole_milk", 31.0, Locale::Uk, "2 tbsp");
        // 3.1 g to the spoon: 2.7 of them.
        says("instant_yeast", 8.4, Locale::Uk, "2½ tsp + ¼ tsp");
        let larder = Larder::built_in().expect("the built-in tables");
        for key in ["white_sugar", "cream_cheese", "brown_rice_flour"] {
            let food = larder.by_key(key).expect("a food of the larder");
            let got = household(&larder, food, Mass::grams(200.0), Locale::Uk);
            assert_eq!(got, None, "{key}");
        }
    }

    /// '1' and 'piece' of what is not sold by the piece are no measure.
    #[test]
    fn a_number_alone_is_no_measure() {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = crate::read::Reader::new(&larder, Locale::Us);
        for (text, want) in [
            ("1 8-ounce package cream cheese", None),
            ("1 cup cream cheese", Some("1 cup")),
            ("2 cloves garlic", Some("2 cloves")),
            ("3 eggs", Some("3 eggs")),
        ] {
            let got = as_written(&reader.line(text), &reader.line(text).items[0]);
            assert_eq!(got.as_deref(), want, "{text}");
        }
    }

    /// A blend's weight is that of the measure which the household column uses.
    #[test]
    fn a_blend_is_weighed_in_the_kitchens_own_cup() {
        let larder = Larder::built_in().expect("the built-in tables");
        let blends = crate::rework::blend::house(&larder);
        let of = |locale| {
            let (name, g) = measure_of_blend(&larder, &blends[0], locale).expect("a cup");
            (name, g.likely().as_grams())
        };
        let (name, us) = of(Locale::Us);
        assert_eq!(name, "A US cup");
        for locale in [Locale::Au, Locale::Metric] {
            let (name, own) = of(locale);
            assert_eq!(name, "A cup of 250 mL");
            assert!(
                (own / us - 250.0 / 236.588_236_5).abs() < 1e-6,
                "{own} {us}"
            );
            // One of it is one cup of the column.
            let one = of_blend(&larder, &blends[0], Mass::grams(own), locale);
            assert_eq!(one.expect("a cup").words, "1 cup");
        }
        let (name, own) = of(Locale::Uk);
        assert_eq!(name, "100 ml");
        assert!(
            (own / us - 100.0 / 236.588_236_5).abs() < 1e-6,
            "{own} {us}"
        );
    }

    #[test]
    fn the_scales_of_the_kitchen_are_obeyed() {
        let on = |step, fine, g, finely| Scale { step, fine }.grams(Mass::grams(g), finely);
        assert_eq!(on(5.0, None, 437.29, false), "435");
        assert_eq!(on(5.0, Some(0.1), 437.29, false), "435");
        assert_eq!(on(1.0, None, 43.29, false), "43");
        assert_eq!(
            on(1.0, None, 4.329, true),
            "4.3",
            "a whole gram would miss too much"
        );
        assert_eq!(on(1.0, Some(0.01), 0.456, true), "0.46");
        // Flour and sugar go on the scale of 1 g, but for so little that a gram is far off.
        for (g, shown) in [
            (59.5, "60"),
            (73.4, "73"),
            (10.4, "10"),
            (8.46, "8.5"),
            (8.1, "8"),
        ] {
            assert_eq!(on(1.0, Some(0.1), g, false), shown);
        }
        let own = |fine, g| Scale { step: 1.0, fine }.shows(Mass::grams(g), false);
        assert_eq!(
            own(Some(0.1), 8.46),
            (8.5, false),
            "the fine scale shows it"
        );
        assert_eq!(own(None, 8.46), (8.5, true), "no scale of the kitchen does");
    }

    /// A reader has cups, halves, thirds and quarters of them, and spoons to an eighth of a
    /// teaspoon; what they do not hold as it was written is measured back.
    #[test]
    fn only_what_spoons_hold_is_said_as_it_was_written() {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = crate::read::Reader::new(&larder, Locale::Us);
        for (text, kept) in [
            ("1 5/8 tsp salt", false),
            ("0.6 tsp ground ginger", false),
            ("3/8 cup honey", false),
            ("1.7 tbsp olive oil", false),
            ("⅓ tsp salt", false),
            ("1⅛ tsp salt", false),
            ("⅛ tsp salt", true),
            ("1½ tsp salt", true),
            ("0.33 cup sugar", true),
            ("2⅔ cups sugar", true),
            ("1½ tbsp honey", true),
            ("1–2 tsp salt", true),
            ("1½ pints milk", true),
            ("3 eggs", true),
        ] {
            let line = reader.line(text);
            assert!(as_written(&line, &line.items[0]).is_some(), "{text}");
            assert_eq!(as_spooned(&line, &line.items[0]).is_some(), kept, "{text}");
        }
    }

    #[test]
    fn units_are_written_as_they_usually_are() {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = crate::read::Reader::new(&larder, Locale::Uk);
        for (text, words) in [
            ("1 dsp sugar", "1 dessertspoon"),
            ("2 dsp. sugar", "2 dessertspoons"),
            ("1 level tablespoons sugar", "1 level tbsp"),
            ("2 tablespoon sugar", "2 tbsp"),
            ("1 T sugar", "1 tbsp"),
            ("2 Tbsp. sugar", "2 tbsp"),
            ("1tsp salt", "1 tsp"),
            ("3 heaped teaspoonfuls sugar", "3 heaped tsp"),
            ("½ cups sugar", "½ cup"),
            ("1½ cup sugar", "1½ cups"),
            ("2 c sugar", "2 cups"),
            ("1-2 clove garlic", "1-2 cloves"),
            ("2 tablespoons sugar", "2 tablespoons"),
            ("2 tsp. sugar", "2 tsp"),
            ("1 cup sugar", "1 cup"),
            ("a pinch of salt", "a pinch"),
        ] {
            let line = reader.line(text);
            assert_eq!(
                as_written(&line, &line.items[0]).as_deref(),
                Some(words),
                "{text}"
            );
        }
    }

    /// Rounding of the bench scale, common practice: 437.29 g is printed as 437 g.
    #[test]
    fn no_false_precision() {
        assert_eq!(scale_grams(Mass::grams(437.29), false), "437");
        assert_eq!(scale_grams(Mass::grams(43.29), false), "43");
        assert_eq!(scale_grams(Mass::grams(8.46), false), "8.5");
        assert_eq!(scale_grams(Mass::grams(4.329), true), "4.3");
        assert_eq!(scale_grams(Mass::grams(2.0), true), "2");
        assert_eq!(scale_grams(Mass::grams(26.57), true), "26.6");
        // A half goes up, on every page.
        assert_eq!(scale_grams(Mass::grams(146.5), false), "147");
        assert_eq!(scale_grams(Mass::grams(0.25), true), "0.3");
    }

    #[test]
    fn what_no_scale_shows_is_a_pinch() {
        let words = |g| weight(Mass::grams(g), true);
        assert_eq!(words(0.03), "a pinch, under 0.1 g");
        assert_eq!(words(0.06), "0.1 g");
        assert_eq!(words(0.0), "0 g");
        let spread = Spread::new(Mass::grams(0.01), Mass::grams(0.03), Mass::grams(0.2));
        assert_eq!(spread_grams(spread, true), PINCH);
    }

    #[test]
    fn an_error_is_said_in_words_where_it_matters() {
        let shown = |error: f64| {
            let words = "1½ tsp".to_owned();
            Household { words, error }.shown()
        };
        assert_eq!(shown(0.02), "1½ tsp");
        assert_eq!(shown(-0.03), "1½ tsp");
        assert_eq!(shown(0.09), "1½ tsp (9 % over the weight)");
        assert_eq!(shown(-0.08), "1½ tsp (8 % under the weight)");
    }
}
