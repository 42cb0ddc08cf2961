//! Own entries laid over the larder.

use super::check::{OwnError, VOLUMES};
use super::{EvidenceKind, Label, OwnEntry, Price, Stock};
use crate::allergen::{Regime, declared};
use crate::names::{LONGEST_NAME, plain};
use crate::{
    Allergen, Composition, CompositionRow, Food, FoodId, Function, Gluten, Larder, Measure,
    PpmBasis, State, Status,
};
use quantity::{Mass, Spread};
use std::borrow::Cow;

/// Source of an own weight.
const WEIGHED: &str = "weighed in this kitchen";
/// Doubt of an own cup or spoon, and of an own piece: pieces differ more than cups of one hand.
/// Common practice, no source.
const CUP_DOUBT: f64 = 0.05;
const PIECE_DOUBT: f64 = 0.1;

/// A food whose name stands inside a name that the kitchen gives another food.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kin {
    /// The food.
    pub food: FoodId,
    /// More than one word of the name says so.
    pub sure: bool,
}

impl Larder {
    /// This larder with the kitchen's own entries laid over it.
    ///
    /// A new food is added to the name index, and its names win over equal built-in ones. Own
    /// weights are of US customary cups and spoons (236.6, 14.8 and 4.9 mL). Evidence that says
    /// gluten makes a food contain gluten here; other evidence only counts when a recipe is
    /// screened. Lay all entries over the built-in larder at once: those of an earlier call stay.
    ///
    /// # Errors
    /// [`OwnError`] for the first entry that cannot be, or a key that stands twice.
    pub fn with_own(&self, own: &[OwnEntry]) -> Result<Self, OwnError> {
        let mut out = self.clone();
        for (i, entry) in own.iter().enumerate() {
            entry.check_fields(self)?;
            if own[..i].iter().any(|e| e.key == entry.key) {
                return Err(OwnError {
                    entry: entry.key.clone(),
                    field: "key".to_owned(),
                    found: format!("'{}' stands twice", entry.key),
                    expected: "one entry for each food".to_owned(),
                    mend: "put both into one".to_owned(),
                });
            }
            out.lay(self, entry);
        }
        for entry in own {
            entry.check_found(&out)?;
        }
        Ok(out)
    }

    fn lay(&mut self, before: &Self, entry: &OwnEntry) {
        let id = self.by_key(&entry.key).unwrap_or_else(|| self.add(entry));
        self.own.insert(id, entry.clone());
        let mut kin: Vec<Kin> = Vec::new();
        for name in entry.name.iter().chain(&entry.also) {
            for (food, span) in before.names.mentions(name, quantity::Locale::Us) {
                let words = name.get(span).unwrap_or_default();
                if food != id {
                    kin.push(Kin {
                        food,
                        sure: before.names.word_count(words) > 1,
                    });
                }
            }
            let own = &self.own;
            self.names.add_over(name, id, |f| own.contains_key(&f));
            // 'Gluten-free' before it leaves the food what it is: what that says is the screen's.
            let free = format!("gluten-free {name}");
            if entry.is_new()
                && self.names.word_count(&free) <= LONGEST_NAME
                && self.names.exact(&free).is_empty()
            {
                self.names.add(&free, id, 0);
            }
            self.search.add(id, name, entry.name.as_ref() == Some(name));
        }
        if !kin.is_empty() {
            self.kin.insert(id, kin);
        }
        let at = id.0 as usize;
        self.also[at].extend(entry.also.iter().map(|n| Cow::Owned(n.trim().to_owned())));
        let food = &mut self.foods[at];
        if let Some(name) = &entry.name {
            let name = name.trim().to_owned();
            let old = std::mem::replace(&mut food.name, name);
            if old != food.name {
                self.also[at].push(Cow::Owned(old));
            }
            // The kitchen's own name is its name everywhere.
            self.usual.remove(&id);
        }
        if entry.is_new()
            && let Some(function) = entry.function.as_deref().and_then(Function::from_word)
        {
            food.functions = vec![function];
        }
        let mut grain = None;
        for allergen in entry
            .allergens
            .iter()
            .filter_map(|w| Allergen::from_word(w))
        {
            let certain = food.allergens.contains(&(allergen, false));
            if !certain && matches!(allergen, Allergen::Wheat | Allergen::Rye | Allergen::Barley) {
                grain = Some(allergen);
            }
            match food.allergens.iter_mut().find(|(a, _)| *a == allergen) {
                Some((_, maybe)) => *maybe = false,
                None => food.allergens.push((allergen, false)),
            }
        }
        if !entry.note.trim().is_empty() {
            if !food.note.is_empty() {
                food.note.push_str("; ");
            }
            food.note.push_str(entry.note.trim());
        }
        let was = food.gluten;
        // Wheat, rye or barley that the larder does not know of is gluten, whatever else is said.
        if let Some(grain) = grain
            && food.gluten != Gluten::Contains
        {
            food.gluten = Gluten::Contains;
            food.gluten_reason = format!("its label names {}", grain.word());
            food.ppm = PpmBasis::Gluten;
            food.source = "the label this kitchen read".to_owned();
            food.status = Status::Seen;
        }
        if let Some(evidence) = &entry.gluten
            && evidence.says_gluten()
        {
            food.gluten = Gluten::Contains;
            food.gluten_reason = evidence.words();
            food.ppm = PpmBasis::Gluten;
            food.source = match evidence.kind {
                EvidenceKind::Test { .. } => "a test this kitchen saw".to_owned(),
                _ => "the label this kitchen read".to_owned(),
            };
            food.status = Status::Seen;
        }
        if !entry.is_new() && was != Gluten::Contains && food.gluten == Gluten::Contains {
            self.by_pack.insert(id);
        }
        if let Some(label) = &entry.label {
            let flour = food.is_flour_phase();
            // No longer the row of a published table. A compound food stays one: its allergens
            // differ from pack to pack.
            if entry.is_new() || food.composition != CompositionRow::Label {
                food.composition = CompositionRow::Own(food.key.clone());
            }
            self.compositions[at] = label.over(&self.compositions[at], flour);
        }
        self.lay_weights(id, entry);
    }

