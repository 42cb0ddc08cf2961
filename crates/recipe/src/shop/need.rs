//! What recipes need: a need for each line that is weighed, bought or only named.

use super::choice::Instead;
use crate::Item;
use crate::household::Scale;
use crate::line::{Amount, Purpose, Role};
use crate::rework::blend::Blend;
use crate::rework::{Kept, Rework, ReworkedLine};
use crate::screen::{Finding, Screening};
use crate::size::Batch;
use crate::weigh::Formula;
use larder::{FoodId, Function, Gluten, Larder, PpmBasis};
use quantity::{Hold, Locale, Mass, Spread, Unit};

/// A recipe to shop for, at a size.
#[derive(Debug, Clone)]
pub struct Order<'a> {
    /// Its title.
    pub title: &'a str,
    /// The gluten-free version.
    pub rework: &'a Rework,
    /// The screen of the gluten-free version.
    pub screening: &'a Screening,
    /// How many times each component is made, by its place; a place left out counts as once.
    pub factors: Vec<f64>,
    /// The scale that a blend's flours are weighed out on: they are bought as the other pages have them.
    pub scale: Scale,
}

impl<'a> Order<'a> {
    /// A recipe so many times.
    #[must_use]
    pub fn times(
        title: &'a str,
        rework: &'a Rework,
        screening: &'a Screening,
        factor: f64,
    ) -> Self {
        Self {
            title,
            rework,
            screening,
            factors: vec![factor; rework.components.len()],
            scale: Scale::default(),
        }
    }

    /// A recipe at its size, that so many times.
    #[must_use]
    pub fn sized(
        title: &'a str,
        rework: &'a Rework,
        screening: &'a Screening,
        batch: &Batch,
        times: f64,
    ) -> Self {
        Self {
            title,
            rework,
            screening,
            factors: batch.components.iter().map(|c| c.factor * times).collect(),
            scale: Scale::default(),
        }
    }

    /// The same on a kitchen's scale, in place of one to 1 g.
    #[must_use]
    pub fn on(self, scale: Scale) -> Self {
        Self { scale, ..self }
    }

    /// How many times a component is made.
    #[must_use]
    pub fn factor(&self, component: usize) -> f64 {
        self.factors.get(component).copied().unwrap_or(1.0)
    }
}

/// What a need is of.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum What {
    Food(FoodId),
    /// What the larder does not know, in the words of the line.
    Words(String),
}

/// What a label has to say before a food is bought, the most careful first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reminder {
    /// The screen found gluten in it: not for this recipe.
    HoldsGluten,
    /// Only its label can tell.
    CheckLabel,
    /// Buy one labelled gluten-free.
    BuyLabelled,
}

impl Reminder {
    /// The words on a list.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::HoldsGluten => "contains gluten: do not buy it for this",
            Self::CheckLabel => "check the label",
            Self::BuyLabelled => "buy labelled gluten-free",
        }
    }
    /// The word in machine-readable output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::HoldsGluten => "holds_gluten",
            Self::CheckLabel => "check_label",
            Self::BuyLabelled => "buy_labelled",
        }
    }

    /// What a finding of the screen asks of the shopper.
    fn of(finding: &Finding, larder: &Larder) -> Option<Self> {
        match finding.verdict {
            Gluten::Contains => Some(Self::HoldsGluten),
            _ if finding.labelled => Some(Self::BuyLabelled),
            // Free by nature, but milled or packed beside wheat: a label answers it.
            _ if finding
                .food
                .is_some_and(|f| matches!(larder.food(f).ppm, PpmBasis::Grain { .. })) =>
            {
                Some(Self::BuyLabelled)
            }
            // What was read on one pack's label is read again on the next.
            Gluten::Check => Some(Self::CheckLabel),
            Gluten::Free => None,
        }
    }
}

/// One line of a recipe, as it is needed.
#[derive(Debug, Clone)]
pub(super) struct Need {
    pub what: What,
    pub grams: Option<Spread<Mass>>,
    /// What one of the eggs that the recipe counts weighs; `None` of other things.
    pub egg: Option<Mass>,
    /// The line says how many eggs, and they are all still there: so many are used, whatever each weighs.
    pub eggs_counted: bool,
    /// What one as bought weighs of what a line counts and weighs, a third of a pound of '3 leeks (about 1 lb)', and
    /// an egg of a line that counts eggs alone.
    pub whole: Option<Mass>,
    pub order: usize,
    pub component: usize,
    /// The line's own words where it has no weight.
    pub words: String,
    /// 'for dusting', 'to serve'; `None` for the formula.
    pub aside: Option<&'static str>,
    pub optional: bool,
    pub reminders: Vec<(Reminder, String)>,
    /// Key of the blend it is part of.
    pub blend: Option<String>,
    /// How many times the line's words are needed.
    pub times: f64,
    /// What its line offers in its place.
    pub instead: Option<Instead>,
}

