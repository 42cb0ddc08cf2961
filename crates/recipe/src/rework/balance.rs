//! The balance of a component: what its parts are, percent of the flour phase.

use crate::rework::style::Ratios;
use crate::weigh::counts_as_wet;
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Ratio, Spread};

/// What a component is made of. Percentages are on the flour phase.
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    /// Flours and starches.
    pub flour: Spread<Mass>,
    /// Everything.
    pub total: Spread<Mass>,
    /// All water outside the flour phase; `None` without flour.
    pub hydration: Option<Spread<Ratio>>,
    /// Water of free liquids alone (not of eggs, fats, syrups).
    pub free_liquid: f64,
    /// Starch ingredients, percent of the flour phase.
    pub starch_share: f64,
    /// Protein of the flour phase, percent of it.
    pub flour_protein: f64,
    /// Fat of every line.
    pub fat: f64,
    /// Sugar of every line.
    pub sugar: f64,
    /// Foods whose make-up stands on their label alone: fat and sugar are without theirs.
    pub on_label: f64,
    /// Egg lines, as whole egg (dried ones as they are).
    pub egg: f64,
    /// Salt lines.
    pub salt: f64,
    /// Yeast, as dry.
    pub yeast: f64,
    /// Baking powder, soda, cream of tartar.
    pub leavening: f64,
    /// Binders, each in percent.
    pub binders: Vec<(FoodId, f64)>,
    /// Water the flour phase and binders take up, g per g of flour phase, as listed.
    pub absorption: f64,
    /// Water over absorption.
    pub consistency: Option<f64>,
}

/// Fruit with less water than this is dried, %.
const DRIED: f64 = 40.0;
/// Liquid that dried fruit takes up, g per g.
const TAKES_UP: f64 = 0.5;

/// Less than this of what stands on a label alone, percent of the flour phase, moves no figure that is shown.
const LITTLE: f64 = 1.0;

/// Fat, sugar, egg and salt below this, percent of the flour phase, are given as 0.
const TRACE: f64 = 0.05;

/// Whether what is in a food, no flour and no binder, stands on its label alone.
pub(super) fn is_on_label(larder: &Larder, food: FoodId) -> bool {
    let (is, c) = (larder.food(food), larder.composition(food));
    let known = c.fat.is_some() || c.sugars.is_some() || c.water.is_some();
    !known && is.flour_share() <= 0.0 && is.function() != Function::Binder
}

