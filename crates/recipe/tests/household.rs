//! Household measures that can be measured: every gram from 1 to 1,000 of 44 foods, in each
//! country's scoops, against a brute force that shares nothing with the search: it lists every
//! handful of scoops of a food once, by what its own spoons and cups weigh, and looks each weight
//! up in the list.

mod common;

use common::larder;
use larder::{FoodId, State};
use quantity::household::{Drawer, ERROR, MOST_SCOOPS, Scoop, Scooped, measure, scoops, words};
use quantity::{Locale, Mass, Unit};
use recipe::household::{Scale, household, is_fine};
use std::collections::BTreeMap;

const FOODS: [&str; 44] = [
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
    "vanilla_extract",
    "lemon_juice",
    "soy_sauce",
    "instant_coffee",
];

/// A handful of scoops other than whole cups.
struct Handful {
    grams: f64,
    scoops: u32,
    /// Whether cups, tablespoons, teaspoons are among them.
    kinds: [bool; 3],
    tablespoons: f64,
}

/// Every handful of at most five scoops other than whole cups that a cookbook would say: of two measures at most,
/// each a whole number or one with ½, ⅓, ⅔, ¼ or ¾, an eighth beside one smaller spoon alone; less than three teaspoons
/// where a tablespoon is three, no half tablespoon without a whole one, and beside cups less than four tablespoons.
fn handfuls(set: &[(Scoop, f64)], locale: Locale) -> Vec<Handful> {
    const FRACTIONS: [f64; 7] = [0.0, 0.25, 1.0 / 3.0, 0.5, 2.0 / 3.0, 0.75, 1.0];
    let mut all = vec![Vec::new()];
    let mut from = 0;
    for _ in 0..MOST_SCOOPS {
        let until = all.len();
        for i in from..until {
            let first = all[i].last().copied().unwrap_or(0);
            for j in first..set.len() {
                let mut more: Vec<usize> = all[i].clone();
                more.push(j);
                all.push(more);
            }
        }
        from = until;
    }
    let said = |taken: Vec<usize>| {
        let of = |unit: Unit| -> f64 {
            let scoops = taken.iter().map(|i| set[*i].0);
            let own = scoops.filter(|s| s.unit == unit);
            own.map(|s| f64::from(s.over) / f64::from(s.under)).sum()
        };
        let [cups, tablespoons, teaspoons] = [Unit::Cup, Unit::Tbsp, Unit::Tsp].map(of);
        let usual = |n: f64| FRACTIONS.iter().any(|f| (n.fract() - f).abs() < 1e-6);
        let parts = [0.125, 0.375, 0.625];
        let spoon = taken.len() <= 2 && parts.iter().any(|p| (teaspoons - p).abs() < 1e-6);
        let eighths = spoon && cups + tablespoons == 0.0;
        let kinds = [cups > 0.0, tablespoons > 0.0, teaspoons > 0.0];
        let fine = usual(cups)
            && usual(tablespoons)
            && (usual(teaspoons) || eighths)
            && (locale == Locale::Au || teaspoons < 3.0 - 1e-6)
            && !(kinds[0] && tablespoons > 4.0 - 1e-6)
            && (tablespoons == 0.0 || tablespoons > 1.0 - 1e-6)
            && kinds != [true; 3];
        fine.then(|| Handful {
            grams: taken.iter().map(|i| set[*i].1).sum(),
            scoops: taken.len() as u32,
            kinds,
            tablespoons,
        })
    };
    all.into_iter().filter_map(said).collect()
}

/// The fewest scoops within a share of a weight, whole cups among them; at most five beside the
/// whole cups that must be there anyway.
fn fewest(grams: f64, cup: Option<f64>, handfuls: &[Handful], share: f64) -> Option<u32> {
    let allowed = grams * share;
    let must = cup.map_or(0.0, |c| {
        (((grams - grams * ERROR) / c).floor() - 1.0).max(0.0)
    });
    let mut best: Option<u32> = None;
    for handful in handfuls {
        let rest = grams - handful.grams;
        // So many whole cups that it comes within the error, the fewest of them.
        let cups = match cup {
            Some(c) => ((rest - allowed) / c).ceil().max(0.0),
            None => 0.0,
        };
        let off = (rest - cups * cup.unwrap_or(0.0)).abs();
        let all = cups + f64::from(handful.scoops);
        let [_, by_tablespoons, by_teaspoons] = handful.kinds;
        let many = by_tablespoons && by_teaspoons || handful.tablespoons > 4.0 - 1e-6;
        if cups > 0.0 && many {
            continue;
        }
        if off <= allowed && all >= 1.0 && all <= must + f64::from(MOST_SCOOPS) {
            let all = all as u32;
            best = Some(best.map_or(all, |b| b.min(all)));
        }
    }
    best
}

