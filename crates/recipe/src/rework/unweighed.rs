//! Liquids of a dough that nobody weighed: its wetness is not known then.

use super::engine::Work;
use super::pins::is_liquid;
use super::sums;
use larder::FoodId;

impl Work<'_> {
    /// A liquid of the dough that has no weight, by its line or by a step that takes 'enough milk'.
    pub(super) fn unweighed_liquid(&self) -> Option<String> {
        let items = || self.weighed.items.iter().filter(|w| w.in_formula);
        let listed = items().filter(|w| w.grams.is_none()).find_map(|w| w.food);
        let listed = listed.filter(|f| is_liquid(self.larder, *f));
        let has = |food: FoodId| items().any(|w| w.food == Some(food) && w.grams.is_some());
        let enough = |text: &str| {
            let found = self.larder.names().mentions(text, self.formula.locale);
            found.into_iter().find_map(|(food, span)| {
                let before = text[..span.start].trim_end().to_lowercase();
                let asked = before.ends_with("enough") || before.ends_with("sufficient");
                (asked && is_liquid(self.larder, food) && !has(food)).then_some(food)
            })
        };
        let food = listed.or_else(|| self.steps.iter().find_map(|s| enough(&s.text)))?;
        Some(sums::called(&self.larder.food(food).name).to_owned())
    }
}
