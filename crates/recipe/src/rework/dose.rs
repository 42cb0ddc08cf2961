//! Doses by style: binder, leavening, protein.

use super::binder::{
    Aim, GUM_BESIDE_PSYLLIUM, Gives, InMix, Kind, Lead, MOST_GUM, MUCH_PSYLLIUM, counted, published,
};
use super::engine::Work;
use super::pins::XANTHAN_IN_PSYLLIUM;
use super::reworked::Kept;
use super::style::{Style, StyleRange};
use super::sums;
use crate::LeftOut;
use crate::household::percent;
use larder::{FoodId, Function};
use quantity::{Mass, Spread};

/// The least that a bench scale of 0.1 g weighs well enough, g.
pub(super) const LEAST: f64 = 0.3;

/// A binder to add.
struct Dose {
    food: FoodId,
    /// Percent of the flour phase.
    percent: f64,
    range: &'static StyleRange,
    /// What else counts against the range, in percent.
    less: f64,
    /// The most that may be added, in percent.
    most: f64,
    /// The most of it in all, in percent: the style's range ends there.
    cap: f64,
    /// What is taken from what is wanted, by name; empty where that does not make the dose.
    taken: Vec<(&'static str, f64)>,
    /// What is wanted, in percent.
    wanted: f64,
    reason: String,
}

impl Dose {
    /// The arithmetic: what is missing, then what that is of the flour.
    fn sums(&self, flour: f64) -> Vec<String> {
        let mut lines = Vec::new();
        let taken: Vec<&(&str, f64)> = self.taken.iter().filter(|t| t.1 > 1e-9).collect();
        let left = self.wanted - taken.iter().map(|t| t.1).sum::<f64>();
        if !taken.is_empty() && (left - self.percent).abs() < 1e-9 {
            let taken: Vec<String> = taken
                .iter()
                .map(|(name, p)| format!(" − {} {name}", sums::percent(*p)))
                .collect();
            lines.push(format!(
                "{} wanted{} = {}",
                sums::percent(self.wanted),
                taken.concat(),
                sums::percent(left)
            ));
        }
        lines.push(format!(
            "{} × {} of flour = {}",
            sums::percent(self.percent),
            sums::grams(flour),
            sums::grams(flour * self.percent / 100.0)
        ));
        lines
    }
}

/// The working cap of psyllium, percent of the flour phase: common practice, no source.
const MOST_PSYLLIUM: f64 = 8.0;

/// What the strengths of binders rest on.
const STRENGTHS: &str = "strengths of binders: common practice, no source";

/// The low and the high end of what is added, percent of the flour phase, as its line shows them in grams.
fn between(low: f64, high: f64) -> String {
    let low = percent(low);
    format!("{}–{}", low.trim_end_matches(" %"), percent(high))
}

/// A style's range under a cap.
fn under(range: &StyleRange, most: f64) -> String {
    let (low, high) = (range.value.low().get(), range.value.high().get());
    let low = if most <= low { 0.0 } else { low };
    between(low, high.min(most))
}

/// What a component gives before anything is dosed.
struct Given {
    /// Egg, seeds, cooked starch and celluloses, in percent of xanthan.
    here: f64,
    /// The share of the flour that a bought mix is, its own binder in it.
    mix: f64,
    unit: f64,
}

impl Given {
    fn of(gives: &[Gives], aim: &Aim) -> Self {
        let unit = aim.lead.for_xanthan();
        let sum = |pick: &dyn Fn(Kind) -> bool| -> f64 {
            gives.iter().filter(|g| pick(g.kind)).map(counted).sum()
        };
        let other = |k| !matches!(k, Kind::Gum | Kind::Psyllium | Kind::Mix);
        let mix = sum(&|k| k == Kind::Mix);
        Self {
            here: sum(&other) / unit,
            mix: if aim.sum() > 0.0 {
                (mix / aim.sum()).clamp(0.0, 1.0)
            } else {
                0.0
            },
            unit,
        }
    }