    /// Adds a new food, of which nothing is known yet.
    fn add(&mut self, entry: &OwnEntry) -> FoodId {
        let id = FoodId(self.foods.len() as u32);
        let name = entry.name.as_deref().unwrap_or(&entry.key).trim();
        let function = entry.function.as_deref().and_then(Function::from_word);
        self.by_key.insert(entry.key.clone(), id);
        self.foods.push(Food {
            key: entry.key.clone(),
            name: name.to_owned(),
            functions: vec![function.unwrap_or(Function::Prepared)],
            composition: CompositionRow::Label,
            density: None,
            gluten: Gluten::Check,
            gluten_reason: "the kitchen's own food: only its label can tell".to_owned(),
            ppm: PpmBasis::Label,
            allergens: Vec::new(),
            source: "common practice, no source".to_owned(),
            status: Status::CommonPractice,
            note: String::new(),
        });
        self.measures.push(Vec::new());
        self.compositions.push(Composition::default());
        self.absorption.push(None);
        self.also.push(Vec::new());
        id
    }

    fn lay_weights(&mut self, id: FoodId, entry: &OwnEntry) {
        let rows = &mut self.measures[id.0 as usize];
        let mut put = |word: &str, grams: Spread<Mass>, source: String| {
            let row = Measure {
                measure: word.to_owned(),
                places: Vec::new(),
                state: State::Usual,
                grams,
                source,
                status: Status::CommonPractice,
            };
            // What this kitchen buys is what it weighed, whatever a country's shops sell.
            rows.retain(|m| m.measure != word || m.places.is_empty());
            match rows
                .iter_mut()
                .find(|m| m.measure == word && m.state == State::Usual)
            {
                Some(old) => *old = row,
                None => rows.push(row),
            }
        };
        for (word, grams) in &entry.weights {
            let volume = VOLUMES.iter().any(|(w, _)| w == word);
            let doubt = if volume { CUP_DOUBT } else { PIECE_DOUBT };
            put(
                word,
                Spread::within(Mass::grams(*grams), doubt),
                format!(
                    "{WEIGHED}; spread of {:.0} %: common practice, no source",
                    doubt * 100.0
                ),
            );
        }
        // A table's own spoon that an own cup (or tablespoon) contradicts follows it.
        for (i, (small, small_ml)) in VOLUMES.iter().enumerate() {
            if entry.weights.contains_key(*small) {
                continue;
            }
            let larger = VOLUMES[..i]
                .iter()
                .find_map(|(w, ml)| entry.weights.get(*w).map(|g| (w, g * small_ml / ml)));
            let Some((larger, grams)) = larger else {
                continue;
            };
            let grams = Mass::grams(grams);
            let rows = &mut self.measures[id.0 as usize];
            if let Some(row) = rows
                .iter_mut()
                .find(|m| m.measure == *small && m.state == State::Usual)
                && !row.grams.holds(grams)
            {
                row.grams = Spread::within(grams, CUP_DOUBT);
                row.source = format!(
                    "worked out from the {larger} {WEIGHED}; spread of {:.0} %: common practice, no source",
                    CUP_DOUBT * 100.0
                );
                row.status = Status::CommonPractice;
            }
        }
    }

