//! A reworked line measured back in cups, spoons, sticks and eggs.

use super::engine::{Kept, Rework, ReworkedLine};
use crate::household::{Drawer, Household, as_written, household, of_blend};
use larder::Larder;

impl Rework {
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
