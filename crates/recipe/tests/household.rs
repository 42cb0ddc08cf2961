//! Household measures that can be measured: every gram from 1 to 1,000 of 40 foods, in each
//! country's scoops, against a brute force that shares nothing with the search: it lists every
//! handful of scoops once and looks each weight up in the list.

use larder::Larder;
use quantity::household::{ERROR, MOST_SCOOPS, Scooped, measure, scoops, words};
use quantity::{Locale, Mass};
use std::collections::BTreeMap;
use std::sync::LazyLock;

const FOODS: [&str; 40] = [
    "white_rice_flour",
    "brown_rice_flour",
    "sweet_rice_flour",
    "sorghum_flour",
    "millet_flour",
    "buckwheat_flour",
    "teff_flour",
    "oat_flour",
    "chickpea_flour",
    "almond_flour",
    "coconut_flour",
    "corn_starch",
    "potato_starch",
    "tapioca_starch",
    "arrowroot",
    "potato_flour",
    "all_purpose_flour",
    "white_sugar",
    "light_brown_sugar",
    "icing_sugar",
    "honey",
    "maple_syrup",
    "molasses",
    "whole_milk",
    "buttermilk",
    "yogurt",
    "sour_cream",
    "heavy_cream",
    "cream_cheese",
    "water",
    "vegetable_oil",
    "unsalted_butter",
    "table_salt",
    "baking_powder",
    "baking_soda",
    "instant_yeast",
    "cocoa_powder",
    "psyllium_powder",
    "xanthan_gum",
    "almond_sliced",
];

/// The eighth of a teaspoon is reached for up to a teaspoon, 4.93 mL.
const EIGHTHS_UP_TO: f64 = 4.93;

/// Every handful of at most five scoops other than whole cups: its millilitres and how many.
fn handfuls(sizes: &[f64]) -> Vec<(f64, u32)> {
    let mut all = vec![(0.0, 0, 0)];
    let mut from = 0;
    for _ in 0..MOST_SCOOPS {
        let until = all.len();
        for i in from..until {
            let (sum, count, first): (f64, u32, usize) = all[i];
            for (j, size) in sizes.iter().enumerate().skip(first) {
                all.push((sum + size, count + 1, j));
            }
        }
        from = until;
    }
    all.into_iter()
        .map(|(sum, count, _)| (sum, count))
        .collect()
}

/// The fewest scoops within a share of a volume, whole cups among them; at most five beside the
/// whole cups that must be there anyway.
fn fewest(ml: f64, cup: Option<f64>, handfuls: &[(f64, u32)], share: f64) -> Option<u32> {
    let allowed = ml * share;
    let must = cup.map_or(0.0, |c| (((ml - ml * ERROR) / c).floor() - 1.0).max(0.0));
    let mut best: Option<u32> = None;
    for &(sum, count) in handfuls {
        let rest = ml - sum;
        // So many whole cups that it comes within the error, the fewest of them.
        let cups = match cup {
            Some(c) => ((rest - allowed) / c).ceil().max(0.0),
            None => 0.0,
        };
        let off = (rest - cups * cup.unwrap_or(0.0)).abs();
        let all = cups + f64::from(count);
        if off <= allowed && all >= 1.0 && all <= must + f64::from(MOST_SCOOPS) {
            let all = all as u32;
            best = Some(best.map_or(all, |b| b.min(all)));
        }
    }
    best
}

/// The millilitres that words come to, read part by part: `1⅔ cups + 2 tbsp`.
fn read_back(words: &str, locale: Locale) -> f64 {
    let one = |unit: &str| -> f64 {
        let unit = unit.strip_suffix('s').unwrap_or(unit);
        let scoop = scoops(locale)
            .iter()
            .find(|s| s.unit.label() == unit)
            .expect(unit);
        scoop.millilitres(locale) / scoop.fraction()
    };
    let part = |text: &str| -> f64 {
        // '3 × ⅓ cup' is said where no usual fraction is.
        let (many, text) = text.split_once(" × ").unwrap_or(("1", text));
        let (number, unit) = text.rsplit_once(' ').expect("a number and a unit");
        let figure = quantity::figure(number).expect(number);
        many.parse::<f64>().expect(many) * figure * one(unit)
    };
    words.split(" + ").map(part).sum()
}

