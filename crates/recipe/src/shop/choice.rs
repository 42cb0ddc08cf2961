//! A line that offers a choice ('oil or butter'): the first is counted, and this is the other.

use crate::line::{Item, Line};
use crate::read::Reader;
use crate::weigh;
use larder::{FoodId, Larder};
use quantity::{Locale, Mass, Spread};

/// What a line offers in place of what is counted.
#[derive(Debug, Clone, PartialEq)]
pub struct Instead {
    /// The words of the line.
    pub words: String,
    /// Its foods with their grams; `None` where they cannot be weighed.
    pub parts: Vec<(FoodId, Option<Spread<Mass>>)>,
}

impl Instead {
    /// What an item's line offers instead, in grams of the line as written; `None` where it
    /// offers nothing.
    ///
    /// With an amount of its own ('2 tbsp oil or 30 g butter') the other is weighed by that, with
    /// what is added to it ('or 1 cup milk plus 1 tbsp vinegar'); else by the amount of the first.
    pub(super) fn of(line: &Line, item: &Item, larder: &Larder, locale: Locale) -> Option<Self> {
        let other = *item.alternatives.first()?;
        let tail = line.clean.get(item.name.start..)?.split_once(" or ")?.1;
        let own = Reader::new(larder, locale).line(tail);
        let of_its_own = own.items.first().is_some_and(|i| {
            !i.amounts.is_empty() && i.food.as_ref().is_some_and(|m| m.food == other)
        });
        if of_its_own {
            let parts = weigh::line(&own, larder, locale).0;
            // With something unknown in it no half of it is offered.
            let parts = parts.into_iter().map(|w| Some((w.food?, w.grams)));
            return Some(Self {
                words: line.bare().to_owned(),
                parts: parts.collect::<Option<_>>()?,
            });
        }
        let mut same = Line {
            items: vec![item.clone()],
            ..line.clone()
        };
        same.items[0].food.as_mut()?.food = other;
        let grams = weigh::line(&same, larder, locale).0.first()?.grams;
        Some(Self {
            words: line.bare().to_owned(),
            parts: vec![(other, grams)],
        })
    }

    /// So many times.
    #[must_use]
    pub fn scaled(mut self, factor: f64) -> Self {
        for (_, grams) in &mut self.parts {
            *grams = grams.map(|g| g.scaled(factor));
        }
        self
    }
}
