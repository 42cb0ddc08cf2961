//! The larder: what an ingredient is.
//!
//! Two layers. [`sr28`] is the USDA table of 8,789 foods, whole. On top, a curated table of
//! baking ingredients in the words people write ([`Food`]), with household weights
//! ([`Measure`]), composition, gluten and allergen judgement and water absorption, each with its
//! source. [`Larder::find`] goes from free text to a food.
//!
//! What does not live here: amounts in a recipe, arithmetic on doughs, disk, clock.

pub mod allergen;
mod food;
mod names;
mod own;
mod search;
pub mod sr28;
mod table;
mod trim;
mod usual;

pub use food::{
    Absorption, Allergen, Composition, CompositionRow, Food, Function, Gluten, Measure, PpmBasis,
    STATES, State, Status,
};
pub use names::{Certainty, FoodId, Match, Names, Qualities};
pub use own::{
    Evidence, EvidenceKind, Kin, Label, OwnEntry, OwnError, Price, ReadThrough, Stock, is_day,
};
pub use table::TableError;
pub use trim::Trim;

use quantity::{Hold, Locale, Mass, Quantity, Ratio, Spread, Unit};
use std::borrow::Cow;
use std::collections::{HashMap, HashSet};
use table::rows;

/// All foods, their measures, compositions and names.
#[derive(Clone, PartialEq)]
pub struct Larder {
    foods: Vec<Food>,
    by_key: HashMap<String, FoodId>,
    measures: Vec<Vec<Measure>>,
    compositions: Vec<Composition>,
    absorption: Vec<Option<Absorption>>,
    names: Names,
    /// Other names, in the table's order.
    also: Vec<Vec<Cow<'static, str>>>,
    /// Whose words the names on screens are in.
    locale: Locale,
    /// Foods that are called otherwise in some country.
    usual: HashMap<FoodId, usual::Usual>,
    search: search::Search,
    trim: HashMap<FoodId, Trim>,
    own: HashMap<FoodId, OwnEntry>,
    kin: HashMap<FoodId, Vec<Kin>>,
    /// Foods that hold gluten only by the pack this kitchen has.
    by_pack: HashSet<FoodId>,
}

/// A weight per measure, and the sentence that says where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct HouseholdWeight {
    /// Grams of the whole amount.
    pub grams: Spread<Mass>,
    /// Where the figure comes from.
    pub source: String,
    /// What it rests on.
    pub status: Status,
    /// The table has no such measure of this food; another one was used, this one.
    pub stand_in: Option<String>,
}

const FOODS: [(&str, &str); 3] = [
    ("foods/grain.tsv", include_str!("../data/foods/grain.tsv")),
    ("foods/pantry.tsv", include_str!("../data/foods/pantry.tsv")),
    (
        "foods/produce.tsv",
        include_str!("../data/foods/produce.tsv"),
    ),
];
const MEASURES: [(&str, &str); 3] = [
    (
        "measures/grain.tsv",
        include_str!("../data/measures/grain.tsv"),
    ),
    (
        "measures/pantry.tsv",
        include_str!("../data/measures/pantry.tsv"),
    ),
    (
        "measures/produce.tsv",
        include_str!("../data/measures/produce.tsv"),
    ),
];
const COMPOSITIONS: [(&str, &str); 3] = [
    (
        "compositions/grain.tsv",
        include_str!("../data/compositions/grain.tsv"),
    ),
    (
        "compositions/pantry.tsv",
        include_str!("../data/compositions/pantry.tsv"),
    ),
    (
        "compositions/produce.tsv",
        include_str!("../data/compositions/produce.tsv"),
    ),
];

/// Two megabytes of tables help nobody: only how much there is.
impl std::fmt::Debug for Larder {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Larder")
            .field("foods", &self.foods.len())
            .field("own", &self.own.len())
            .finish_non_exhaustive()
    }
}

