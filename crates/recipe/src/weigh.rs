//! Weighing: from a recipe as read to a formula in grams.
//!
//! Every weight carries its basis and a low–likely–high range. A stated weight wins over a
//! volume; components that use one another are resolved into a graph of what each makes, uses
//! and leaves over.

mod as_bought;
mod browned;
mod graph;
mod item;
mod reduced;
mod shell;
mod slip;

use crate::household::{Drawer, Household, OneEgg, eggs, household};
use crate::line::{Item, LineKind, Purpose};
use crate::rework::{goes_on_a_bake, is_crumb};
use crate::{Beforehand, Component, Doubt, DoubtCode, Recipe};
pub(crate) use as_bought::left as left_as_bought;
pub use browned::CountsAs;
use browned::said as boiled_off;
pub(crate) use browned::{counted, is_butter};
pub(crate) use graph::uses;
use graph::{order, resolve_rests, resolve_uses};
pub(crate) use item::egg_size;
use item::{stated, weigh_item};
use larder::{FoodId, Function, Larder};
use quantity::{Locale, Mass, Quantity, Ratio, Spread};
pub use slip::{FAR, counts_as};
use std::fmt;

/// What a weight rests on.
#[derive(Debug, Clone, PartialEq)]
pub enum Basis {
    /// The recipe states a weight.
    Stated,
    /// A volume, by a household weight; its source.
    Household(String),
    /// Pieces, by a weight per piece; its source.
    Piece(String),
    /// Pieces of egg by their size class; its source.
    EggClass(String),
    /// Packets or cans of a stated size.
    StatedSize,
    /// The recipe states a weight in the shell; how much of it is shell, and the source.
    InShell(String),
    /// A part of another component.
    Component,
    /// The baker weighed it.
    Own,
    /// A guess; how it was made.
    Guess(String),
}

impl Basis {
    /// Whether the grams are reckoned from something else than a weight or size that was stated.
    #[must_use]
    pub fn is_reckoned(&self) -> bool {
        match self {
            Self::Stated | Self::StatedSize | Self::Component | Self::Own => false,
            Self::Household(_)
            | Self::Piece(_)
            | Self::EggClass(_)
            | Self::InShell(_)
            | Self::Guess(_) => true,
        }
    }
    /// The words on screens and in machine-readable output.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Stated => "stated weight".to_owned(),
            Self::Household(s) => format!("by the cup or spoon, {s}"),
            Self::Piece(s) => format!("weight per piece, {s}"),
            Self::EggClass(s) => format!("egg class, {s}"),
            Self::StatedSize => "stated size".to_owned(),
            Self::InShell(s) => format!("stated weight in the shell, less {s}"),
            Self::Component => "part of another component".to_owned(),
            Self::Own => "weighed by you".to_owned(),
            Self::Guess(s) => format!("guess: {s}"),
        }
    }
}

/// One weighed ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// Place of the line in its component.
    pub line: usize,
    /// Place of the item on its line.
    pub item: usize,
    /// Which of the item's foods it is: 0 for its own, then those of its amounts ('plus 1 yolk').
    pub part: usize,
    /// The food; `None` when unknown or a component.
    pub food: Option<FoodId>,
    /// The component used, by place.
    pub component: Option<usize>,
    /// The size that the line names: `large`.
    pub size: Option<&'static str>,
    /// Grams; `None` when it cannot be weighed.
    pub grams: Option<Spread<Mass>>,
    /// What the grams rest on.
    pub basis: Option<Basis>,
    /// Whether it is part of the formula (not dusting, greasing, serving).
    pub in_formula: bool,
    /// Percent of the component's flour phase.
    pub percent: Option<Spread<Ratio>>,
    /// What it counts as in every balance, where the method changes it first: butter that is browned.
    pub counts_as: Option<CountsAs>,
}

