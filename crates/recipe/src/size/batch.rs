//! A reworked recipe at a size.

use crate::household::{Scale, is_fine};
use crate::rework::{Kept, Rework, ReworkedComponent};
use larder::{FoodId, Larder};
use quantity::{Mass, Spread};

/// A reworked recipe at a size. Grams are exact; see [`BatchLine::on`] for the scale.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Batch {
    /// Times the recipe. Components may have factors of their own.
    pub factor: f64,
    /// Its components, in the recipe's order.
    pub components: Vec<BatchComponent>,
}

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
}

impl BatchLine {
    /// Its likely grams as scales show them; `None` where it has no weight.
    #[must_use]
    pub fn on(&self, scale: &Scale, larder: &Larder) -> Option<f64> {
        let fine = self.food.is_some_and(|f| is_fine(larder, f));
        Some(scale.rounded(self.grams?.likely(), fine))
    }
}

impl Batch {
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
            let makes = components[c].makes;
            let less = |a: Mass, b: Mass| Mass::grams((a - b).as_grams().max(0.0));
            components[c].left = Some(Spread::new(
                less(makes.low(), used.high()),
                less(makes.likely(), used.likely()),
                less(makes.high(), used.low()),
            ));
            components[c].used = Some(used);
        }
        Self { factor, components }
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
    }
}
