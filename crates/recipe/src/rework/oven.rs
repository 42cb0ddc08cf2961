//! What the oven leaves of what is baked.

use super::Rework;
use super::steps::goes_over_a_bake;
use quantity::{Mass, Ratio, Spread};

/// What a recipe weighs when it is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Baked {
    /// What is made, raw: all parts that no other one uses.
    pub raw: Spread<Mass>,
    /// The same when baked, less what each part loses in the oven; `None` where nothing is known of any.
    pub baked: Option<Spread<Mass>>,
    /// Parts in both weights that go on after the bake, a glaze or an icing.
    pub on_it: Vec<String>,
}

impl Rework {
    /// What it weighs raw and baked.
    ///
    /// # Arguments
    /// * `factor` — times the recipe, of each part.
    #[must_use]
    pub fn baked(&self, factor: impl Fn(usize) -> f64) -> Baked {
        let kept = kept_in_oven(self);
        let root = |c: &usize| self.components[*c].used.is_none() && factor(*c) > 0.0;
        let roots: Vec<usize> = (0..self.components.len()).filter(root).collect();
        let makes = |c: &usize| self.components[*c].makes.scaled(factor(*c));
        let one = Spread::exact(Ratio::new(1.0));
        let baked = roots
            .iter()
            .map(|c| makes(c).times(kept[*c].unwrap_or(one)));
        let any = roots.iter().any(|c| kept[*c].is_some());
        let names = roots.iter().map(|c| &self.components[*c].name);
        Baked {
            raw: Spread::sum_independent(roots.iter().map(makes)),
            baked: any.then(|| Spread::sum_independent(baked)),
            on_it: names.filter(|n| goes_over_a_bake(n)).cloned().collect(),
        }
    }

    /// The share of the raw weight that the oven takes, for all that is baked: that of the dough or batter, which
    /// what is baked in or on it shares; where several are baked apart, the widest. Losing more water leaves more
    /// of everything else in a gram. Of what no oven bakes, that of its style. `None` where nothing is known.
    #[must_use]
    pub fn bake_loss(&self) -> Option<Spread<Ratio>> {
        let kept = kept_in_oven(self);
        let of = |oven: bool| {
            let all = self.components.iter().zip(&kept);
            let all =
                all.filter(move |(c, _)| !oven || c.style.is_some_and(|s| s.style.is_baked()));
            let losses = all.filter_map(|(_, kept)| {
                let lost = |k: Ratio| Ratio::new(1.0 - k.get());
                kept.map(|k| Spread::new(lost(k.high()), lost(k.likely()), lost(k.low())))
            });
            losses.reduce(|a, b| {
                let (least, more) = (
                    a.low().get().min(b.low().get()),
                    a.high().get().max(b.high().get()),
                );
                let likely = a.likely().get().max(b.likely().get());
                Spread::new(Ratio::new(least), Ratio::new(likely), Ratio::new(more))
            })
        };
        of(true).or_else(|| of(false))
    }
}

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
    // An icing goes on when the oven has done.
    if rework.components.len() > 1 && goes_over_a_bake(&component.name) {
        return None;
    }
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
