//! The water of a reworked component: the fitted expectation, the original's own wetness, and the
//! style's published range.

use super::balance::Balance;
use super::engine::Work;
use super::hydration::{self, Part, WheatOriginal};
use super::panful::has_word;
use super::pins::is_liquid;
use super::reworked::{Kept, ReworkedLine};
use super::style::Style;
use super::sums;
use crate::evidence;
use crate::household::percent;
use crate::sentences;
use larder::{FoodId, Function};
use quantity::{Mass, Spread};

/// What is left of the water at the least, outside yeast doughs: of all water, and of the free
/// liquid that moves. Authors of published pairs who swapped the flour took away a tenth at most.
const MOST_CUT: f64 = 0.9;

/// Flour phase below this share of the weight, a twelfth: no dough or batter. A sponge of egg
/// whites is a seventh or an eighth of flour, a rich fruit cake with all its fruit a tenth.
///
/// # Source
/// Ordinary formulas: common practice, no source.
pub(crate) const LEAST_FLOUR: f64 = 1.0 / 12.0;

/// Hydrations are one within so many percent of the flour.
const NEAR: f64 = 0.05;

const HOLD_BACK: &str = "hold back a tenth, add by feel";
const AS_IT_WAS: &str = "the wetness stays as it was";

/// A figure without doubt.
const EXACT: hydration::Spread = hydration::Spread {
    low: 1.0,
    likely: 1.0,
    high: 1.0,
};

/// More water than this, in percent, makes a liquid.
pub(super) const LIQUID: f64 = 60.0;

/// More water than so many times the top of the style's range, and it is no batter of the style (common
/// practice, no source).
const FAR_TOO_WET: f64 = 2.0;

/// Vegetables that a dough is made of once they are boiled and mashed, or grated, and the word for each
/// in a step (common practice, no source).
const MASHED: [(&str, &str); 4] = [
    ("potato", "potato"),
    ("sweet_potato", "potato"),
    ("pumpkin", "pumpkin"),
    ("butternut", "squash"),
];
/// Words of steps that mash them.
const MASHES: [&str; 10] = [
    "mash", "mashed", "mashing", "masher", "ricer", "riced", "puree", "pureed", "purée", "puréed",
];
/// Words of steps that grate what stands next behind them, or else what the sentence names.
const GRATES: [&str; 3] = ["grate", "grated", "grating"];

