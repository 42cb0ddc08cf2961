//! Doses by style: binder, leavening, protein.

use super::engine::{Kept, Work};
use super::pins::XANTHAN_IN_PSYLLIUM;
use super::style::{Style, StyleRange};
use crate::household::percent;
use larder::{FoodId, Function};
use quantity::{Mass, Spread};

/// The least that a bench scale of 0.1 g weighs well enough, g.
const LEAST: f64 = 0.3;

/// A binder to add.
struct Dose {
    food: FoodId,
    /// Percent of the flour phase.
    percent: f64,
    range: &'static StyleRange,
    reason: String,
}

impl Work<'_> {
    /// Whether the style's binder is psyllium first, gums second.
    pub(super) fn leads_with_psyllium(&self, style: Style) -> bool {
        style.is_yeast_dough() || self.is_gum_free()
    }

    fn is_gum_free(&self) -> bool {
        self.blend.is_some_and(|b| b.key == "gum_free")
    }

    /// Binder by the style's dose, less what the original and the blend already have.
    pub(super) fn binders(&mut self, style: Style) {
        let f = self.balance().flour.likely().as_grams();
        // The liquid of a sauce or a filling is thickened by its flour.
        let thickener = style.is_thickened() || self.no_batter(style).is_some();
        self.blend_binders(f, thickener);
        if thickener {
            return;
        }
        let (Some(psy), Some(xan)) = (style.range("psyllium"), style.range("xanthan")) else {
            return;
        };
        let (Some(psyllium), Some(xanthan)) = (
            self.larder.by_key("psyllium_powder"),
            self.larder.by_key("xanthan_gum"),
        ) else {
            return;
        };
        let before = self.balance();
        let (had_psyllium, had_gum) = self.binder_sums(&before);
        let in_blend = |food: FoodId| -> f64 {
            let all = self.blend.map_or(&[][..], |b| &b.binders);
            all.iter().filter(|b| b.0 == food).map(|b| b.1).sum()
        };
        let mut doses: Vec<Dose> = Vec::new();
        let blend_psyllium = in_blend(psyllium);
        if self.leads_with_psyllium(style) || blend_psyllium > 0.0 {
            let wanted = if style.is_yeast_dough() {
                psy.value.likely().get()
            } else if self.is_gum_free() {
                (XANTHAN_IN_PSYLLIUM * xan.value.likely().get())
                    .clamp(psy.value.low().get(), psy.value.high().get())
            } else {
                0.0
            };
            let reason = if self.is_gum_free() && !style.is_yeast_dough() {
                "without gums: 1 % of xanthan is worth 2.5 % of psyllium"
            } else {
                "psyllium holds the gas that gluten would hold; what the blend has is counted"
            };
            doses.push(Dose {
                food: psyllium,
                percent: wanted.max(blend_psyllium) - had_psyllium,
                range: psy,
                reason: reason.to_owned(),
            });
        }
        if !self.is_gum_free() {
            let egg = before.egg;
            let low = xan.value.low().get();
            let (dose, reason) = if style.is_yeast_dough() {
                (
                    low.min(0.5),
                    "with 4 % of psyllium or more, xanthan stays at 0.5 % or below".to_owned(),
                )
            } else if egg >= 60.0 {
                (
                    (xan.value.likely().get() / 2.0).max(low),
                    format!("egg at {egg:.0} % of the flour binds already: half the usual dose"),
                )
            } else {
                (
                    xan.value.likely().get(),
                    "the style's usual dose".to_owned(),
                )
            };
            // A cake on a blend with psyllium in it needs the less gum.
            let worth = if style.is_yeast_dough() {
                0.0
            } else {
                blend_psyllium / XANTHAN_IN_PSYLLIUM
            };
            doses.push(Dose {
                food: xanthan,
                percent: (dose - worth).max(in_blend(xanthan)) - had_gum,
                range: xan,
                reason,
            });
        }
        self.make_up(style, f, [psyllium, xanthan], &mut doses);
        for dose in doses {
            // What a bench scale of 0.1 g cannot weigh is no dose.
            if f * dose.percent / 100.0 < LEAST {
                continue;
            }
            let (food, percents) = (dose.food, dose.percent);
            let name = self.larder.food(food).name.clone();
            let of = |p: f64| Mass::grams(f * p / 100.0);
            let (low, high) = (
                dose.range.value.low().get().min(percents),
                dose.range.value.high().get().max(percents),
            );
            if !self.add(food, Spread::new(of(low), of(percents), of(high)), None) {
                continue;
            }
            self.change(
                "binder",
                if had_psyllium + had_gum > 0.0 {
                    percent(had_psyllium + had_gum)
                } else {
                    "gluten".to_owned()
                },
                format!(
                    "{} {name} ({} of the flour phase)",
                    self.grams(food, of(percents)),
                    percent(percents)
                ),
                Some(format!("{low}–{high} %")),
                &dose.reason,
                &dose.range.cited(),
            );
        }
    }

    /// Binders of the blend that have no dose of their own here, as lines.
    fn blend_binders(&mut self, flour: f64, all: bool) {
        let binders = self.blend.map_or(Vec::new(), |b| b.binders.clone());
        for (food, share) in binders {
            let is = self.larder.food(food);
            if !all && matches!(is.key.as_str(), "psyllium_powder" | "xanthan_gum") {
                continue;
            }
            let name = is.name.clone();
            let more = Mass::grams(flour * share / 100.0);
            if self.add(
                food,
                Spread::exact(more),
                Some("the blend has it".to_owned()),
            ) {
                self.change(
                    "binder",
                    "gluten".to_owned(),
                    format!(
                        "{} {name} ({} of the flour phase)",
                        self.grams(food, more),
                        percent(share)
                    ),
                    None,
                    "the blend is made with it",
                    "the blend's recipe",
                );
            }
        }
    }

    /// Where a held binder leaves the sum below the style's range, the other one makes it up to
    /// the bottom of the range.
    fn make_up(&self, style: Style, flour: f64, foods: [FoodId; 2], doses: &mut Vec<Dose>) {
        let [psyllium, xanthan] = foods;
        let binder = |f: FoodId| self.larder.food(f).function() == Function::Binder;
        let any_held = self
            .lines
            .iter()
            .any(|l| l.held && l.food.is_some_and(binder));
        let pinned = |f: FoodId| self.is_held(f) || self.pin_of_new(f).is_some();
        if !any_held && !foods.into_iter().any(pinned) {
            return;
        }
        let (mut psy, mut gum) = self.binder_sums(&self.balance());
        for dose in doses.iter() {
            if self.is_held(dose.food) || flour * dose.percent / 100.0 < LEAST {
                continue;
            }
            let sum = if dose.food == psyllium {
                &mut psy
            } else {
                &mut gum
            };
            *sum += self
                .pin_of_new(dose.food)
                .map_or(dose.percent, |at| 100.0 * at.as_grams() / flour);
        }
        let (Some(psy_range), Some(xan_range)) = (style.range("psyllium"), style.range("xanthan"))
        else {
            return;
        };
        // Short of the range, in psyllium.
        let short = if self.leads_with_psyllium(style) {
            psy_range.value.low().get() - psy - gum * XANTHAN_IN_PSYLLIUM
        } else {
            (xan_range.value.low().get() - gum) * XANTHAN_IN_PSYLLIUM - psy
        };
        let reason = "the binder that is held leaves less than the style's range: made up to its lower end, 1 % of xanthan for 2.5 % of psyllium";
        for (food, range, has, more) in [
            (psyllium, psy_range, psy, short),
            (xanthan, xan_range, gum, short / XANTHAN_IN_PSYLLIUM),
        ] {
            let dosed = doses.iter().position(|d| d.food == food);
            let more = more.min(range.value.high().get() - has);
            let fixed = self.is_held(food) || dosed.is_some() && self.pin_of_new(food).is_some();
            if fixed || food == xanthan && self.is_gum_free() || flour * more / 100.0 < LEAST {
                continue;
            }
            match dosed {
                Some(i) => {
                    doses[i].percent = doses[i].percent.max(0.0) + more;
                    reason.clone_into(&mut doses[i].reason);
                }
                None => doses.push(Dose {
                    food,
                    percent: more,
                    range,
                    reason: reason.to_owned(),
                }),
            }
            return;
        }
    }

    pub(super) fn leavening(&mut self, style: Style) {
        let Some(range) = style.range("leavening_mult") else {
            return;
        };
        let flour = self.balance().flour.likely().as_grams();
        let (low, mult, high) = (
            range.value.low().get(),
            range.value.likely().get(),
            range.value.high().get(),
        );
        if mult <= 0.0 {
            return;
        }
        let rich = self.original.sugar + self.original.fat > 20.0;
        for i in 0..self.lines.len() {
            let line = &self.lines[i];
            let (Some(id), Some(g)) = (line.food, line.grams) else {
                continue;
            };
            if !line.in_formula || line.kept == Kept::Dropped || line.held {
                continue;
            }
            let food = self.larder.food(id);
            let fresh = self.larder.composition(id).water.unwrap_or(0.0) > 50.0;
            let (what, cap, source) = match food.function() {
                Function::Yeast => {
                    let dry = if rich { 3.5 } else { 2.5 };
                    (
                        "yeast",
                        if fresh { 3.0 * dry } else { dry },
                        "cap of yeast: common practice, no source",
                    )
                }
                Function::Leavening if food.key == "baking_powder" => (
                    "baking powder",
                    6.0,
                    "cap of baking powder: common practice, no source",
                ),
                _ => continue,
            };
            let old = g.likely().as_grams();
            let most = (cap * flour / 100.0).max(old);
            let new = (old * mult).min(most);
            if (new / old - 1.0).abs() < 0.03 {
                continue;
            }
            let name = food.name.clone();
            let of = |m: f64| Mass::grams((g.likely().as_grams() * m).min(most));
            self.lines[i].grams = Some(Spread::new(of(low), Mass::grams(new), of(high)));
            self.lines[i].was_changed();
            let rule = if new < old * mult {
                format!("times {mult}, but at most {cap} % of the flour phase")
            } else {
                format!("times {mult}: the dough holds gas less well, or starch sets sooner")
            };
            self.change(
                what,
                format!("{} {name}", self.grams(id, g.likely())),
                format!("{} {name}", self.grams(id, Mass::grams(new))),
                Some(format!("times {low}–{high}")),
                &rule,
                &format!("{}; {source}", range.cited()),
            );
        }
    }

    /// Egg white powder where a dough that needs structure has too little protein.
    pub(super) fn protein(&mut self, style: Style) {
        let Some(range) = style.range("flour_protein") else {
            return;
        };
        let b = self.balance();
        let structural = style.is_yeast_dough();
        if !structural || b.flour_protein >= range.value.low().get() || b.egg >= 15.0 {
            return;
        }
        let Some(food) = self.larder.by_key("egg_white_powder") else {
            return;
        };
        let f = b.flour.likely().as_grams();
        let of = |p: f64| Mass::grams(f * p / 100.0);
        if !self.add(
            food,
            Spread::new(of(2.0), of(3.0), of(4.0)),
            Some("adds egg: not for an egg-free version".to_owned()),
        ) {
            return;
        }
        self.change(
            "protein",
            percent(b.flour_protein),
            format!("{} egg white powder (3 % of the flour phase)", self.grams(food, of(3.0))),
            Some("2–4 %".to_owned()),
            "a blend below the style's protein needs another to set the crumb; this adds egg as an allergen",
            "common practice, no source",
        );
    }
}