impl Weighed {
    /// The food and the grams of it that count in a balance.
    #[must_use]
    pub fn counted(&self) -> Option<(FoodId, Spread<Mass>)> {
        Some(counted(self.food?, self.grams?, self.counts_as))
    }
    /// Its grams measured back in cups, spoons, eggs or pieces.
    #[must_use]
    pub fn measured(&self, larder: &Larder, drawer: impl Into<Drawer>) -> Option<Household> {
        let (food, grams) = (self.food?, self.grams?.likely());
        let drawer = drawer.into();
        let egg = OneEgg::of(larder, food, self.size, drawer.locale());
        match egg.filter(|_| self.size.is_some() && grams.as_grams() > 0.0) {
            Some(one) => Some(eggs(&larder.food(food).name, &one, grams)),
            None => household(larder, food, grams, drawer),
        }
    }
}

/// A component, weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct WeighedComponent {
    /// Its name.
    pub name: String,
    /// What of a dough is begun with it, where it is a preferment or the like: its flour and water
    /// are the dough's.
    pub beforehand: Option<Beforehand>,
    /// Its ingredients.
    pub items: Vec<Weighed>,
    /// Flours and starches (with nut and pulse flours used as flour).
    pub flour: Spread<Mass>,
    /// Water in every line outside the flour phase.
    pub water: Spread<Mass>,
    /// What it makes, raw: the sum of all lines.
    pub makes: Spread<Mass>,
    /// Effective hydration, percent of the flour phase; `None` without flour.
    pub hydration: Option<Spread<Ratio>>,
    /// What other components use of it.
    pub used: Option<Spread<Mass>>,
    /// What is left over after they did.
    pub left: Option<Spread<Mass>>,
    /// Lines of the formula that could not be weighed.
    pub unweighed: usize,
}

impl WeighedComponent {
    /// Which water its hydration counts, in words; what lies in cheese, vegetables and the like is named.
    #[must_use]
    pub fn water_words(&self, larder: &Larder) -> String {
        let items = self.items.iter().filter(|w| w.in_formula);
        let foods = items.filter_map(|w| Some((w.food?, w.grams?, w.counts_as)));
        match water_left_out(foods, self.flour.likely().as_grams(), larder) {
            None => "all water counted: that of eggs, milk, butter and syrups too".to_owned(),
            Some(left) => {
                format!("that of eggs, milk, butter and syrups too; water not counted: {left}")
            }
        }
    }
}

/// Water that a hydration does not count, in words: what lies in cheese, vegetables and the like, as in published
/// formulas, and what boils off. `None` where all is counted.
pub(crate) fn water_left_out(
    foods: impl Iterator<Item = (FoodId, Spread<Mass>, Option<CountsAs>)> + Clone,
    flour: f64,
    larder: &Larder,
) -> Option<String> {
    let mut left: Vec<String> = Vec::new();
    for (food, grams, _) in foods.clone() {
        let water = water_share(larder, food).unwrap_or(0.0) * grams.likely().as_grams();
        let counts = larder.food(food).flour_share() > 0.0 || counts_as_wet(larder, food);
        if !counts && water >= WORTH_NAMING * flour {
            left.push(format!("{water:.0} g in {}", larder.food(food).name));
        }
    }
    left.extend(boiled_off(foods, larder));
    (!left.is_empty()).then(|| left.join(", "))
}

/// Water that is not counted is named from this share of the flour phase.
const WORTH_NAMING: f64 = 0.02;

/// A recipe in grams.
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// The recipe it was weighed from.
    pub recipe: Recipe,
    /// Whose cups and spoons were read.
    pub locale: Locale,
    /// Its components, in the recipe's order.
    pub components: Vec<WeighedComponent>,
    /// Component places, each after those it uses.
    pub order: Vec<usize>,
    /// Doubts that came up in weighing, with component and line.
    pub doubts: Vec<(usize, usize, Doubt)>,
}

/// Why a recipe cannot be weighed.
#[derive(Debug, Clone, PartialEq)]
pub enum WeighError {
    /// Components use one another in a ring.
    Cycle {
        /// Line of the use that closes the ring.
        line: usize,
        /// Column of that use.
        column: usize,
        /// The components' names, first again at the end.
        path: Vec<String>,
    },
}

