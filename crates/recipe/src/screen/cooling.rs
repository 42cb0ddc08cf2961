//! Egg, milk, meat and what is cooked that stand out of the fridge for hours.

use super::Caution;
use crate::keeping::{MOIST, spoils_once_cooked};
use crate::line::Purpose;
use crate::recipe::{Activity, FactKind, Step};
use crate::rework::{names_meat, owners};
use crate::sentences::each;
use crate::weigh::{Formula, Weighed};
use larder::{Food, Function, Larder};

/// Longer than this at room temperature is too long for what spoils, minutes.
///
/// # Source
/// USDA consumer advice (seen): two hours, one above 32 °C.
const MOST_MINUTES: f64 = 120.0;

/// Least share of egg and milk, and least grams, of a filling that is said to spoil: less is a glaze
/// thinned with milk, or the wash of a bake.
///
/// # Source
/// Common practice, no source.
const FILLING: (f64, f64) = (0.1, 100.0);

/// The caution, where a step leaves something with egg or milk at room temperature for hours, or a
/// part is a filling with egg or milk.
pub(super) fn caution(formula: &Formula, larder: &Larder) -> Option<Caution> {
    let owners = owners(&formula.recipe);
    let made: Vec<[Vec<&Weighed>; 2]> = (0..formula.components.len())
        .map(|c| made(formula, c))
        .collect();
    let spoils = |foods: &Vec<&Weighed>| spoils(foods, larder);
    let mut steps = formula.recipe.steps.iter().zip(owners);
    let left_out = steps.any(|(step, c)| {
        let made = made.get(c).into_iter().flatten();
        stands_out(step) && made.into_iter().any(spoils)
    });
    let filling = made.iter().flatten().any(|foods| {
        let all = grams(foods, |_| true, larder);
        let perishable = grams(foods, Food::spoils, larder);
        all >= FILLING.1 && perishable >= FILLING.0 * all && spoils(foods)
    });
    if left_out {
        Some(Caution {
            code: "cooling",
            text: "A custard, a cream or another filling with egg or milk does not stand at room temperature for more than 2 hours (1 hour above 32 °C / 90 °F). Cool it in a shallow dish, to 21 °C (70 °F) within 2 hours and to 5 °C (41 °F) within 6 hours in all, and keep it cold. Usual advice; local rules come first.",
            source: "USDA consumer advice on perishable food; Food Code 3-501.14, Delaware copy (seen)",
        })
    } else {
        filling.then_some(Caution {
            code: "keep_cold",
            text: "A filling or topping with egg or milk, and what is filled or topped with it, stands no more than 2 hours out of the fridge in all (1 hour above 32 °C / 90 °F); the rest of the time it is covered at 5 °C (41 °F) or below. Usual advice; local rules come first.",
            source: "USDA consumer advice on perishable food (seen)",
        })
    }
}

/// The caution, where meat, fish, grain, pulses, potatoes or other vegetables are cooked on the stove and then cool.
pub(super) fn cooked(formula: &Formula, larder: &Larder) -> Option<Caution> {
    let owners = owners(&formula.recipe);
    let does = |step: &Step, a: Activity| step.facts.iter().any(|f| f.does(a));
    let cools = |c: usize| {
        let mut cooks = false;
        let steps = formula.recipe.steps.iter().zip(&owners);
        let mut mine = steps.filter(|(_, of)| **of == c);
        mine.any(|(step, _)| {
            cooks |= does(step, Activity::Boil) || does(step, Activity::Fry);
            cooks && (does(step, Activity::Cool) || does(step, Activity::Chill))
        })
    };
    let spoils = |c: &usize| {
        let lines = &formula.recipe.components[*c].lines;
        let meat = |i: &Weighed| match i.food {
            Some(f) => larder.food(f).does(Function::Meat),
            None => {
                let line = lines.get(i.line);
                let named = line.and_then(|l| Some(l.words(&l.items.get(i.item)?.name)));
                i.component.is_none() && named.is_some_and(names_meat)
            }
        };
        let made = formula.components[*c].items.iter().filter(|i| i.in_formula);
        let foods = made.clone().map(|i| {
            let grams = i.grams.map_or(0.0, |g| g.likely().as_grams());
            (i.food.map(|f| larder.food(f)), grams)
        });
        let floury = |f: &Food| f.is_flour_phase();
        let all: Vec<&Weighed> = made.clone().collect();
        let dough = grams(&all, floury, larder) > MOIST * grams(&all, |_| true, larder);
        !dough && spoils_once_cooked(foods).is_some() || made.clone().any(meat)
    };
    let found = (0..formula.components.len()).any(|c| spoils(&c) && cools(c));
    found.then_some(Caution {
        code: "cooling_cooked",
        text: "Cooked meat, fish, grain, pulses, potatoes and other vegetables do not stand at room temperature for more than 2 hours (1 hour above 32 °C / 90 °F), nor overnight. Cool them in a shallow dish, to 21 °C (70 °F) within 2 hours and to 5 °C (41 °F) within 6 hours in all, and keep them cold until they are used. Usual advice; local rules come first.",
        source: "USDA consumer advice on perishable food; Food Code 3-501.14, Delaware copy (seen)",
    })
}

