//! Counting what binds, and what is wanted.

use super::{Binding, From, Gives, InMix, Kind, Lead, binder, published, row};
use crate::household::percent;
use crate::rework::dose::LEAST;
use crate::rework::engine::{Work, beyond_percent};
use crate::rework::foods::foods;
use crate::rework::pins::XANTHAN_IN_PSYLLIUM;
use crate::rework::reworked::Kept;
use crate::rework::style::Style;
use crate::{Doubt, DoubtCode};
use larder::{FoodId, Function, Status};
use quantity::{Mass, Quantity, Ratio, Spread};

/// Xanthan and guar together, percent of the flour. Common practice, no source.
pub(in crate::rework) const MOST_GUM: f64 = 2.0;
/// With this much psyllium or more, percent of the flour …
pub(in crate::rework) const MUCH_PSYLLIUM: f64 = 4.0;
/// … xanthan is this at the most. Common practice, no source.
pub(in crate::rework) const GUM_BESIDE_PSYLLIUM: f64 = 0.5;
/// Egg and milk stand in for this share of the gum at the most: the ranges are those of formulas
/// that have egg too. Common practice, no source.
const MOST_EGG: f64 = 0.5;

/// What is aimed at, percent of the flour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::rework) struct Aim {
    pub lead: Lead,
    /// Psyllium powder.
    pub psyllium: f64,
    /// Xanthan.
    pub gum: f64,
    /// The most that egg and milk can stand in for, in xanthan.
    pub egg: f64,
}

impl Aim {
    /// All of it in the leading binder.
    pub fn sum(&self) -> f64 {
        (self.gum + self.psyllium / XANTHAN_IN_PSYLLIUM) * self.lead.for_xanthan()
    }
}

/// A bought mix on a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::rework) struct OfMix {
    line: usize,
    food: FoodId,
    grams: Mass,
    is_flour: bool,
    holds: InMix,
}

