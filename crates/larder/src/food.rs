//! A food of the curated table: what a baker's word stands for.

use crate::table::{Row, TableError};
use quantity::{Locale, Mass, Ratio, Spread};

/// What a fact rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Read in a published document or table.
    Seen,
    /// Ordinary practice of the trade, without a source.
    CommonPractice,
    /// Remembered, not looked up.
    FromMemory,
}

impl Status {
    /// The words used in tables and on screens.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Seen => "seen",
            Self::CommonPractice => "common practice, no source",
            Self::FromMemory => "from memory",
        }
    }
    pub(crate) fn read(row: &Row<'_>, column: &str) -> Result<Self, TableError> {
        match row.get(column) {
            "seen" | "stated" => Ok(Self::Seen),
            "from memory" => Ok(Self::FromMemory),
            "common practice" | "common practice, no source" => Ok(Self::CommonPractice),
            other => Err(row.wrong(format!(
                "status '{other}': write seen, common practice or from memory"
            ))),
        }
    }
}

macro_rules! words {
    ($(#[$meta:meta])* $name:ident { $($(#[$m:meta])* $variant:ident = $word:literal),* $(,)? }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name { $($(#[$m])* #[doc = concat!("`", $word, "`.")] $variant),* }
        impl $name {
            /// Every value.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];
            /// The word in tables and machine-readable output.
            #[must_use]
            pub fn word(self) -> &'static str { match self { $(Self::$variant => $word),* } }
            /// The value with this word.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|v| v.word() == word)
            }
        }
    };
}
pub(crate) use words;

words! {
    /// What a food does in a formula. The first one listed for a food is the main one.
    Function {
        Flour = "flour", Starch = "starch", NutFlour = "nut_flour", PulseFlour = "pulse_flour",
        Binder = "binder", Protein = "protein", Fat = "fat", Sugar = "sugar", Syrup = "syrup",
        Liquid = "liquid", Egg = "egg", Dairy = "dairy", Leavening = "leavening",
        Yeast = "yeast", Acid = "acid", Salt = "salt", Flavour = "flavour", Spice = "spice",
        Chocolate = "chocolate", Fruit = "fruit", Vegetable = "vegetable", Nut = "nut",
        Seed = "seed", Inclusion = "inclusion", Thickener = "thickener", Crumb = "crumb",
        Pasta = "pasta", Meat = "meat", Prepared = "prepared", Preserve = "preserve",
        Colour = "colour", Alcohol = "alcohol", Water = "water",
    }
}

impl Function {
    /// Whether a food of this main function belongs to the flour phase.
    #[must_use]
    pub fn is_flour_phase(self) -> bool {
        matches!(
            self,
            Self::Flour | Self::Starch | Self::NutFlour | Self::PulseFlour
        )
    }
}

words! {
    /// What a food's name alone says about gluten. A label can only make it better known.
    Gluten {
        /// Gluten is in it: it fails at any amount.
        Contains = "contains",
        /// Only the label can tell.
        Check = "check",
        /// No gluten by nature.
        Free = "free",
    }
}

impl Gluten {
    /// The words on screens.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Contains => "contains gluten",
            Self::Check => "check the label",
            Self::Free => "free by nature",
        }
    }
    /// The more careful of two verdicts.
    #[must_use]
    pub fn worse(self, other: Self) -> Self {
        self.min(other)
    }
}

/// Where a figure for gluten in parts per million comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PpmBasis {
    /// No source of gluten: counted as 0 ppm.
    NoSource,
    /// Free by nature, but mixed in field and mill: unlabelled product has been found with
    /// gluten, at most the survey's figure where there is one.
    Grain {
        /// Highest figure of a published survey of unlabelled product, ppm.
        survey_max: Option<f64>,
    },
    /// Compound or unsure: only the label can tell.
    Label,
    /// Contains gluten.
    Gluten,
}

words! {
    /// An allergen as one thing; which law names it how is in [`crate::allergen`].
    Allergen {
        Wheat = "wheat", Rye = "rye", Barley = "barley", Oats = "oats", Milk = "milk",
        Egg = "egg", Soy = "soy", Peanut = "peanut", Almond = "almond", Hazelnut = "hazelnut",
        Walnut = "walnut", Cashew = "cashew", Pecan = "pecan", BrazilNut = "brazil_nut",
        Pistachio = "pistachio", Macadamia = "macadamia", PineNut = "pine_nut",
        Coconut = "coconut", Chestnut = "chestnut", Sesame = "sesame", Mustard = "mustard",
        Celery = "celery", Lupin = "lupin", Sulphites = "sulphites", Fish = "fish",
        Crustacean = "crustacean", Mollusc = "mollusc",
    }
}

/// Where a food's composition stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CompositionRow {
    /// A row of USDA SR28.
    Sr28(u32),
    /// A row of the larder's own composition tables.
    Own(String),
    /// Only its label can tell.
    Label,
}

