//! The foods of a component before and after, with those of its preferments.

use super::balance::Balance;
use super::blend::Blend;
use super::engine::Work;
use super::reworked::{Kept, ReworkedComponent, ReworkedLine};
use crate::leaven::acid_of;
use crate::sentences::words;
use crate::weigh::{Formula, Weighed, counted};
use larder::{FoodId, Function, Gluten, Larder};
use quantity::{Mass, Quantity, Spread};

/// Sugar of a sweet bake, percent of its flour (common practice, no source).
const SWEET: f64 = 25.0;

/// The weighed foods of a component, those of its preferments among them.
pub(crate) fn foods(formula: &Formula, at: usize) -> Vec<(FoodId, Spread<Mass>)> {
    let mut all = Vec::new();
    for w in formula.components[at].items.iter().filter(|w| w.in_formula) {
        let Some(g) = w.grams else { continue };
        all.extend(w.counted());
        if let Some(part) = w.component.map(|c| &formula.components[c])
            && part.beforehand.is_some()
            && part.makes.likely().value() > 0.0
        {
            let share = g.likely().value() / part.makes.likely().value();
            let foods = part.items.iter().filter(|x| x.in_formula);
            all.extend(foods.filter_map(|x| {
                let (food, g) = x.counted()?;
                Some((food, g.scaled(share)))
            }));
        }
    }
    all
}

/// What may take soda and is in no figure: an acid without a weight, and what the larder does not
/// know at all.
fn is_uncounted(food: Option<FoodId>, weighed: bool, larder: &Larder) -> bool {
    food.is_none_or(|f| !weighed && acid_of(&larder.food(f).key).is_some())
}

/// What may take soda in a component and is in no figure, by name.
pub(crate) fn uncounted(formula: &Formula, at: usize, larder: &Larder) -> Vec<String> {
    let items = formula.components[at].items.iter();
    items
        .filter(|w| w.in_formula && w.component.is_none())
        .filter(|w| is_uncounted(w.food, w.grams.is_some(), larder))
        .map(|w| match w.food {
            Some(f) => larder.food(f).name.clone(),
            None => {
                let line = &formula.recipe.components[at].lines[w.line];
                line.words(&line.items[w.item].name).trim().to_owned()
            }
        })
        .collect()
}

/// The same of reworked lines.
pub(super) fn uncounted_of(lines: &[ReworkedLine], larder: &Larder) -> Vec<String> {
    let live = |l: &&ReworkedLine| l.in_formula && l.kept != Kept::Dropped && !l.blend;
    lines
        .iter()
        .filter(live)
        .filter(|l| l.component.is_none())
        .filter(|l| is_uncounted(l.food, l.grams.is_some(), larder))
        .map(|l| l.name.clone())
        .collect()
}

/// The foods of reworked lines, the blend taken apart. A binder of the blend is a line of its own.
fn foods_of(lines: &[ReworkedLine], blend: Option<&Blend>) -> Vec<(FoodId, Spread<Mass>)> {
    let mut all = Vec::new();
    for line in lines
        .iter()
        .filter(|l| l.kept != Kept::Dropped && l.in_formula)
    {
        let Some(g) = line.grams else { continue };
        match (line.blend, blend, line.food) {
            (true, Some(b), _) => {
                all.extend(b.parts.iter().map(|(f, s)| (*f, g.scaled(s / 100.0))))
            }
            (_, _, Some(f)) => all.push(counted(f, g, line.counts_as)),
            _ => {}
        }
    }
    all
}

/// The foods of a reworked component, those of its preferments among them.
pub(super) fn reworked_foods(
    components: &[ReworkedComponent],
    at: usize,
) -> Vec<(FoodId, Spread<Mass>)> {
    let c = &components[at];
    let mut all = foods_of(&c.lines, c.blend.as_ref());
    all.extend(of_preferments(&c.lines, |x| components.get(x)));
    all
}

/// Foods of the preferments that lines use, by the share that is used.
fn of_preferments<'p>(
    lines: &[ReworkedLine],
    part: impl Fn(usize) -> Option<&'p ReworkedComponent>,
) -> Vec<(FoodId, Spread<Mass>)> {
    let mut all = Vec::new();
    let live = |l: &&ReworkedLine| l.in_formula && l.kept != Kept::Dropped;
    for line in lines.iter().filter(live) {
        if let (Some(part), Some(g)) = (line.component.and_then(&part), line.grams)
            && part.beforehand.is_some()
            && part.makes.likely().value() > 0.0
        {
            let share = g.likely().value() / part.makes.likely().value();
            let foods = foods_of(&part.lines, part.blend.as_ref());
            all.extend(foods.into_iter().map(|(f, g)| (f, g.scaled(share))));
        }
    }
    all
}