    /// What egg, seeds and the like give, in the measure asked for:
    /// `18 % egg gives about as much as 0.3 % xanthan`.
    fn others(&self, gives: &[Gives], lead: Lead) -> Vec<String> {
        let mut parts = Vec::new();
        let to = lead.for_xanthan() / self.unit;
        for g in gives {
            let x = counted(g) * to;
            if x < 0.005 || matches!(g.kind, Kind::Gum | Kind::Psyllium | Kind::Mix) {
                continue;
            }
            let all = g.worth.map_or(x, |w| w.likely().get() * to);
            let cut = if x < all - 0.005 {
                format!(
                    ", of which {} is counted: half of the usual gum at the most",
                    percent(x)
                )
            } else {
                String::new()
            };
            parts.push(format!(
                "{} {} gives about as much as {} {}{cut}",
                percent(g.percent),
                g.name,
                percent(all),
                lead.name()
            ));
        }
        parts
    }

    /// The arithmetic of a dose, for so many grams of flour: what is given, then `0.8 % wanted; 0.5 % added`.
    fn sum(
        mut parts: Vec<String>,
        gives: &[Gives],
        flour: f64,
        [wanted, had, added]: [f64; 3],
    ) -> String {
        for g in gives
            .iter()
            .filter(|g| g.kind == Kind::Mix && counted(g) > 0.0)
        {
            let how = if g.mix == Some(InMix::Gum) {
                "holds its own"
            } else {
                "may hold its own (check the label) and gets none on top"
            };
            parts.push(format!(
                "{}, {} of the flour, {how}",
                g.name,
                percent(g.percent)
            ));
        }
        parts.push(format!("{} wanted", percent(wanted)));
        if had > 0.005 {
            parts.push(format!("{} there already", percent(had)));
        }
        parts.push(if added < 0.005 {
            "none added".to_owned()
        } else if flour * added / 100.0 < LEAST {
            format!(
                "the {} that is missing is {:.2} g, too little to weigh: none added",
                percent(added),
                flour * added / 100.0
            )
        } else {
            format!("{} added", percent(added))
        });
        parts.join("; ")
    }
}

impl Work<'_> {
    /// Whether the style's binder is psyllium first, gums second.
    pub(super) fn leads_with_psyllium(&self, style: Style) -> bool {
        style.is_yeast_dough() || self.is_gum_free()
    }

    pub(super) fn is_gum_free(&self) -> bool {
        self.leaves_out(LeftOut::Gum) || self.blend.is_some_and(|b| b.key == "gum_free")
    }