/// A food of the larder.
#[derive(Debug, Clone, PartialEq)]
pub struct Food {
    /// Unique key.
    pub key: String,
    /// The plain name on screens.
    pub name: String,
    /// What it does in a formula, main function first; never empty.
    pub functions: Vec<Function>,
    /// Where its composition stands.
    pub composition: CompositionRow,
    /// Grams per millilitre, for liquids.
    pub density: Option<Spread<Ratio>>,
    /// The verdict on gluten.
    pub gluten: Gluten,
    /// Why.
    pub gluten_reason: String,
    /// Where a ppm figure could come from.
    pub ppm: PpmBasis,
    /// Allergens; `true` where only the label can tell.
    pub allergens: Vec<(Allergen, bool)>,
    /// Source of the gluten and allergen judgement.
    pub source: String,
    /// What that judgement rests on.
    pub status: Status,
    /// Anything a baker must know; often empty.
    pub note: String,
}

impl Food {
    /// The main function.
    #[must_use]
    pub fn function(&self) -> Function {
        self.functions[0]
    }
    /// Whether it belongs to the flour phase.
    #[must_use]
    pub fn is_flour_phase(&self) -> bool {
        self.function().is_flour_phase()
    }
    /// How much of it is flour: all of a flour, half of a sourdough starter (kept at equal
    /// weights of flour and water: common practice, no source), none of anything else.
    #[must_use]
    pub fn flour_share(&self) -> f64 {
        if self.is_flour_phase() {
            1.0
        } else if self.is_starter() {
            0.5
        } else {
            0.0
        }
    }
    /// Whether it is a live starter, of whatever flour: it raises a dough as yeast does.
    #[must_use]
    pub fn is_starter(&self) -> bool {
        self.key.ends_with("sourdough_starter")
    }
    /// Whether it has a function, main or other.
    #[must_use]
    pub fn does(&self, function: Function) -> bool {
        self.functions.contains(&function)
    }
    /// Whether what it goes into spoils in the warm: egg, milk, cream, yoghurt, soft and grated cheese.
    /// Butter, hard cheese and parmesan do not count.
    ///
    /// # Source
    /// US FoodSafety.gov, table for power cuts: soft cheese, mozzarella and blue cheese among them, and
    /// shredded cheese are thrown away after 2 hours above 40 °F, hard cheese and butter are kept (from
    /// memory); feta and halloumi as the soft ones: common practice, no source.
    #[must_use]
    pub fn spoils(&self) -> bool {
        const CHEESE: [&str; 7] = [
            "blue_cheese",
            "feta",
            "grated_cheese",
            "halloumi",
            "monterey_jack",
            "mozzarella",
            "mozzarella_low",
        ];
        if CHEESE.contains(&self.key.as_str()) {
            return true;
        }
        let main = matches!(self.function(), Function::Dairy | Function::Liquid);
        self.function() == Function::Egg || main && self.does(Function::Dairy)
    }
    /// Whether it spoils in the warm once it is cooked: grains, pasta, pulses, potatoes and other vegetables. What is
    /// sour, salted or dried does not.
    ///
    /// # Source
    /// Conference for Food Protection 2016, issue III 020 (seen): roots and grains are held by time and temperature
    /// once heat treated; FDA Food Code, the same of every heat-treated plant food (from memory).
    #[must_use]
    pub fn spoils_once_cooked(&self) -> bool {
        const GRAINS: [&str; 18] = [
            "amaranth",
            "brown_rice",
            "buckwheat_groats",
            "bulgur",
            "couscous",
            "farro",
            "fonio",
            "freekeh",
            "glutinous_rice",
            "millet",
            "pearl_barley",
            "quinoa",
            "short_grain_rice",
            "sorghum",
            "spelt_grain",
            "wheat_berries",
            "white_rice",
            "wild_rice",
        ];
        const PULSES: [&str; 5] = [
            "chickpeas_dried",
            "dried_peas",
            "lentils_dried",
            "lentils_red",
            "split_peas",
        ];
        const KEEP: [&str; 9] = [
            "capers",
            "flavoured_crisps",
            "gherkins",
            "olives_black",
            "olives_green",
            "rhubarb",
            "tomato_paste",
            "tomato_sundried",
            "tomato_sundried_oil",
        ];
        let key = self.key.as_str();
        let listed = GRAINS.contains(&key) || PULSES.contains(&key);
        let grown = self.does(Function::Vegetable) || self.does(Function::Pasta);
        listed || grown && !KEEP.contains(&key)
    }
    pub(crate) fn read(row: &Row<'_>) -> Result<Self, TableError> {
        let functions = row
            .need("function")?
            .split(',')
            .map(|w| {
                Function::from_word(w.trim())
                    .ok_or_else(|| row.wrong(format!("function '{}' is not known", w.trim())))
            })
            .collect::<Result<Vec<_>, _>>()?;
        let composition = match row.need("composition")? {
            "label" => CompositionRow::Label,
            cell => match cell.split_once(':') {
                Some(("sr28", n)) => match n.parse() {
                    Ok(n) if crate::sr28::food(n).is_some() => CompositionRow::Sr28(n),
                    _ => return Err(row.wrong(format!("SR28 has no row '{n}'"))),
                },
                Some(("own", key)) => CompositionRow::Own(key.to_owned()),
                _ => {
                    return Err(
                        row.wrong(format!("composition '{cell}' is not sr28:, own: or label"))
                    );
                }
            },
        };
        let gluten = row.need("gluten")?;
        let ppm = match row
            .need("ppm")?
            .split_once(':')
            .unwrap_or((row.get("ppm"), ""))
        {
            ("none", _) => PpmBasis::NoSource,
            ("grain", n) => PpmBasis::Grain {
                survey_max: n.parse().ok(),
            },
            ("label", _) => PpmBasis::Label,
            ("gluten", _) => PpmBasis::Gluten,
            (other, _) => {
                return Err(row.wrong(format!("ppm '{other}' is not none, grain, label or gluten")));
            }
        };
        let allergens = row
            .get("allergens")
            .split(',')
            .map(str::trim)
            .filter(|w| !w.is_empty())
            .map(|w| {
                let name = w.trim_end_matches('?');
                Allergen::from_word(name)
                    .map(|a| (a, w.ends_with('?')))
                    .ok_or_else(|| row.wrong(format!("allergen '{name}' is not known")))
            })
            .collect::<Result<Vec<_>, _>>()?;
        let density = match row.get("density") {
            "" => None,
            cell => Some(
                three(cell)
                    .ok_or_else(|| row.wrong(format!("density '{cell}' is not low-likely-high")))?,
            ),
        };
        Ok(Self {
            key: row.need("key")?.to_owned(),
            name: row.need("name")?.to_owned(),
            functions,
            composition,
            density,
            gluten: Gluten::from_word(gluten).ok_or_else(|| {
                row.wrong(format!("gluten '{gluten}' is not contains, check or free"))
            })?,
            gluten_reason: row.get("gluten_reason").to_owned(),
            ppm,
            allergens,
            source: row.get("source").to_owned(),
            status: Status::read(row, "status")?,
            note: row.get("note").to_owned(),
        })
    }
}

