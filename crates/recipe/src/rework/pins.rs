//! Held figures: lines whose grams the baker has set, with the rest solved around them.

use super::balance::Balance;
use super::binder::Kind;
use super::engine::{Change, Kept, Options, ReworkedComponent, ReworkedLine, Work, beyond_percent};
use super::style::{Style, StyleRange};
use crate::household::{is_fine, percent, weight};
use crate::{Doubt, DoubtCode};
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Spread};
use std::collections::BTreeMap;
use std::error::Error;
use std::fmt;

/// The key of the line that stands for the wheat flour.
pub(crate) const BLEND: &str = "blend";
/// What one part of xanthan is worth in psyllium. Common practice, no source.
pub(super) const XANTHAN_IN_PSYLLIUM: f64 = 2.5;
/// More than this is a slip of the pen, in g.
const MOST: f64 = 100_000.0;

/// A line held at a weight.
#[derive(Debug, Clone, PartialEq)]
pub struct PinnedLine {
    /// The component's name; empty where the recipe has one part.
    pub component: String,
    /// The line, see [`ReworkedLine::key`].
    pub line: String,
    /// What it is held at, 0 to 100 kg.
    pub grams: Mass,
}

/// Why lines cannot be held as asked.
#[derive(Debug, Clone, PartialEq)]
pub enum PinError {
    /// One line is held at two weights.
    Twice {
        /// The component.
        component: String,
        /// The line's key.
        line: String,
        /// The one weight.
        first: Mass,
        /// The other.
        second: Mass,
    },
    /// The weight cannot be.
    Weight {
        /// The component.
        component: String,
        /// The line's key.
        line: String,
        /// The weight.
        grams: f64,
    },
    /// The blend is held at nothing.
    NoFlour {
        /// The component.
        component: String,
    },
}

fn place(component: &str, line: &str) -> String {
    if component.is_empty() {
        format!("'{line}'")
    } else {
        format!("'{line}' of '{component}'")
    }
}

impl fmt::Display for PinError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Twice {
                component,
                line,
                first,
                second,
            } => write!(
                f,
                "{} is held at {} g and at {} g: hold it at one of them",
                place(component, line),
                first.as_grams(),
                second.as_grams()
            ),
            Self::Weight {
                component,
                line,
                grams,
            } => write!(
                f,
                "{} cannot be held at {grams} g: give 0 to 100 000 g",
                place(component, line)
            ),
            Self::NoFlour { component } => write!(
                f,
                "{} cannot be held at 0 g: every other figure is worked out from it; give grams above 0",
                place(component, BLEND)
            ),
        }
    }
}

impl Error for PinError {}

impl Options {
    /// Whether the held lines can be held.
    ///
    /// # Errors
    /// [`PinError`]: a weight below 0 or above 100 kg, a blend of 0 g, or two weights for one line.
    pub fn check(&self) -> Result<(), PinError> {
        for (i, pin) in self.pins.iter().enumerate() {
            let g = pin.grams.as_grams();
            let (component, line) = (pin.component.clone(), pin.line.clone());
            if !possible(pin.grams) {
                return Err(PinError::Weight {
                    component,
                    line,
                    grams: g,
                });
            }
            if line == BLEND && g == 0.0 {
                return Err(PinError::NoFlour { component });
            }
            let other = self.pins[..i].iter().find(|p| {
                p.component == pin.component && p.line == pin.line && p.grams != pin.grams
            });
            if let Some(other) = other {
                return Err(PinError::Twice {
                    component,
                    line,
                    first: other.grams,
                    second: pin.grams,
                });
            }
        }
        Ok(())
    }
}

fn possible(grams: Mass) -> bool {
    (0.0..=MOST).contains(&grams.as_grams())
}

/// The pins of one component, by line key.
#[derive(Debug, Clone, Default)]
pub(super) struct Pins(BTreeMap<String, Mass>);

impl Pins {
    /// Those of a component. Of two for one line the later is taken; impossible ones are not.
    pub(super) fn of(options: &Options, component: &str, alone: bool) -> Self {
        let mine = options
            .pins
            .iter()
            .filter(|p| p.component == component || alone && p.component.is_empty());
        Self(
            mine.filter(|p| possible(p.grams))
                .filter(|p| p.line != BLEND || p.grams.as_grams() > 0.0)
                .map(|p| (p.line.clone(), p.grams))
                .collect(),
        )
    }

    /// All but one.
    pub(super) fn without(&self, line: &str) -> Self {
        let mut rest = self.clone();
        rest.0.remove(line);
        rest
    }

