//! A reworked line in words: measured back in cups, spoons, sticks and eggs, and what it was.

use super::engine::{Kept, Rework, ReworkedComponent, ReworkedLine};
use crate::household::{Drawer, Household, as_written, household, is_fine, of_blend, scale_grams};
use larder::Larder;

impl ReworkedComponent {
    /// Whether it is balanced on its flour: a sauce with a spoon of it is not.
    #[must_use]
    pub fn is_dough(&self) -> bool {
        let flour = self.original.flour.likely().as_grams();
        flour > 0.0 && flour * 8.0 > self.original.total.likely().as_grams()
    }

    /// Lines of the formula that could not be weighed, and so are in none of its figures.
    #[must_use]
    pub fn unweighed(&self) -> usize {
        self.lines
            .iter()
            .filter(|l| l.in_formula && l.kept != Kept::Dropped && l.grams.is_none())
            .count()
    }
}

impl Rework {
    /// What a line of a component was in the original: '183 g whole milk'; empty for a new line.
    #[must_use]
    pub fn was(&self, component: usize, line: &ReworkedLine, larder: &Larder) -> String {
        let Some(origin) = line.origin else {
            return String::new();
        };
        let mut all = self.formula.components[component]
            .items
            .iter()
            .filter(|w| (w.line, w.item) == origin);
        let first = all.clone().next();
        let Some(w) = all.find(|w| w.food == line.food).or(first) else {
            return String::new();
        };
        let name = match (w.food, w.component) {
            (Some(f), _) => larder.food(f).name.clone(),
            (None, Some(x)) => format!("the {}", self.components[x].name),
            _ => line.name.clone(),
        };
        match w.grams {
            Some(g) => {
                let fine = w.food.is_some_and(|f| is_fine(larder, f));
                format!("{} g {name}", scale_grams(g.likely(), fine))
            }
            None => name,
        }
    }

    /// The household amount of a line of a component.
    ///
    /// # Returns
    /// The original's own words where the line is kept as it was; else the fewest cups and spoons
    /// that hold it, with their error. `None` where only a scale will do.
    #[must_use]
    pub fn household(
        &self,
        component: usize,
        line: &ReworkedLine,
        larder: &Larder,
        drawer: impl Into<Drawer>,
    ) -> Option<Household> {
        let written = line
            .origin
            .filter(|_| line.kept == Kept::Same && !line.blend)
            .and_then(|(l, i)| {
                as_written(
                    self.formula
                        .recipe
                        .components
                        .get(component)?
                        .lines
                        .get(l)?,
                    i,
                )
            });
        if let Some(words) = written {
            return Some(Household { words, error: 0.0 });
        }
        let grams = line.grams?.likely();
        match (
            line.food,
            line.blend,
            &self.components.get(component)?.blend,
        ) {
            (Some(food), _, _) => household(larder, food, grams, drawer),
            (None, true, Some(blend)) => of_blend(larder, blend, grams, drawer),
            _ => None,
        }
    }
}