/// What a component is made of, and what goes on after its bake.
fn made(formula: &Formula, component: usize) -> [Vec<&Weighed>; 2] {
    let lines = &formula.recipe.components[component].lines;
    let finishes = |i: &&Weighed| {
        let item = lines.get(i.line).and_then(|l| l.items.get(i.item));
        item.is_some_and(|i| i.purpose == Purpose::Finishing)
    };
    let items = &formula.components[component].items;
    [
        items.iter().filter(|i| i.in_formula).collect(),
        items.iter().filter(finishes).collect(),
    ]
}

/// Likely grams of those foods that are of a kind.
fn grams(foods: &[&Weighed], kind: fn(&Food) -> bool, larder: &Larder) -> f64 {
    let of_it = foods
        .iter()
        .filter(|i| i.food.is_some_and(|f| kind(larder.food(f))));
    of_it
        .filter_map(|i| i.grams)
        .map(|g| g.likely().as_grams())
        .sum()
}

/// Whether foods hold egg or milk and make no dough or batter.
fn spoils(foods: &[&Weighed], larder: &Larder) -> bool {
    let mut each = foods.iter().filter_map(|i| i.food);
    each.any(|f| larder.food(f).spoils())
        && grams(foods, Food::is_flour_phase, larder) <= MOIST * grams(foods, |_| true, larder)
}

/// Whether a step leaves something at room temperature for hours.
fn stands_out(step: &Step) -> bool {
    each(&step.text).any(|sentence| {
        let sentence_at = sentence.as_ptr() as usize - step.text.as_ptr() as usize;
        let here = sentence_at..sentence_at + sentence.len();
        let s = sentence.to_lowercase();
        let out = [
            "at room temperature",
            "at kitchen temperature",
            "on the counter",
            "on the worktop",
            "out of the fridge",
            "unrefrigerated",
        ]
        .iter()
        .any(|w| s.contains(w));
        let cold = [
            "never",
            "do not",
            "don't",
            "don’t",
            "not more than",
            "no more than",
            "no longer than",
            "refrigerate ",
            "chill",
            "in the fridge",
            "covered in the fridge",
        ]
        .iter()
        .any(|w| s.contains(w));
        let facts = step.facts.iter().filter(|f| here.contains(&f.span.start));
        let long = facts.clone().any(|f| match &f.kind {
            FactKind::Duration { value, doing } => {
                matches!(doing, None | Some(Activity::Cool | Activity::Rest))
                    && value.high().as_minutes() > MOST_MINUTES
            }
            _ => false,
        });
        let stands = facts.clone().any(|f| {
            matches!(f.kind, FactKind::Doing(Activity::Cool | Activity::Rest))
                || matches!(
                    f.kind,
                    FactKind::Duration {
                        doing: Some(Activity::Cool | Activity::Rest),
                        ..
                    }
                )
        });
        out && !cold && (long || stands && s.contains("overnight"))
    })
}