/// What one of a unit weighs of a food, as a line that is written in it is weighed.
fn one(food: FoodId, unit: Unit, locale: Locale) -> f64 {
    let weight = larder().weigh(food, unit, None, State::Usual, locale);
    weight.expect("a measure").grams.likely().as_grams()
}

/// The grams that words come to, read part by part: `1⅔ cups + 2 tbsp`.
fn read_back(words: &str, food: FoodId, locale: Locale) -> f64 {
    let part = |text: &str| -> f64 {
        let (number, unit) = text.rsplit_once(' ').expect("a number and a unit");
        let figure = quantity::figure(number).expect(number);
        let unit = Unit::from_code(unit.strip_suffix('s').unwrap_or(unit)).expect(unit);
        figure * one(food, unit, locale)
    };
    words.split(" + ").map(part).sum()
}

fn weighs(s: &Scooped, food: FoodId, locale: Locale) -> f64 {
    let all = s.scoops.iter();
    all.map(|(n, x)| f64::from(*n) * x.fraction() * one(food, x.unit, locale))
        .sum()
}

fn every_gram(locale: Locale) {
    let mut seen = BTreeMap::from([("measured", 0_u32), ("weighed", 0)]);
    for key in FOODS {
        let food = larder().by_key(key).expect(key);
        let set: Vec<(Scoop, f64)> = scoops(locale)
            .iter()
            .map(|s| (*s, s.fraction() * one(food, s.unit, locale)))
            .collect();
        let cup = set.iter().find(|s| s.0.name() == "1 cup").map(|s| s.1);
        let of = |eighths: bool| -> Vec<Handful> {
            let scoops = set
                .iter()
                .filter(|(s, _)| s.name() != "1 cup" && (eighths || s.under != 8));
            handfuls(&scoops.copied().collect::<Vec<_>>(), locale)
        };
        let (coarse, fine) = (of(false), of(true));
        let teaspoon = one(food, Unit::Tsp, locale);
        for grams in (1..=1000).map(f64::from) {
            // The eighth of a teaspoon is reached for up to a teaspoon.
            let list = if grams <= teaspoon { &fine } else { &coarse };
            // A hair more and less: the edge of the error is nobody's business.
            let least = fewest(grams, cup, list, ERROR * (1.0 + 1e-9));
            let most = fewest(grams, cup, list, ERROR * (1.0 - 1e-9));
            let got =
                Drawer::from(locale).measure(grams, |unit| Some(one(food, unit, locale)), ERROR);
            let count = got
                .as_ref()
                .map(|s| s.scoops.iter().map(|x| x.0).sum::<u32>());
            let what = || format!("{grams} g {key}, {locale:?}: {count:?}");
            match (&got, count) {
                (Some(scooped), Some(n)) => {
                    *seen.entry("measured").or_default() += 1;
                    assert!(least.is_some_and(|l| l <= n), "{}: {least:?}", what());
                    assert!(most.is_none_or(|m| n <= m), "{}: {most:?}", what());
                    let holds = weighs(scooped, food, locale);
                    let off = holds / grams - 1.0;
                    assert!((off - scooped.error).abs() < 1e-9, "{}", what());
                    assert!(scooped.error.abs() <= ERROR + 1e-9, "{}", what());
                    let said = words(scooped);
                    let read = read_back(&said, food, locale);
                    assert!((read - holds).abs() < 1e-6 * holds, "{}: '{said}'", what());
                }
                _ => {
                    *seen.entry("weighed").or_default() += 1;
                    assert_eq!(most, None, "{}", what());
                }
            }
        }
    }
    assert_eq!(seen.values().sum::<u32>(), 44_000);
    assert!(seen["measured"] > 1_000, "{seen:?}");
}