impl Work<'_> {
    /// What the style wants, before anything is counted against it.
    pub(in crate::rework) fn aim(&self, style: Style) -> Option<Aim> {
        let (psy, xan) = (
            style.range("psyllium")?.value,
            style.range("xanthan")?.value,
        );
        let gum_free = self.is_gum_free();
        let likely = xan.likely().get();
        // Where the range begins at nothing and hardly a published formula has any: none.
        let rare = published(style.key()).is_some_and(super::Published::is_rare);
        let plain = if rare && xan.low().get() <= 0.0 {
            0.0
        } else {
            likely
        };
        let (psyllium, gum) = if style.is_yeast_dough() {
            let psyllium = psy.likely().get();
            let room = (psy.high().get() - psyllium) / XANTHAN_IN_PSYLLIUM;
            let gum = xan.low().get().min(GUM_BESIDE_PSYLLIUM).min(room);
            (psyllium, if gum_free { 0.0 } else { gum })
        } else if gum_free {
            let psyllium = XANTHAN_IN_PSYLLIUM * plain;
            (psyllium.clamp(psy.low().get(), psy.high().get()), 0.0)
        } else {
            (0.0, plain.min(MOST_GUM))
        };
        let lead = if self.leads_with_psyllium(style) {
            Lead::Psyllium
        } else {
            Lead::Xanthan
        };
        let egg = MOST_EGG * if style.is_yeast_dough() { gum } else { likely };
        Some(Aim {
            lead,
            psyllium,
            gum,
            egg,
        })
    }

    /// Bought mixes of the formula, whose labels say what is in them.
    fn mixes(&self) -> Vec<OfMix> {
        let recipe = &self.formula.recipe.components[self.at];
        let mut all = Vec::new();
        for (i, line) in self.lines.iter().enumerate() {
            let (Some(food), Some(grams)) = (line.food, line.grams) else {
                continue;
            };
            if !line.in_formula || line.kept == Kept::Dropped {
                continue;
            }
            let is = self.larder.food(food);
            let bought = row(food, self.larder).is_some_and(|b| b.kind == Kind::Mix);
            // An own entry: its name and its note say what is in it.
            let own = self
                .larder
                .own(food)
                .filter(|_| is.function() != Function::Binder);
            let named = own.and_then(|e| super::does_gum_say(&format!("{} {}", is.name, e.note)));
            if !bought && named.is_none() {
                continue;
            }
            let read = line.origin.and_then(|(l, _)| recipe.lines.get(l));
            let said = read
                .filter(|l| l.items.len() == 1)
                .and_then(|l| super::does_gum_say(&l.clean));
            let holds = match (said, named) {
                (Some(true), _) => InMix::Gum,
                (Some(false), _) | (None, Some(false)) => InMix::None,
                (None, _) => InMix::Unknown,
            };
            all.push(OfMix {
                line: i,
                food,
                grams: grams.likely(),
                is_flour: is.is_flour_phase(),
                holds,
            });
        }
        all
    }

    /// What each food of the component gives, in the leading binder.
    ///
    /// Egg and milk count for half of the gum at the most; a bought flour mix counts as dosed for
    /// its own share of the flour, unless its line says that it holds no gum.
    pub(in crate::rework) fn gives(&self, aim: &Aim) -> Vec<Gives> {
        let flour = self.balance().flour.likely().as_grams();
        if flour <= 0.0 {
            return Vec::new();
        }
        let unit = aim.lead.for_xanthan();
        let first = foods(self.formula, self.at);
        let mut sums: Vec<(FoodId, f64)> = Vec::new();
        let mut milk = 0.0;
        for (food, g) in self.foods() {
            let g = g.likely().as_grams();
            let is = self.larder.food(food);
            if is.does(Function::Dairy) {
                let c = self.larder.composition(food);
                if let (Some(water), Some(fat)) = (c.water, c.fat) {
                    milk += g * (100.0 - water - fat).max(0.0) / 100.0;
                }
            }
            let counts = row(food, self.larder).is_some_and(|b| b.kind != Kind::Mix);
            if !counts && is.function() != Function::Binder {
                continue;
            }
            match sums.iter_mut().find(|s| s.0 == food) {
                Some(s) => s.1 += g,
                None => sums.push((food, g)),
            }
        }
        let none = || Spread::exact(Ratio::new(0.0));
        let mut all: Vec<Gives> = Vec::new();
        for (food, g) in sums {
            let b = row(food, self.larder);
            let percent = 100.0 * g / flour;
            let kind = b.map_or(Kind::Other, |b| b.kind);
            // More than its cap of a seed or a cooked flour binds no more.
            let most = match kind {
                Kind::Seed | Kind::CookedStarch => b.and_then(|b| b.cap).unwrap_or(f64::MAX),
                _ => f64::MAX,
            };
            let worth = b
                .and_then(|b| b.worth)
                .map(|w| w.scaled(percent.min(most) * unit));
            let written: f64 = first
                .iter()
                .filter(|x| x.0 == food)
                .map(|x| x.1.likely().as_grams())
                .sum();
            all.push(Gives {
                name: self.larder.food(food).name.clone(),
                food: Some(food),
                kind,
                from: if written > 0.0 {
                    From::Recipe
                } else {
                    From::Added
                },
                percent,
                worth,
                counted: worth.unwrap_or_else(none),
                water: b.and_then(|b| b.water).map(|w| w.map(|v| v * g)),
                mix: None,
                line: None,
                source: b.map_or("no figure for its strength was found".to_owned(), cited),
            });
        }
        if let Some(b) = binder("milk_solids").filter(|_| milk > 0.0) {
            let percent = 100.0 * milk / flour;
            let worth = b.worth.map(|w| w.scaled(percent * unit));
            all.push(Gives {
                name: "milk solids".to_owned(),
                food: None,
                kind: Kind::Milk,
                from: From::Recipe,
                percent,
                worth,
                counted: worth.unwrap_or_else(none),
                water: None,
                mix: None,
                line: None,
                source: cited(b),
            });
        }
        let soft: f64 = all.iter().filter(|g| is_soft(g.kind)).map(counted).sum();
        if soft > aim.egg * unit && soft > 0.0 {
            for g in all.iter_mut().filter(|g| is_soft(g.kind)) {
                g.counted = g.counted.scaled(aim.egg * unit / soft);
            }
        }
        for m in self.mixes() {
            let percent = 100.0 * m.grams.as_grams() / flour;
            let takes = m.is_flour && m.holds != InMix::None;
            let share = if takes {
                (percent / 100.0).min(1.0)
            } else {
                0.0
            };
            let worth = takes.then(|| {
                Spread::new(
                    Ratio::new(0.0),
                    Ratio::new(aim.sum() * share),
                    Ratio::new(aim.sum() * share),
                )
            });
            all.push(Gives {
                name: self.larder.food(m.food).name.clone(),
                food: Some(m.food),
                kind: Kind::Mix,
                from: From::Recipe,
                percent,
                worth,
                counted: worth.unwrap_or_else(none),
                water: None,
                mix: Some(m.holds),
                line: Some(m.line),
                source: "only its label can tell; common practice, no source".to_owned(),
            });
        }
        // The recipe's own first, gums and psyllium last.
        all.sort_by_key(|g| (g.from == From::Added, g.kind as u8 <= Kind::Psyllium as u8));
        all
    }

    /// What holds the component together, as it stands now.
    pub(in crate::rework) fn binding(&self, style: Style) -> Option<Binding> {
        if style.is_thickened() || self.left_alone(style).is_some() {
            return None;
        }
        let aim = self.aim(style)?;
        let range = match aim.lead {
            Lead::Psyllium => style.range("psyllium")?,
            Lead::Xanthan => style.range("xanthan")?,
        };
        let gives = self.gives(&aim);
        let sum = Spread::sum_independent(gives.iter().map(|g| g.counted));
        let missing = (aim.sum() - sum.likely().get()).max(0.0);
        let flour = self.balance().flour.likely().as_grams();
        Some(Binding {
            lead: aim.lead,
            sum,
            range: range.value,
            range_source: range.cited(),
            wanted: aim.sum(),
            missing,
            is_slight: flour * missing / 100.0 < LEAST,
            published: published(style.key()),
            gives,
        })
    }
}

