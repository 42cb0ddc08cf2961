//! The cups and spoons that a kitchen weighs in. An entry keeps them as US measures, whatever the kitchen.

use larder::OwnEntry;
use quantity::{Hold, Locale, Unit};

fn unit(word: &str) -> Option<Unit> {
    match word {
        "cup" => Some(Unit::Cup),
        "tbsp" => Some(Unit::Tbsp),
        "tsp" => Some(Unit::Tsp),
        _ => None,
    }
}

fn millilitres(unit: Unit, locale: Locale) -> Option<f64> {
    match unit.hold(locale) {
        Hold::Volume(v) => Some(v.likely().as_millilitres()),
        _ => None,
    }
}

/// How many US ones a kitchen's measure is; 1 for what is the same everywhere.
fn us_ones(word: &str, locale: Locale) -> f64 {
    let times = |u| Some(millilitres(u, locale)? / millilitres(u, Locale::Us)?);
    unit(word).and_then(times).unwrap_or(1.0)
}

/// A measure in words, as the kitchen has it: `US cup`, `cup of 250 mL`.
pub fn measure_words(word: &str, locale: Locale) -> String {
    let (us, own) = match word {
        "cup" => ("US cup", "cup"),
        "tbsp" => ("US tablespoon", "tablespoon"),
        "tsp" => ("US teaspoon", "teaspoon"),
        "fl_oz" => return "US fluid ounce".to_owned(),
        "each" => return "one piece".to_owned(),
        "measure" => return "its own measure".to_owned(),
        "small" | "medium" | "large" => return format!("a {word} one"),
        "xl" => return "an extra large one".to_owned(),
        "jumbo" => return "a jumbo one".to_owned(),
        "zest" => return "zest of one".to_owned(),
        "juice" => return "juice of one".to_owned(),
        other => return other.replace('_', " "),
    };
    match unit(word).and_then(|u| millilitres(u, locale)) {
        Some(ml) if locale != Locale::Us => format!("{own} of {ml:.0} mL"),
        _ => us.to_owned(),
    }
}

/// What the cups and spoons hold that the form asks for.
pub fn hold_words(locale: Locale) -> &'static str {
    match locale {
        Locale::Us => "A US cup holds 237 mL, a tablespoon 14.8 mL, a teaspoon 4.9 mL.",
        Locale::Au => "Your cup holds 250 mL, a tablespoon 20 mL, a teaspoon 5 mL.",
        Locale::Metric | Locale::Uk => {
            "Your cup holds 250 mL, a tablespoon 15 mL, a teaspoon 5 mL."
        }
    }
}

/// A kept weight as the kitchen's own measure weighs, to a hundredth of a gram.
pub fn shown(word: &str, kept: f64, locale: Locale) -> f64 {
    if locale == Locale::Us {
        return kept;
    }
    (kept * us_ones(word, locale) * 100.0).round() / 100.0
}

/// A weight of the kitchen's own measure as it is kept: in the fewest digits that come back as it was typed.
pub fn kept(word: &str, typed: f64, locale: Locale) -> f64 {
    let us = typed / us_ones(word, locale);
    if locale == Locale::Us || !us.is_finite() {
        return typed;
    }
    let rounded = (0..=4).map(|places| {
        let ten = 10_f64.powi(places);
        (us * ten).round() / ten
    });
    let back = |us: &f64| (shown(word, *us, locale) - typed).abs() < 1e-9;
    rounded.into_iter().find(back).unwrap_or(us)
}

/// An entry as the kitchen's own measures weigh.
pub fn weights(entry: &OwnEntry, locale: Locale) -> OwnEntry {
    let mut out = entry.clone();
    for (word, grams) in &mut out.weights {
        *grams = shown(word, *grams, locale);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// US cup 236.588 mL, tablespoon 14.787 mL, teaspoon 4.929 mL (NIST Handbook 44, app. C); Australian cup
    /// 250 mL, tablespoon 20 mL, teaspoon 5 mL (AS 1325).
    #[test]
    fn a_weight_of_the_kitchens_own_cup_comes_back_as_it_was_typed() {
        for (word, locale, typed, us) in [
            ("cup", Locale::Us, 120.0, 120.0),
            ("cup", Locale::Au, 130.0, 130.0 * 236.588 / 250.0),
            ("cup", Locale::Metric, 152.5, 152.5 * 236.588 / 250.0),
            ("tbsp", Locale::Au, 11.0, 11.0 * 14.787 / 20.0),
            ("tbsp", Locale::Uk, 9.25, 9.25 * 14.787 / 15.0),
            ("tsp", Locale::Metric, 3.1, 3.1 * 4.929 / 5.0),
            ("each", Locale::Au, 60.0, 60.0),
        ] {
            let is = kept(word, typed, locale);
            assert!((is - us).abs() < 0.01, "{word}: {is}, not {us}");
            assert_eq!(shown(word, is, locale), typed, "{word}");
        }
        // What another kitchen kept is not moved by being looked at.
        assert_eq!(
            kept("cup", shown("cup", 120.0, Locale::Au), Locale::Au),
            120.0
        );
    }

    #[test]
    fn the_form_asks_for_the_kitchens_own() {
        assert_eq!(measure_words("cup", Locale::Us), "US cup");
        assert_eq!(measure_words("cup", Locale::Metric), "cup of 250 mL");
        assert_eq!(measure_words("tbsp", Locale::Au), "tablespoon of 20 mL");
        assert_eq!(measure_words("each", Locale::Au), "one piece");
    }
}
