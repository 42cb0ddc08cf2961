//! Eggs: how many a batch takes, and the nearest size that takes whole ones.

use super::ask::likely;
use super::flow::Flow;
use crate::household::{Household, OneEgg, eggs as in_words, whole_eggs};
use crate::rework::{Kept, Rework};
use larder::{FoodId, Larder};
use quantity::Mass;

/// A count of eggs, yolks or whites.
#[derive(Debug, Clone, PartialEq)]
pub struct EggCount {
    /// Egg, yolk or white.
    pub food: FoodId,
    /// What it is called.
    pub name: String,
    /// One: of those that the recipe counts, else of 50 g, a large one in the US and a medium one in
    /// Europe.
    pub one: OneEgg,
    /// How many the batch takes.
    pub count: f64,
    /// What they are for where they stand beside the formula: 'for brushing'. Only those of the
    /// formula have to be whole.
    pub beside: Option<&'static str>,
}

impl EggCount {
    /// Whether they are whole, within a tenth of one.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        let (whole, rest) = whole_eggs(self.count);
        whole >= 1.0 && rest == 0.0
    }

    /// Grams that the batch takes.
    #[must_use]
    pub fn weighs(&self) -> Mass {
        self.one.weighs * self.count
    }

    /// In the words of its line: `2 large eggs + 20 g beaten egg`, with what that is off.
    #[must_use]
    pub fn household(&self) -> Household {
        in_words(&self.name, &self.one, self.weighs())
    }
}

/// The nearest size that takes whole eggs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WholeEggs {
    /// Times the recipe.
    pub factor: f64,
    /// (its size − the size asked for) ÷ the size asked for.
    pub off: f64,
}

/// A fiftieth of an egg, 1 g, is none.
const NEARLY: f64 = 0.02;
/// How many eggs more or less are tried.
const TRIED: i64 = 60;

/// Grams of egg foods in each component.
struct Eggs {
    food: FoodId,
    one: OneEgg,
    grams: Vec<f64>,
    beside: Option<&'static str>,
}

fn eggs(rework: &Rework, larder: &Larder) -> Vec<Eggs> {
    let mut all: Vec<Eggs> = Vec::new();
    for (c, component) in rework.components.iter().enumerate() {
        for line in &component.lines {
            let (Some(food), Some(grams)) = (line.food, line.grams.map(likely)) else {
                continue;
            };
            let counted = line.kept != Kept::Dropped && grams > 0.0;
            let Some(one) = rework.one_egg(c, line, larder).filter(|_| counted) else {
                continue;
            };
            let beside = rework.beside(c, line);
            // Large ones of one part and medium ones of another are bought and counted apart.
            let alike = |e: &&mut Eggs| {
                let off = (e.one.weighs - one.weighs).as_grams().abs();
                (e.food, e.beside, &e.one.size) == (food, beside, &one.size) && off < 0.5
            };
            match all.iter_mut().find(alike) {
                Some(e) => e.grams[c] += grams,
                None => {
                    let mut list = vec![0.0; rework.components.len()];
                    list[c] = grams;
                    all.push(Eggs {
                        food,
                        one,
                        grams: list,
                        beside,
                    });
                }
            }
        }
    }
    all
}

/// The eggs of a batch, and the nearest size that takes whole ones where these are not.
pub(super) fn count(
    times: f64,
    flow: &Flow<'_>,
    rework: &Rework,
    larder: &Larder,
) -> (Vec<EggCount>, Option<WholeEggs>) {
    let all = eggs(rework, larder);
    let factors = flow.factors(times);
    let counts: Vec<EggCount> = all
        .iter()
        .map(|e| EggCount {
            food: e.food,
            name: larder.food(e.food).name.clone(),
            one: e.one.clone(),
            count: many(e, &factors),
            beside: e.beside,
        })
        .filter(|e| e.count > 0.0)
        .collect();
    let mut of_formula = counts.iter().filter(|e| e.beside.is_none());
    if of_formula.all(EggCount::is_whole) {
        return (counts, None);
    }
    (counts, to_whole(times, flow, &all))
}

fn many(e: &Eggs, factors: &[f64]) -> f64 {
    let grams = factors.iter().zip(&e.grams).map(|(f, g)| f * g);
    grams.sum::<f64>() / e.one.weighs.as_grams()
}

/// The nearest size whose eggs are whole to the gram, where those of this one are not: a tenth of an egg is
/// whole enough for who asks for none.
pub(super) fn exactly_whole(
    times: f64,
    flow: &Flow<'_>,
    rework: &Rework,
    larder: &Larder,
) -> Option<WholeEggs> {
    to_whole(times, flow, &eggs(rework, larder)).filter(|w| w.off.abs() > 1e-9)
}

fn to_whole(times: f64, flow: &Flow<'_>, all: &[Eggs]) -> Option<WholeEggs> {
    let at = |times: f64| -> Vec<f64> {
        let factors = flow.factors(times);
        let of_formula = all.iter().filter(|e| e.beside.is_none());
        let counts = of_formula.map(|e| many(e, &factors));
        counts.filter(|n| *n > 0.0).collect()
    };
    let now = at(times);
    if now.is_empty() {
        return None;
    }
    nearest(times, &now, &at)
}

/// The nearest times at which all counts are whole. Counts are linear in the times.
fn nearest(times: f64, now: &[f64], at: &dyn Fn(f64) -> Vec<f64>) -> Option<WholeEggs> {
    let double = at(2.0 * times);
    // By what there is most of: its whole numbers lie closest.
    let lead = (0..now.len()).max_by(|a, b| {
        let slope = |i: usize| double[i] - now[i];
        slope(*a).total_cmp(&slope(*b))
    })?;
    let slope = (double[lead] - now[lead]) / times;
    if slope <= 1e-12 {
        return None;
    }
    let middle = now[lead].round() as i64;
    (middle - TRIED..=middle + TRIED)
        .filter(|n| *n >= 1)
        .map(|n| times + (n as f64 - now[lead]) / slope)
        .filter(|t| *t > 0.0)
        .filter(|t| {
            let counts = at(*t);
            counts
                .iter()
                .all(|n| (n - n.round()).abs() <= NEARLY && n.round() >= 1.0)
        })
        .min_by(|a, b| (a - times).abs().total_cmp(&(b - times).abs()))
        .map(|factor| WholeEggs {
            factor,
            off: factor / times - 1.0,
        })
}
