//! How many plaits a batch is divided into before it is plaited, how many tins it is shared over.

use super::Kind;
use crate::pieces::PLAITED;
use crate::read::count_in;
use crate::rework::Rework;
use crate::size::Batch;

/// How many pieces of a shape the batch makes, where each is shaped alone and the recipe says so: 2 of 'Makes 2
/// plaits', 3 of it at × 1.5. Of a fit the tins that a component is shared over: those the batch is sized for, else
/// those that the method names. 1 of other shapes and where the yield says nothing of them.
#[must_use]
pub fn count_of(rework: &Rework, batch: &Batch, component: usize, kind: Kind) -> f64 {
    if kind == Kind::Fit {
        let sized = batch.pans.as_ref();
        let sized = sized.filter(|_| is_in_pans(rework, batch, component));
        let said = rework.panful_round(component).said.as_ref();
        let count = sized.map(|p| p.count).or(said.map(|s| s.count));
        return f64::from(count.unwrap_or(1).max(1));
    }
    let makes = rework.formula.recipe.makes.as_ref();
    let said = makes
        .filter(|_| kind == Kind::Plait)
        .and_then(|m| said(&m.text));
    said.map_or(1.0, |n| (n * batch.factor).max(1.0))
}

/// Whether a component goes into the pans that the batch is sized for.
#[must_use]
pub fn is_in_pans(rework: &Rework, batch: &Batch, component: usize) -> bool {
    let with = |part: usize, other: usize| rework.panful_round(part).parts.contains(&other);
    with(component, batch.main) || with(batch.main, component)
}

/// The number right before the plaits or loaves of a yield: 2 of '24 slices (2 large loaves)', none of '16
/// slices of a plaited loaf'.
pub(super) fn said(makes: &str) -> Option<f64> {
    let text = makes.to_lowercase();
    let named = |part: &str| {
        let mut words = part.split_whitespace();
        let begins = |w: &str| PLAITED.iter().any(|p| w.starts_with(p));
        let at = words.position(begins)?;
        let before: Vec<&str> = part.split_whitespace().take(at).collect();
        // Behind what else is counted: '24 rolls or 2 plaits'.
        let other =
            |w: &&str| w.len() > 3 && w.ends_with('s') || matches!(*w, "of" | "from" | "as");
        let from = before.iter().rposition(other).map_or(0, |i| i + 1);
        let (low, high) = count_in(&before[from..].join(" "))?;
        (low == high).then_some(low)
    };
    text.split([',', ';', '(', ')', ':', '=']).find_map(named)
}

/// The same in words: `one of 2 plaits`, `what goes into one of 2 tins`; `None` where it is all of the dough.
#[must_use]
pub fn one_of(rework: &Rework, batch: &Batch, component: usize, kind: Kind) -> Option<String> {
    let all = (count_of(rework, batch, component, kind) * 10.0).round() / 10.0;
    (all > 1.0).then(|| match kind {
        Kind::Fit => format!("what goes into one of {all} tins"),
        _ => format!("one of {all} plaits"),
    })
}