impl Balance {
    /// The balance of weighed foods.
    #[must_use]
    pub fn of(lines: &[(FoodId, Spread<Mass>)], larder: &Larder) -> Self {
        let is_flour = |f: FoodId| larder.food(f).is_flour_phase();
        let flour_of = |f: FoodId| larder.food(f).flour_share();
        let flour = Spread::sum_independent(
            lines
                .iter()
                .filter(|l| flour_of(l.0) > 0.0)
                .map(|l| l.1.scaled(flour_of(l.0))),
        );
        let total = Spread::sum_independent(lines.iter().map(|l| l.1));
        let f = flour.likely().as_grams();
        let share = |g: f64| if f > 0.0 { 100.0 * g / f } else { 0.0 };
        // Less than 0.05 % is a trace of another food, not an amount of this one.
        let share_or_trace = |g: f64| {
            let p = share(g);
            if p < TRACE { 0.0 } else { p }
        };
        let sum = |pick: &dyn Fn(FoodId) -> f64| -> f64 {
            lines
                .iter()
                .map(|(food, g)| g.likely().as_grams() * pick(*food))
                .sum()
        };
        let part = |food: FoodId, of: fn(&larder::Composition) -> Option<f64>| {
            of(larder.composition(food)).unwrap_or(0.0) / 100.0
        };
        let wet = |food: FoodId| {
            let flour = flour_of(food);
            if flour > 0.0 && flour < 1.0 {
                return 1.0 - flour;
            }
            if is_flour(food) || !counts_as_wet(larder, food) {
                0.0
            } else {
                part(food, |c| c.water)
            }
        };
        let water = Spread::sum_independent(lines.iter().map(|(food, g)| g.scaled(wet(*food))));
        let main = |food: FoodId| larder.food(food).function();
        let when = |yes: bool| f64::from(u8::from(yes));
        let starch = sum(&|x| when(main(x) == Function::Starch));
        let protein = sum(&|x| {
            if is_flour(x) {
                part(x, |c| c.protein)
            } else {
                0.0
            }
        });
        let free = sum(&|x| {
            if matches!(
                main(x),
                Function::Water
                    | Function::Liquid
                    | Function::Dairy
                    | Function::Alcohol
                    | Function::Acid
            ) {
                wet(x)
            } else {
                0.0
            }
        });
        let yeast = sum(&|x| {
            if main(x) != Function::Yeast || flour_of(x) > 0.0 {
                return 0.0;
            }
            // Fresh yeast is a third dry matter of what dry yeast is.
            if part(x, |c| c.water) > 0.5 {
                1.0 / 3.0
            } else {
                1.0
            }
        });
        let mut binders: Vec<(FoodId, f64)> = Vec::new();
        for (food, g) in lines.iter().filter(|l| main(l.0) == Function::Binder) {
            let p = share(g.likely().as_grams());
            match binders.iter_mut().find(|b| b.0 == *food) {
                Some(b) => b.1 += p,
                None => binders.push((*food, p)),
            }
        }
        let takes = |x: FoodId| larder.absorption(x).map(|a| a.water.likely().get());
        let absorbed = sum(&|x| {
            if flour_of(x) > 0.0 {
                flour_of(x) * takes(x).filter(|_| is_flour(x)).unwrap_or(0.6)
            } else if main(x) == Function::Binder {
                takes(x).unwrap_or(0.0)
            } else {
                0.0
            }
        });
        let w = water.likely().as_grams();
        Self {
            flour,
            total,
            hydration: water
                .ratio_independent(flour)
                .filter(|_| f > 0.0)
                .map(|r| r.scaled(100.0)),
            free_liquid: share(free),
            starch_share: share(starch),
            flour_protein: share(protein),
            fat: share_or_trace(sum(&|x| if is_flour(x) { 0.0 } else { part(x, |c| c.fat) })),
            sugar: share_or_trace(sum(&|x| {
                if is_flour(x) {
                    0.0
                } else {
                    part(x, |c| c.sugars)
                }
            })),
            on_label: share(sum(&|x| when(is_on_label(larder, x)))),
            egg: share_or_trace(sum(&|x| when(main(x) == Function::Egg))),
            salt: share_or_trace(sum(&|x| when(main(x) == Function::Salt))),
            yeast: share(yeast),
            leavening: share(sum(&|x| {
                // Self-raising flour holds 4.5–5 g of baking powder in 100 g (from memory).
                if larder.food(x).key.starts_with("self_raising") {
                    0.0475
                } else {
                    when(main(x) == Function::Leavening)
                }
            })),
            binders,
            absorption: if f > 0.0 { absorbed / f } else { 0.0 },
            consistency: (absorbed > 0.0).then(|| w / absorbed),
        }
    }

    /// The ratios that tell a style.
    #[must_use]
    pub fn ratios(&self) -> Ratios {
        Ratios {
            hydration: self.hydration.map_or(0.0, |h| h.likely().get()),
            fat: self.fat,
            sugar: self.sugar,
            egg: self.egg,
            yeast: self.yeast,
            leavening: self.leavening,
        }
    }

    /// The ratios of the batter or dough alone: pieces of fruit lie in or under it. Dried fruit takes
    /// up half its weight of the liquid as it soaks (common practice, no source).
    ///
    /// # Returns
    /// `None` where there is no fruit.
    #[must_use]
    pub fn ratios_without_fruit(
        lines: &[(FoodId, Spread<Mass>)],
        larder: &Larder,
    ) -> Option<Ratios> {
        // A purée is wet and goes into the batter.
        let is_fruit = |f: FoodId| {
            let food = larder.food(f);
            food.function() == Function::Fruit && !food.does(Function::Liquid)
        };
        let (fruit, rest): (Vec<(FoodId, Spread<Mass>)>, Vec<_>) =
            lines.iter().partition(|l| is_fruit(l.0));
        if fruit.is_empty() {
            return None;
        }
        let is_dry = |f: FoodId| larder.composition(f).water.is_some_and(|w| w < DRIED);
        let dried = fruit.iter().filter(|l| is_dry(l.0));
        let drunk: f64 = dried.map(|l| TAKES_UP * l.1.likely().as_grams()).sum();
        let bare = Self::of(&rest, larder);
        let flour = bare.flour.likely().as_grams();
        let mut ratios = bare.ratios();
        if flour > 0.0 {
            // Never more than there is to drink.
            ratios.hydration -= (100.0 * drunk / flour).min(bare.free_liquid);
        }
        Some(ratios)
    }

    /// Words before its fat and its sugar: of what stands on a label alone nobody knows how much that has.
    #[must_use]
    pub fn at_least(&self) -> &'static str {
        if self.says_at_least() {
            "at least "
        } else {
            ""
        }
    }

    /// Whether fat and sugar are no more than a least.
    #[must_use]
    pub fn says_at_least(&self) -> bool {
        self.on_label >= LITTLE
    }

    /// All binders together, percent of the flour phase.
    #[must_use]
    pub fn binder_percent(&self) -> f64 {
        self.binders.iter().map(|b| b.1).sum()
    }
}
