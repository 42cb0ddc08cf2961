//! A reworked recipe at a size.

use super::SLACK;
use super::cautions::Caution;
use super::eggs::{EggCount, WholeEggs};
use super::keep::{Keeping, keeping};
use super::limit::AtHand;
use super::target::{Filled, PieceCount};
use crate::household::{Drawer, Household};
use crate::rework::{Kept, Rework, ReworkedComponent, ReworkedLine, left};
use crate::screen::{Finding, Screening};
use larder::{FoodId, Gluten, Larder};
use quantity::{Mass, Spread};

/// A reworked recipe at a size. Grams are exact; see [`BatchLine::on`] for the scale.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Batch {
    /// Times the recipe. Components may have factors of their own.
    pub factor: f64,
    /// Between what factors the doubt of what was asked leaves it: of a pan's volume, a dough's
    /// density, a count like '4–6'.
    pub range: Option<(f64, f64)>,
    /// What was asked for, in words.
    pub asked: String,
    /// How the factor comes about, a line each.
    pub sums: Vec<String>,
    /// Its components, in the recipe's order.
    pub components: Vec<BatchComponent>,
    /// The place of the component that the figures asked for are of.
    pub main: usize,
    /// How many of what the recipe says it makes, low and high: 12 buns.
    pub count: Option<(f64, f64)>,
    /// That count is of servings.
    pub servings: bool,
    /// Pieces the main component is divided into, where the recipe or the ask says how many.
    pub pieces: Option<PieceCount>,
    /// The pans it fills, where pans were asked for.
    pub pans: Option<Filled>,
    /// What was at hand, where that was asked by.
    pub at_hand: Vec<AtHand>,
    /// Eggs that it takes.
    pub eggs: Vec<EggCount>,
    /// The nearest size with whole eggs, where this one has not.
    pub whole_eggs: Option<WholeEggs>,
    /// How far it was moved to whole eggs, of what was asked for.
    pub moved: Option<f64>,
    /// What to mind.
    pub cautions: Vec<Caution>,
}

/// A hundredth of what is made is not left over, it is in the bowl.
const LEFT: f64 = 0.01;

/// A component of a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchComponent {
    /// Its name; empty where the recipe has one part.
    pub name: String,
    /// Times what the recipe has of it; 0 where it is not made.
    pub factor: f64,
    /// Its lines, in order; those that the rework dropped are not among them.
    pub lines: Vec<BatchLine>,
    /// Its flour phase.
    pub flour: Spread<Mass>,
    /// What it makes, raw.
    pub makes: Spread<Mass>,
    /// What other components of the batch use of it.
    pub used: Option<Spread<Mass>>,
    /// What is left over after they did.
    pub left: Option<Spread<Mass>>,
    /// How what is left over keeps.
    pub keeping: Option<Keeping>,
}

impl BatchComponent {
    /// How much less is made than others use of it: what must be made on top. `None` where it is
    /// enough, but for 3 % that rounded weights miss.
    #[must_use]
    pub fn short(&self) -> Option<Mass> {
        let (used, makes) = (self.used?.likely(), self.makes.likely());
        (self.factor > 0.0 && used.as_grams() > SLACK * makes.as_grams()).then(|| used - makes)
    }
}

/// A line of a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchLine {
    /// Its place among [`ReworkedComponent::lines`].
    pub at: usize,
    /// Its key, see [`crate::rework::ReworkedLine::key`].
    pub key: String,
    /// Its name.
    pub name: String,
    /// The food; `None` for a blend, a component or what the larder does not know.
    pub food: Option<FoodId>,
    /// The component used.
    pub component: Option<usize>,
    /// Grams; `None` where it could not be weighed.
    pub grams: Option<Spread<Mass>>,
    /// Part of the formula, or only for the bench and the pan.
    pub in_formula: bool,
    /// What the screen of the gluten-free version says of it, the worst of its findings.
    pub gluten: Gluten,
}

