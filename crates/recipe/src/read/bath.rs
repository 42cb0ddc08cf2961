//! The water that pretzels, bagels and noodles are boiled in, listed among the dough's own lines.

use super::Reader;
use crate::line::{Item, Purpose};
use crate::recipe::{Component, Recipe};
use crate::{Doubt, DoubtCode};
use larder::Food;
use quantity::Hold;

/// So much water over the flour is no dough's nor batter's: a bath.
///
/// # Source
/// Common practice, no source; the wettest batters of `style_ranges.tsv` stay below.
const OVER_FLOUR: f64 = 3.0;

/// Words of a step that boils.
const BOILS: [&str; 6] = [
    "boil",
    "simmer",
    "poach",
    "bath",
    "blanch",
    "cook in the water",
];

/// Takes the water out of the formula that a dough is boiled in, with the soda that the same step names,
/// and says so. Only where the dough has another liquid of its own.
pub(super) fn mark(recipe: &mut Recipe, reader: &Reader<'_>) {
    let boils = |text: &str| BOILS.iter().any(|w| text.contains(w));
    let steps = recipe.steps.iter().map(|s| s.text.to_lowercase());
    let boiling: Vec<String> = steps.filter(|s| boils(s)).collect();
    if boiling.is_empty() {
        return;
    }
    let soda = boiling
        .iter()
        .any(|s| s.contains("soda") || s.contains("bicarb"));
    for part in &mut recipe.components {
        if !has_bath(part, reader) {
            continue;
        }
        for line in &mut part.lines {
            for item in &mut line.items {
                let food = item.food.as_ref().map(|m| reader.larder.food(m.food));
                let bath = food.is_some_and(|f| {
                    is_water(f) && grams(item, reader) >= LEAST || soda && f.key == "baking_soda"
                });
                if bath && item.purpose == Purpose::Formula {
                    item.purpose = Purpose::Pan;
                    let named = line.clean.get(item.name.clone()).unwrap_or_default();
                    line.doubts.push(Doubt::new(
                        DoubtCode::NotInFormula,
                        format!("'{named}' is taken for what the dough is boiled in: not counted in the formula"),
                    ));
                }
            }
        }
    }
}

/// The least water that is boiled in, grams.
const LEAST: f64 = 900.0;

fn is_water(food: &Food) -> bool {
    food.key == "water"
}

/// Whether a part has flour, water far beyond it, and water or egg beside that.
fn has_bath(part: &Component, reader: &Reader<'_>) -> bool {
    let (mut flour, mut bath, mut wet) = (0.0, 0.0, false);
    for item in part.lines.iter().flat_map(|l| &l.items) {
        let Some(food) = item.food.as_ref().map(|m| reader.larder.food(m.food)) else {
            continue;
        };
        let grams = grams(item, reader);
        if food.is_flour_phase() {
            flour += grams;
        } else if is_water(food) && grams >= LEAST {
            bath += grams;
        } else {
            wet |= is_water(food) || ["egg", "whole_milk", "egg_yolk"].contains(&food.key.as_str());
        }
    }
    wet && flour > 0.0 && bath >= OVER_FLOUR * flour
}

/// The grams that an item states; a millilitre or a cup counts as water's, for flour too much.
fn grams(item: &Item, reader: &Reader<'_>) -> f64 {
    let amount = item.amounts.first();
    amount.map_or(0.0, |a| {
        match a.unit.map(|u| u.hold(a.locale.unwrap_or(reader.locale))) {
            Some(Hold::Mass(m)) => m.as_grams() * a.middle(),
            Some(Hold::Volume(v)) => v.likely().as_millilitres() * a.middle(),
            _ => 0.0,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    fn out(lines: &str, method: &str) -> Vec<String> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Uk);
        let text = format!("Trial\n\n{lines}\n\nMethod\n{method}\n");
        let recipe = crate::read::recipe(&text, &reader).expect("reads");
        let lines = recipe.components.iter().flat_map(|c| &c.lines);
        let aside = lines.filter(|l| l.items.iter().any(|i| i.purpose == Purpose::Pan));
        aside.map(|l| l.text.clone()).collect()
    }

    #[test]
    fn water_to_boil_in_is_not_of_the_dough() {
        let pretzels =
            "500 g strong flour\n280 g water\n7 g yeast\n2 litres water\n60 g bicarbonate of soda";
        let got = out(
            pretzels,
            "1. Knead and rise.\n2. Boil each in the water and soda for 30 seconds.\n3. Bake.",
        );
        assert_eq!(got, ["2 litres water", "60 g bicarbonate of soda"]);
        let noodles = "200 g flour\n2 eggs\n3 litres water";
        assert_eq!(
            out(noodles, "1. Knead, roll and cut.\n2. Boil for 3 minutes."),
            ["3 litres water"]
        );
        // A soup, a dough without a boil, a big dough.
        assert!(out("50 g flour\n1 litre water\n500 g leeks", "1. Simmer.").is_empty());
        assert!(out("500 g flour\n1.6 litres water\n2 eggs", "1. Mix and bake.").is_empty());
        assert!(out("2 kg flour\n1.3 litres water\n2 eggs", "1. Mix. Boil.").is_empty());
    }
}