impl Larder {
    /// The larder built into the program.
    ///
    /// # Errors
    /// [`TableError`] at the first broken row. This crate's tests read every table, so a
    /// released program never meets it.
    pub fn built_in() -> Result<Self, TableError> {
        let mut larder = Self {
            foods: Vec::with_capacity(512),
            by_key: HashMap::with_capacity(512),
            measures: Vec::new(),
            compositions: Vec::new(),
            absorption: Vec::new(),
            names: Names::new()?,
            also: Vec::with_capacity(512),
            locale: Locale::Us,
            usual: HashMap::new(),
            search: search::Search::default(),
            trim: HashMap::new(),
            own: HashMap::new(),
            kin: HashMap::new(),
            by_pack: HashSet::new(),
        };
        for (table, text) in FOODS {
            for row in rows(table, text) {
                let food = Food::read(&row)?;
                let id = FoodId(larder.foods.len() as u32);
                if larder.by_key.insert(food.key.clone(), id).is_some() {
                    return Err(row.wrong(format!("key '{}' stands twice", food.key)));
                }
                larder.names.add(&food.name, id, 0);
                larder.search.add(id, &food.name, true);
                let mut others = Vec::new();
                for also in row
                    .get("also")
                    .split('|')
                    .map(str::trim)
                    .filter(|s| !s.is_empty())
                {
                    let (locales, name) = also
                        .split_once(':')
                        .and_then(|(places, name)| Some((locale_bits(places)?, name.trim())))
                        .unwrap_or((0, also));
                    larder.names.add(name, id, locales);
                    larder.search.add(id, name, false);
                    others.push(Cow::Borrowed(name));
                }
                larder.also.push(others);
                larder.foods.push(food);
            }
        }
        larder.read_usual()?;
        larder.measures = vec![Vec::new(); larder.foods.len()];
        larder.absorption = vec![None; larder.foods.len()];
        for (table, text) in MEASURES {
            for row in rows(table, text) {
                let id = larder.need(&row)?;
                let grams = Spread::new(
                    Mass::grams(row.number("low")?),
                    Mass::grams(row.number("likely")?),
                    Mass::grams(row.number("high")?),
                );
                let state = row.get("state");
                let cell = row.need("measure")?;
                let (places, measure) = match cell.split_once(':') {
                    Some((keys, word)) => (
                        places(keys).ok_or_else(|| {
                            row.wrong(format!("measure '{cell}': '{keys}' are no locales"))
                        })?,
                        word,
                    ),
                    None => (Vec::new(), cell),
                };
                larder.measures[id.0 as usize].push(Measure {
                    measure: measure.to_owned(),
                    places,
                    state: State::from_word(state)
                        .ok_or_else(|| row.wrong(format!("state '{state}' is not known")))?,
                    grams,
                    source: row.get("source").to_owned(),
                    status: Status::read(&row, "status")?,
                });
            }
        }
        let mut own = HashMap::new();
        for (table, text) in COMPOSITIONS {
            for row in rows(table, text) {
                let composition = Composition {
                    water: row.maybe("water")?,
                    protein: row.maybe("protein")?,
                    fat: row.maybe("fat")?,
                    carbohydrate: row.maybe("carbohydrate")?,
                    fibre: row.maybe("fibre")?,
                    sugars: row.maybe("sugars")?,
                    starch: row.maybe("starch")?,
                    ash: row.maybe("ash")?,
                };
                own.insert(row.need("key")?.to_owned(), composition);
            }
        }
        for food in &larder.foods {
            larder.compositions.push(match &food.composition {
                CompositionRow::Label => Composition::default(),
                CompositionRow::Sr28(ndb) => from_sr28(*ndb, food.is_flour_phase()),
                CompositionRow::Own(key) => *own.get(key).ok_or_else(|| TableError {
                    table: "compositions",
                    line: 0,
                    what: format!(
                        "food '{}' asks for composition '{key}', which is absent",
                        food.key
                    ),
                })?,
            });
        }
        for row in rows("absorption.tsv", include_str!("../data/absorption.tsv")) {
            let id = larder.need(&row)?;
            larder.absorption[id.0 as usize] = Some(Absorption {
                water: Spread::new(
                    Ratio::new(row.number("low")?),
                    Ratio::new(row.number("likely")?),
                    Ratio::new(row.number("high")?),
                ),
                source: row.get("source").to_owned(),
                status: Status::read(&row, "status")?,
                flavour: row.maybe("flavour")?.unwrap_or(0.0) as u8,
                share: (
                    row.maybe("share_low")?.unwrap_or(0.0),
                    row.maybe("share_high")?.unwrap_or(100.0),
                ),
                texture: row.get("texture").to_owned(),
            });
        }
        larder.read_trim()?;
        Ok(larder)
    }