/// A blend that is mixed for an order.
#[derive(Debug, Clone)]
pub(super) struct Mixed {
    pub order: usize,
    pub component: usize,
    pub blend: Blend,
    pub grams: Spread<Mass>,
}

/// What the components need together.
#[derive(Debug, Default)]
pub(super) struct Needs {
    pub needs: Vec<Need>,
    pub mixed: Vec<Mixed>,
    /// Components made here and used: name and order.
    pub made_here: Vec<(usize, String)>,
}

impl Needs {
    /// Needs of the gluten-free version of an order.
    pub fn take(&mut self, at: usize, order: &Order<'_>, larder: &Larder) {
        let rework = order.rework;
        for (c, component) in rework.components.iter().enumerate() {
            let factor = order.factor(c);
            if factor <= 0.0 {
                // It is not made.
                continue;
            }
            for (place, line) in component.lines.iter().enumerate() {
                if line.kept == Kept::Dropped {
                    continue;
                }
                if line.component.is_some() {
                    self.made_here.push((at, line.name.clone()));
                    continue;
                }
                let read = rework.source(c, line);
                let grams = line.grams.map(|g| g.scaled(factor));
                let (aside, optional) = use_of(read.map(|r| r.1), line.in_formula);
                let instead = instead_of(rework, c, line, larder).map(|i| i.scaled(factor));
                let reminders =
                    |food: Option<FoodId>| reminders(order.screening, (c, place), food, larder);
                let plain = Need {
                    what: What::Words(line.name.clone()),
                    grams,
                    egg: rework.one_egg(c, line, larder).map(|one| one.weighs),
                    eggs_counted: line.kept == Kept::Same && read.is_some_and(|r| is_a_count(r.1)),
                    whole: read.zip(line.grams).and_then(|(r, g)| {
                        let egg = line
                            .food
                            .is_some_and(|f| larder.food(f).does(Function::Egg));
                        let counted = || one_counted(r.1, g.likely()).filter(|_| egg);
                        one_weighed(r.1, g.likely()).or_else(counted)
                    }),
                    order: at,
                    component: c,
                    words: read
                        .filter(|_| line.kept == Kept::Same)
                        .map_or_else(|| line.name.clone(), |(l, _)| l.bare().to_owned()),
                    aside,
                    optional,
                    reminders: Vec::new(),
                    blend: None,
                    times: factor,
                    instead,
                };
                match (&component.blend, line.blend, line.food) {
                    (Some(blend), true, _) => {
                        // One flour alone is weighed, not mixed.
                        if let Some(grams) = grams.filter(|_| blend.parts.len() > 1) {
                            self.mixed.push(Mixed {
                                order: at,
                                component: c,
                                blend: blend.clone(),
                                grams,
                            });
                        }
                        let whole = grams.map_or(0.0, |g| g.likely().as_grams());
                        let on_scale = order.scale.rounded(Mass::grams(whole), false);
                        let portions = blend.weighed_out(&order.scale, on_scale);
                        self.needs.extend(portions.iter().map(|p| {
                            Need {
                                what: What::Food(p.food),
                                grams: grams
                                    .filter(|_| whole > 0.0)
                                    .map(|g| g.scaled(p.grams / whole)),
                                words: format!(
                                    "{} for the {}",
                                    larder.food(p.food).name,
                                    blend.name
                                ),
                                reminders: reminders(Some(p.food)),
                                blend: Some(blend.key.to_string()),
                                ..plain.clone()
                            }
                        }));
                    }
                    (_, _, Some(food)) => self.needs.push(Need {
                        what: What::Food(food),
                        reminders: reminders(Some(food)),
                        ..plain
                    }),
                    _ => self.needs.push(Need {
                        reminders: vec![(
                            Reminder::CheckLabel,
                            "the larder does not know it".to_owned(),
                        )],
                        ..plain
                    }),
                }
            }
        }
    }