/// `low-likely-high` as a spread.
fn three(cell: &str) -> Option<Spread<Ratio>> {
    let numbers: Vec<f64> = cell
        .split('-')
        .map(|n| n.trim().parse().ok())
        .collect::<Option<_>>()?;
    let [low, likely, high] = numbers[..] else {
        return None;
    };
    Some(Spread::new(
        Ratio::new(low),
        Ratio::new(likely),
        Ratio::new(high),
    ))
}

/// How a food is prepared when it is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum State {
    /// As usual.
    Usual,
    /// One of the table's words: `sifted`, `packed`, `chopped` …
    Is(&'static str),
}

/// The words a measure's state can be.
pub const STATES: [&str; 12] = [
    "sifted", "packed", "loose", "chopped", "grated", "sliced", "ground", "mashed", "melted",
    "whole", "halves", "crushed",
];

impl State {
    /// The state with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        match word {
            "" => Some(Self::Usual),
            "toasted" => Some(Self::Usual),
            w => STATES.into_iter().find(|s| *s == w).map(Self::Is),
        }
    }
}

/// A household weight: one of a measure of a food.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// The measure's word: `cup`, `tbsp`, `each`, `large`, `stick` …
    pub measure: String,
    /// Whose measure it is, where the shops of other countries sell another: a stock cube, a
    /// sachet of gelatine. Empty: everybody's.
    pub places: Vec<Locale>,
    /// How the food is prepared.
    pub state: State,
    /// Grams of one measure.
    pub grams: Spread<Mass>,
    /// Where the figure comes from.
    pub source: String,
    /// What it rests on.
    pub status: Status,
}

/// Composition per 100 g. Absent figures are `None`, never zero.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Composition {
    /// Water, g.
    pub water: Option<f64>,
    /// Protein, g.
    pub protein: Option<f64>,
    /// Fat, g.
    pub fat: Option<f64>,
    /// Carbohydrate by difference, fibre included, g.
    pub carbohydrate: Option<f64>,
    /// Fibre, g.
    pub fibre: Option<f64>,
    /// Sugars, g.
    pub sugars: Option<f64>,
    /// Starch, g: analysed, else carbohydrate less fibre and sugars for flours.
    pub starch: Option<f64>,
    /// Ash, g.
    pub ash: Option<f64>,
}

/// Water a flour or binder takes up at dough consistency, g per g, and how it tastes and may be
/// dosed.
#[derive(Debug, Clone, PartialEq)]
pub struct Absorption {
    /// g of water per g.
    pub water: Spread<Ratio>,
    /// Source of the figure.
    pub source: String,
    /// What it rests on.
    pub status: Status,
    /// Strength of flavour, 0 (neutral) to 3 (strong).
    pub flavour: u8,
    /// Usual share of a blend, percent, low and high.
    pub share: (f64, f64),
    /// What it does to the crumb.
    pub texture: String,
}
