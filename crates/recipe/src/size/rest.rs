//! What the method does with the rest of a part of which another takes some.

use super::batch::{Batch, BatchComponent};
use super::cautions::{Caution, caution};
use crate::household::scale_grams;
use crate::recipe::Recipe;
use crate::rework::Rework;
use crate::sentences;

/// Words of what is over.
const REST: [&str; 4] = ["the rest of", "remaining", "remainder of", "left-over"];
/// The part's name stands so many bytes behind them at most.
const NEAR: usize = 24;

/// The step that uses the rest of a part by its name: 'Scatter over the rest of the crumbs'.
fn step_with_rest(recipe: &Recipe, name: &str) -> Option<usize> {
    let last = name.split_whitespace().next_back()?.to_lowercase();
    let called = last.trim_end_matches('s');
    let uses = |text: &str| {
        REST.iter().any(|rest| {
            let behind = text.find(rest).map(|at| &text[at + rest.len()..]);
            let at = behind.and_then(|b| b.find(called));
            at.is_some_and(|at| at <= NEAR)
        })
    };
    let step = recipe.steps.iter().find(|s| {
        let text = s.text.to_lowercase();
        sentences(&text).into_iter().any(|r| uses(&text[r]))
    });
    step.map(|s| s.number)
}

/// What to mind of parts whose rest has a use.
pub(super) fn rests(batch: &Batch, rework: &Rework, out: &mut Vec<Caution>) {
    let recipe = &rework.formula.recipe;
    let mut all = Vec::new();
    for (at, c) in batch.components.iter().enumerate() {
        let put_on = rework.panful(batch.main).put_on(at);
        let Some((share, words)) = put_on.filter(|_| c.factor > 0.0) else {
            continue;
        };
        let over = c.makes.likely() * (1.0 - share);
        let text = format!(
            "Of the {} the method puts {words} on: {} g of it are over.",
            c.name,
            scale_grams(over, false)
        );
        all.push(text);
    }
    let taken = |c: &&BatchComponent| c.factor > 0.0 && c.used.is_some();
    for c in batch.components.iter().filter(taken) {
        let Some(step) = step_with_rest(recipe, &c.name) else {
            continue;
        };
        let left = c.left.map_or(0.0, |l| l.likely().as_grams());
        let text = if left > 0.0 {
            format!(
                "Step {step} uses the rest of the {}: the {} g that are left are for that.",
                c.name,
                scale_grams(quantity::Mass::grams(left), false)
            )
        } else {
            format!(
                "Step {step} uses the rest of the {}, and here is none: only what the other parts take is made. Make more of it where that step is wanted.",
                c.name
            )
        };
        all.push(text);
    }
    if !all.is_empty() {
        out.push(caution("rest", all.join(" "), "follows from the recipe"));
    }
}
