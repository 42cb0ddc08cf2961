//! Held figures: lines whose grams the baker has set, with the rest solved around them.

use super::balance::Balance;
use super::binder::Kind;
use super::engine::{Work, beyond_percent};
use super::hold::{BINDER, HYDRATION, Hold, HoldError};
use super::reworked::{Change, Kept, Options, ReworkedComponent, ReworkedLine};
use super::style::{Style, StyleRange};
use super::sums;
use crate::household::{is_fine, percent, weight};
use crate::{Doubt, DoubtCode};
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Spread, listed};
use std::collections::BTreeMap;
use std::error::Error;
use std::fmt;

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

/// Why figures cannot be held as asked. Each names both sides of the clash.
#[derive(Debug, Clone, PartialEq)]
pub enum PinError {
    /// One figure is held at two.
    Twice {
        /// The component.
        component: String,
        /// The line's key.
        line: String,
        /// The one.
        first: Hold,
        /// The other.
        second: Hold,
    },
    /// The figure cannot be.
    Value {
        /// The component.
        component: String,
        /// The line's key.
        line: String,
        /// What was expected.
        error: HoldError,
    },
    /// Percent of a flour phase that the line itself is part of.
    OfItself {
        /// The component.
        component: String,
        /// The line's name.
        line: String,
        /// What it is held at.
        hold: Hold,
    },
    /// Pieces of what the line is not, or that the larder has no weight of.
    Pieces {
        /// The component.
        component: String,
        /// The line's name.
        line: String,
        /// What it is held at.
        hold: Hold,
    },
    /// A percentage of flour where there is no flour.
    NoFlour {
        /// The component.
        component: String,
        /// The line's key.
        line: String,
        /// What it is held at.
        hold: Hold,
    },
    /// The hydration is held, and so is every liquid.
    Liquids {
        /// The component.
        component: String,
        /// What hydration is held at.
        hydration: Hold,
        /// The liquids: name, and what each is held at.
        liquids: Vec<(String, Hold)>,
        /// The hydration they give, percent.
        gives: f64,
    },
    /// The lines that stay bring more water than the hydration that is held.
    TooWet {
        /// The component.
        component: String,
        /// What hydration is held at.
        hydration: Hold,
        /// What brings the water.
        from: Vec<String>,
        /// The hydration that it gives alone, percent.
        gives: f64,
    },
    /// All binders are held at one figure, and single ones at others.
    Binders {
        /// The component.
        component: String,
        /// What all are held at.
        all: Hold,
        /// Each held one: name, and what it is held at.
        lines: Vec<(String, Hold)>,
        /// What those come to, percent of the flour phase.
        gives: f64,
    },
}

fn place(component: &str, line: &str) -> String {
    if component.is_empty() {
        format!("'{line}'")
    } else {
        format!("'{line}' of '{component}'")
    }
}

fn of(component: &str) -> String {
    if component.is_empty() {
        String::new()
    } else {
        format!(" of '{component}'")
    }
}

/// `whole milk at 310 g and water at 60 g`.
fn each(lines: &[(String, Hold)]) -> String {
    let all: Vec<String> = lines.iter().map(|(n, h)| format!("{n} at {h}")).collect();
    listed(&all)
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
                "{} is held at {first} and at {second}: hold it at one of them",
                place(component, line)
            ),
            Self::Value {
                component,
                line,
                error,
            } => write!(f, "{}: {error}", place(component, line)),
            Self::OfItself {
                component,
                line,
                hold,
            } => write!(
                f,
                "{} cannot be held at {hold} of the flour: it is itself part of that flour; hold it in grams, or choose a blend with it",
                place(component, line)
            ),
            Self::Pieces {
                component,
                line,
                hold,
            } => write!(
                f,
                "{} cannot be held at {hold}: the larder knows no such piece of it; hold it in grams or percent of the flour",
                place(component, line)
            ),
            Self::NoFlour {
                component,
                line,
                hold,
            } => write!(
                f,
                "{} is held at {hold}, but there is no flour for a percentage to be of: hold grams, or let it go",
                place(component, line)
            ),
            Self::Liquids {
                component,
                hydration,
                liquids,
                gives,
            } => write!(
                f,
                "hydration{} is held at {hydration}, and so is every liquid ({}), which gives {}: let one of them go",
                of(component),
                each(liquids),
                percent(*gives)
            ),
            Self::TooWet {
                component,
                hydration,
                from,
                gives,
            } => write!(
                f,
                "hydration{} is held at {hydration}, but {} give {} without any liquid: hold at least that, or less of those",
                of(component),
                listed(from),
                percent(*gives)
            ),
            Self::Binders {
                component,
                all,
                lines,
                gives,
            } => write!(
                f,
                "the binder{} is held at {all}, and {}, which comes to {} of the flour: let one of them go",
                of(component),
                each(lines),
                percent(*gives)
            ),
        }
    }
}