    fn need(&self, row: &table::Row<'_>) -> Result<FoodId, TableError> {
        let key = row.need("key")?;
        self.by_key
            .get(key)
            .copied()
            .ok_or_else(|| row.wrong(format!("no food has the key '{key}'")))
    }

    /// The food at an id.
    #[must_use]
    pub fn food(&self, id: FoodId) -> &Food {
        &self.foods[id.0 as usize]
    }
    /// The food with a key.
    #[must_use]
    pub fn by_key(&self, key: &str) -> Option<FoodId> {
        self.by_key.get(key).copied()
    }
    /// Every food's id.
    pub fn ids(&self) -> impl Iterator<Item = FoodId> + use<> {
        (0..self.foods.len() as u32).map(FoodId)
    }
    /// Its household weights.
    #[must_use]
    pub fn measures(&self, id: FoodId) -> &[Measure] {
        &self.measures[id.0 as usize]
    }
    /// Its composition per 100 g.
    #[must_use]
    pub fn composition(&self, id: FoodId) -> &Composition {
        &self.compositions[id.0 as usize]
    }
    /// Its water absorption, for flours, starches and binders.
    #[must_use]
    pub fn absorption(&self, id: FoodId) -> Option<&Absorption> {
        self.absorption[id.0 as usize].as_ref()
    }
    /// The food that words name.
    #[must_use]
    pub fn find(&self, text: &str, locale: Locale) -> Option<Match> {
        let found = self.names.find(text, locale)?;
        Some(self.ground_here(text, locale, &found).unwrap_or(found))
    }

    /// 'Hazelnuts, toasted and ground' are nuts that the baker grinds, not a bought flour of
    /// them: 'ground' stands behind the name, and not in brackets.
    fn ground_here(&self, text: &str, locale: Locale, found: &Match) -> Option<Match> {
        if self.food(found.food).function() != Function::NutFlour {
            return None;
        }
        let behind = text.get(found.span.end..)?.split('(').next()?;
        let mut words = behind.split(|c: char| !c.is_alphabetic());
        if !words.any(|w| w.eq_ignore_ascii_case("ground")) {
            return None;
        }
        let nut = self.names.find(text.get(found.span.clone())?, locale)?;
        (self.food(nut.food).function() == Function::Nut).then(|| Match {
            span: found.span.clone(),
            unknown: found.unknown.clone(),
            ..nut
        })
    }
    /// The index of names, for finer questions about words.
    #[must_use]
    pub fn names(&self) -> &Names {
        &self.names
    }

    /// A household weight of a food: so many of a unit, in a state.
    ///
    /// # Returns
    /// `None` where neither the table nor a density knows the measure. A measure that is only
    /// near (a tablespoon worked out from the cup, unsifted for sifted) says so in `stand_in`.
    #[must_use]
    pub fn weigh(
        &self,
        id: FoodId,
        unit: Unit,
        piece: Option<&str>,
        state: State,
        locale: Locale,
    ) -> Option<HouseholdWeight> {
        match unit.hold(locale) {
            Hold::Mass(m) => Some(HouseholdWeight {
                grams: Spread::exact(m),
                source: "NIST Handbook 44".to_owned(),
                status: Status::Seen,
                stand_in: None,
            }),
            Hold::Volume(ml) => {
                let per = match unit {
                    Unit::Tsp | Unit::Pinch | Unit::Dash | Unit::Drop => ["tsp", "tbsp", "cup"],
                    Unit::Tbsp | Unit::Dessertspoon => ["tbsp", "tsp", "cup"],
                    _ => ["cup", "tbsp", "tsp"],
                };
                self.weigh_volume(id, ml, per, state)
            }
            Hold::Piece => {
                let words: &[&str] = match (unit, piece) {
                    (Unit::Count, Some(size)) => &[size, "each"],
                    (Unit::Count, None) => &["each", "medium", "large"],
                    (Unit::Slice, _) => &["slice"],
                    (Unit::Clove, _) => &["clove", "each"],
                    (Unit::Sprig, _) => &["sprig"],
                    (Unit::Stick, _) => &["stick"],
                    (Unit::Packet, _) => &["packet", "sachet"],
                    (Unit::Can, _) => &["can"],
                    _ => &[],
                };
                let wanted = words.first()?;
                let found = words
                    .iter()
                    .find_map(|w| self.measure_in(id, w, locale).map(|m| (w, m)));
                let (word, m) = found?;
                Some(HouseholdWeight {
                    grams: m.grams,
                    source: m.source.clone(),
                    status: m.status,
                    stand_in: (piece.is_some() && word != wanted)
                        .then(|| "one of usual size".to_owned()),
                })
            }
        }
    }