    /// Needs of a recipe as it was written, the wheat one.
    pub fn take_original(&mut self, formula: &Formula, factors: &[f64]) {
        for (c, component) in formula.components.iter().enumerate() {
            let factor = factors.get(c).copied().unwrap_or(1.0);
            if factor <= 0.0 {
                continue;
            }
            for w in &component.items {
                if w.component.is_some() {
                    continue;
                }
                let line = formula
                    .recipe
                    .components
                    .get(c)
                    .and_then(|r| r.lines.get(w.line));
                let item = line.and_then(|l| l.items.get(w.item));
                let words = line.map_or_else(String::new, |l| l.bare().to_owned());
                let name = match (line, item) {
                    (Some(l), Some(i)) => l.words(&i.name).trim().to_owned(),
                    _ => words.clone(),
                };
                let (aside, optional) = use_of(item, w.in_formula);
                self.needs.push(Need {
                    what: w.food.map_or_else(|| What::Words(name), What::Food),
                    grams: w.grams.map(|g| g.scaled(factor)),
                    egg: item
                        .zip(w.grams)
                        .and_then(|(i, g)| one_counted(i, g.likely())),
                    eggs_counted: item.is_some_and(is_a_count),
                    whole: None,
                    order: 0,
                    component: c,
                    words,
                    aside,
                    optional,
                    reminders: Vec::new(),
                    blend: None,
                    times: factor,
                    instead: None,
                });
            }
        }
    }
}

/// Whether a line says how many, and no range of it: '6 eggs', not '2–3 eggs'.
fn is_a_count(item: &Item) -> bool {
    let counts = |a: &Amount| a.unit == Some(Unit::Count) && a.low.total_cmp(&a.high).is_eq();
    matches!(item.amounts.as_slice(), [only] if counts(only))
}

/// What one weighs of what a line counts in pieces.
fn one_counted(item: &Item, grams: Mass) -> Option<Mass> {
    let [only] = item.amounts.as_slice() else {
        return None;
    };
    let n = only.middle();
    (only.unit == Some(Unit::Count) && n > 0.0).then(|| grams * (1.0 / n))
}

/// What one weighs of what a line counts with their weight beside it, where it goes by that weight: such a one is
/// whole, as bought.
fn one_weighed(item: &Item, grams: Mass) -> Option<Mass> {
    let count = item.amounts.first()?;
    let beside = item.amounts.iter().filter(|a| a.role == Role::Twin);
    let mut masses = beside.filter_map(|a| match a.unit?.hold(Locale::Us) {
        Hold::Mass(one) => Some(one.as_grams() * a.middle()),
        _ => None,
    });
    let n = count.middle();
    let is_it = masses.any(|m| (m / grams.as_grams() - 1.0).abs() < 0.03);
    (count.unit == Some(Unit::Count) && n > 0.0 && is_it).then(|| grams * (1.0 / n))
}

/// What a line offers in place of its food, in grams of the recipe made once.
fn instead_of(
    rework: &Rework,
    component: usize,
    line: &ReworkedLine,
    larder: &Larder,
) -> Option<Instead> {
    let (read, item) = rework.source(component, line)?;
    let food = item.food.as_ref().map(|m| m.food);
    if !matches!(line.kept, Kept::Same | Kept::Changed) || line.food != food {
        return None;
    }
    let formula = &rework.formula;
    let other = Instead::of(read, item, larder, formula.locale)?;
    let (l, i) = line.origin?;
    let mut weighed = formula.components.get(component)?.items.iter();
    let before = weighed.find(|w| (w.line, w.item, w.part) == (l, i, 0))?;
    // Where the rework changed the grams, it would those of the other.
    let moved = match (line.grams, before.grams) {
        (Some(now), Some(was)) if was.likely().as_grams() > 0.0 => now.likely() / was.likely(),
        _ => 1.0,
    };
    Some(other.scaled(moved))
}

/// What a line is for beside the formula, and whether it may be left out.
fn use_of(item: Option<&Item>, in_formula: bool) -> (Option<&'static str>, bool) {
    let purpose = item.map_or(Purpose::Formula, |i| i.purpose);
    let aside = purpose
        .words()
        .or((!in_formula).then_some("beside the formula"));
    (aside, item.is_some_and(|i| i.optional))
}

/// What the screen asks of a line's food, each once, the most careful first.
fn reminders(
    screening: &Screening,
    at: (usize, usize),
    food: Option<FoodId>,
    larder: &Larder,
) -> Vec<(Reminder, String)> {
    let mut out: Vec<(Reminder, String)> = Vec::new();
    for finding in &screening.findings {
        let here = (finding.component, finding.line) == at
            && (finding.food == food || finding.food.is_none());
        if !here {
            continue;
        }
        if let Some(reminder) = Reminder::of(finding, larder)
            && !out.iter().any(|(r, _)| *r == reminder)
        {
            out.push((reminder, finding.reason.clone()));
        }
    }
    out.sort_by_key(|r| r.0);
    out
}

/// Whether a food comes from the tap.
pub(super) fn from_the_tap(larder: &Larder, food: FoodId) -> bool {
    larder.food(food).function() == Function::Water
}