    /// Binder by the style's dose, less what the recipe, its egg, its seeds, its mixes and the
    /// blend already give.
    pub(super) fn binders(&mut self, style: Style) {
        let f = self.balance().flour.likely().as_grams();
        // The liquid of a sauce or a filling is thickened by its flour.
        let thickener = style.is_thickened() || self.left_alone(style).is_some();
        self.blend_binders(f, thickener);
        if thickener {
            return;
        }
        let (Some(psy), Some(xan), Some(aim)) = (
            style.range("psyllium"),
            style.range("xanthan"),
            self.aim(style),
        ) else {
            return;
        };
        let (Some(psyllium), Some(xanthan)) = (
            self.larder.by_key("psyllium_powder"),
            self.larder.by_key("xanthan_gum"),
        ) else {
            return;
        };
        let (had_psyllium, had_gum) = self.binder_sums(&self.balance());
        let gives = self.gives(&aim);
        let given = Given::of(&gives, &aim);
        // A bought mix holds its own binder: what is dosed is for the rest of the flour.
        let free = 1.0 - given.mix;
        let in_blend = |food: FoodId| -> f64 {
            let all = self.blend.map_or(&[][..], |b| &b.binders);
            let all: f64 = all.iter().filter(|b| b.0 == food).map(|b| b.1).sum();
            free * all
        };
        let mut doses: Vec<Dose> = Vec::new();
        let blend_psyllium = in_blend(psyllium);
        let mut psyllium_after = had_psyllium;
        if self.leads_with_psyllium(style) || blend_psyllium > 0.0 {
            // What is more than the gum's work spares psyllium; in a yeast dough, where it holds
            // the gas, not below the style's low end.
            let spared = XANTHAN_IN_PSYLLIUM * (given.here - aim.gum * free).max(0.0);
            let least = if style.is_yeast_dough() {
                psy.value.low().get().min(aim.psyllium)
            } else {
                0.0
            };
            let wanted = (aim.psyllium * free - spared)
                .max(least * free)
                .min(MOST_PSYLLIUM);
            let reason = if self.is_gum_free() && !style.is_yeast_dough() {
                "without gums: 1 % of xanthan is worth 2.5 % of psyllium"
            } else {
                "psyllium holds the gas that gluten would hold"
            };
            let more = wanted.max(blend_psyllium) - had_psyllium;
            psyllium_after += more.max(0.0);
            let mut parts = vec![reason.to_owned()];
            if blend_psyllium > 0.0 {
                parts.push(format!(
                    "the blend is made with {}",
                    percent(blend_psyllium)
                ));
            }
            if spared > 0.005 {
                parts.extend(given.others(&gives, Lead::Psyllium));
                let at_least = style.is_yeast_dough() && wanted <= least * free;
                if at_least && wanted > blend_psyllium {
                    parts.push(format!(
                        "{} at the least: only psyllium holds the gas",
                        percent(wanted)
                    ));
                }
            }
            doses.push(Dose {
                food: psyllium,
                percent: more,
                range: psy,
                less: spared,
                most: (MOST_PSYLLIUM - had_psyllium).max(0.0),
                cap: MOST_PSYLLIUM,
                taken: vec![("given already", spared), ("psyllium there", had_psyllium)],
                wanted: aim.psyllium * free,
                reason: Given::sum(parts, &gives, f, [aim.psyllium, had_psyllium, more]),
            });
        }
        if !self.is_gum_free() {
            // A cake with psyllium in it needs the less gum; a yeast dough, where it holds the gas,
            // only by what the blend brings beyond that.
            let over = if style.is_yeast_dough() {
                (psyllium_after - aim.psyllium * free).max(0.0)
            } else {
                psyllium_after
            };
            let worth = over / XANTHAN_IN_PSYLLIUM;
            let beside = psyllium_after >= MUCH_PSYLLIUM;
            let most = if beside {
                GUM_BESIDE_PSYLLIUM
            } else {
                MOST_GUM
            };
            let wanted = (aim.gum * free - given.here - worth).max(0.0).min(most);
            let more = wanted.max(in_blend(xanthan)) - had_gum;
            let mut parts = given.others(&gives, Lead::Xanthan);
            if worth > 0.005 {
                let more = if over < psyllium_after {
                    " beyond what is wanted"
                } else {
                    ""
                };
                parts.push(format!(
                    "{} psyllium{more} gives as much as {} xanthan",
                    percent(over),
                    percent(worth)
                ));
            }
            let mut reason = Given::sum(parts, &gives, f, [aim.gum, had_gum, more]);
            if beside {
                reason.push_str("; with 4 % of psyllium or more, xanthan stays at 0.5 % or below");
            }
            doses.push(Dose {
                food: xanthan,
                percent: more,
                range: xan,
                less: aim.gum - wanted + had_gum,
                most: (most - had_gum).max(0.0),
                cap: most,
                taken: vec![
                    ("egg, seeds and the like", given.here),
                    ("psyllium", worth),
                    ("gum there", had_gum),
                ],
                wanted: aim.gum * free,
                reason,
            });
        }
        let published = published(style.key()).map(|p| {
            let try_it = if p.is_rare() && aim.sum() > 0.0 {
                ", so a bake without one is worth a try"
            } else {
                ""
            };
            format!("{}{try_it}", p.words(style.name()))
        });
        self.make_up(style, f, [psyllium, xanthan], &mut doses);
        // Where psyllium is dosed and the gum beside it is not, the change of the one says so.
        if let [first, second] = &mut doses[..]
            && f * second.percent / 100.0 < LEAST
            && f * first.percent / 100.0 >= LEAST
            && aim.gum > 0.0
        {
            first.reason = format!("{}; no gum: {}", first.reason, second.reason);
        }
        let had = || match had_psyllium + had_gum {
            none if none <= 0.0 => "gluten".to_owned(),
            some => percent(some),
        };
        let mut unmade = None;
        let mut made = false;
        if self.leaves_out(LeftOut::Psyllium) {
            let (out, rest): (Vec<Dose>, Vec<Dose>) =
                doses.into_iter().partition(|d| d.food == psyllium);
            doses = rest;
            let sum = |of: &[Dose]| of.iter().map(|d| d.percent.max(0.0)).sum::<f64>();
            made = self.without_psyllium(style, f, sum(&out), had_gum + sum(&doses));
        }
        for dose in doses {
            // What a bench scale of 0.1 g cannot weigh is no dose.
            if f * dose.percent / 100.0 < LEAST {
                unmade = Some((dose.reason, dose.range, dose.cap));
                continue;
            }
            let (food, percents) = (dose.food, dose.percent);
            let name = self.larder.food(food).name.clone();
            let of = |p: f64| Mass::grams(f * p / 100.0);
            // The style's range is that of all binders together.
            let end = |p: f64| (p - dose.less).max(0.0);
            let (low, high) = (
                end(dose.range.value.low().get()).min(percents),
                end(dose.range.value.high().get())
                    .min(dose.most)
                    .max(percents),
            );
            if !self.add(food, Spread::new(of(low), of(percents), of(high)), None) {
                made = true;
                continue;
            }
            made = true;
            let also = published
                .as_ref()
                .map_or(String::new(), |p| format!("; {p}"));
            self.change(
                "binder",
                had(),
                format!(
                    "{} {name} ({} of the flour)",
                    self.grams(food, of(percents)),
                    percent(percents)
                ),
                Some(between(low, high)),
                &format!("{}{also}", dose.reason),
                &format!("{}; {STRENGTHS}", dose.range.cited()),
            )
            .sums(dose.sums(f));
        }
        if let Some((reason, range, cap)) = unmade.filter(|_| !made) {
            let also = published.map_or(String::new(), |p| format!("; {p}"));
            let reason = if aim.sum() > 0.0 {
                reason
            } else if style.key() == "frangipane" {
                "egg and nuts hold it together".to_owned()
            } else {
                "what is in it already, and the starch as it sets, hold it together".to_owned()
            };
            self.change(
                "binder",
                had(),
                "none added".to_owned(),
                Some(under(range, cap)),
                &format!("{reason}{also}"),
                &format!("{}; {STRENGTHS}", range.cited()),
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
                        "{} {name} ({} of the flour)",
                        self.grams(food, more),
                        percent(share)
                    ),
                    None,
                    "the blend is made with it",
                    "the blend's recipe",
                )
                .sums(Self::dose_sums(flour, share, 0.0, &name));
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
            let most = if food == xanthan {
                MOST_GUM
            } else {
                MOST_PSYLLIUM
            };
            let more = more.min(range.value.high().get().min(most) - has);
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
                    less: 0.0,
                    most,
                    cap: most,
                    taken: Vec::new(),
                    wanted: 0.0,
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
                format!("times {mult}, but at most {cap} % of the flour")
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
            )
            .sums(Self::times_sums(
                old,
                mult,
                (new < old * mult).then_some((cap, flour)),
            ));
        }
    }

    /// Egg white powder where a dough that needs structure has too little protein.
    pub(super) fn protein(&mut self, style: Style) {
        let Some(range) = style.range("flour_protein") else {
            return;
        };
        let b = self.balance();
        let structural = style.is_yeast_dough();
        if self.leaves_out(LeftOut::Egg) {
            self.protein_without_egg(style, &b);
            return;
        }
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
            format!("{} egg white powder (3 % of the flour)", self.grams(food, of(3.0))),
            Some("2–4 %".to_owned()),
            "a blend below the style's protein needs another to set the crumb; this adds egg as an allergen",
            "common practice, no source",
        )
        .sums(Self::dose_sums(f, 3.0, 0.0, "egg white powder"));
    }
}
