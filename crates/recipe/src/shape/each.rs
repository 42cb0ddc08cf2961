//! How many plaits a batch is divided into before it is plaited.

use super::Kind;
use crate::rework::Rework;
use crate::size::Batch;

/// What a yield calls loaves that are plaited.
const PLAITED: [&str; 7] = [
    "plait", "braid", "twist", "challah", "loaf", "loaves", "wreath",
];

/// How many pieces of a shape the batch makes, where each is shaped alone and the recipe says so: 2 of 'Makes 2
/// plaits', 3 of it at × 1.5. 1 of other shapes and where the yield says nothing of them.
#[must_use]
pub fn each_of(rework: &Rework, batch: &Batch, kind: Kind) -> f64 {
    let makes = rework.formula.recipe.makes.as_ref();
    let Some(makes) = makes.filter(|_| kind == Kind::Plait) else {
        return 1.0;
    };
    let text = makes.text.to_lowercase();
    match makes.count {
        Some((low, high)) if low == high && PLAITED.iter().any(|w| text.contains(w)) => {
            (low * batch.factor).max(1.0)
        }
        _ => 1.0,
    }
}

/// The same in words: `one of 2 plaits`; `None` where it is all of the dough.
#[must_use]
pub fn one_of(rework: &Rework, batch: &Batch, kind: Kind) -> Option<String> {
    let all = (each_of(rework, batch, kind) * 10.0).round() / 10.0;
    (all > 1.0).then(|| format!("one of {all} plaits"))
}
