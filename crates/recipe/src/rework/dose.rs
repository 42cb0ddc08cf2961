//! Doses by style: binder, leavening, protein.

use super::balance::Balance;
use super::engine::{Kept, Work, grams};
use super::style::Style;
use crate::household::percent;
use larder::{FoodId, Function};
use quantity::{Mass, Spread};

impl Work<'_> {
    /// Binder by the style's dose, less what the original and the blend already have.
    pub(super) fn binders(&mut self, style: Style) {
        let before = self.balance();
        let f = before.flour.likely().as_grams();
        let have = |b: &Balance, word: &str| -> f64 {
            b.binders
                .iter()
                .filter(|(x, _)| self.larder.food(*x).key.contains(word))
                .map(|x| x.1)
                .sum()
        };
        let (had_psyllium, had_gum) = (have(&before, "psyllium"), have(&before, "gum"));
        let (Some(psy), Some(xan)) = (style.range("psyllium"), style.range("xanthan")) else {
            return;
        };
        let in_blend: Vec<(FoodId, f64)> = self.blend.map_or(Vec::new(), |b| b.binders.clone());
        let blend_psyllium: f64 = in_blend
            .iter()
            .filter(|(x, _)| self.larder.food(*x).key.contains("psyllium"))
            .map(|x| x.1)
            .sum();
        let gum_free = self.blend.is_some_and(|b| b.key == "gum_free");
        let thickener = style.key() == "roux_sauce";
        // (food, dose, range, reason, source)
        let mut doses: Vec<(&str, f64, &super::style::StyleRange, String, String)> = Vec::new();
        if thickener {
            return;
        }
        if style.is_yeast_dough() || gum_free {
            let wanted = if style.is_yeast_dough() {
                psy.value.likely().get()
            } else {
                (2.5 * xan.value.likely().get())
                    .clamp(psy.value.low().get(), psy.value.high().get())
            };
            let reason = if gum_free && !style.is_yeast_dough() {
                "without gums: 1 % of xanthan is worth 2.5 % of psyllium"
            } else {
                "psyllium holds the gas that gluten would hold; what the blend has is counted"
            };
            let dose = wanted.max(blend_psyllium) - had_psyllium;
            doses.push(("psyllium_powder", dose, psy, reason.to_owned(), psy.cited()));
        }
        if !gum_free {
            let egg = before.egg;
            let (dose, reason) = if style.is_yeast_dough() {
                (
                    xan.value.low().get().min(0.5),
                    "with 4 % of psyllium or more, xanthan stays at 0.5 % or below".to_owned(),
                )
            } else if egg >= 60.0 {
                (
                    (xan.value.likely().get() / 2.0).max(xan.value.low().get()),
                    format!("egg at {egg:.0} % of the flour binds already: half the usual dose"),
                )
            } else {
                (
                    xan.value.likely().get(),
                    "the style's usual dose".to_owned(),
                )
            };
            doses.push(("xanthan_gum", dose - had_gum, xan, reason, xan.cited()));
        }
        for (key, dose, range, reason, source) in doses {
            let Some(food) = self.larder.by_key(key) else {
                continue;
            };
            // What a bench scale of 0.1 g cannot weigh is no dose.
            if f * dose / 100.0 < 0.3 {
                continue;
            }
            let name = self.larder.food(food).name.clone();
            let of = |p: f64| Mass::grams(f * p / 100.0);
            let (low, high) = (
                range.value.low().get().min(dose),
                range.value.high().get().max(dose),
            );
            self.add(food, Spread::new(of(low), of(dose), of(high)), None);
            self.change(
                "binder",
                if had_psyllium + had_gum > 0.0 {
                    percent(had_psyllium + had_gum)
                } else {
                    "gluten".to_owned()
                },
                format!(
                    "{} {name} ({} of the flour phase)",
                    grams(of(dose)),
                    percent(dose)
                ),
                Some(format!("{low}–{high} %")),
                &reason,
                &source,
            );
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
            if !line.in_formula || line.kept == Kept::Dropped {
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
            self.lines[i].kept = Kept::Changed;
            let rule = if new < old * mult {
                format!("times {mult}, but at most {cap} % of the flour phase")
            } else {
                format!("times {mult}: the dough holds gas less well, or starch sets sooner")
            };
            self.change(
                what,
                format!("{} {name}", grams(g.likely())),
                format!("{} {name}", grams(Mass::grams(new))),
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
        self.add(
            food,
            Spread::new(of(2.0), of(3.0), of(4.0)),
            Some("adds egg: not for an egg-free version".to_owned()),
        );
        self.change(
            "protein",
            percent(b.flour_protein),
            format!("{} egg white powder (3 % of the flour phase)", grams(of(3.0))),
            Some("2–4 %".to_owned()),
            "a blend below the style's protein needs another to set the crumb; this adds egg as an allergen",
            "common practice, no source",
        );
    }
}
