//! A reworked line in words: measured back in cups, spoons, sticks and eggs, and what it was.

use super::balance::is_on_label;
use super::blend::Portion;
use super::hydration::Basis;
use super::reworked::{Kept, Rework, ReworkedComponent, ReworkedLine};
use super::steps::goes_on_a_bake;
use crate::household::{
    Drawer, Household, OneEgg, OnePiece, Scale, as_spooned, eggs, household, is_fine, of_blend,
    weight,
};
use crate::line::{BESIDE, Item, Line, Role};
use crate::weigh::{Weighed, WeighedComponent, water_left_out};
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Spread, Unit, UnitKind};

/// A share of a binder that no scale of the kitchen tells.
const SLIGHT: f64 = 0.02;

/// Whether percentages of the flour say something: it is more than an eighth of the whole, and
/// nothing weighs more than four times as much. Beside a spoon of flour in a filling, `427 %` of
/// sugar says nothing.
fn is_on_flour(
    flour: Spread<Mass>,
    total: Spread<Mass>,
    mut lines: impl Iterator<Item = Spread<Mass>>,
) -> bool {
    let flour = flour.likely().as_grams();
    flour > 0.0
        && flour * 8.0 > total.likely().as_grams()
        && lines.all(|g| g.likely().as_grams() <= 4.0 * flour)
}

impl WeighedComponent {
    /// Whether the recipe lists an ingredient of it; a part of remarks alone is shown nowhere.
    #[must_use]
    pub fn is_listed(&self) -> bool {
        !self.items.is_empty()
    }

    /// Whether baker's percentages make sense of it.
    #[must_use]
    pub fn is_dough(&self) -> bool {
        let lines = self.items.iter().filter(|i| i.in_formula);
        is_on_flour(self.flour, self.makes, lines.filter_map(|i| i.grams))
    }
}

impl ReworkedComponent {
    /// Whether the recipe lists an ingredient of it, as [`WeighedComponent::is_listed`].
    #[must_use]
    pub fn is_listed(&self) -> bool {
        !self.lines.is_empty()
    }

    /// Whether it is balanced on its flour: a sauce with a spoon of it is not.
    #[must_use]
    pub fn is_dough(&self) -> bool {
        let thickened = self.style.is_some_and(|s| s.style.is_thickened());
        let lines = self
            .lines
            .iter()
            .filter(|l| l.in_formula && l.kept != Kept::Dropped);
        let original = &self.original;
        !thickened
            && is_on_flour(
                original.flour,
                original.total,
                lines.filter_map(|l| l.grams),
            )
    }

    /// Whether a line of it is of something the larder does not know.
    pub(crate) fn holds_unknown(&self) -> bool {
        let mut live = self.lines.iter().filter(|l| l.kept != Kept::Dropped);
        live.any(|l| l.food.is_none() && l.component.is_none() && !l.blend)
    }

