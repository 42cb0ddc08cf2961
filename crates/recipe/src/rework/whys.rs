//! The arithmetic behind what the engine chose, with the figures in it.

use super::balance::Balance;
use super::engine::Work;
use super::sums::{called, figure, grams, percent};
use larder::FoodId;
use quantity::Mass;

impl Work<'_> {
    /// Wheat flours become the blend: each name, its grams, and how much of it is flour.
    pub(super) fn flour_sums(&self, parts: &[(String, f64, f64)], total: f64) -> Vec<String> {
        let mut lines = Vec::new();
        if parts.len() > 1 || parts.iter().any(|p| p.2 != 1.0) {
            let each: Vec<String> = parts
                .iter()
                .map(|(name, g, share)| {
                    if *share == 1.0 {
                        format!("{} {}", grams(*g), called(name))
                    } else {
                        let share = percent(100.0 * share);
                        format!("{} {} × {share}", grams(*g), called(name))
                    }
                })
                .collect();
            lines.push(format!("{} = {} flour", each.join(" + "), grams(total)));
        }
        let held = self.pins.blend().map(Mass::as_grams);
        if let Some(held) = held {
            lines.push(format!("the blend is held at {}", grams(held)));
        }
        let blend = held.unwrap_or(total);
        for (food, share) in self.blend.map_or(&[][..], |b| &b.parts) {
            lines.push(format!(
                "{} × {} = {} {}",
                grams(blend),
                percent(*share),
                grams(blend * share / 100.0),
                called(&self.larder.food(*food).name)
            ));
        }
        lines
    }

    /// Where the water of a formula comes from, and its hydration.
    pub(super) fn water_sums(&self, foods: &[(FoodId, f64)], b: &Balance) -> Vec<String> {
        let flour = b.flour.likely().as_grams();
        let hydration = b.hydration.map_or(0.0, |h| h.likely().get());
        if flour <= 0.0 {
            return Vec::new();
        }
        let mut wet: Vec<(f64, String)> = foods
            .iter()
            .filter_map(|(food, g)| {
                let is = self.larder.food(*food);
                let share = self.larder.composition(*food).water? / 100.0;
                let counts = crate::weigh::counts_as_wet(self.larder, *food);
                (counts && is.flour_share() <= 0.0 && g * share > 0.005 * flour).then(|| {
                    let shown = format!(
                        "{} {} × {}",
                        grams(*g),
                        called(&is.name),
                        percent(100.0 * share)
                    );
                    (g * share, shown)
                })
            })
            .collect();
        wet.sort_by(|a, b| b.0.total_cmp(&a.0));
        let all = hydration / 100.0 * flour;
        let listed: f64 = wet.iter().map(|w| w.0).sum();
        let mut terms: Vec<String> = wet.into_iter().map(|w| w.1).collect();
        if all - listed > 0.005 {
            terms.push(format!("{:.2} g of the rest", all - listed));
        }
        let mut lines = Vec::new();
        if !terms.is_empty() && listed <= all + 0.05 {
            lines.push(format!("{} = {} water", terms.join(" + "), grams(all)));
        }
        lines.push(format!(
            "{} water ÷ {} flour = {}",
            grams(all),
            grams(flour),
            percent(hydration)
        ));
        lines
    }

    /// Water of the lines as they are now.
    pub(super) fn water_now(&self, b: &Balance) -> Vec<String> {
        let foods: Vec<(FoodId, f64)> = self
            .foods()
            .into_iter()
            .map(|(f, g)| (f, g.likely().as_grams()))
            .collect();
        self.water_sums(&merged(&foods), b)
    }

    /// Water of the original.
    pub(super) fn water_before(&self) -> Vec<String> {
        let foods: Vec<(FoodId, f64)> = super::foods::foods(self.formula, self.at)
            .into_iter()
            .map(|(f, g)| (f, g.likely().as_grams()))
            .collect();
        self.water_sums(&merged(&foods), &self.original)
    }

    /// A dose of the flour phase, in grams; what is there already taken off.
    pub(super) fn dose_sums(flour: f64, dose: f64, has: f64, name: &str) -> Vec<String> {
        let mut lines = Vec::new();
        if has > 0.0 {
            lines.push(format!(
                "{} − {} there already = {}",
                percent(dose + has),
                percent(has),
                percent(dose)
            ));
        }
        lines.push(format!(
            "{} × {} flour = {} {}",
            percent(dose),
            grams(flour),
            grams(dose * flour / 100.0),
            called(name)
        ));
        lines
    }

    /// Water over flour as it came to be: for the last line of the arithmetic.
    pub(super) fn reached_sums(&self) -> Vec<String> {
        let b = self.balance();
        let flour = b.flour.likely().as_grams();
        let hydration = b.hydration.map_or(0.0, |h| h.likely().get());
        if flour <= 0.0 {
            return Vec::new();
        }
        vec![format!(
            "{} water ÷ {} flour = {}",
            grams(hydration / 100.0 * flour),
            grams(flour),
            percent(hydration)
        )]
    }

    /// A factor on grams.
    pub(super) fn times_sums(old: f64, factor: f64, most: Option<(f64, f64)>) -> Vec<String> {
        let mut lines = vec![format!(
            "{} × {} = {}",
            grams(old),
            figure(factor),
            grams(old * factor)
        )];
        if let Some((cap, flour)) = most {
            lines.push(format!(
                "{} × {} flour = {} at the most",
                percent(cap),
                grams(flour),
                grams(cap * flour / 100.0)
            ));
        }
        lines
    }
}

/// One entry for each food, in the order they come.
fn merged(foods: &[(FoodId, f64)]) -> Vec<(FoodId, f64)> {
    let mut all: Vec<(FoodId, f64)> = Vec::new();
    for (food, g) in foods {
        match all.iter_mut().find(|x| x.0 == *food) {
            Some(x) => x.1 += g,
            None => all.push((*food, *g)),
        }
    }
    all
}
