//! A weight as the scales of a kitchen show it; percentages as they are read.

use larder::{FoodId, Function, Larder};
use quantity::{Mass, Ratio, Spread};

/// The scales of a kitchen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// What the scale shows, g.
    pub step: f64,
    /// What the fine scale shows, g, where there is one.
    pub fine: Option<f64>,
}

impl Default for Scale {
    /// A scale to 1 g and a fine one to 0.1 g.
    fn default() -> Self {
        Self {
            step: 1.0,
            fine: Some(0.1),
        }
    }
}

/// The finest that is given where a scale shows too little, g.
const TENTH: f64 = 0.1;

impl Scale {
    /// Grams as these scales show them: the fine one below 100 g for what is weighed finely, the other
    /// for flour, sugar and the rest. The one rounding of weights.
    ///
    /// Where the step would miss more than a twentieth of the weight, the fine scale is used for the
    /// rest too, to a tenth of a gram; where that misses as much, a tenth is given all the same: it
    /// takes a spoon or a finer scale.
    #[must_use]
    pub fn rounded(&self, grams: Mass, fine: bool) -> f64 {
        self.shows(grams, fine).0
    }

    /// The [rounded](Self::rounded) grams, and whether they are finer than the scales show.
    #[must_use]
    pub fn shows(&self, grams: Mass, fine: bool) -> (f64, bool) {
        let g = grams.as_grams();
        // Steps are tenths or hundredths: the quotient is whole, its product is not.
        let to = |step: f64| ((g / step).round() * step * 100.0).round() / 100.0;
        let misses = |step: f64| (to(step) - g).abs() > 0.05 * g.abs();
        let finest = self.fine.unwrap_or(self.step);
        let first = if fine && g < 100.0 { finest } else { self.step };
        let steps = [first, first.min(finest.max(TENTH)), first.min(TENTH)];
        let step = steps.into_iter().find(|s| !misses(*s));
        let step = step.unwrap_or(steps[2]);
        (to(step), step < finest.min(self.step))
    }

    /// The [rounded](Self::rounded) grams as they are written.
    #[must_use]
    pub fn grams(&self, grams: Mass, fine: bool) -> String {
        self.rounded(grams, fine).to_string()
    }

    /// Whether these scales show nothing of a weight: it is a pinch.
    #[must_use]
    pub fn is_pinch(&self, grams: Mass) -> bool {
        grams.as_grams() > 0.0 && self.rounded(grams, true) == 0.0
    }
}

/// Grams without the last bits of a sum.
#[must_use]
pub fn clean(grams: f64) -> f64 {
    (grams * 1000.0).round() / 1000.0
}

/// What is less than a scale shows.
pub const PINCH: &str = "a pinch, under 0.1 g";

/// Grams as usual scales show them: to 1 g; to 0.1 g yeast, salt, gums and leavening below 100 g, and what
/// 1 g would miss by more than a twentieth.
#[must_use]
pub fn scale_grams(grams: Mass, fine: bool) -> String {
    Scale::default().grams(grams, fine)
}

/// A weight in words: `26.6 g`, or a pinch where a scale shows nothing of it.
#[must_use]
pub fn weight(grams: Mass, fine: bool) -> String {
    if Scale::default().is_pinch(grams) {
        PINCH.to_owned()
    } else {
        format!("{} g", scale_grams(grams, fine))
    }
}

/// Whether a food is weighed to a tenth of a gram.
#[must_use]
pub fn is_fine(larder: &Larder, food: FoodId) -> bool {
    matches!(
        larder.food(food).function(),
        Function::Yeast | Function::Salt | Function::Binder | Function::Leavening | Function::Spice
    )
}

/// A percentage with the digits it deserves: `114 %`, `5.2 %`, `0.15 %`.
#[must_use]
pub fn percent(p: f64) -> String {
    let p = p + 1e-9;
    if p >= 9.95 {
        format!("{p:.0} %")
    } else if p >= 0.995 {
        format!("{p:.1} %").replace(".0 %", " %")
    } else {
        let figure = format!("{p:.2}");
        format!("{} %", figure.trim_end_matches('0').trim_end_matches('.'))
    }
}

/// A [percentage](percent) without its sign, for a column or the ends of a range.
#[must_use]
pub fn percent_figure(p: f64) -> String {
    percent(p).trim_end_matches(" %").to_owned()
}

/// A line's percent of the flour as it is written; nothing for a pinch.
#[must_use]
pub fn of_flour(p: Spread<Ratio>) -> Option<String> {
    let p = p.likely().get();
    (p >= 0.05).then(|| percent(p))
}

/// A spread as `310 g (270–350)`, or `113 g` where it is certain.
#[must_use]
pub fn spread_grams(g: Spread<Mass>, fine: bool) -> String {
    let likely = weight(g.likely(), fine);
    let (low, high) = (scale_grams(g.low(), fine), scale_grams(g.high(), fine));
    if low == high || likely == PINCH {
        likely
    } else {
        format!("{likely} ({low}–{high})")
    }
}
