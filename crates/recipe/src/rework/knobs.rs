//! Held figures of a component, solved by its lines: hydration by the free liquids, the binder by
//! the binders that are not held.

use super::engine::Work;
use super::hold::{BINDER, Hold};
use super::pins::{PinError, is_liquid};
use super::reworked::Kept;
use super::style::Style;
use super::sums;
use super::water::LIQUID;
use crate::household::percent;
use larder::Function;
use quantity::{Mass, Spread};

/// A hydration is met within so many percent of the flour.
const NEAR: f64 = 0.05;

impl Work<'_> {
    fn hydration_now(&self) -> f64 {
        self.balance().hydration.map_or(0.0, |h| h.likely().get())
    }

    /// Moves the free liquids, the largest first, until the hydration is the one that is held;
    /// adds water where there is no liquid at all.
    pub(super) fn hold_hydration(&mut self) {
        let Some(want) = self.pins.hydration() else {
            return;
        };
        let hold = Hold::Percent(want);
        let component = self.weighed.name.clone();
        let flour = self.balance().flour.likely().as_grams();
        if flour <= 0.0 {
            self.clash(PinError::NoFlour {
                component,
                line: super::hold::HYDRATION.to_owned(),
                hold,
            });
            return;
        }
        let before = self.hydration_now();
        let mut moved = Vec::new();
        let mut arithmetic = vec![format!(
            "({} − {}) × {} flour = {} water",
            sums::percent(want),
            sums::percent(before),
            sums::grams(flour),
            sums::grams((want - before) / 100.0 * flour)
        )];
        for _ in 0..self.lines.len() {
            let now = self.hydration_now();
            if (now - want).abs() < 1e-9 {
                break;
            }
            let Some(i) = self.liquid_line() else { break };
            let Some((food, g)) = self.lines[i].food.zip(self.lines[i].grams) else {
                break;
            };
            let name = self.larder.food(food).name.clone();
            let share = self.larder.composition(food).water.unwrap_or(100.0) / 100.0;
            let (old, water) = (g.likely().as_grams(), (want - now) / 100.0 * flour);
            let new = (old + water / share).max(0.0);
            arithmetic.push(format!(
                "{} {} + {} water ÷ {} = {}",
                sums::grams(old),
                sums::called(&name),
                sums::grams((new - old) * share),
                sums::percent(100.0 * share),
                sums::grams(new)
            ));
            self.lines[i].grams = Some(Spread::exact(Mass::grams(new)));
            self.lines[i].was_changed();
            moved.push(format!("{} {name}", self.grams(food, Mass::grams(new))));
            if new <= 0.0 {
                self.lines[i].kept = Kept::Dropped;
            }
        }
        let now = self.hydration_now();
        let held = self.held_liquids();
        if now < want - 1e-9
            && held.is_empty()
            && let Some(water) = self.larder.by_key("water")
        {
            let share = self.larder.composition(water).water.unwrap_or(100.0) / 100.0;
            let more = Mass::grams((want - now) / 100.0 * flour / share);
            if self.add(water, Spread::exact(more), None) {
                moved.push(format!("{} water added", self.grams(water, more)));
            }
        }
        let gives = self.hydration_now();
        if (gives - want).abs() > NEAR {
            let clash = if held.is_empty() || gives > want && moved.iter().any(|m| !m.is_empty()) {
                PinError::TooWet {
                    component,
                    hydration: hold,
                    from: self.wet_names(),
                    gives,
                }
            } else {
                PinError::Liquids {
                    component,
                    hydration: hold,
                    liquids: held,
                    gives,
                }
            };
            self.clash(clash);
        }
        let to = if moved.is_empty() {
            format!("{} hydration", percent(gives))
        } else {
            format!("{} hydration, {}", percent(gives), moved.join(", "))
        };
        self.change(
            "water",
            format!("{} hydration", percent(before)),
            to,
            None,
            "the hydration is held: the free liquid gives what is missing",
            "held by the baker",
        )
        .sums(arithmetic);
    }

    /// Liquids that are held, with what they are held at.
    fn held_liquids(&self) -> Vec<(String, Hold)> {
        let live = self.lines.iter().filter(|l| l.held && l.in_formula);
        live.filter_map(|l| {
            let food = l.food?;
            let wet = self.larder.composition(food).water.unwrap_or(0.0) > LIQUID;
            let hold = self.pins.get(&l.key)?;
            (wet && is_liquid(self.larder, food)).then(|| (l.name.clone(), hold.clone()))
        })
        .collect()
    }

    /// What brings water and is no free liquid, the wettest first.
    fn wet_names(&self) -> Vec<String> {
        let mut all: Vec<(f64, String)> = self
            .lines
            .iter()
            .filter(|l| l.in_formula && l.kept != Kept::Dropped)
            .filter_map(|l| {
                let food = l.food?;
                let share = self.larder.composition(food).water?;
                let wet = crate::weigh::counts_as_wet(self.larder, food);
                let g = l.grams?.likely().as_grams() * share;
                (wet && g > 0.0 && !self.larder.food(food).is_flour_phase())
                    .then(|| (g, l.name.clone()))
            })
            .collect();
        all.sort_by(|a, b| b.0.total_cmp(&a.0));
        all.truncate(3);
        all.into_iter().map(|x| x.1).collect()
    }

    /// Scales the binders that are not held until all together are what is held.
    pub(super) fn hold_binder(&mut self, style: Option<Style>) {
        let Some(all) = self.pins.get(BINDER).cloned() else {
            return;
        };
        let component = self.weighed.name.clone();
        let flour = self.balance().flour.likely().as_grams();
        let want = match all {
            Hold::Grams(g) => g,
            Hold::Percent(p) if flour > 0.0 => p / 100.0 * flour,
            Hold::Percent(_) => {
                self.clash(PinError::NoFlour {
                    component,
                    line: BINDER.to_owned(),
                    hold: all,
                });
                return;
            }
            _ => 0.0,
        };
        let share = |g: f64| if flour > 0.0 { 100.0 * g / flour } else { 0.0 };
        let binders: Vec<usize> = (0..self.lines.len())
            .filter(|&i| {
                let l = &self.lines[i];
                l.in_formula
                    && l.kept != Kept::Dropped
                    && l.food
                        .is_some_and(|f| self.larder.food(f).function() == Function::Binder)
            })
            .collect();
        let sum = |this: &Self, held: bool| -> f64 {
            binders
                .iter()
                .map(|&i| &this.lines[i])
                .filter(|l| l.held == held)
                .filter_map(|l| l.grams)
                .map(|g| g.likely().as_grams())
                .sum()
        };
        let (fixed, free) = (sum(self, true), sum(self, false));
        let before = fixed + free;
        let clash = |this: &mut Self, gives: f64| {
            let lines = this.lines.iter().filter(|l| {
                l.held
                    && l.food
                        .is_some_and(|f| this.larder.food(f).function() == Function::Binder)
            });
            let lines = lines
                .filter_map(|l| Some((l.name.clone(), this.pins.get(&l.key)?.clone())))
                .collect();
            let component = this.weighed.name.clone();
            let all = this.pins.get(BINDER).cloned().unwrap_or(Hold::None);
            this.clash(PinError::Binders {
                component,
                all,
                lines,
                gives: share(gives),
            });
        };
        if fixed > want + 1e-6 {
            clash(self, fixed);
        }
        let rest = (want - fixed).max(0.0);
        // What was chosen freely is worked out anew.
        self.changes.retain(|c| c.what != "binder");
        for &i in &binders {
            if self.lines[i].held {
                continue;
            }
            let Some(g) = self.lines[i].grams else {
                continue;
            };
            let new = if free > 0.0 {
                g.likely().as_grams() / free * rest
            } else {
                0.0
            };
            self.lines[i].grams = Some(Spread::exact(Mass::grams(new)));
            self.lines[i].was_changed();
            if new <= 0.0 {
                self.lines[i].kept = Kept::Dropped;
            }
        }
        if free <= 0.0 && rest > 1e-6 {
            let key = match style {
                Some(s) if !self.leads_with_psyllium(s) => "xanthan_gum",
                _ => "psyllium_powder",
            };
            let added = self
                .larder
                .by_key(key)
                .is_some_and(|f| self.add(f, Spread::exact(Mass::grams(rest)), None));
            if !added {
                clash(self, fixed);
            }
        }
        let now: Vec<String> = (self.lines.iter())
            .filter(|l| l.in_formula && l.kept != Kept::Dropped)
            .filter_map(|l| {
                let food = l.food?;
                let g = l.grams?.likely();
                (self.larder.food(food).function() == Function::Binder)
                    .then(|| format!("{} {}", self.grams(food, g), l.name))
            })
            .collect();
        let to = if now.is_empty() {
            "no binder".to_owned()
        } else {
            now.join(", ")
        };
        let mut arithmetic = Vec::new();
        if let Hold::Percent(p) = &all {
            arithmetic.push(format!(
                "{} × {} flour = {} binder",
                sums::percent(*p),
                sums::grams(flour),
                sums::grams(want)
            ));
            if fixed > 0.0 && free > 0.0 {
                arithmetic.push(format!(
                    "− {} held = {}",
                    sums::grams(fixed),
                    sums::grams(want - fixed)
                ));
            }
        }
        self.change(
            "binder",
            percent(share(before)),
            to,
            None,
            "all binders together are held: those that are not held themselves share the rest",
            "held by the baker",
        )
        .sums(arithmetic);
    }
}