impl fmt::Display for WeighError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Cycle { line, column, path } => write!(
                f,
                "line {line}, column {column}: components use one another in a ring: {}\n  take one of these uses out, or give the part that is made first a name of its own",
                path.join(" → ")
            ),
        }
    }
}
impl std::error::Error for WeighError {}

/// The whole weight of one line's items, for callers that have a line and no recipe.
///
/// # Returns
/// The items, and the doubts that weighing adds to those of reading.
#[must_use]
pub fn line(line: &crate::Line, larder: &Larder, locale: Locale) -> (Vec<Weighed>, Vec<Doubt>) {
    let (mut all, mut doubts) = (Vec::new(), Vec::new());
    if line.kind != LineKind::Ingredient || line.found(DoubtCode::ImpossibleNumber) {
        for i in 0..line.items.len() {
            all.push(blank(0, i, &line.items[i]));
        }
        return (all, doubts);
    }
    for (i, item) in line.items.iter().enumerate() {
        let text = &line.clean;
        all.extend(weigh_item(0, i, item, text, larder, locale, &mut doubts));
    }
    (all, doubts)
}

fn blank(line: usize, item: usize, read: &Item) -> Weighed {
    let own = read.own_grams.get(&0).copied();
    Weighed {
        line,
        item,
        part: 0,
        food: read.food.as_ref().map(|m| m.food),
        component: None,
        size: read.qualities.size,
        grams: own.map(Spread::exact),
        basis: own.map(|_| Basis::Own),
        in_formula: read.purpose == Purpose::Formula,
        percent: None,
        counts_as: None,
    }
}

/// Whether a food's water counts in effective hydration: liquids, eggs, dairy, fats, syrups,
/// fruit, mashed vegetables and the like, as published formulas count it. Pieces of vegetable,
/// cheese, nut or chocolate, flavourings, spices and binders do not.
#[must_use]
pub fn counts_as_wet(larder: &Larder, food: FoodId) -> bool {
    use Function as F;
    let is = larder.food(food);
    // Mash is worked into the dough, and its water with it.
    let mash = is.function() == F::Vegetable && is.key.ends_with("_mashed");
    mash || matches!(
        is.function(),
        F::Liquid
            | F::Water
            | F::Egg
            | F::Dairy
            | F::Fat
            | F::Sugar
            | F::Syrup
            | F::Fruit
            | F::Yeast
            | F::Alcohol
            | F::Acid
            | F::Protein
    )
}

/// Water in 100 g, counted or not; `None` where only the label can tell.
fn water_share(larder: &Larder, food: FoodId) -> Option<f64> {
    larder.composition(food).water.map(|w| w / 100.0)
}