impl Batch {
    /// Whether it is the recipe as it stands.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        self.components
            .iter()
            .all(|c| (c.factor - 1.0).abs() < 1e-9)
    }

    /// The factor of a component, by its place in the recipe; 1 where there is none.
    #[must_use]
    pub fn factor_of(&self, component: usize) -> f64 {
        self.components.get(component).map_or(1.0, |c| c.factor)
    }

    /// A line of the rework as it is in this batch.
    #[must_use]
    pub fn scaled(&self, component: usize, line: &ReworkedLine) -> ReworkedLine {
        let factor = self.factor_of(component);
        let mut out = line.clone();
        out.grams = line.grams.map(|g| g.scaled(factor));
        // Another amount than the original's is measured anew.
        if (factor - 1.0).abs() > 1e-9 && out.kept != Kept::Dropped {
            if out.grams.is_some() {
                out.kept = Kept::Changed;
            } else {
                out.times = line.times * factor;
            }
        }
        out
    }

    /// The whole rework in this size, for whoever prints one: lines, what components make, use and
    /// leave, and their flour. Percents, changes and the formula it came from stay as they are.
    #[must_use]
    pub fn rework(&self, of: &Rework) -> Rework {
        let mut out = of.clone();
        for (i, (c, b)) in out.components.iter_mut().zip(&self.components).enumerate() {
            c.lines = c.lines.iter().map(|l| self.scaled(i, l)).collect();
            c.makes = b.makes;
            c.used = b.used;
            c.left = b.left;
            c.reworked.flour = b.flour;
            c.reworked.total = c.reworked.total.scaled(b.factor);
        }
        out
    }

    /// A line's amount in cups, spoons, eggs; `None` where it is weighed.
    #[must_use]
    pub fn household(
        &self,
        rework: &Rework,
        component: usize,
        line: &BatchLine,
        larder: &Larder,
        drawer: Drawer,
    ) -> Option<Household> {
        let of = rework.components.get(component)?.lines.get(line.at)?;
        let scaled = self.scaled(component, of);
        let some = scaled.grams.is_none_or(|g| g.likely().as_grams() > 0.0);
        rework
            .household(component, &scaled, larder, drawer)
            .filter(|_| some)
    }

    /// Marks each line with the worst that the screen found of it. A use of a component has its
    /// findings on that component's own lines.
    pub(super) fn mark(&mut self, screening: &Screening) {
        for (c, component) in self.components.iter_mut().enumerate() {
            for line in &mut component.lines {
                let of = |f: &&Finding| f.component == c && f.line == line.at;
                let found = screening.findings.iter().filter(of);
                // What only a label can tell and was settled is settled.
                let verdicts = found.map(|f| match f.verdict {
                    Gluten::Check if !f.open => Gluten::Free,
                    verdict => verdict,
                });
                let unknown = if line.component.is_some() {
                    Gluten::Free
                } else {
                    Gluten::Check
                };
                line.gluten = verdicts.reduce(Gluten::worse).unwrap_or(unknown);
            }
        }
    }

    /// The components times their factors.
    pub(super) fn of(rework: &Rework, factor: f64, factors: &[f64]) -> Self {
        let mut components: Vec<BatchComponent> = rework
            .components
            .iter()
            .zip(factors)
            .map(|(c, &factor)| component(c, factor))
            .collect();
        for c in 0..components.len() {
            let uses: Vec<Spread<Mass>> = components
                .iter()
                .flat_map(|x| &x.lines)
                .filter(|l| l.component == Some(c))
                .filter_map(|l| l.grams)
                .collect();
            if uses.is_empty() {
                continue;
            }
            let used = Spread::sum_independent(uses);
            components[c].left = Some(left(components[c].makes, used));
            components[c].used = Some(used);
        }
        for (at, c) in components.iter_mut().enumerate() {
            let some = |m: Spread<Mass>| m.likely().as_grams() > LEFT * c.makes.likely().as_grams();
            c.keeping = c.left.filter(|l| some(*l)).map(|_| keeping(rework, at));
        }
        Self {
            factor,
            components,
            ..Self::default()
        }
    }
}

fn component(c: &ReworkedComponent, factor: f64) -> BatchComponent {
    let kept = c.lines.iter().enumerate();
    let lines = kept
        .filter(|(_, l)| l.kept != Kept::Dropped)
        .map(|(at, l)| BatchLine {
            at,
            key: l.key.clone(),
            name: l.name.clone(),
            food: l.food,
            component: l.component,
            grams: l.grams.map(|g| g.scaled(factor)),
            in_formula: l.in_formula,
            // Nothing known is not free: the screen says so of each line.
            gluten: Gluten::Check,
        })
        .collect();
    BatchComponent {
        name: c.name.clone(),
        factor,
        lines,
        flour: c.reworked.flour.scaled(factor),
        makes: c.makes.scaled(factor),
        used: None,
        left: None,
        keeping: None,
    }
}
