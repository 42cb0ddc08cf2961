//! Held figures: lines whose grams the baker has set, with the rest solved around them.

mod error;
mod said;
mod slip;

pub use error::PinError;
pub use said::HeldFigure;
pub(super) use said::{said, said_figure};
pub(super) use slip::{slip, slip_of_figure};

use super::balance::Balance;
use super::binder::Kind;
use super::engine::{Work, beyond_percent};
use super::hold::{BINDER, HYDRATION, Hold};
use super::reworked::{Kept, Options, ReworkedComponent, ReworkedLine};
use super::style::{Style, StyleRange};
use crate::{Doubt, DoubtCode};
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Spread};
use std::collections::BTreeMap;

/// The key of the line that stands for the wheat flour.
pub(crate) const BLEND: &str = "blend";
/// What one part of xanthan is worth in psyllium. Common practice, no source.
pub(super) const XANTHAN_IN_PSYLLIUM: f64 = 2.5;

/// A line or a figure, held.
#[derive(Debug, Clone, PartialEq)]
pub struct PinnedLine {
    /// The component's name; empty where the recipe has one part.
    pub component: String,
    /// The line, see [`ReworkedLine::key`]; or [`HYDRATION`] or [`BINDER`].
    pub line: String,
    /// What it is held at.
    pub hold: Hold,
}

impl Options {
    /// Whether the pins can be, as far as that shows without the recipe. What clashes in the
    /// recipe is in [`super::Rework::clashes`].
    ///
    /// # Errors
    /// [`PinError`]: a figure that cannot be, or two for one line.
    pub fn check(&self) -> Result<(), PinError> {
        for (i, pin) in self.pins.iter().enumerate() {
            let (component, line) = (pin.component.clone(), pin.line.clone());
            if let Err(error) = pin.hold.check(&pin.line) {
                return Err(PinError::Value {
                    component,
                    line,
                    error,
                });
            }
            let other = self.pins[..i]
                .iter()
                .find(|p| p.component == pin.component && p.line == pin.line && p.hold != pin.hold);
            if let Some(other) = other {
                return Err(PinError::Twice {
                    component,
                    line,
                    first: other.hold.clone(),
                    second: pin.hold.clone(),
                });
            }
        }
        Ok(())
    }
}

/// The pins of one component, by line key.
#[derive(Debug, Clone, Default)]
pub(super) struct Pins(BTreeMap<String, Hold>);

impl Pins {
    /// Those of a component. Of two for one line the later is taken; impossible ones are not.
    pub(super) fn of(options: &Options, component: &str, alone: bool) -> Self {
        let mine = options
            .pins
            .iter()
            .filter(|p| p.component == component || alone && p.component.is_empty());
        Self(
            mine.filter(|p| p.hold.check(&p.line).is_ok())
                .map(|p| (p.line.clone(), p.hold.clone()))
                .collect(),
        )
    }

    /// All but one.
    pub(super) fn without(&self, line: &str) -> Self {
        let mut rest = self.clone();
        rest.0.remove(line);
        rest
    }

    /// What a line or figure is held at.
    pub(super) fn get(&self, line: &str) -> Option<&Hold> {
        self.0.get(line)
    }

    /// Grams that the blend is held at.
    pub(super) fn blend(&self) -> Option<Mass> {
        match self.get(BLEND) {
            Some(Hold::Grams(g)) => Some(Mass::grams(*g)),
            _ => None,
        }
    }

    /// Whether a line whose key is so is held.
    pub(super) fn holds(&self, is: impl Fn(&str) -> bool) -> bool {
        self.0.keys().any(|k| is(k))
    }

    /// What hydration is held at, percent.
    pub(super) fn hydration(&self) -> Option<f64> {
        match self.get(HYDRATION) {
            Some(Hold::Percent(p)) => Some(*p),
            _ => None,
        }
    }

    /// Binders that are held and that no line of the component is.
    pub(super) fn new_binders(&self, c: &ReworkedComponent, larder: &Larder) -> Vec<FoodId> {
        let mut all: Vec<FoodId> = Vec::new();
        for (key, hold) in &self.0 {
            let there = |l: &ReworkedLine| l.key == *key;
            if let Some(food) = larder.by_key(key)
                && larder.food(food).function() == Function::Binder
                && *hold != Hold::None
                && c.reworked.flour.likely().as_grams() > 0.0
                && !c.lines.iter().any(there)
            {
                all.push(food);
            }
        }
        all
    }