fn millilitres(s: &Scooped, locale: Locale) -> f64 {
    let all = s.scoops.iter();
    all.map(|(n, x)| f64::from(*n) * x.millilitres(locale))
        .sum()
}

fn larder() -> &'static Larder {
    static LARDER: LazyLock<Larder> =
        LazyLock::new(|| Larder::built_in().expect("the built-in tables"));
    &LARDER
}

fn every_gram(locale: Locale) {
    let set = scoops(locale);
    let cup = set
        .iter()
        .find(|s| s.name() == "1 cup")
        .map(|s| s.millilitres(locale));
    let sizes = |eighths: bool| -> Vec<f64> {
        let scoops = set
            .iter()
            .filter(|s| s.name() != "1 cup" && (eighths || s.under != 8));
        scoops.map(|s| s.millilitres(locale)).collect()
    };
    let (coarse, fine) = (handfuls(&sizes(false)), handfuls(&sizes(true)));
    let mut seen = BTreeMap::from([("measured", 0_u32), ("weighed", 0)]);
    for key in FOODS {
        let food = larder().by_key(key).expect(key);
        for grams in 1..=1000 {
            let volume = larder().volume_of(food, Mass::grams(f64::from(grams)));
            let ml = volume.expect(key).as_millilitres();
            let list = if ml <= EIGHTHS_UP_TO { &fine } else { &coarse };
            // A hair more and less: the edge of the error is nobody's business.
            let least = fewest(ml, cup, list, ERROR * (1.0 + 1e-9));
            let most = fewest(ml, cup, list, ERROR * (1.0 - 1e-9));
            let got = measure(ml, locale, ERROR);
            let count = got
                .as_ref()
                .map(|s| s.scoops.iter().map(|x| x.0).sum::<u32>());
            let what = || format!("{grams} g {key}, {ml} mL, {locale:?}: {count:?}");
            match (&got, count) {
                (Some(scooped), Some(n)) => {
                    *seen.entry("measured").or_default() += 1;
                    assert!(least.is_some_and(|l| l <= n), "{}: {least:?}", what());
                    assert!(most.is_none_or(|m| n <= m), "{}: {most:?}", what());
                    let holds = millilitres(scooped, locale);
                    assert!(
                        (holds / ml - 1.0 - scooped.error).abs() < 1e-9,
                        "{}",
                        what()
                    );
                    assert!(scooped.error.abs() <= ERROR + 1e-9, "{}", what());
                    let said = words(scooped);
                    let read = read_back(&said, locale);
                    assert!((read - holds).abs() < 1e-6 * holds, "{}: '{said}'", what());
                }
                _ => {
                    *seen.entry("weighed").or_default() += 1;
                    assert_eq!(most, None, "{}", what());
                }
            }
        }
    }
    assert_eq!(seen.values().sum::<u32>(), 40_000);
    assert!(seen["measured"] > 1_000, "{seen:?}");
}

#[test]
fn every_gram_in_us_scoops() {
    every_gram(Locale::Us);
}

#[test]
fn every_gram_in_metric_scoops() {
    every_gram(Locale::Metric);
}

#[test]
fn every_gram_in_australian_scoops() {
    every_gram(Locale::Au);
}

/// Spoons alone: most of it is weighed.
#[test]
fn every_gram_in_british_spoons() {
    every_gram(Locale::Uk);
}

/// 40 cups and more: the whole cups that the error spares are not scooped.
#[test]
fn whole_cups_that_the_error_spares_are_not_scooped() {
    let cup = 236.588_236_5;
    let got = measure(38.0 * cup, Locale::Us, ERROR).expect("cups");
    let count: u32 = got.scoops.iter().map(|x| x.0).sum();
    assert_eq!(count, 37, "{got:?}");
}
