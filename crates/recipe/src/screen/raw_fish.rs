//! Fish that is eaten raw, cured or marinated: no heat kills what lives in it.

use super::Caution;
use crate::recipe::{Activity, FactKind};
use crate::weigh::Formula;
use larder::{Allergen, Function, Larder};

/// Words of dishes and steps that leave fish raw, however hot the rest gets.
const RAW: [&str; 13] = [
    "gravlax",
    "gravadlax",
    "gravad lax",
    "ceviche",
    "tartare",
    "sashimi",
    "sushi",
    "crudo",
    "carpaccio",
    "cured",
    "cure the",
    "curing",
    "raw fish",
];

/// The caution, where a recipe has fish that it cures, marinates or serves raw.
pub(super) fn caution(formula: &Formula, larder: &Larder) -> Option<Caution> {
    let recipe = &formula.recipe;
    let mut items = recipe
        .components
        .iter()
        .flat_map(|c| &c.lines)
        .flat_map(|l| l.items.iter().map(move |i| (l, i)));
    // A fillet, not a sauce, a tin or smoked fish.
    let fish = items.any(|(line, item)| {
        let food = item.food.as_ref().map(|m| larder.food(m.food));
        let fillet = food.is_some_and(|f| {
            f.does(Function::Meat) && f.allergens.contains(&(Allergen::Fish, false))
        });
        let said = super::core_cautions(food, line.words(&item.name));
        said.iter().any(|c| c.code == "raw_fish") && (fillet || food.is_none())
    });
    if !fish {
        return None;
    }
    let mut texts = recipe
        .steps
        .iter()
        .map(|s| s.text.as_str())
        .chain(recipe.title.as_deref());
    let raw = texts.any(|t| RAW.iter().any(|w| t.to_lowercase().contains(w)));
    let steps = || recipe.steps.iter();
    let marinated = steps().any(|s| s.text.to_lowercase().contains("marinat"));
    let heated = steps().flat_map(|s| &s.facts).any(|f| match &f.kind {
        FactKind::Temperature { value, .. } => value.likely().as_celsius() >= COOKS,
        FactKind::Doing(a) | FactKind::Duration { doing: Some(a), .. } => *a == Activity::Bake,
        _ => false,
    });
    let cooked =
        heated || steps().any(|s| COOKING.iter().any(|w| s.text.to_lowercase().contains(w)));
    (raw || marinated && !cooked).then_some(Caution {
        code: "raw_fish_parasites",
        text: "Fish that is cured, marinated or eaten raw is frozen through first, for the parasites that salt, sugar and acid do not kill: 7 days at -20 °C (-4 °F) or below, longer if your freezer is warmer than it says; or buy fish that was frozen for eating raw. Freezing kills no bacteria: keep it at 5 °C (41 °F) or below. Not for someone pregnant, very young, old or ill. Usual advice; local rules come first.",
        source: "FDA Food Code 3-402.11 (seen, in excerpts); the EU asks for 24 hours at -20 °C in all parts or 15 at -35 °C, Regulation (EC) 853/2004 as amended by 1276/2011, from memory",
    })
}

/// A heat above which fish is cooked, °C: foodsafety.gov, see `core_temperatures.tsv`.
const COOKS: f64 = 63.0;

/// Words of cooking that the facts of a step may lack. What is boiled may be the marinade alone.
const COOKING: [&str; 8] = [
    "fry", "grill", "roast", "poach", "steam", "broil", "barbecue", "sear",
];