impl Work<'_> {
    /// Share of the wheat flours that are whole grain: bran and all.
    pub(super) fn whole_grain_share(&self) -> f64 {
        let (mut whole, mut all) = (0.0, 0.0);
        for w in self.weighed.items.iter().filter(|w| w.in_formula) {
            let (Some(food), Some(g)) = (w.food, w.grams) else {
                continue;
            };
            if self.larder.food(food).is_flour_phase()
                && self.larder.food(food).gluten == Gluten::Contains
            {
                let g = g.likely().as_grams();
                all += g;
                // Bran shows in the fibre: white flours have below 5 g in 100 g.
                if self.larder.composition(food).fibre.unwrap_or(0.0) > 7.0 {
                    whole += g;
                }
            }
        }
        if all > 0.0 { whole / all } else { 0.0 }
    }

    /// Foods of the reworked lines, the blend taken apart, preferments among them.
    pub(super) fn foods(&self) -> Vec<(FoodId, Spread<Mass>)> {
        let mut all = foods_of(&self.lines, self.blend);
        all.extend(self.begun());
        all
    }

    /// Foods of the preferments this component uses.
    fn begun(&self) -> Vec<(FoodId, Spread<Mass>)> {
        of_preferments(&self.lines, |c| self.done.get(c).and_then(Option::as_ref))
    }

    /// Whether meat, poultry or fish bakes in this component or with it: it holds some, or its own steps name
    /// what does, or fill or wrap something. A sweet one is filled with no meat that its steps do not name.
    pub(super) fn bakes_meat(&self) -> bool {
        let is_meat = |i: &&Weighed| {
            let food = i.food.map(|f| self.larder.food(f));
            food.is_some_and(|f| f.does(Function::Meat))
        };
        if self.weighed.items.iter().any(|i| is_meat(&i)) {
            return true;
        }
        let text: Vec<String> = self.steps.iter().map(|s| s.text.to_lowercase()).collect();
        let text = text.join(" ");
        let parts = self
            .formula
            .components
            .iter()
            .zip(&self.formula.recipe.components);
        let mut elsewhere = parts.filter(|(c, _)| c.items.iter().any(|i| is_meat(&i)));
        let sweet = self.original.sugar >= SWEET;
        elsewhere.any(|(weighed, read)| {
            let meats = weighed.items.iter().filter(is_meat);
            let meats = meats.filter_map(|i| Some(self.larder.food(i.food?).name.to_lowercase()));
            let mut names: Vec<String> = meats
                .flat_map(|n| words(&n))
                .chain(words(&read.name))
                .filter(|w| w.len() > 2)
                .collect();
            if !sweet {
                names.extend(["fill", "wrap", "encase", "parcel", "lid"].map(str::to_owned));
            }
            self.steps.is_empty() || names.iter().any(|n| text.contains(n.as_str()))
        })
    }

    /// Whether a binder is in it that takes up water.
    pub(super) fn is_bound(&self) -> bool {
        self.balance().binder_percent() > 0.0
    }

    pub(super) fn balance(&self) -> Balance {
        let mut b = Balance::of(&self.foods(), self.larder);
        // Parts of one blend do not vary apart: the flour phase is as sure as its one line.
        let flour = Spread::sum_independent(
            self.lines
                .iter()
                .filter(|l| l.in_formula && l.kept != Kept::Dropped)
                .filter(|l| l.blend || l.food.is_some_and(|f| self.larder.food(f).is_flour_phase()))
                .filter_map(|l| l.grams)
                .chain(
                    self.begun()
                        .into_iter()
                        .filter(|(f, _)| self.larder.food(*f).is_flour_phase())
                        .map(|(_, g)| g),
                ),
        );
        b.flour = flour;
        b
    }
}

/// Whether words that the larder does not know name meat or fish: 'beef skirt, diced', not 'beef tomatoes'.
pub(crate) fn names_meat(name: &str) -> bool {
    const MEATS: [&str; 32] = [
        "beef", "brisket", "chicken", "clam", "cod", "duck", "fish", "gammon", "goose", "haddock",
        "ham", "lamb", "liver", "mackerel", "meat", "mince", "mussel", "mutton", "oxtail",
        "pheasant", "pork", "prawn", "rabbit", "sausage", "shrimp", "squid", "steak", "trotter",
        "trout", "turkey", "veal", "venison",
    ];
    const NONE: [&str; 14] = [
        "bouillon",
        "egg",
        "yolk",
        "cube",
        "dripping",
        "fat",
        "flavour",
        "gravy",
        "sauce",
        "seasoning",
        "stock",
        "tomato",
        "tomatoe",
        "vegan",
    ];
    let said = words(name);
    let has = |list: &[&str]| said.iter().any(|w| list.contains(&w.as_str()));
    has(&MEATS) && !has(&NONE)
}
