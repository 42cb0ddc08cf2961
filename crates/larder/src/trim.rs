//! What of a food as it is bought never goes into the bowl: shells, peel, cores, stalks.

use crate::table::{TableError, rows};
use crate::{FoodId, Larder, Status};
use std::borrow::Cow;

/// What is lost between the shop and the bowl.
#[derive(Debug, Clone, PartialEq)]
pub struct Trim {
    /// Percent of the weight bought, 0 or more and below 100.
    pub percent: f64,
    /// What that is: 'shell', 'core and stem'.
    pub lost: Cow<'static, str>,
    /// Where the figure comes from.
    pub source: Cow<'static, str>,
    /// What it rests on.
    pub status: Status,
}

impl Trim {
    /// Grams to buy for so many grams in the bowl.
    ///
    /// # Arguments
    /// * `grams` — grams of the part that is used, 0 or more.
    ///
    /// # Returns
    /// Grams as bought: what is used over the share that is left, `used ÷ (1 − trim)`; the
    /// trade's 'as purchased' from its 'edible portion'.
    ///
    /// # Source
    /// USDA Agriculture Handbook 102, 'Food Yields' (1975); worked examples in
    /// `checks/trim.tsv`.
    #[must_use]
    pub fn bought(&self, grams: f64) -> f64 {
        grams / (1.0 - self.percent / 100.0)
    }

    /// Grams for the bowl from so many grams bought: the way back of [`Trim::bought`].
    #[must_use]
    pub fn used(&self, grams: f64) -> f64 {
        grams * (1.0 - self.percent / 100.0)
    }
}

impl Larder {
    pub(crate) fn read_trim(&mut self) -> Result<(), TableError> {
        for row in rows("trim.tsv", include_str!("../data/trim.tsv")) {
            let id = self.need(&row)?;
            let percent = row.number("percent")?;
            if percent >= 100.0 {
                return Err(row.wrong(format!("percent '{percent}' leaves nothing to use")));
            }
            let trim = Trim {
                percent,
                lost: Cow::Borrowed(row.need("lost")?),
                source: Cow::Borrowed(row.need("source")?),
                status: Status::read(&row, "status")?,
            };
            if self.trim.insert(id, trim).is_some() {
                return Err(row.wrong("a second row for this food".to_owned()));
            }
        }
        Ok(())
    }

    /// What of a food as it is bought does not go into the bowl: the kitchen's own figure, else
    /// the table's; `None` for what is bought ready to use.
    #[must_use]
    pub fn trim(&self, id: FoodId) -> Option<Trim> {
        match self.own(id).and_then(|e| e.trim) {
            Some(percent) => (percent > 0.0).then(|| Trim {
                percent,
                lost: self
                    .trim
                    .get(&id)
                    .map_or(Cow::Borrowed("trimmings"), |t| t.lost.clone()),
                source: Cow::Borrowed("weighed in this kitchen"),
                status: Status::Seen,
            }),
            None => self.trim.get(&id).cloned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sr28;

    #[test]
    fn every_row_is_the_refuse_of_its_sr28_row() {
        let larder = Larder::built_in().expect("the built-in tables");
        let mut seen = 0;
        for id in larder.ids() {
            let Some(trim) = larder.trim(id) else {
                continue;
            };
            let row = trim.source.strip_prefix("USDA SR28 ").expect("an SR28 row");
            let food = sr28::food(row.parse().expect("a number")).expect("the row");
            assert_eq!(
                food.get(sr28::Nutrient::RefusePercent),
                Some(trim.percent),
                "{}",
                larder.food(id).key
            );
            seen += 1;
        }
        assert!(seen > 70, "{seen}");
    }

    #[test]
    fn shells_agree_with_the_weight_class_of_eggs() {
        // A dozen US large eggs in their shells weigh at least 24 oz, 56.7 g each (USDA AMS 56
        // standards, table of weight classes); SR28 has 50 g of egg in one and 12 % shell.
        let larder = Larder::built_in().expect("the built-in tables");
        let egg = larder.by_key("egg").expect("egg");
        let shell = larder.trim(egg).expect("a shell");
        assert!((shell.bought(50.0) - 24.0 * 28.349_523_125 / 12.0).abs() < 0.2);
        assert!((shell.used(shell.bought(50.0)) - 50.0).abs() < 1e-9);
    }

    #[test]
    fn nuts_are_bought_shelled() {
        let larder = Larder::built_in().expect("the built-in tables");
        let almond = larder.by_key("almond").expect("almonds");
        assert_eq!(larder.trim(almond), None);
    }
}