    /// What a line is held at.
    pub(super) fn get(&self, line: &str) -> Option<Mass> {
        self.0.get(line).copied()
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

    /// Names the lines and holds those that are pinned. Lines added later are keyed as they come.
    pub(super) fn hold_lines(&mut self) {
        for i in 0..self.lines.len() {
            let key = self.nth_key(self.base_key(&self.lines[i]), i);
            let pin = self.pins.get(&key);
            let line = &mut self.lines[i];
            line.key = key;
            if let Some(at) = pin
                && line.kept != Kept::Dropped
            {
                line.hold(at);
            }
        }
        self.keyed = true;
    }

    /// Puts a new line last, held where it is pinned. Returns whether it is free.
    pub(super) fn push(&mut self, mut line: ReworkedLine) -> bool {
        if self.keyed {
            line.key = self.nth_key(self.base_key(&line), self.lines.len());
            if let Some(at) = self.pins.get(&line.key) {
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
        self.pins.get(&key)
    }

    /// Whether a free liquid is held.
    pub(super) fn holds_liquid(&self) -> bool {
        self.lines.iter().any(|l| {
            l.held
                && l.in_formula
                && l.food.is_some_and(|f| {
                    is_liquid(self.larder, f)
                        && self.larder.composition(f).water.unwrap_or(0.0) > 60.0
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
        if !held || style.is_thickened() {
            return;
        }
        let (psyllium, gum) = self.binder_sums(b);
        let leads = self.leads_with_psyllium(style);
        let mut out = |what: &str, value: f64, range: &StyleRange| {
            self.doubts.push(Doubt::new(
                DoubtCode::OutOfRange,
                format!(
                    "{what} at {} of the flour phase is outside the range for {}, {}–{} % ({})",
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

/// Says what a value is beside a range.
fn beside(what: &str, value: f64, range: Option<&StyleRange>) -> String {
    let shown = percent(value);
    let Some(range) = range else {
        return format!("{what} {shown}");
    };
    let (low, high) = (range.value.low().get(), range.value.high().get());
    if (low - 1e-9..=high + 1e-9).contains(&value) {
        format!(
            "{what} {shown}, the style's {} range is {low}–{high} %",
            range.kind()
        )
    } else {
        format!(
            "{what} {} leaves the style's {} range of {low}–{high} %",
            beyond_percent(value, low, high),
            range.kind()
        )
    }
}

/// The change that a held line is: what it would be, what it is, and what that costs.
pub(super) fn said(c: &ReworkedComponent, line: &ReworkedLine, larder: &Larder) -> Change {
    let at = line.grams.map_or(Mass::grams(0.0), Spread::likely);
    let fine = line.food.is_some_and(|f| is_fine(larder, f));
    let flour = c.reworked.flour.likely().as_grams();
    let style = c.style.map(|s| s.style);
    let food = line.food.map(|f| larder.food(f));
    let share = if flour > 0.0 {
        100.0 * at.as_grams() / flour
    } else {
        0.0
    };
    let of = |parameter: &str| style.and_then(|s| s.range(parameter));
    let wet = |range: Option<&'static StyleRange>| {
        c.reworked
            .hydration
            .map(|h| beside("hydration", h.likely().get(), range))
    };
    let binder = food.filter(|f| f.function() == Function::Binder);
    let hydrates = line.blend
        || line
            .food
            .is_some_and(|f| larder.composition(f).water.unwrap_or(0.0) > 10.0);
    let (cost, range) = if !line.in_formula {
        (
            "it is no part of the formula: nothing else moves".to_owned(),
            None,
        )
    } else if line.component.is_some() {
        ("what is left over of it follows".to_owned(), None)
    } else if flour <= 0.0 {
        ("the rest stays as it is".to_owned(), None)
    } else if let Some(binder) = binder {
        let range = if binder.key.contains("psyllium") {
            of("psyllium")
        } else if binder.key == "xanthan_gum" {
            of("xanthan")
        } else {
            None
        };
        (beside("share of the flour phase", share, range), range)
    } else if line.blend {
        let range = of("hydration_eff");
        let wet = wet(range).map_or(String::new(), |w| format!("; {w}"));
        (
            format!("shares, binder and water follow the new flour phase{wet}"),
            range,
        )
    } else if hydrates {
        let range = of("hydration_eff");
        (wet(range).unwrap_or_default(), range)
    } else {
        (beside("share of the flour phase", share, None), None)
    };
    Change {
        what: "pin".to_owned(),
        from: line
            .pinned
            .map_or("no weight".to_owned(), |g| weight(g.likely(), fine)),
        to: format!("{} {}, held", weight(at, fine), line.name),
        range: range.map(|r| format!("{}–{} %", r.value.low().get(), r.value.high().get())),
        rule: format!("{} held at {}: {cost}", line.name, weight(at, fine)),
        source: range.map_or("held by the baker".to_owned(), |r| {
            format!("held by the baker; range: {}", r.cited())
        }),
        sums: Vec::new(),
    }
}