impl Work<'_> {
    /// Why the original is no dough or batter at all, whatever style it is taken for.
    pub(super) fn no_batter(&self, style: Style) -> Option<String> {
        let b = &self.original;
        let (flour, total) = (b.flour.likely().as_grams(), b.total.likely().as_grams());
        if flour <= 0.0 || style.keeps_its_liquid() {
            return None;
        }
        if !style.is_yeast_dough()
            && let Some(why) = self.rests_on_mash(flour)
        {
            return Some(why);
        }
        let share = flour / total;
        if share < LEAST_FLOUR {
            return Some(format!(
                "flour is only {} of its weight",
                percent(100.0 * share)
            ));
        }
        let wet = b.hydration.map_or(0.0, |h| h.likely().get());
        let top = style.range("hydration_eff")?.value.high().get();
        (wet > FAR_TOO_WET * top).then(|| {
            format!(
                "{} of water to its flour is more than twice what {} has",
                percent(wet),
                style.name()
            )
        })
    }

    /// Why nothing but the flour is changed: nobody knows yet what it is, or it is no dough or batter.
    pub(super) fn left_alone(&self, style: Style) -> Option<String> {
        if self.style.is_some_and(|s| s.is_left_alone()) {
            return Some("what it is has not been said: its liquid stays as it is".to_owned());
        }
        let why = self.no_batter(style)?;
        Some(format!(
            "{why}: no dough or batter, so its liquid stays as it is"
        ))
    }

    /// Raw vegetables that are mashed or grated and outweigh the flour bring the dough's water, and nobody
    /// says how much of it stays in the pan: potato cakes.
    fn rests_on_mash(&self, flour: f64) -> Option<String> {
        let raw = self.mashed().max_by(|a, b| a.1.total_cmp(&b.1))?;
        let (food, grams) = (self.larder.food(raw.0), raw.1);
        (grams > flour)
            .then(|| format!("{} outweighs its flour and brings its own water", food.name))
    }

    /// The vegetable that most of the mash is, and grams of it, raw or as mash.
    pub(super) fn mash(&self) -> Option<(FoodId, f64)> {
        let items = self.weighed.items.iter().filter(|w| w.in_formula);
        let ready = items.filter_map(|w| {
            let (food, grams) = (w.food?, w.grams?.likely().as_grams());
            let ready = self.larder.food(food).key.ends_with("_mashed");
            ready.then_some((food, grams))
        });
        let all = ready.chain(self.mashed());
        all.max_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// Vegetables of its lines that the method mashes or grates, each with its grams.
    fn mashed(&self) -> impl Iterator<Item = (FoodId, f64)> {
        let steps = &self.formula.recipe.steps;
        let texts: Vec<String> = steps.iter().map(|s| s.text.to_lowercase()).collect();
        // The foods of the last sentence that names some: 'Boil the potatoes. Drain and mash.'
        let mut named: Vec<&str> = Vec::new();
        let mut mashes: Vec<&str> = Vec::new();
        for said in texts
            .iter()
            .flat_map(|t| sentences(t).into_iter().map(|r| &t[r]))
        {
            let foods = self.larder.names().mentions(said, self.larder.locale());
            if !foods.is_empty() {
                named = foods.iter().map(|(_, r)| &said[r.clone()]).collect();
            }
            if has_word(said, &MASHES) || said.contains("rice the ") {
                mashes.extend(&named);
                let words = MASHED.iter().map(|(_, w)| *w);
                mashes.extend(words.filter(|w| has_word(said, &[w])));
            } else if has_word(said, &GRATES) {
                let grate = said.find("grat").unwrap_or(0);
                let next = foods.iter().find(|(_, r)| r.start > grate);
                match next {
                    Some((_, r)) => mashes.push(&said[r.clone()]),
                    None => mashes.extend(&named),
                }
            }
        }
        let is_mashed = |key: &str| {
            let word = MASHED.iter().find(|(k, _)| *k == key).map(|(_, w)| *w);
            word.is_some_and(|w| mashes.iter().any(|m| m.contains(w)))
        };
        let items = self.weighed.items.iter().filter(|w| w.in_formula);
        let mashed = items.filter_map(|w| {
            let (food, grams) = (w.food?, w.grams?.likely().as_grams());
            is_mashed(&self.larder.food(food).key).then_some((food, grams))
        });
        mashed.collect::<Vec<_>>().into_iter()
    }

    /// Why the liquid of a style that keeps it stays, with the water that mash brings.
    fn why_kept(&self, style: Style) -> (&'static str, Vec<String>) {
        let flour = self.original.flour.likely().as_grams();
        match style.key() {
            "frangipane" => (
                "egg and butter bring what water it has, and egg and nuts set it: there is no hydration to set",
                Vec::new(),
            ),
            "potato_dough" => {
                let mut whys = Vec::new();
                if let Some((food, grams)) = self.mash()
                    && let Some(water) = self.larder.composition(food).water
                {
                    let wet = grams * water / 100.0;
                    let name = sums::called(&self.larder.food(food).name);
                    let [share, all] = [sums::percent(water), sums::grams(grams)];
                    whys.push(format!(
                        "{share} water × {all} {name} = {}",
                        sums::grams(wet)
                    ));
                    let of = sums::percent(100.0 * wet / flour);
                    whys.push(format!(
                        "{} ÷ {} flour = {of}",
                        sums::grams(wet),
                        sums::grams(flour)
                    ));
                }
                (
                    "the vegetable brings the water, less what steams off, which nobody weighs: flour goes in by feel, no more than lets it roll",
                    whys,
                )
            }
            _ => (
                "the liquid of a sauce or filling stays; only what thickens it changes",
                Vec::new(),
            ),
        }
    }

    /// What the fitted model expects of the reworked flour phase.
    pub(super) fn expect(
        &self,
        style: Style,
        original: Option<&WheatOriginal>,
    ) -> Option<hydration::Expectation> {
        self.with_parts(|flours, binders| match self.model {
            Some(model) => model.expect(style.key(), flours, binders, original).ok(),
            None => hydration::expect(style.key(), flours, binders, original).ok(),
        })
    }

    /// The flours and binders as the model takes them.
    fn with_parts<T>(&self, ask: impl FnOnce(&[Part<'_>], &[Part<'_>]) -> T) -> T {
        let b = self.balance();
        let f = b.flour.likely().as_grams();
        let mut flours: Vec<Part<'_>> = Vec::new();
        let mut binders: Vec<Part<'_>> = Vec::new();
        for (food, g) in self.foods() {
            let is = self.larder.food(food);
            let listed = self.larder.absorption(food).map(|a| a.water.likely().get());
            let share = 100.0 * g.likely().as_grams() / f;
            let part = |d: f64| Part {
                key: &is.key,
                percent: share,
                absorption: listed.unwrap_or(d),
            };
            if is.is_flour_phase() {
                flours.push(part(0.8));
            } else if is.function() == Function::Binder {
                binders.push(part(0.0));
            }
        }
        let sum: f64 = flours.iter().map(|p| p.percent).sum();
        flours.iter_mut().for_each(|p| p.percent *= 100.0 / sum);
        ask(&flours, &binders)
    }

    /// How wet the original is, for the model.
    fn wheat_original(&self) -> Option<WheatOriginal> {
        self.original
            .hydration
            .filter(|h| h.likely().get() > 0.0)
            .and_then(|h| {
                // Wetness is on the flour that was in it, without its baking powder.
                let floor = |v: f64| (v * self.flour_scale).max(0.5);
                Some(WheatOriginal {
                    hydration: hydration::Spread {
                        low: floor(h.low().get()),
                        likely: floor(h.likely().get()),
                        high: floor(h.high().get()),
                    },
                    consistency: self.original.consistency? * self.flour_scale,
                })
            })
    }

    /// The arithmetic of what is expected of the flours.
    fn whys_of(&self, style: Style, original: Option<&WheatOriginal>) -> Vec<String> {
        let mut lines = Vec::new();
        if let Some(o) = original {
            lines.extend(self.water_before());
            let own = self.original.hydration.map_or(0.0, |h| h.likely().get());
            if (o.hydration.likely - own * self.flour_scale).abs() < 1e-9 && self.flour_scale != 1.0
            {
                lines.push(format!(
                    "× {} on its flour without the baking powder = {}",
                    sums::figure(self.flour_scale),
                    sums::percent(o.hydration.likely)
                ));
            }
        }
        let model = self.with_parts(|flours, binders| match self.model {
            Some(model) => model.explain(style.key(), flours, binders, original),
            None => hydration::explain(style.key(), flours, binders, original),
        });
        lines.extend(model.unwrap_or_default());
        lines
    }

    /// Sets the water by consistency and the style's published hydration.
    pub(super) fn water(&mut self, style: Style) -> Option<hydration::Expectation> {
        // What hydration is held at is given later, by the lines; what is expected is still said.
        let held_at = self.pins.hydration().is_some();
        let left_alone = self.left_alone(style);
        if style.keeps_its_liquid() || left_alone.is_some() {
            if held_at {
                return None;
            }
            let (kept, whys) = self.why_kept(style);
            let why = left_alone.unwrap_or_else(|| kept.to_owned());
            self.change(
                "water",
                "the liquid".to_owned(),
                "the liquid, as it was".to_owned(),
                None,
                &why,
                "common practice, no source",
            )
            .sums(whys);
            return None;
        }
        let original = self.wheat_original();
        // How surely the original was weighed comes in at the end, after the ends of the fit are
        // cut to the style's range: a cup's doubt is no smaller for that.
        let reading = original.map_or(EXACT, |o| o.hydration);
        let original = original.map(|o| WheatOriginal {
            hydration: hydration::Spread {
                low: o.hydration.likely,
                high: o.hydration.likely,
                ..o.hydration
            },
            ..o
        });
        let mut expected = self.expect(style, original.as_ref())?;
        let mut whys = self.whys_of(style, original.as_ref());
        let mut how = match expected.basis {
            hydration::Basis::OriginalConsistency => {
                "the original's own consistency times the style's factor"
            }
            hydration::Basis::OriginalHydration => {
                "the original's own wetness, drawn a little towards the style"
            }
            hydration::Basis::Style => "the style's published formulas",
            hydration::Basis::StyleAndFlours => {
                "the style's published formulas and what these flours take up"
            }
            hydration::Basis::Borrowed => {
                "no formula of this style is published; moved over from other yeast doughs"
            }
        }
        .to_owned();
        // A yeast dough from a wheat original has no published pair behind it: the practised
        // factor on the original's hydration is a second witness, and the two are averaged.
        if style.is_yeast_dough()
            && let Some(factor) = style.range("hydration_mult")
            && let Some(original) = &original
        {
            let practised = original.hydration.likely * factor.value.likely().get();
            let h = &mut expected.hydration;
            let middle = (h.likely * practised).sqrt();
            whys.push(format!(
                "{} × {} = {}",
                sums::percent(original.hydration.likely),
                sums::figure(factor.value.likely().get()),
                sums::percent(practised)
            ));
            whys.push(format!(
                "√({} × {}) = {}",
                sums::percent(h.likely),
                sums::percent(practised),
                sums::percent(middle)
            ));
            let shift = middle / h.likely;
            *h = hydration::Spread {
                low: h.low * shift,
                likely: middle,
                high: h.high * shift,
            };
            how.push_str(&format!(
                ", averaged with {} times the original's hydration (common practice, no source)",
                factor.value.likely().get()
            ));
        }
        // A yeast dough is held inside the style's published hydration. Elsewhere the original's
        // own wetness is the strongest evidence: authors of published pairs who swapped the flour
        // took away a tenth of it at the most, and a thick or thin batter is meant to be so.
        let h = &mut expected.hydration;
        let published = style
            .range("hydration_eff")
            .map(|r| (r.value.low().get(), r.value.high().get()));
        if style.is_yeast_dough() {
            if let Some((low, high)) = published {
                if h.likely > high {
                    how.push_str("; held at the top of the style's published range");
                } else if h.likely < low {
                    how.push_str("; held at the bottom of the style's published range");
                }
                let held = h.likely.clamp(low, high);
                if held != h.likely {
                    whys.push(format!(
                        "the style's range is {low}–{high} %: {}",
                        sums::percent(held)
                    ));
                }
                h.likely = held;
            }
        } else if let Some(o) = &original {
            let least = MOST_CUT * o.hydration.likely;
            if h.likely < least {
                how.push_str("; at most a tenth less than the original, as in published pairs");
                whys.push(format!(
                    "{} × {} = {} at the least",
                    sums::percent(o.hydration.likely),
                    sums::figure(MOST_CUT),
                    sums::percent(least)
                ));
                h.likely = least;
            }
        }
        if let Some((low, high)) = published.filter(|(l, h2)| *l < h.likely && h.likely < *h2) {
            h.low = h.low.max(low);
            h.high = h.high.min(high);
        }
        h.low = h.low.min(h.likely);
        h.high = h.high.max(h.likely);
        *h = h.combined(reading);
        if held_at {
            return Some(expected);
        }
        // A tenth less at the most, and what the scale or the cup leaves open.
        let most_cut = hydration::Spread {
            low: MOST_CUT,
            likely: 1.0,
            high: 1.0,
        }
        .combined(reading)
        .low;
        let b = self.balance();
        let f = b.flour.likely().as_grams();
        let now = b.hydration.map_or(0.0, |h| h.likely().get());
        // The one figure of the original, on the flour that it has: what a self-raising flour is split into
        // stands in the sums.
        let before = self.original.hydration.map_or(now, |h| h.likely().get());
        let target = expected.hydration;
        let delta = (target.likely - now) / 100.0 * f;
        if (now - before).abs() > NEAR {
            whys.push("with the new flour:".to_owned());
            whys.extend(self.water_now(&b));
        }
        whys.push(format!(
            "({} − {}) × {} flour = {} water",
            sums::percent(target.likely),
            sums::percent(now),
            sums::grams(f),
            sums::grams(delta)
        ));
        let fitted = format!(
            "fitted on {}",
            evidence::behind(expected.formulas, expected.pairs)
        );
        let basis = format!("{how}; {fitted}");
        let range = Some(format!("{:.0}–{:.0} %", target.low, target.high));
        let free = self.liquid_line();
        let no_water = matches!(
            style.key(),
            "drop_cookie" | "rolled_cookie" | "crumb_streusel"
        ) && free.is_none_or(|i| self.stands_in(i));
        let held = self.holds_liquid();
        if held && free.is_none() && delta.abs() >= 0.02 * f && !style.is_egg_raised() {
            self.change(
                "water",
                percent(before),
                percent(now),
                range,
                "every free liquid is held: the wetness is what they give",
                &basis,
            )
            .sums(whys);
            return Some(expected);
        }
        let unweighed = free.and_then(|_| self.unweighed_liquid());
        if delta.abs() < 0.02 * f || style.is_egg_raised() || no_water || unweighed.is_some() {
            let why = if let Some(name) = &unweighed {
                &*format!(
                    "{name} has no weight here, so nobody knows how wet the original is: its liquid is left as it is; write how much {name} goes in"
                )
            } else if style.is_egg_raised() && delta.abs() >= 0.02 * f {
                "egg carries this style: its water is left alone; if the paste or batter is stiff add egg, not water"
            } else if no_water && delta.abs() >= 0.02 * f {
                "there is no free liquid here and adding some would change the bake: left as it is"
            } else {
                AS_IT_WAS
            };
            if why == AS_IT_WAS {
                whys.push("less than 2 % of the flour: nothing is moved".to_owned());
            }
            self.change("water", percent(before), percent(now), range, why, &basis)
                .sums(whys);
            self.widen(target, now, (!style.is_yeast_dough()).then_some(most_cut));
            return Some(expected);
        }
        let from = percent(before);
        match free {
            Some(i) => {
                let food = self.lines[i].food?;
                let share = (self.larder.composition(food).water.unwrap_or(100.0) / 100.0).max(0.3);
                let g = self.lines[i].grams?;
                // What the tenth is of: all water in the hydration, the line's own weight here. A
                // liquid that makes way for one the baker holds may give more.
                let least = if style.is_yeast_dough() || held {
                    0.0
                } else {
                    MOST_CUT * g.likely().as_grams()
                };
                let to = |h: f64, least: f64| {
                    Mass::grams((g.likely().as_grams() + (h - now) / 100.0 * f / share).max(least))
                };
                let at = |h: f64| to(h, least);
                let lowest = to(target.low, least * most_cut / MOST_CUT);
                let basis = if least > 0.0 && at(target.likely).as_grams() <= least {
                    format!("{how}; the free liquid itself gives a tenth at the most; {fitted}")
                } else {
                    basis
                };
                self.lines[i].grams = Some(Spread::new(lowest, at(target.likely), at(target.high)));
                self.lines[i].was_changed();
                self.lines[i].note = Some(HOLD_BACK.to_owned());
                let name = self.larder.food(food).name.clone();
                if at(target.likely).as_grams() <= 0.0 {
                    self.lines[i].kept = Kept::Dropped;
                }
                // A line can give no more than it has.
                let reached = self.balance().hydration.map_or(0.0, |h| h.likely().get());
                let (old, new) = (g.likely().as_grams(), at(target.likely).as_grams());
                whys.push(format!(
                    "÷ {} of {} = {}",
                    sums::percent(100.0 * share),
                    sums::called(&name),
                    sums::grams(delta / share)
                ));
                whys.push(format!(
                    "{} + {} = {}",
                    sums::grams(old),
                    sums::grams(delta / share),
                    sums::grams(old + delta / share)
                ));
                if (new - old - delta / share).abs() > 1e-9 {
                    whys.push(if least > 0.0 {
                        format!(
                            "{} × {} = {} at the least",
                            sums::grams(old),
                            sums::figure(MOST_CUT),
                            sums::grams(new)
                        )
                    } else {
                        format!("a line can give no more than it has: {}", sums::grams(new))
                    });
                    whys.extend(self.reached_sums());
                }
                self.change(
                    "water",
                    format!("{from} hydration, {} {name}", self.grams(food, g.likely())),
                    format!("{} hydration, {} {name}", percent(reached), self.grams(food, at(target.likely))),
                    range,
                    if held {
                        "one liquid is held: the other free liquid moves in its place"
                    } else {
                        "all water counts, that of eggs, milk, butter and syrups too; the free liquid is what moves"
                    },
                    &basis,
                )
                .sums(whys);
            }
            None if delta > 0.0 => {
                let food = self.larder.by_key("water")?;
                let at = |h: f64| Mass::grams(((h - now) / 100.0 * f).max(0.0));
                if !self.add(
                    food,
                    Spread::new(at(target.low), at(target.likely), at(target.high)),
                    None,
                ) {
                    let reached = self.balance().hydration.map_or(0.0, |h| h.likely().get());
                    self.change(
                        "water",
                        format!("{from} hydration"),
                        format!("{} hydration", percent(reached)),
                        range,
                        "the water added is held: the wetness is what it gives",
                        &basis,
                    )
                    .sums(whys);
                    return Some(expected);
                }
                if let Some(added) = self.liquid_line() {
                    self.lines[added].note = Some(HOLD_BACK.to_owned());
                }
                self.change(
                    "water",
                    format!("{from} hydration"),
                    format!(
                        "{} hydration, {} water added",
                        percent(target.likely),
                        self.grams(food, at(target.likely))
                    ),
                    range,
                    "all water counts, that of eggs, milk, butter and syrups too",
                    &basis,
                )
                .sums(whys);
            }
            None => {
                self.change(
                    "water",
                    from,
                    percent(now),
                    range,
                    "no free liquid to take away: left as it is",
                    &basis,
                )
                .sums(whys);
            }
        }
        Some(expected)
    }

    /// Why the wetness may lie outside the style's usual range: it is the one thing that the two
    /// disagree on.
    pub(super) fn why_outside(
        &self,
        style: Style,
        b: &Balance,
        expected: Option<&hydration::Expectation>,
    ) -> String {
        let hydration = |b: &Balance| b.hydration.map_or(0.0, |h| h.likely().get());
        let (before, after) = (hydration(&self.original), hydration(b));
        let (Some(e), Some(r)) = (expected, style.range("hydration_eff")) else {
            return String::new();
        };
        if !e.sets(after) {
            let rule = self.changes.iter().find(|c| c.what == "water");
            return rule.map_or(String::new(), |c| format!(": {}", c.rule));
        }
        let (low, high) = (r.value.low().get(), r.value.high().get());
        let itself = if before < low && after < low {
            format!(
                "the original itself is drier than that, {}, and the",
                percent(before)
            )
        } else if before > high && after > high {
            format!(
                "the original itself is wetter than that, {}, and the",
                percent(before)
            )
        } else {
            "the".to_owned()
        };
        let few = if e.is_thin() { "few " } else { "" };
        format!(": {itself} water follows it and {few}published formulas, not that range")
    }

    /// The free liquid says how unsure the wetness is, even where its middle stays.
    /// `most_cut` is the least that may be left of it, a share.
    fn widen(&mut self, target: hydration::Spread, now: f64, most_cut: Option<f64>) {
        if now <= 0.0 || target.likely <= 0.0 {
            return;
        }
        let Some(i) = self.liquid_line() else { return };
        let Some(g) = self.lines[i].grams else { return };
        let f = self.balance().flour.likely().as_grams();
        let Some(food) = self.lines[i].food else {
            return;
        };
        let share = (self.larder.composition(food).water.unwrap_or(100.0) / 100.0).max(0.3);
        // Less than what the line itself was weighed at is only for yeast doughs to fall to.
        let least = most_cut.map_or(0.0, |cut| {
            g.low().as_grams().min(cut * g.likely().as_grams())
        });
        let at = |h: f64| {
            Mass::grams((g.likely().as_grams() + (h - now) / 100.0 * f / share).max(least))
        };
        let low = at(target.low.min(now));
        let high = at(target.high.max(now));
        self.lines[i].grams = Some(Spread::new(low, g.likely(), high));
    }

    /// What a tenth is held back of, to be added by feel: the free liquid; nothing where the baker
    /// holds the wetness, or every liquid.
    pub(super) fn held_back(&self) -> Option<String> {
        if self.pins.hydration().is_some() {
            return None;
        }
        let free = &self.lines[self.liquid_line()?];
        Some(if self.holds_liquid() {
            free.name.clone()
        } else {
            "liquid".to_owned()
        })
    }

    /// The line of free liquid with the most water, of those that are not held. Spirits do not move, nor
    /// beer and wine beside a held liquid: they are there for their taste; nor what may be left out.
    pub(super) fn liquid_line(&self) -> Option<usize> {
        let held = self.holds_liquid();
        let water = |l: &ReworkedLine| -> Option<f64> {
            let food = self.larder.food(l.food?);
            let share = self.larder.composition(l.food?).water.unwrap_or(0.0);
            let taste =
                food.function() == Function::Alcohol && (held || !food.does(Function::Liquid));
            let lines = &self.formula.recipe.components[self.at].lines;
            let optional = l
                .origin
                .is_some_and(|(line, item)| lines[line].items[item].optional);
            let moves = is_liquid(self.larder, l.food?) && !taste && !optional;
            (moves && share > LIQUID && food.density.is_some())
                .then(|| l.grams.map(|g| g.likely().as_grams() * share))?
        };
        (0..self.lines.len())
            .filter(|&i| {
                let line = &self.lines[i];
                line.in_formula && line.kept != Kept::Dropped && !line.held
            })
            .filter_map(|i| Some((i, water(&self.lines[i])?)))
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|x| x.0)
    }
}
