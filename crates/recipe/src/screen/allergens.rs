//! Allergens gathered, and how each body of law wants them said.

use super::evidence::on_the_label;
use super::judge::has;
use larder::{Allergen, Food, FoodId, Gluten, Larder};
use std::collections::BTreeMap;

/// An allergen and where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct AllergenFinding {
    /// The allergen.
    pub allergen: Allergen,
    /// It is in it; otherwise only a label can tell.
    pub certain: bool,
    /// Only in what may be left out or taken instead.
    pub if_used: bool,
    /// The foods, 'if used' and 'check the label' said where they apply.
    pub from: Vec<String>,
    /// Why it is counted where nothing but a label the kitchen read names it: 'named on the label
    /// of ground cinnamon'.
    pub label: Option<String>,
}

/// The allergen words of one body of law.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RegimeStatement {
    /// What is in it.
    pub contains: Vec<String>,
    /// What only labels can tell.
    pub check: Vec<String>,
    /// What the law's list leaves out, and how it wants things said.
    pub notes: Vec<String>,
}

/// Allergens gathered, with the foods they come from.
#[derive(Default)]
pub(super) struct Gathered {
    by: BTreeMap<Allergen, Vec<(String, bool, bool)>>,
    labels: BTreeMap<Allergen, Vec<String>>,
}

impl Gathered {
    pub(super) fn add(&mut self, allergen: Allergen, from: &str, certain: bool, if_used: bool) {
        let list = self.by.entry(allergen).or_default();
        let new = (from.to_owned(), certain, if_used);
        if !list.contains(&new) {
            list.push(new);
        }
    }
    pub(super) fn add_food(&mut self, food: &Food, cleared: bool, certain: bool, if_used: bool) {
        for (a, maybe) in &food.allergens {
            let grain = matches!(a, Allergen::Wheat | Allergen::Rye | Allergen::Barley);
            let gone = cleared && grain && food.key != "wheat_starch_gf";
            self.add(*a, &food.name, certain && !maybe && !gone, if_used);
        }
    }
    /// What a food that is surely meant has, and what its label has to be read for, if that was not read through.
    pub(super) fn add_sure(&mut self, larder: &Larder, id: FoodId, cleared: bool, if_used: bool) {
        let mut food = larder.food(id).clone();
        food.allergens.retain(|(a, _)| !larder.is_not_named(id, *a));
        self.add_food(&food, cleared, true, if_used);
    }
    /// Gluten grain that the label of a food was seen to name.
    pub(super) fn add_label(&mut self, larder: &Larder, id: FoodId, if_used: bool) {
        let food = larder.food(id);
        let (grains, why) = on_the_label(larder, id);
        for grain in grains {
            self.add(grain, &why, true, if_used);
            if !has(food, grain) {
                self.labels.entry(grain).or_default().push(why.clone());
            }
        }
    }
    /// What the name of a kitchen's own food says: a thing to look for on its label.
    pub(super) fn add_kin(&mut self, larder: &Larder, id: FoodId, settled: bool, if_used: bool) {
        if !larder.own(id).is_some_and(|o| o.is_new()) {
            return;
        }
        for kin in larder.kin(id).iter().map(|k| larder.food(k.food)) {
            if settled && kin.gluten == Gluten::Contains {
                continue;
            }
            for (a, _) in &kin.allergens {
                if !has(larder.food(id), *a) && !larder.is_not_named(id, *a) {
                    self.add(*a, &larder.food(id).name, false, if_used);
                }
            }
        }
    }
    pub(super) fn findings(self) -> Vec<AllergenFinding> {
        let labels = self.labels;
        self.by
            .into_iter()
            .map(|(allergen, list)| {
                let mut named = labels.get(&allergen).cloned().unwrap_or_default();
                named.dedup();
                let label = list
                    .iter()
                    .all(|(name, certain, _)| !certain || named.contains(name))
                    .then(|| named.join(", "))
                    .filter(|words| !words.is_empty());
                let certain = list.iter().any(|(_, c, _)| *c);
                let counts = |c: bool| !certain || c;
                let if_used = list
                    .iter()
                    .filter(|(_, c, _)| counts(*c))
                    .all(|(_, _, u)| *u);
                let from = list
                    .iter()
                    .map(|(name, c, used)| {
                        let mut s = name.clone();
                        if *used {
                            s.push_str(" (if used)");
                        }
                        if !c {
                            s.push_str(" (check the label)");
                        }
                        s
                    })
                    .collect();
                AllergenFinding {
                    allergen,
                    certain,
                    if_used,
                    from,
                    label,
                }
            })
            .collect()
    }
}
