//! What a reader leaves out besides gluten, and which foods hold it.

use crate::data::rows;
use larder::allergen::{Regime, declared, is_tree_nut};
use larder::{Allergen, FoodId, Larder};
use std::collections::BTreeMap;
use std::fmt;
use std::sync::LazyLock;

/// What is left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LeftOut {
    /// Cow's milk and all that is made of it.
    Dairy,
    /// Hen's egg.
    Egg,
    /// Tree nuts, by every list: coconut and chestnut are named too.
    TreeNuts,
    /// Peanut.
    Peanut,
    /// Soy.
    Soy,
    /// Maize, its starch and its syrups.
    Corn,
    /// Rice.
    Rice,
    /// Potato starch and flour, and the vegetables and spices of that family.
    Nightshade,
    /// Xanthan, guar and other gums.
    Gum,
    /// Psyllium.
    Psyllium,
    /// Oats.
    Oats,
    /// White and brown sugar and the syrups made of starch.
    RefinedSugar,
    /// Yeast.
    Yeast,
}

/// Whether a food holds what is left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Holds {
    /// It is not in it by nature.
    No,
    /// Only the label can tell.
    Check,
    /// It is in it.
    Yes,
}

/// By word and food.
static TABLE: LazyLock<BTreeMap<(&str, &str), Holds>> = LazyLock::new(|| {
    rows(include_str!("../data/left_out.tsv"))
        .map(|r| {
            let holds = match r.get("holds") {
                "yes" => Holds::Yes,
                _ => Holds::Check,
            };
            ((r.get("what"), r.get("food")), holds)
        })
        .collect()
});

impl LeftOut {
    /// Every kind.
    pub const ALL: [Self; 13] = [
        Self::Dairy,
        Self::Egg,
        Self::TreeNuts,
        Self::Peanut,
        Self::Soy,
        Self::Corn,
        Self::Rice,
        Self::Nightshade,
        Self::Gum,
        Self::Psyllium,
        Self::Oats,
        Self::RefinedSugar,
        Self::Yeast,
    ];

    /// The word in commands, forms and JSON.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dairy => "dairy",
            Self::Egg => "egg",
            Self::TreeNuts => "tree_nuts",
            Self::Peanut => "peanut",
            Self::Soy => "soy",
            Self::Corn => "corn",
            Self::Rice => "rice",
            Self::Nightshade => "nightshade",
            Self::Gum => "gum",
            Self::Psyllium => "psyllium",
            Self::Oats => "oats",
            Self::RefinedSugar => "refined_sugar",
            Self::Yeast => "yeast",
        }
    }

    /// The kind of a word; hyphens and blanks do as well.
    ///
    /// # Example
    /// ```
    /// use recipe::LeftOut;
    /// assert_eq!(LeftOut::from_word("tree nuts"), Some(LeftOut::TreeNuts));
    /// assert_eq!(LeftOut::from_word("gluten"), None);
    /// ```
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        let word = word.trim().to_lowercase().replace([' ', '-'], "_");
        Self::ALL.into_iter().find(|l| l.word() == word)
    }

    /// The name on screens.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::TreeNuts => "tree nuts",
            Self::Nightshade => "nightshades (potato, tomato, pepper)",
            Self::Gum => "gums",
            Self::RefinedSugar => "refined sugar",
            _ => self.word(),
        }
    }

    /// The food in a sentence: 'made without milk'.
    #[must_use]
    pub fn plain(self) -> &'static str {
        match self {
            Self::Dairy => "milk",
            Self::Nightshade => "nightshades",
            _ => self.name(),
        }
    }

    fn names(self, allergen: Allergen) -> bool {
        use Allergen as A;
        match self {
            Self::Dairy => allergen == A::Milk,
            Self::Egg => allergen == A::Egg,
            Self::TreeNuts => is_tree_nut(allergen),
            Self::Peanut => allergen == A::Peanut,
            Self::Soy => allergen == A::Soy,
            Self::Oats => allergen == A::Oats,
            _ => false,
        }
    }

    /// Whether a label that was read through by a law tells of it: corn is on no list.
    #[must_use]
    pub fn is_told_by(self, law: Regime) -> bool {
        let mut all = Allergen::ALL.iter().filter(|a| self.names(**a)).peekable();
        all.peek().is_some() && all.all(|a| declared(*a, law).is_some())
    }

    /// Whether a food holds it.
    #[must_use]
    pub fn in_food(self, food: FoodId, larder: &Larder) -> Holds {
        let is = larder.food(food);
        let by_allergen = is
            .allergens
            .iter()
            .filter(|(a, _)| self.names(*a) && !larder.is_not_named(food, *a))
            .map(|(_, check)| if *check { Holds::Check } else { Holds::Yes });
        let by_table = TABLE.get(&(self.word(), is.key.as_str())).copied();
        by_allergen.chain(by_table).max().unwrap_or(Holds::No)
    }
}

impl fmt::Display for LeftOut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_food_of_the_table_is_in_the_larder() {
        let larder = Larder::built_in().unwrap();
        let mut rows = 0;
        for row in crate::data::rows(include_str!("../data/left_out.tsv")) {
            let food = larder.by_key(row.get("food"));
            assert!(food.is_some(), "{}", row.get("food"));
            assert!(LeftOut::from_word(row.get("what")).is_some());
            assert!(matches!(row.get("holds"), "yes" | "check"));
            rows += 1;
        }
        assert!(rows > 100);
    }

    #[test]
    fn what_is_not_known_to_be_free_is_to_be_checked() {
        let larder = Larder::built_in().unwrap();
        let holds = |what: LeftOut, key: &str| what.in_food(larder.by_key(key).unwrap(), &larder);
        assert_eq!(holds(LeftOut::Dairy, "unsalted_butter"), Holds::Yes);
        assert_eq!(holds(LeftOut::Corn, "baking_powder"), Holds::Check);
        assert_eq!(holds(LeftOut::TreeNuts, "coconut_flour"), Holds::Yes);
        assert_eq!(holds(LeftOut::Nightshade, "potato_starch"), Holds::Yes);
        assert_eq!(holds(LeftOut::Nightshade, "tapioca_starch"), Holds::No);
        assert_eq!(holds(LeftOut::Oats, "oat_flour"), Holds::Yes);
        assert_eq!(holds(LeftOut::Soy, "gluten_free_flour_blend"), Holds::Check);
    }
}
