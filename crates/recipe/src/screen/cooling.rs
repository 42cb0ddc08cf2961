//! Egg and milk that stand out of the fridge for hours.

use super::Caution;
use crate::recipe::{Activity, FactKind, Step};
use crate::rework::owners;
use crate::weigh::Formula;
use larder::Larder;

/// Longer than this at room temperature is too long for what spoils, minutes.
///
/// # Source
/// USDA consumer advice (seen): two hours, one above 32 °C.
const MOST_MINUTES: f64 = 120.0;

/// Flour phase above this share of the weight: a bake or a dough, which stands out to cool or rise.
/// A thickened custard has less, a sponge more.
///
/// # Source
/// Ordinary formulas: common practice, no source.
const BAKE: f64 = 0.11;

/// The caution, where a step leaves a filling with egg or milk at room temperature for hours.
pub(super) fn caution(formula: &Formula, larder: &Larder) -> Option<Caution> {
    let owners = owners(&formula.recipe);
    let steps = formula.recipe.steps.iter().zip(owners);
    steps
        .filter(|(step, _)| stands_out(step))
        .any(|(_, c)| spoils(formula, c, larder))
        .then_some(Caution {
            code: "cooling",
            text: "A custard, a cream or another filling with egg or milk does not stand at room temperature for more than 2 hours (1 hour above 32 °C). Cool it in a shallow dish, to 21 °C within 2 hours and to 5 °C within 6 hours in all, and keep it cold. Usual advice; local rules come first.",
            source: "USDA consumer advice on perishable food; Food Code 3-501.14, Delaware copy (seen)",
        })
}

/// Whether a component holds egg or milk and is no dough or batter.
fn spoils(formula: &Formula, component: usize, larder: &Larder) -> bool {
    let Some(c) = formula.components.get(component) else {
        return false;
    };
    let foods = || {
        c.items
            .iter()
            .filter(|i| i.in_formula)
            .filter_map(|i| Some((larder.food(i.food?), i.grams)))
    };
    let grams = |flour: bool| -> f64 {
        foods()
            .filter(|(f, _)| !flour || f.is_flour_phase())
            .filter_map(|(_, g)| g)
            .map(|g| g.likely().as_grams())
            .sum()
    };
    let perishable = foods().any(|(f, _)| f.spoils());
    perishable && grams(true) <= BAKE * grams(false)
}

/// Whether a step leaves something at room temperature for hours.
fn stands_out(step: &Step) -> bool {
    step.text.split(['.', ';', '!']).any(|sentence| {
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