    /// What its water was set by, what else is known of it, and where the one stands to the other.
    ///
    /// # Returns
    /// `None` where nothing is expected of it. Where its water lies outside the style's usual
    /// range a doubt of the component says so and why; then it is not said here too.
    #[must_use]
    pub fn wetness(&self) -> Option<String> {
        let (e, style) = (self.expected?, self.style?.style);
        let now = self.reworked.hydration?.likely().get();
        let pairs = match e.pairs {
            0 => String::new(),
            1 => ", with 1 pair of wheat and gluten-free,".to_owned(),
            n => format!(", with {n} pairs of wheat and gluten-free,"),
        };
        let behind = match e.formulas {
            0 => "no formula of this style is published".to_owned(),
            1 => format!("1 formula of this style{pairs} stands behind it"),
            n => format!("{n} formulas of this style{pairs} stand behind it"),
        };
        let by = match e.basis {
            Basis::OriginalConsistency | Basis::OriginalHydration => {
                "published formulas and the original’s own wetness lead"
            }
            Basis::Style | Basis::StyleAndFlours | Basis::Borrowed => "published formulas lead",
        };
        let thin = if e.is_thin() { ": thin evidence" } else { "" };
        let span = format!(
            "{:.0}–{:.0} %; {behind}{thin}",
            e.hydration.low, e.hydration.high
        );
        let mut out = if e.sets(now) && self.wetness_held {
            format!(
                "Water is {now:.0} % of the flour, as what you hold gives it. What {by} one to expect is {:.0} % (likely {span}).",
                e.hydration.likely
            )
        } else if e.sets(now) {
            format!("Water is {now:.0} % of the flour: what {by} one to expect (likely {span}).")
        } else {
            let water = self.changes.iter().find(|c| c.what == "water");
            let why = water.map_or(String::new(), |c| format!(": {}", c.rule));
            format!(
                "Water is {now:.0} % of the flour{why}. What {by} one to expect is {:.0} % (likely {span}), and it is not followed here.",
                e.hydration.likely
            )
        };
        let r = style.range("hydration_eff")?;
        let (low, high) = (r.value.low().get(), r.value.high().get());
        if (low - 1e-9..=high + 1e-9).contains(&now) {
            // What the baker holds is kept nowhere by us.
            let yeast = style.is_yeast_dough() && e.sets(now) && !self.wetness_held;
            let is = if yeast && e.hydration.likely <= low {
                "They lead lower: it is held at the low end of"
            } else if yeast && e.hydration.likely >= high {
                "They lead higher: it is held at the high end of"
            } else if yeast {
                "It is kept inside"
            } else {
                "That lies inside"
            };
            out.push_str(&format!(
                " {is} the {} range of {}, {low}–{high} %.",
                r.kind(),
                style.name()
            ));
        }
        Some(out)
    }

    /// Water that its hydration leaves out, in a sentence: what lies in cheese and the like, and what boils off.
    #[must_use]
    pub fn water_left_out(&self, larder: &Larder) -> Option<String> {
        let live = |l: &&ReworkedLine| l.in_formula && l.kept != Kept::Dropped;
        let lines = self.lines.iter().filter(live);
        let foods = lines.filter_map(|l| Some((l.food?, l.grams?, l.counts_as)));
        let flour = self.reworked.flour.likely().as_grams();
        let left = water_left_out(foods, flour, larder).filter(|_| flour > 0.0)?;
        Some(format!("Water that the hydration does not count: {left}."))
    }

    /// What of it stands on a label alone, in a sentence; `None` where its fat and sugar are known.
    #[must_use]
    pub fn on_the_label(&self, larder: &Larder) -> Option<String> {
        let live = |l: &&ReworkedLine| l.in_formula && l.kept != Kept::Dropped;
        let lines = self.lines.iter().filter(live);
        let on_label = lines.filter(|l| l.food.is_some_and(|f| is_on_label(larder, f)));
        let names: Vec<&str> = on_label.map(|l| l.name.as_str()).collect();
        (self.reworked.says_at_least() && !names.is_empty()).then(|| {
            format!(
                "What is in {} stands on the label alone: fat and sugar after are at least what is said, without theirs.",
                names.join(" and ")
            )
        })
    }

    /// The flours of its blend on the scale, as [`super::blend::Blend::weighed_out`] gives them; empty
    /// without a blend, or where the blend has no weight.
    #[must_use]
    pub fn blend_weighed(&self, scale: &Scale) -> Vec<Portion> {
        let live = |l: &&ReworkedLine| l.blend && l.kept != Kept::Dropped;
        let grams = self.lines.iter().filter(live).filter_map(|l| l.grams);
        let whole: f64 = grams.map(|g| scale.rounded(g.likely(), false)).sum();
        match &self.blend {
            Some(blend) if whole > 0.0 => blend.weighed_out(scale, whole),
            _ => Vec::new(),
        }
    }

