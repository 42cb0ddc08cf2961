//! What the oven leaves of what is baked.

use crate::rework::Rework;
use quantity::{Ratio, Spread};

/// Share of each component that is left after the bake, by its place; `None` where nothing is
/// known of it. What is baked in or on a dough loses what that loses: the loss of a style is of the whole
/// bake, weighed out of the oven.
pub(crate) fn kept_in_oven(rework: &Rework) -> Vec<Option<Spread<Ratio>>> {
    let mut kept: Vec<Option<Spread<Ratio>>> = vec![None; rework.components.len()];
    for at in &rework.formula.order {
        kept[*at] = keeps(rework, *at, &kept);
    }
    let parts = rework.components.len();
    for at in (0..parts).filter(|_| parts > 1) {
        let panful = rework.panful(at);
        if panful.parts.len() > 1 && !panful.set && kept[at].is_some() {
            for &part in &panful.parts {
                kept[part] = kept[at];
            }
        }
    }
    kept
}

/// What the oven leaves of a component, as a share: its style's range, or what is left of the
/// components in it.
fn keeps(rework: &Rework, at: usize, known: &[Option<Spread<Ratio>>]) -> Option<Spread<Ratio>> {
    let component = &rework.components[at];
    if let Some(range) = component.style.and_then(|s| s.style.range("bake_loss")) {
        let loss = range.value;
        return Some(Spread::new(
            Ratio::new(1.0 - loss.high().get() / 100.0),
            Ratio::new(1.0 - loss.likely().get() / 100.0),
            Ratio::new(1.0 - loss.low().get() / 100.0),
        ));
    }
    let (mut all, mut lost, mut any) = (0.0, [0.0; 3], false);
    for line in &component.lines {
        let Some(g) = line.grams.filter(|_| line.in_formula) else {
            continue;
        };
        let g = g.likely().as_grams();
        all += g;
        if let Some(share) = line.component.and_then(|c| known.get(c).copied().flatten()) {
            any = true;
            for (sum, s) in lost
                .iter_mut()
                .zip([share.low(), share.likely(), share.high()])
            {
                *sum += g * (1.0 - s.get());
            }
        }
    }
    (any && all > 0.0).then(|| {
        let kept = lost.map(|l| Ratio::new(1.0 - l / all));
        Spread::new(kept[0], kept[1], kept[2])
    })
}