/// Weighs a recipe.
///
/// # Errors
/// [`WeighError::Cycle`] when components use one another in a ring.
pub fn formula(mut recipe: Recipe, larder: &Larder, locale: Locale) -> Result<Formula, WeighError> {
    let mut doubts: Vec<(usize, usize, Doubt)> = Vec::new();
    let names: Vec<String> = recipe.components.iter().map(|c| c.name.clone()).collect();
    let mut parts: Vec<Vec<Weighed>> = Vec::new();
    // Items named as a component is: what was asked about their food is answered.
    let mut named: Vec<(usize, usize, usize)> = Vec::new();
    for (c, component) in recipe.components.iter().enumerate() {
        let mut items = Vec::new();
        for (l, line) in component.lines.iter().enumerate() {
            if line.kind != LineKind::Ingredient {
                continue;
            }
            if line.found(DoubtCode::ImpossibleNumber) {
                // No weight comes of a number that cannot be: the line stays, unweighed.
                items.extend(
                    line.items
                        .iter()
                        .enumerate()
                        .map(|(i, item)| blank(l, i, item)),
                );
                continue;
            }
            for (i, item) in line.items.iter().enumerate() {
                let mut found = Vec::new();
                let mut weighed = weigh_item(l, i, item, &line.clean, larder, locale, &mut found);
                let used = uses(&names, c, item, line.words(&item.name));
                match used {
                    Some(Some(other)) => {
                        weighed.truncate(1);
                        weighed[0].component = Some(other);
                        weighed[0].food = None;
                        if item.reference.is_none() && weighed[0].grams.is_none() {
                            weighed[0].grams = stated(item, locale);
                        }
                        found.retain(|d| d.code != DoubtCode::NoWeight);
                        named.push((c, l, i));
                    }
                    Some(None) => {
                        let name = item.reference.as_ref().map_or("", |r| r.name.as_str());
                        found.push(Doubt::new(
                            DoubtCode::ComponentMissing,
                            format!("no component here is called '{name}': name one so, or give its ingredients"),
                        ));
                    }
                    None => {
                        let words = line.words(&item.name).to_lowercase();
                        if let (Some(noun), Some(food)) =
                            (words.strip_prefix("of the "), weighed[0].food)
                        {
                            found.push(Doubt::new(
                                DoubtCode::ComponentMissing,
                                format!(
                                    "no component here is called '{}': read as the food {}",
                                    noun.trim(),
                                    larder.food(food).name
                                ),
                            ));
                        }
                    }
                }
                doubts.extend(found.into_iter().map(|d| (c, l, d)));
                items.extend(weighed);
            }
        }
        parts.push(items);
    }
    for (c, l, i) in named {
        recipe.components[c].lines[l].drop_doubts_of_name(i);
        recipe.components[c].lines[l].drop_doubts_of_whole_parts(i);
    }
    browned::mark(&recipe, &mut parts, larder);
    let order = order(&recipe, &parts, &names)?;
    // Parts first, so that a use of half the dough knows what the dough makes.
    let mut makes: Vec<Spread<Mass>> = vec![Spread::exact(Mass::grams(0.0)); parts.len()];
    for &c in &order {
        resolve_uses(c, &recipe, &mut parts, &makes, larder, locale);
        makes[c] = Spread::sum_independent(
            parts[c]
                .iter()
                .filter(|w| w.in_formula)
                .filter_map(|w| w.grams),
        );
    }
    resolve_rests(&recipe, &mut parts, &makes, &mut doubts);
    let mut components = Vec::new();
    for (c, items) in parts.iter().enumerate() {
        components.push(component(&recipe.components[c], items, larder, &components));
    }
    // Water of used components needs them all: a second pass in order.
    for &c in &order {
        let done = component(&recipe.components[c], &parts[c], larder, &components);
        components[c] = done;
    }
    for c in 0..components.len() {
        let uses: Vec<Spread<Mass>> = parts
            .iter()
            .flatten()
            .filter(|w| w.component == Some(c))
            .filter_map(|w| w.grams)
            .collect();
        if !uses.is_empty() {
            let used = Spread::sum_independent(uses);
            let left = (components[c].makes.likely() - used.likely()).as_grams();
            if left < -0.03 * components[c].makes.likely().as_grams() {
                let line = 0;
                doubts.push((
                    c,
                    line,
                    Doubt::new(
                        DoubtCode::ComponentShort,
                        format!(
                            "'{}' makes {:.0} g but {:.0} g of it is used: make more of it or use less",
                            names[c],
                            components[c].makes.likely().as_grams(),
                            used.likely().as_grams()
                        ),
                    ),
                ));
            }
            components[c].left = Some(Spread::new(
                Mass::grams(
                    (components[c].makes.low() - used.high())
                        .as_grams()
                        .max(0.0),
                ),
                Mass::grams(left.max(0.0)),
                Mass::grams(
                    (components[c].makes.high() - used.low())
                        .as_grams()
                        .max(0.0),
                ),
            ));
            components[c].used = Some(used);
        }
    }
    for c in &mut components {
        for w in &mut c.items {
            w.percent = w
                .grams
                .filter(|_| w.in_formula)
                .and_then(|g| g.ratio_independent(c.flour).map(|r| r.scaled(100.0)));
            // The flour phase's own share of itself is not made doubtful by itself.
            if let (Some(p), Some(f)) = (w.percent, w.food)
                && larder.food(f).is_flour_phase()
            {
                let likely = p.likely().get();
                let spread = w.grams.map_or(0.0, Spread::relative_half_width).min(0.3);
                w.percent = Some(Spread::within(
                    Ratio::new(likely),
                    if (likely - 100.0).abs() < 1e-9 {
                        0.0
                    } else {
                        spread
                    },
                ));
            }
        }
    }
    // What cannot be comes before what is unsure.
    let mut slips = Vec::new();
    for (c, component) in components.iter().enumerate() {
        let found = component.items.iter().filter_map(|w| {
            let line = &recipe.components[c].lines[w.line];
            let doubt = slip::doubt(w, component, line, larder)?;
            let kind = w.food.and_then(|f| counts_as(f, larder)).map(|k| k.0);
            let bulky = kind.is_some_and(|k| matches!(k, "fat" | "sugar"));
            Some((bulky, (c, w.line, doubt)))
        });
        let found: Vec<_> = found.collect();
        // Fat and sugar both far above the flour: a filling with a spoon of flour.
        let filling = found.iter().filter(|f| f.0).count() > 1;
        slips.extend(found.into_iter().filter(|f| !(f.0 && filling)).map(|f| f.1));
    }
    slips.append(&mut doubts);
    Ok(Formula {
        recipe,
        locale,
        components,
        order,
        doubts: slips,
    })
}