    /// How to take some of its flours from a jar that was mixed with the binders of its blend, which it has
    /// on lines of their own. `None` where nothing binds in the blend.
    #[must_use]
    pub fn from_jar(&self, flours: Mass, larder: &Larder) -> Option<String> {
        let blend = self.blend.as_ref().filter(|b| !b.binders.is_empty())?;
        let live = || self.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let grams = |l: &ReworkedLine| l.grams.map_or(0.0, |g| g.likely().as_grams());
        let all: f64 = live().filter(|l| l.blend).map(grams).sum();
        let (mut less, mut never, mut whole) = (Vec::new(), Vec::new(), flours);
        for &(food, percent) in &blend.binders {
            let name = larder.food(food).name.as_str();
            let lines = || live().filter(|l| l.in_formula && l.food == Some(food));
            let here = flours * (lines().map(grams).sum::<f64>() / all);
            let jar = flours * (percent / 100.0);
            let more = jar - here;
            whole = whole + jar;
            // What is in a jar nobody takes out again.
            if more.as_grams() <= SLIGHT * jar.as_grams() {
                less.push(format!("{} less of {name}", weight(jar, true)));
            } else if here.as_grams() > 0.0 && !lines().any(|l| l.held) {
                let more = weight(more, true);
                less.push(format!(
                    "no {name}, of which the jar brings {more} too much"
                ));
            } else {
                never.push(name);
            }
        }
        if !never.is_empty() {
            let never = never.join(" and ");
            return Some(format!(
                "flours alone; a jar mixed with {never} is not for this recipe, which takes less of it or none"
            ));
        }
        let (whole, less) = (weight(whole, false), less.join(", "));
        Some(format!(
            "flours alone; of a jar mixed with what binds take {whole}, and {less}"
        ))
    }

    /// Whether its name says that it goes into or over a bake: filling, topping, glaze, crumb.
    #[must_use]
    pub fn goes_on_a_bake(&self) -> bool {
        goes_on_a_bake(&self.name)
    }

    /// Lines of the formula that could not be weighed, and so are in none of its figures.
    #[must_use]
    pub fn unweighed(&self) -> usize {
        self.lines
            .iter()
            .filter(|l| l.in_formula && l.kept != Kept::Dropped && l.grams.is_none())
            .count()
    }
}

impl Rework {
    /// Whether a component holds egg or milk, in itself or in a component it uses. `None` where that
    /// is not known: a line is of a food that the larder does not know.
    #[must_use]
    pub fn egg_or_milk(&self, component: usize) -> Option<bool> {
        let c = self.components.get(component)?;
        let live = || c.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let used = || {
            live()
                .filter_map(|l| l.component)
                .map(|u| self.egg_or_milk(u))
        };
        if c.holds_egg_or_milk || used().any(|u| u == Some(true)) {
            return Some(true);
        }
        (!c.holds_unknown() && used().all(|u| u == Some(false))).then_some(false)
    }

    /// The original's line and the item of it that a line of a component goes back to.
    #[must_use]
    pub fn source(&self, component: usize, line: &ReworkedLine) -> Option<(&Line, &Item)> {
        let (l, i) = line.origin?;
        let read = self
            .formula
            .recipe
            .components
            .get(component)?
            .lines
            .get(l)?;
        Some((read, read.items.get(i)?))
    }