impl Work<'_> {
    /// What holds the component together, with its doubts: gum that a mix may hold, and caps.
    pub(in crate::rework) fn bind(&mut self) -> Option<Binding> {
        let style = self.style?.style;
        if self.weighed.beforehand.is_some() {
            return None;
        }
        let binding = self.binding(style)?;
        self.ask(&binding);
        self.check_caps();
        Some(binding)
    }

    /// Asks about the next mix whose label has to be read.
    fn ask(&mut self, binding: &Binding) {
        let Some(mix) = binding.asks() else { return };
        let taken = if mix.worth.is_some() {
            "until you say, it is taken to hold its own binder, and gets none on top"
        } else {
            "until you say, the binder is worked out as if it held none"
        };
        let written: Vec<String> = binding
            .gives
            .iter()
            .filter(|g| g.from == From::Recipe && matches!(g.kind, Kind::Gum | Kind::Psyllium))
            .map(|g| format!("{} {}", percent(g.percent), g.name))
            .collect();
        let twice = if written.is_empty() {
            String::new()
        } else {
            format!(
                "; the recipe has {} besides, a double dose if the mix holds gum too",
                written.join(" and ")
            )
        };
        self.doubts.push(Doubt::new(
            DoubtCode::GumInMix,
            format!(
                "does the {}{} hold gum? Read its label: {taken}{twice}",
                mix.name,
                if self.weighed.name.is_empty() {
                    String::new()
                } else {
                    format!(" in '{}'", self.weighed.name)
                }
            ),
        ));
    }

    /// Doubts where binders are above what is ever used together.
    fn check_caps(&mut self) {
        let (psyllium, gum) = self.binder_sums(&self.balance());
        let shown = |v: f64, most: f64| beyond_percent(v, 0.0, most);
        let too_much = if gum > MOST_GUM + 1e-6 {
            format!(
                "gum at {} of the flour is more than {MOST_GUM} %: the crumb turns slimy",
                shown(gum, MOST_GUM)
            )
        } else if psyllium >= MUCH_PSYLLIUM && gum > GUM_BESIDE_PSYLLIUM + 1e-6 {
            format!(
                "gum at {} beside psyllium at {} of the flour: with {MUCH_PSYLLIUM} % of psyllium or more, {GUM_BESIDE_PSYLLIUM} % of gum is the most",
                shown(gum, GUM_BESIDE_PSYLLIUM),
                percent(psyllium)
            )
        } else {
            return;
        };
        self.doubts.push(Doubt::new(
            DoubtCode::OutOfRange,
            format!("{too_much} (common practice, no source)"),
        ));
    }
}

/// Egg and milk: they set the crumb and hold no gas.
fn is_soft(kind: Kind) -> bool {
    matches!(kind, Kind::Egg | Kind::Milk)
}

/// The likely figure that is counted.
pub(in crate::rework) fn counted(g: &Gives) -> f64 {
    g.counted.likely().value()
}

fn cited(b: &super::Binder) -> String {
    match b.status {
        Status::FromMemory => format!("{} (from memory)", b.source),
        _ => b.source.to_owned(),
    }
}