/// Whether a component is a filling of ground nuts: they stand in for no flour of a dough. A crumb
/// of nut flour is a dough of its own.
pub(crate) fn is_nut_filling(
    name: &str,
    foods: impl IntoIterator<Item = FoodId>,
    larder: &Larder,
) -> bool {
    let mut flours = foods
        .into_iter()
        .filter(|f| larder.food(*f).flour_share() > 0.0)
        .peekable();
    goes_on_a_bake(name)
        && !is_crumb(name)
        && flours.peek().is_some()
        && flours.all(|f| larder.food(f).function() == Function::NutFlour)
}

fn component(
    read: &Component,
    items: &[Weighed],
    larder: &Larder,
    others: &[WeighedComponent],
) -> WeighedComponent {
    let counted: Vec<&Weighed> = items.iter().filter(|w| w.in_formula).collect();
    // Share of a used preferment that is flour, and that is water.
    let of_part = |w: &Weighed, what: fn(&WeighedComponent) -> Spread<Mass>| {
        let part = others
            .get(w.component?)
            .filter(|p| p.beforehand.is_some())?;
        let made = part.makes.likely().value();
        (made > 0.0).then(|| what(part).likely().value() / made)
    };
    let nuts = is_nut_filling(&read.name, counted.iter().filter_map(|w| w.food), larder);
    let flour = Spread::sum_independent(counted.iter().filter_map(|w| {
        let share = match w.food {
            _ if nuts => return None,
            Some(f) => larder.food(f).flour_share(),
            None => of_part(w, |p| p.flour)?,
        };
        (share > 0.0).then(|| w.grams.map(|g| g.scaled(share)))?
    }));
    let water = Spread::sum_independent(counted.iter().filter_map(|w| {
        let as_counted = w.counted();
        let share = match as_counted.map(|c| c.0).or(w.food) {
            Some(f) => {
                let flour = larder.food(f).flour_share();
                if flour >= 1.0 || flour == 0.0 && !counts_as_wet(larder, f) {
                    return None;
                }
                if flour > 0.0 {
                    1.0 - flour
                } else {
                    water_share(larder, f)?
                }
            }
            None => of_part(w, |p| p.water)?,
        };
        Some(as_counted.map_or(w.grams?, |c| c.1).scaled(share))
    }));
    let hydration = water.ratio_independent(flour).map(|r| r.scaled(100.0));
    WeighedComponent {
        name: read.name.clone(),
        beforehand: read.beforehand(),
        items: items.to_vec(),
        flour,
        water,
        makes: Spread::sum_independent(counted.iter().filter_map(|w| w.grams)),
        hydration: hydration.filter(|_| flour.likely().value() > 0.0),
        used: None,
        left: None,
        unweighed: counted.iter().filter(|w| w.grams.is_none()).count(),
    }
}
