//! Numbers and measures as printed: units in letters, decimals under one another.

use maud::{Markup, html};
use quantity::{Mass, Quantity, Spread};
use recipe::household::{percent_figure, scale_grams};

/// Household words with units spelled, joined as a cookbook joins them: `1½ cup + 2 tbsp`
/// becomes `1½ cups plus 2 tablespoons`.
pub(crate) fn spelled(words: &str) -> String {
    words
        .split(" + ")
        .map(part)
        .collect::<Vec<_>>()
        .join(" plus ")
}

/// A bit of a beaten egg with its spoons, for who has no scale: `1 large egg white plus 16 g beaten egg white` is
/// `1 large egg white plus 16 g (about 1 tablespoon) beaten white`. A cup of beaten egg, white or yolk weighs 243 g
/// (USDA SR28 01123, 01124, 01125), a teaspoon 5.06 g.
pub(crate) fn beaten_in_spoons(words: &str) -> String {
    const TEASPOON: f64 = 243.0 / 48.0;
    let spoons = || {
        let (head, bit) = words.rsplit_once(" plus ")?;
        let (grams, what) = bit.split_once(" g beaten ")?;
        let of: f64 = grams.parse().ok()?;
        let halves = (of / TEASPOON * 2.0).round().max(1.0) as u32;
        // From a tablespoon on in halves of it, where that comes out.
        let (halves, spoon) = match halves {
            n if n >= 6 && n % 3 == 0 => (n / 3, "tablespoon"),
            n => (n, "teaspoon"),
        };
        let number = match (halves / 2, halves % 2) {
            (0, _) => "½".to_owned(),
            (n, 0) => n.to_string(),
            (n, _) => format!("{n}½"),
        };
        let many = if halves > 2 { "s" } else { "" };
        let what = what.strip_prefix("egg ").unwrap_or(what);
        Some(format!(
            "{head} plus {grams} g (about {number} {spoon}{many}) beaten {what}"
        ))
    };
    spoons().unwrap_or_else(|| words.to_owned())
}

fn part(words: &str) -> String {
    let (Some(cut), false) = (words.rfind(' '), words.contains('×')) else {
        return full(words);
    };
    let (number, unit) = words.split_at(cut);
    // '1½' is many, '1 level' is one.
    let first = number.split(' ').next().unwrap_or(number);
    let range = ['-', '–'].iter().any(|dash| number.trim().contains(*dash));
    let many = range || quantity::figure(first).is_some_and(|n| n > 1.0);
    match (spelled_unit(unit.trim()), many) {
        (Some(unit), true) => format!("{number} {unit}s"),
        (Some(unit), false) => format!("{number} {unit}"),
        (None, _) => words.to_owned(),
    }
}

/// `3 × ¼ cup`: the unit spelled, one at a time.
fn full(words: &str) -> String {
    match words.rsplit_once(' ') {
        Some((number, unit)) => format!("{number} {}", spelled_unit(unit).unwrap_or(unit)),
        None => words.to_owned(),
    }
}

fn spelled_unit(unit: &str) -> Option<&'static str> {
    match unit {
        "cup" => Some("cup"),
        "tbsp" => Some("tablespoon"),
        "tsp" => Some("teaspoon"),
        _ => None,
    }
}

/// A whole weight of dough or filling: to 5 g from 100 g on, for it is a sum of doubtful parts.
pub(crate) fn about(grams: Mass) -> String {
    let g = grams.as_grams();
    if g >= 100.0 {
        format!("{:.0}", (g / 5.0).round() * 5.0)
    } else {
        scale_grams(grams, false)
    }
}

/// Low and high of a weight, or `None` where they are the same on a scale.
pub(crate) fn ends(grams: Spread<Mass>, fine: bool) -> Option<(String, String)> {
    let (low, high) = (
        scale_grams(grams.low(), fine),
        scale_grams(grams.high(), fine),
    );
    (low != high).then_some((low, high))
}

/// Low and high of percents.
pub(crate) fn percent_ends<Q: Quantity>(of: Spread<Q>) -> Option<(String, String)> {
    let (low, high) = (
        percent_figure(of.low().value()),
        percent_figure(of.high().value()),
    );
    (low != high).then_some((low, high))
}

/// A cell with a number whose decimals stand under those of its column.
pub(crate) fn cell(number: Option<&str>) -> Markup {
    html! {
        td.n {
            @if let Some(text) = number {
                @let (whole, decimals) = match text.find('.') {
                    Some(dot) => text.split_at(dot),
                    None => (text, ""),
                };
                (whole) span.d { (decimals) }
            }
        }
    }
}

/// The name with its first letter in upper case.
pub(crate) fn capital(name: &str) -> String {
    let mut letters = name.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// Where a figure comes from, without how we know it: for readers, who cannot look it up.
pub(crate) fn plain_source(source: &str) -> String {
    let mut out = source.to_owned();
    for ours in [
        " (seen)",
        "; the rest common practice, no source",
        ", from memory",
    ] {
        out = out.replace(ours, "");
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By 5.06 g to a teaspoon: 7 g are 1.4, 20 g 4.0, 3 g 0.6; 16 g are 3.2 and 38 g 7.5, that is 2½ tablespoons.
    #[test]
    fn a_bit_of_an_egg_is_in_spoons() {
        for (given, want) in [
            (
                "2 large eggs + 7 g beaten egg",
                "2 large eggs plus 7 g (about 1½ teaspoons) beaten egg",
            ),
            (
                "1 large egg + 20 g beaten egg",
                "1 large egg plus 20 g (about 4 teaspoons) beaten egg",
            ),
            (
                "1 large egg yolk + 3 g beaten egg yolk",
                "1 large egg yolk plus 3 g (about ½ teaspoon) beaten yolk",
            ),
            (
                "1 large egg white + 16 g beaten egg white",
                "1 large egg white plus 16 g (about 1 tablespoon) beaten white",
            ),
            (
                "1 medium egg + 38 g beaten egg",
                "1 medium egg plus 38 g (about 2½ tablespoons) beaten egg",
            ),
            ("20 g beaten egg", "20 g beaten egg"),
            ("2 large eggs", "2 large eggs"),
        ] {
            assert_eq!(beaten_in_spoons(&spelled(given)), want);
        }
    }

    #[test]
    fn units_are_spelled() {
        for (given, want) in [
            ("1½ cup + 2 tbsp", "1½ cups plus 2 tablespoons"),
            ("⅔ cup", "⅔ cup"),
            ("1 tsp", "1 teaspoon"),
            ("3 × ⅓ cup", "3 × ⅓ cup"),
            (
                "2 large eggs + 20 g beaten egg",
                "2 large eggs plus 20 g beaten egg",
            ),
            ("2 sticks + 1 tbsp", "2 sticks plus 1 tablespoon"),
            ("1½ banana", "1½ banana"),
            ("½ lemon", "½ lemon"),
            ("1 level tsp", "1 level teaspoon"),
            ("2 level tsp", "2 level teaspoons"),
            ("1-2 tbsp", "1-2 tablespoons"),
        ] {
            assert_eq!(spelled(given), want);
        }
    }
}
