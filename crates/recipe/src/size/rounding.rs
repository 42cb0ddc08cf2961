//! A batch on the kitchen's scale: what is shown of every line, and what that misses.

use super::batch::{BatchComponent, BatchLine};
use crate::household::{PINCH, Scale, is_fine};
use larder::Larder;
use quantity::Mass;

/// A line as the scale shows it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnScale {
    /// Grams on the scale; `None` where there is no weight, or less than a scale shows.
    pub grams: Option<f64>,
    /// Less than a scale shows, and more than nothing: a pinch.
    pub pinch: bool,
    /// Finer than the kitchen's scale shows: it takes a spoon or a finer scale.
    pub finer: bool,
    /// Grams on the scale less the exact ones.
    pub off: f64,
    /// That in percent of the component's flour phase; `None` without flour.
    pub off_percent: Option<f64>,
}

impl OnScale {
    /// The grams in words: `26.6 g`, or a pinch; nothing without a weight.
    #[must_use]
    pub fn words(&self) -> Option<String> {
        match self.grams {
            Some(g) => Some(format!("{g} g")),
            None => self.pinch.then(|| PINCH.to_owned()),
        }
    }
}

/// Share of a component that its flour must be for percents of it to say anything.
const LEAST_FLOUR: f64 = 0.08;

impl BatchLine {
    /// The line on scales.
    ///
    /// # Returns
    /// To the scale's step, finer for yeast, salt, gums and leavening and for little weights; what
    /// is above nothing is never nothing: a tenth of a gram, or a pinch.
    #[must_use]
    pub fn on(&self, of: &BatchComponent, scale: &Scale, larder: &Larder) -> OnScale {
        let none = OnScale {
            grams: None,
            pinch: false,
            finer: false,
            off: 0.0,
            off_percent: None,
        };
        let Some(exact) = self
            .grams
            .map(|g| g.likely().as_grams())
            .filter(|g| *g > 0.0)
        else {
            return none;
        };
        let fine = self.food.is_some_and(|f| is_fine(larder, f));
        let (grams, finer) = scale.shows(Mass::grams(exact), fine);
        if grams <= 0.0 {
            return OnScale {
                pinch: true,
                ..none
            };
        }
        let off = grams - exact;
        let flour = of.flour.likely().as_grams();
        // Two spoons of starch that thicken a fruit are no flour to reckon the fruit by.
        let least = LEAST_FLOUR * of.makes.likely().as_grams();
        OnScale {
            grams: Some(grams),
            finer,
            off,
            off_percent: (flour > least).then(|| 100.0 * off / flour),
            ..none
        }
    }
}

impl BatchComponent {
    /// Its lines on scales, in order.
    #[must_use]
    pub fn on(&self, scale: &Scale, larder: &Larder) -> Vec<OnScale> {
        self.lines
            .iter()
            .map(|l| l.on(self, scale, larder))
            .collect()
    }
}