/// From one teaspoon to twelve, four tablespoons, of whatever has a spoon weight spoons do: within
/// the stated error, or within an eighth below a tablespoon and a twentieth above, which is shown.
/// A tablespoon is three teaspoons, or what the food's own weighs: of icing sugar 8 g beside 2.5 g (SR28 19336).
#[test]
fn some_tablespoons_are_never_weighed() {
    for locale in Locale::ALL {
        // Of instant coffee a tablespoon of the table is 4.5 teaspoons: between them nothing comes near.
        for key in FOODS.into_iter().filter(|k| *k != "instant_coffee") {
            let food = larder().by_key(key).expect(key);
            let spoon = one(food, Unit::Tsp, locale);
            for tenths in 1..10_000 {
                let grams = f64::from(tenths) / 10.0;
                if grams < spoon {
                    continue;
                }
                if grams > 12.0 * spoon {
                    break;
                }
                let got = household(larder(), food, Mass::grams(grams), locale);
                // The grams that stand beside it: to 1 g, what is weighed finely to 0.1 g.
                let fine = is_fine(larder(), food);
                let shown = Scale::default().rounded(Mass::grams(grams), fine);
                // From 30 g on butter is cut from its block where it is not sold in sticks.
                if key == "unsalted_butter" && locale != Locale::Us && shown > 30.0 {
                    assert_eq!(got, None, "{grams} g {key}, {locale:?}");
                    continue;
                }
                let got = got.unwrap_or_else(|| panic!("{grams} g {key}, {locale:?}"));
                // A British jug is read to 5 ml.
                let most = match got.words.strip_suffix(" ml") {
                    Some(ml) => 2.5 / (ml.parse::<f64>().expect("ml") - 2.5),
                    None if grams < (3.0 * spoon).max(one(food, Unit::Tbsp, locale)) => 0.125,
                    None => 0.05,
                };
                assert!(got.error.abs() <= most + 1e-9, "{grams} g {key}: {got:?}");
                // What is off is off of the grams that are read, not of others behind them.
                // A spoon of butter in sticks is an eighth of one: see `sticks`.
                let in_sticks = key == "unsalted_butter" && locale == Locale::Us;
                if !got.words.ends_with(" ml") && !in_sticks {
                    let off = read_back(&got.words, food, locale) / shown - 1.0;
                    assert!((off - got.error).abs() < 1e-6, "{grams} g {key}: {got:?}");
                }
            }
        }
    }
}

/// 17 g of vanilla extract is 4 tsp of 4.2 g (USDA SR28 02050), 16.8 g.
#[test]
fn spoons_are_weighed_by_their_own_weight() {
    let says = |key: &str, grams, locale| {
        let food = larder().by_key(key).expect(key);
        household(larder(), food, Mass::grams(grams), locale).map(|h| h.words)
    };
    for (key, grams, locale, want) in [
        ("vanilla_extract", 17.0, Locale::Us, "1 tbsp + 1 tsp"),
        ("vanilla_extract", 17.0, Locale::Uk, "1 tbsp + 1 tsp"),
        ("vanilla_extract", 17.0, Locale::Au, "4 tsp"),
        ("vegetable_oil", 27.0, Locale::Us, "2 tbsp"),
        ("honey", 42.0, Locale::Us, "2 tbsp"),
        ("soy_sauce", 48.0, Locale::Us, "3 tbsp"),
        ("lemon_juice", 15.0, Locale::Uk, "1 tbsp"),
    ] {
        assert_eq!(
            says(key, grams, locale).as_deref(),
            Some(want),
            "{grams} g {key}"
        );
    }
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

/// Yeast that no spoons hold within the stated error takes the spoons that come nearest, not the
/// fewest: 2¾ tsp of dry yeast, 3.1 % over 8.4 g (SR28 18375 by the packet), not a tablespoon, 12 %.
#[test]
fn beyond_the_error_the_nearest_spoons_are_taken() {
    let larder = larder();
    let yeast = larder.by_key("active_dry_yeast").expect("yeast");
    let found = household(larder, yeast, Mass::grams(8.4), Locale::Us).expect("spoons");
    assert_eq!(found.words, "2¾ tsp");
    assert!((0.03..0.05).contains(&found.error), "{}", found.error);
}