    /// The pins as they are.
    pub(super) fn all(&self) -> BTreeMap<String, Hold> {
        self.0.clone()
    }
}

impl ReworkedLine {
    /// Whether it was wheat flour or a starter and went into the blend.
    #[must_use]
    pub fn is_in_blend(&self, larder: &Larder) -> bool {
        self.kept == Kept::Dropped
            && !self.held
            && self.food.is_some_and(|f| {
                let food = larder.food(f);
                food.gluten == larder::Gluten::Contains
                    && (food.is_flour_phase() || food.does(Function::Yeast))
                    && food.key != "vital_wheat_gluten"
            })
    }

    fn hold(&mut self, at: Mass) {
        let moved = |g: Spread<Mass>| (g.likely() - at).as_grams().abs() > 1e-9;
        if self.kept == Kept::Same && self.grams.is_none_or(moved) {
            self.kept = Kept::Changed;
        }
        self.grams = Some(Spread::exact(at));
        self.held = true;
        // Held at nothing is left out.
        if at.as_grams() == 0.0 && !self.blend {
            self.kept = Kept::Dropped;
        }
    }
}

impl Work<'_> {
    fn base_key(&self, line: &ReworkedLine) -> String {
        if line.blend {
            return BLEND.to_owned();
        }
        match (line.component, line.food) {
            (Some(c), _) => format!("use:{}", self.formula.recipe.components[c].name),
            (None, Some(f)) => self.larder.food(f).key.clone(),
            (None, None) => line.name.to_lowercase(),
        }
    }

    fn nth_key(&self, base: String, before: usize) -> String {
        let same = |l: &&ReworkedLine| self.base_key(l) == base;
        match self.lines[..before].iter().filter(same).count() {
            0 => base,
            n => format!("{base}#{}", n + 1),
        }
    }

    /// Names the lines and holds those that are pinned; those held in percent last, when the
    /// flour is known. Lines added later are keyed as they come.
    pub(super) fn hold_lines(&mut self) {
        for i in 0..self.lines.len() {
            self.lines[i].key = self.nth_key(self.base_key(&self.lines[i]), i);
        }
        for percents in [false, true] {
            if percents {
                self.pin_flour = self.balance().flour.likely().as_grams();
            }
            for i in 0..self.lines.len() {
                let line = &self.lines[i];
                let hold = self.pins.get(&line.key);
                if line.kept != Kept::Dropped
                    && hold.is_some_and(|h| matches!(h, Hold::Percent(_)) == percents)
                    && let Some(at) = self.weight_held(&line.key.clone(), line.food)
                {
                    self.lines[i].hold(at);
                }
            }
        }
        self.keyed = true;
        for food in self.extra.clone() {
            let none = Spread::exact(Mass::grams(0.0));
            let line = ReworkedLine::added(food, Some(none), self.larder);
            let key = self.nth_key(self.base_key(&line), self.lines.len());
            if self.weight_held(&key, Some(food)).is_some() {
                self.push(line);
            }
        }
    }

    /// What a line is held at, in grams; where it cannot be weighed so, that is a clash.
    fn weight_held(&mut self, key: &str, food: Option<FoodId>) -> Option<Mass> {
        let hold = self.pins.get(key)?.clone();
        let component = self.weighed.name.clone();
        let name = food.map_or(key.to_owned(), |f| self.larder.food(f).name.clone());
        let clash = match hold {
            Hold::Percent(_) if food.is_some_and(|f| self.larder.food(f).flour_share() > 0.0) => {
                PinError::OfItself {
                    component,
                    line: name,
                    hold,
                }
            }
            Hold::Percent(_) if self.pin_flour <= 0.0 => PinError::NoFlour {
                component,
                line: key.to_owned(),
                hold,
            },
            _ => {
                let locale = self.formula.locale;
                let at = hold.grams(key, self.pin_flour, self.larder, locale);
                if at.is_some() {
                    return at;
                }
                PinError::Pieces {
                    component,
                    line: name,
                    hold,
                }
            }
        };
        self.clash(clash);
        None
    }

    /// Notes a clash, once.
    pub(super) fn clash(&mut self, clash: PinError) {
        if !self.clashes.contains(&clash) {
            self.clashes.push(clash);
        }
    }

    /// Puts a new line last, held where it is pinned. Returns whether it is free.
    pub(super) fn push(&mut self, mut line: ReworkedLine) -> bool {
        if self.keyed {
            line.key = self.nth_key(self.base_key(&line), self.lines.len());
            let key = line.key.clone();
            if let Some(at) = self.weight_held(&key, line.food) {
                line.hold(at);
            }
        }
        let free = !line.held;
        self.lines.push(line);
        free
    }

    /// Whether a line of the formula with this food is held.
    pub(super) fn is_held(&self, food: FoodId) -> bool {
        self.lines
            .iter()
            .any(|l| l.held && l.in_formula && l.food == Some(food))
    }

    /// What a line that is not there yet would be held at.
    pub(super) fn pin_of_new(&self, food: FoodId) -> Option<Mass> {
        let here = |l: &ReworkedLine| {
            l.food == Some(food) && l.in_formula && l.kept != Kept::Dropped && l.grams.is_some()
        };
        if self.lines.iter().any(here) {
            return None;
        }
        let key = self.nth_key(self.larder.food(food).key.clone(), self.lines.len());
        let hold = self.pins.get(&key)?;
        hold.grams(&key, self.pin_flour, self.larder, self.formula.locale)
    }

    /// Whether a free liquid is held.
    pub(super) fn holds_liquid(&self) -> bool {
        self.lines.iter().any(|l| {
            l.held
                && l.in_formula
                && l.food.is_some_and(|f| {
                    is_liquid(self.larder, f)
                        && self.larder.composition(f).water.unwrap_or(0.0) > super::water::LIQUID
                })
        })
    }

    /// Psyllium as powder and gums as xanthan, percent of the flour phase.
    pub(super) fn binder_sums(&self, b: &Balance) -> (f64, f64) {
        let have = |kind: Kind, unit: f64| -> f64 {
            b.binders
                .iter()
                .filter_map(|(food, p)| {
                    let row = super::binder::row(*food, self.larder)?;
                    let worth = row.worth.filter(|_| row.kind == kind)?;
                    Some(p * worth.likely().get() * unit)
                })
                .sum()
        };
        (
            have(Kind::Psyllium, XANTHAN_IN_PSYLLIUM),
            have(Kind::Gum, 1.0),
        )
    }

    /// Doubts where held binders leave the style's ranges.
    pub(super) fn check_binders(&mut self, style: Style, b: &Balance) {
        let held = self.lines.iter().any(|l| {
            l.held
                && l.food
                    .is_some_and(|f| self.larder.food(f).function() == Function::Binder)
        });
        let (Some(psy), Some(xan)) = (style.range("psyllium"), style.range("xanthan")) else {
            return;
        };
        if !held && self.pins.get(BINDER).is_none() || style.is_thickened() {
            return;
        }
        let (psyllium, gum) = self.binder_sums(b);
        let leads = self.leads_with_psyllium(style);
        let mut out = |what: &str, value: f64, range: &StyleRange| {
            self.doubts.push(Doubt::new(
                DoubtCode::OutOfRange,
                format!(
                    "{what} at {} of the flour is outside the range for {}, {}–{} % ({})",
                    beyond_percent(value, range.value.low().get(), range.value.high().get()),
                    style.name(),
                    range.value.low().get(),
                    range.value.high().get(),
                    range.cited()
                ),
            ));
        };
        let over = |v: f64, r: &StyleRange| v > r.value.high().get() + 1e-9;
        if over(psyllium, psy) {
            out("psyllium", psyllium, psy);
        }
        if over(gum, xan) {
            out("gum", gum, xan);
        }
        let (sum, range) = if leads {
            (psyllium + gum * XANTHAN_IN_PSYLLIUM, psy)
        } else {
            (gum + psyllium / XANTHAN_IN_PSYLLIUM, xan)
        };
        if sum < range.value.low().get() - 1e-9 {
            out("the binder", sum, range);
        }
    }
}

/// Whether a food is poured: water, milk, spirits and the like.
pub(super) fn is_liquid(larder: &Larder, food: FoodId) -> bool {
    matches!(
        larder.food(food).function(),
        Function::Water | Function::Liquid | Function::Dairy | Function::Alcohol
    )
}