    /// Grams of a volume of a food, from its cup or spoon weights, else its density.
    #[must_use]
    pub fn weigh_volume(
        &self,
        id: FoodId,
        ml: Spread<quantity::Volume>,
        per: [&str; 3],
        state: State,
    ) -> Option<HouseholdWeight> {
        for state in [state, State::Usual] {
            for (i, word) in per.into_iter().enumerate() {
                let Some(m) = self.measure(id, word, state) else {
                    continue;
                };
                // A spoon of flour is packed as its own row says; a spoon from the cup row only
                // when there is none.
                let us = Unit::from_code(word).map(|u| u.hold(Locale::Us));
                let Some(Hold::Volume(of)) = us else { continue };
                let count = ml.map::<Ratio>(|v| v / of.likely().as_millilitres());
                return Some(HouseholdWeight {
                    grams: m.grams.times(count),
                    source: m.source.clone(),
                    status: m.status,
                    stand_in: (i > 0 && word == "cup")
                        .then(|| "worked out from the cup".to_owned()),
                });
            }
        }
        let food = self.food(id);
        food.density.map(|d| HouseholdWeight {
            grams: Spread::new(
                Mass::of(ml.low().value() * d.low().get()),
                Mass::of(ml.likely().value() * d.likely().get()),
                Mass::of(ml.high().value() * d.high().get()),
            ),
            source: "density".to_owned(),
            status: food.status,
            stand_in: None,
        })
    }

    /// One row of the measures table, of those that hold everywhere.
    #[must_use]
    pub fn measure(&self, id: FoodId, word: &str, state: State) -> Option<&Measure> {
        self.measures(id)
            .iter()
            .find(|m| m.measure == word && m.state == state && m.places.is_empty())
    }

    /// What a piece or packet is as a country's shops sell it, else everybody's.
    #[must_use]
    pub fn measure_in(&self, id: FoodId, word: &str, locale: Locale) -> Option<&Measure> {
        self.measures(id)
            .iter()
            .find(|m| m.measure == word && m.places.contains(&locale))
            .or_else(|| self.measure(id, word, State::Usual))
    }
}

/// A list of locale keys; `None` where a word is no locale.
fn places(cell: &str) -> Option<Vec<Locale>> {
    cell.split(',').map(|l| l.trim().parse().ok()).collect()
}

/// Bits of a list of locale keys; `None` where a word is no locale.
fn locale_bits(cell: &str) -> Option<u8> {
    let bits = places(cell)?.into_iter().map(|l| 1 << l.index());
    Some(bits.fold(0, |all, bit| all | bit))
}

fn from_sr28(ndb: u32, flour: bool) -> Composition {
    use sr28::Nutrient as N;
    let Some(food) = sr28::food(ndb) else {
        return Composition::default();
    };
    let get = |n| food.get(n);
    // SR28 analyses starch in few flours; by difference elsewhere (`starch_basis` of the flour
    // table), which counts what is not fibre or sugar as starch.
    let by_difference = get(N::Carbohydrate)
        .map(|c| (c - get(N::Fibre).unwrap_or(0.0) - get(N::Sugars).unwrap_or(0.0)).max(0.0))
        .filter(|_| flour);
    Composition {
        water: get(N::Water),
        protein: get(N::Protein),
        fat: get(N::Fat),
        carbohydrate: get(N::Carbohydrate),
        fibre: get(N::Fibre),
        sugars: get(N::Sugars),
        starch: get(N::Starch).or(by_difference),
        ash: get(N::Ash),
    }
}

#[cfg(test)]
mod tests;