    /// The kitchen's own entry about a food.
    #[must_use]
    pub fn own(&self, id: FoodId) -> Option<&OwnEntry> {
        self.own.get(&id)
    }
    /// Whether the kitchen has an own entry about a food.
    #[must_use]
    pub fn is_own(&self, id: FoodId) -> bool {
        self.own.contains_key(&id)
    }
    /// What a pack of a food costs this kitchen.
    #[must_use]
    pub fn price(&self, id: FoodId) -> Option<&Price> {
        self.own(id)?.price.as_ref()
    }
    /// The packs this kitchen can buy of a food, the usual one first.
    pub fn packs(&self, id: FoodId) -> impl Iterator<Item = &Price> {
        let own = self.own(id);
        let usual = own.and_then(|e| e.price.as_ref());
        usual.into_iter().chain(own.map_or(&[][..], |e| &e.packs))
    }
    /// What the kitchen has of a food.
    #[must_use]
    pub fn stock(&self, id: FoodId) -> Option<&Stock> {
        self.own(id)?.stock.as_ref()
    }
    /// The other names of a food, in the table's order, the kitchen's own last.
    #[must_use]
    pub fn also(&self, id: FoodId) -> Vec<&str> {
        let shown = plain(&self.food(id).name);
        let others = self.also[id.0 as usize].iter().map(AsRef::as_ref);
        std::iter::once(self.plain_name(id))
            .chain(others)
            .filter(|n| plain(n) != shown)
            .collect()
    }
    /// Whether gluten is in a food only by what this kitchen read of the pack it has: another pack
    /// may be without.
    #[must_use]
    pub fn is_by_pack(&self, id: FoodId) -> bool {
        self.by_pack.contains(&id)
    }
    /// The law of the label of a food that the kitchen read through for allergens.
    #[must_use]
    pub fn read_through(&self, id: FoodId) -> Option<Regime> {
        self.own(id)?.read_through.as_ref()?.law()
    }
    /// Whether the label of a food was read through and does not name an allergen that its law wants named.
    /// What is in the food by its nature is no question for a label.
    #[must_use]
    pub fn is_not_named(&self, id: FoodId, allergen: Allergen) -> bool {
        let law = self.read_through(id);
        law.is_some_and(|law| declared(allergen, law).is_some())
            && !self.food(id).allergens.contains(&(allergen, false))
    }
    /// Foods whose names stand inside the kitchen's names for this one: 'miso' in 'Harrow miso'.
    #[must_use]
    pub fn kin(&self, id: FoodId) -> &[Kin] {
        self.kin.get(&id).map_or(&[], Vec::as_slice)
    }
}

impl Label {
    /// A composition with the label's figures in place of its own.
    ///
    /// Carbohydrate by difference counts fibre: an EU label's figure gets the fibre added, and
    /// where the fibre is known nowhere the carbohydrate stays as it was. Water that the label
    /// leaves out is what protein, fat, carbohydrate with fibre and known ash leave of 100 g,
    /// where the label gives those; else it stays, but never above what they leave.
    #[must_use]
    pub(super) fn over(&self, before: &Composition, flour: bool) -> Composition {
        let mut out = *before;
        let put = |to: &mut Option<f64>, from: Option<f64>| {
            if from.is_some() {
                *to = from;
            }
        };
        put(&mut out.protein, self.protein);
        put(&mut out.fat, self.fat);
        put(&mut out.fibre, self.fibre);
        put(&mut out.sugars, self.sugars);
        let whole = self.carbohydrate.and_then(|c| {
            if self.with_fibre {
                Some(c)
            } else {
                out.fibre.map(|f| c + f)
            }
        });
        put(&mut out.carbohydrate, whole);
        let rest = [out.protein, out.fat, out.carbohydrate, out.ash]
            .into_iter()
            .flatten()
            .sum::<f64>();
        let left = (100.0 - rest).max(0.0);
        let given = [self.protein, self.fat, self.carbohydrate, self.fibre]
            .iter()
            .all(Option::is_some);
        out.water = match self.water {
            Some(w) => Some(w),
            None if given => Some(left),
            None => before.water.map(|w| w.min(left)),
        };
        let changed = self.carbohydrate.is_some() || self.fibre.is_some() || self.sugars.is_some();
        if changed && let Some(c) = out.carbohydrate {
            let most = (c - out.fibre.unwrap_or(0.0) - out.sugars.unwrap_or(0.0)).max(0.0);
            out.starch = if flour {
                Some(most)
            } else {
                out.starch.map(|s| s.min(most))
            };
        }
        out
    }
}