    /// What a line beside the formula is for: 'for brushing'; `None` for one of the formula.
    #[must_use]
    pub fn beside(&self, component: usize, line: &ReworkedLine) -> Option<&'static str> {
        let words = || self.source(component, line)?.1.purpose.words();
        (!line.in_formula).then(|| words().unwrap_or(BESIDE))
    }

    /// What a line of a component was in the original: '183 g whole milk'; empty for a new line.
    #[must_use]
    pub fn was(&self, component: usize, line: &ReworkedLine, larder: &Larder) -> String {
        let Some(origin) = line.origin else {
            return String::new();
        };
        let mut all = self.formula.components[component]
            .items
            .iter()
            .filter(|w| (w.line, w.item) == origin);
        let first = all.clone().next();
        let Some(w) = all.find(|w| w.food == line.food).or(first) else {
            return String::new();
        };
        let name = match (w.food, w.component) {
            (Some(f), _) => larder.food(f).name.clone(),
            (None, Some(x)) => format!("the {}", self.components[x].name),
            _ => line.name.clone(),
        };
        match w.grams {
            Some(g) if Scale::default().is_pinch(g.likely()) => format!("a pinch of {name}"),
            Some(g) => {
                let fine = w.food.is_some_and(|f| is_fine(larder, f));
                format!("{} {name}", weight(g.likely(), fine))
            }
            None => name,
        }
    }

    /// The eggs, yolks or whites that a line is counted in: those of the original, where it counts them, as
    /// heavy as they are there; else those of the size it names, or of the recipe's country. `None` of other
    /// foods.
    #[must_use]
    pub fn one_egg(
        &self,
        component: usize,
        line: &ReworkedLine,
        larder: &Larder,
    ) -> Option<OneEgg> {
        let said = self.source(component, line);
        let said = said.and_then(|(_, item)| item.qualities.size);
        let usual = OneEgg::of(larder, line.food?, said, self.formula.locale)?;
        let counted = || {
            let (_, item) = self.source(component, line)?;
            // '3 x 59 g eggs' says what one is.
            let (only, sizes) = item.amounts.split_first()?;
            if !sizes.iter().all(|a| a.role == Role::Size) {
                return None;
            }
            let count =
                Some(only.middle()).filter(|n| only.unit == Some(Unit::Count) && *n > 0.0)?;
            Some(OneEgg {
                weighs: self.was_grams(component, line)? * (1.0 / count),
                size: usual.size.clone(),
            })
        };
        Some(counted().unwrap_or_else(|| usual.clone()))
    }

    /// What a line's food weighs in the original; `None` where the line was of another there.
    fn was_grams(&self, component: usize, line: &ReworkedLine) -> Option<Mass> {
        let food = line.food?;
        let mut items = self.formula.components.get(component)?.items.iter();
        let is = |w: &&Weighed| Some((w.line, w.item)) == line.origin && w.food == Some(food);
        Some(items.find(is)?.grams?.likely())
    }

    /// The pieces that a line is counted in, as it was written: garlic cloves, celery sticks, onions.
    fn one_piece(
        &self,
        component: usize,
        line: &ReworkedLine,
        larder: &Larder,
    ) -> Option<OnePiece> {
        let cut = |f: &FoodId| larder.food(*f).function() != Function::Fat;
        line.food.filter(cut)?;
        let (read, item) = self.source(component, line)?;
        OnePiece::written(read, item, self.was_grams(component, line)?)
    }

    /// Whether a line weighs fruit or vegetables that are bought in pieces, before they are cut: '2 lb strawberries,
    /// sliced'. No cup holds them so.
    fn is_weighed_whole(&self, component: usize, line: &ReworkedLine, food: &larder::Food) -> bool {
        let bought = matches!(food.function(), Function::Fruit | Function::Vegetable);
        let by_weight = |item: &Item| {
            let mut units = item.amounts.iter().map(|a| a.unit);
            !item.amounts.is_empty() && units.all(|u| u.is_some_and(|u| u.kind() == UnitKind::Mass))
        };
        bought
            && self
                .source(component, line)
                .is_some_and(|(read, item)| by_weight(item) && read.words(&item.name).contains(','))
    }

    /// The household amount of a line of a component.
    ///
    /// # Returns
    /// The original's own words where the line is kept as it was and spoons hold it so; else the
    /// fewest cups and spoons that hold it, with their error. `None` where only a scale will do.
    #[must_use]
    pub fn household(
        &self,
        component: usize,
        line: &ReworkedLine,
        larder: &Larder,
        drawer: impl Into<Drawer>,
    ) -> Option<Household> {
        let written = self
            .source(component, line)
            .filter(|_| line.kept == Kept::Same && !line.blend)
            .and_then(|(read, item)| as_spooned(read, item));
        if let Some(words) = written {
            let words = line.sized(words);
            return Some(Household { words, error: 0.0 });
        }
        let grams = line.grams?.likely();
        if let Some(egg) = self
            .one_egg(component, line, larder)
            .filter(|_| grams.as_grams() > 0.0)
        {
            return Some(eggs(&larder.food(line.food?).name, &egg, grams));
        }
        let pieces = self.one_piece(component, line, larder);
        if let Some(pieces) = pieces.and_then(|one| one.count(grams)) {
            return Some(pieces);
        }
        match (
            line.food,
            line.blend,
            &self.components.get(component)?.blend,
        ) {
            (Some(food), _, _) if self.is_weighed_whole(component, line, larder.food(food)) => None,
            (Some(food), _, _) => household(larder, food, grams, drawer),
            (None, true, Some(blend)) => of_blend(larder, blend, grams, drawer),
            _ => None,
        }
    }
}