impl Error for PinError {}

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
        (beside("share of the flour", share, range), range)
    } else if line.blend {
        let range = of("hydration_eff");
        let wet = wet(range).map_or(String::new(), |w| format!("; {w}"));
        (
            format!("shares, binder and water follow the new weight of flour{wet}"),
            range,
        )
    } else if hydrates {
        let range = of("hydration_eff");
        (wet(range).unwrap_or_default(), range)
    } else {
        (beside("share of the flour", share, None), None)
    };
    let hold = c.holds.get(&line.key);
    let shown = match hold {
        Some(h @ (Hold::Percent(_) | Hold::Count { .. })) => format!("{h}, {}", weight(at, fine)),
        Some(Hold::None) => "none".to_owned(),
        _ => weight(at, fine),
    };
    let mut arithmetic = Vec::new();
    match hold {
        Some(Hold::Percent(p)) => arithmetic.push(format!(
            "{} × {} flour = {}",
            sums::percent(*p),
            sums::grams(flour),
            sums::grams(at.as_grams())
        )),
        Some(Hold::Count { number, of }) => arithmetic.push(format!(
            "{} {} × {} each = {}",
            sums::figure(*number),
            sums::called(of),
            sums::grams(at.as_grams() / number),
            sums::grams(at.as_grams())
        )),
        _ if flour > 0.0 && line.in_formula && !line.blend => arithmetic.push(format!(
            "{} ÷ {} flour = {}",
            sums::grams(at.as_grams()),
            sums::grams(flour),
            sums::percent(share)
        )),
        _ => {}
    }
    Change {
        what: "pin".to_owned(),
        from: line
            .pinned
            .map_or("no weight".to_owned(), |g| weight(g.likely(), fine)),
        to: match hold {
            Some(Hold::None) => format!("no {}, held", line.name),
            Some(h @ Hold::Count { .. }) => format!("{h} ({}), held", weight(at, fine)),
            Some(h @ Hold::Percent(_)) => {
                format!(
                    "{} {} ({h} of the flour), held",
                    weight(at, fine),
                    line.name
                )
            }
            _ => format!("{} {}, held", weight(at, fine), line.name),
        },
        range: range.map(|r| format!("{}–{} %", r.value.low().get(), r.value.high().get())),
        rule: format!("{} held at {shown}: {cost}", line.name),
        source: range.map_or("held by the baker".to_owned(), |r| {
            format!("held by the baker; range: {}", r.cited())
        }),
        sums: arithmetic,
    }
}

/// The change that a held figure is: what it would be, what it is, and what that costs.
pub(super) fn said_figure(c: &ReworkedComponent, figure: &HeldFigure) -> Change {
    let style = c.style.map(|s| s.style);
    let (what, now, range) = if figure.what == HYDRATION {
        let now = c.reworked.hydration.map_or(0.0, |h| h.likely().get());
        let range = style.and_then(|s| s.range("hydration_eff"));
        (HYDRATION, now, range)
    } else {
        let by = c
            .reworked
            .binders
            .iter()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .or(figure.binders.first());
        let parameter = match by {
            Some((food, _)) if Some(*food) == figure.xanthan => "xanthan",
            _ => "psyllium",
        };
        let range = style.and_then(|s| s.range(parameter));
        ("binder", c.reworked.binder_percent(), range)
    };
    let would = figure.would.map_or("none".to_owned(), percent);
    let is = match &figure.hold {
        Hold::None => format!("no {what}, held"),
        h @ Hold::Percent(_) => format!("{h} {what}, held"),
        h => format!("{h} {what} ({}), held", percent(now)),
    };
    Change {
        what: "pin".to_owned(),
        from: would,
        to: is,
        range: range.map(|r| format!("{}–{} %", r.value.low().get(), r.value.high().get())),
        rule: format!(
            "{what} held at {}: {}",
            figure.hold,
            beside(what, now, range)
        ),
        source: range.map_or("held by the baker".to_owned(), |r| {
            format!("held by the baker; range: {}", r.cited())
        }),
        sums: Vec::new(),
    }
}

/// A figure of a component, held.
#[derive(Debug, Clone, PartialEq)]
pub struct HeldFigure {
    /// [`HYDRATION`] or [`BINDER`].
    pub what: &'static str,
    /// What it is held at.
    pub hold: Hold,
    /// What it would be if it were not held, percent of the flour phase.
    pub would: Option<f64>,
    /// The binders there would be, the strongest first.
    pub(super) binders: Vec<(FoodId, f64)>,
    /// Xanthan, whose range is another than psyllium's.
    pub(super) xanthan: Option<FoodId>,
}
