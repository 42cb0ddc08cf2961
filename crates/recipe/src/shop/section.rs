//! Parts of a shop, by what a food does.

use larder::{Food, Function};

/// Where in a shop a food stands: a plain grouping by the larder's functions, for walking a shop
/// once. Common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Section {
    /// Flours, starches, meals and blends.
    Flour,
    /// Binders, raising agents, yeast.
    Raising,
    /// Sugar, syrup, honey, jam, sweets.
    Sugar,
    /// Chocolate and cocoa.
    Chocolate,
    /// Nuts, seeds, dried fruit.
    Dry,
    /// Whole grains, flakes and cereals, rice, pasta.
    Grain,
    /// Spices, salt, flavourings, colours.
    Spice,
    /// Eggs, milk, cream, cheese, butter and other fats.
    Cold,
    /// Fresh fruit and vegetables.
    Fresh,
    /// Meat and fish.
    Meat,
    /// Drinks, juices, vinegar.
    Drink,
    /// Anything else, and what the larder does not know.
    Other,
}

impl Section {
    /// Every section, in the order of the list.
    pub const ALL: [Self; 12] = [
        Self::Fresh,
        Self::Cold,
        Self::Meat,
        Self::Flour,
        Self::Raising,
        Self::Sugar,
        Self::Chocolate,
        Self::Dry,
        Self::Grain,
        Self::Spice,
        Self::Drink,
        Self::Other,
    ];

    /// The word in machine-readable output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Flour => "flour",
            Self::Raising => "raising",
            Self::Sugar => "sugar",
            Self::Chocolate => "chocolate",
            Self::Dry => "dry",
            Self::Grain => "grain",
            Self::Spice => "spice",
            Self::Cold => "cold",
            Self::Fresh => "fresh",
            Self::Meat => "meat",
            Self::Drink => "drink",
            Self::Other => "other",
        }
    }

    /// The heading on a list.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Flour => "Flours and starches",
            Self::Raising => "Binders, yeast and raising agents",
            Self::Sugar => "Sugar, syrup, jam and sweets",
            Self::Chocolate => "Chocolate and cocoa",
            Self::Dry => "Nuts, seeds and dried fruit",
            Self::Grain => "Grains, cereals and pasta",
            Self::Spice => "Salt, spices and flavourings",
            Self::Cold => "Eggs, milk products and fats",
            Self::Fresh => "Fruit and vegetables",
            Self::Meat => "Meat and fish",
            Self::Drink => "Drinks, juices and vinegar",
            Self::Other => "Other things",
        }
    }

    /// The section of a food.
    #[must_use]
    pub fn of(food: &Food) -> Self {
        use Function as F;
        match food.function() {
            F::Flour | F::Starch | F::NutFlour | F::PulseFlour => Self::Flour,
            F::Binder | F::Leavening | F::Yeast | F::Thickener => Self::Raising,
            F::Sugar | F::Syrup | F::Preserve => Self::Sugar,
            F::Chocolate => Self::Chocolate,
            F::Fruit if food.does(F::Inclusion) => Self::Dry,
            F::Inclusion if food.does(F::Dairy) => Self::Cold,
            F::Inclusion if food.does(F::Chocolate) => Self::Chocolate,
            F::Inclusion | F::Prepared if food.does(F::Sugar) => Self::Sugar,
            F::Inclusion | F::Pasta => Self::Grain,
            F::Nut | F::Seed => Self::Dry,
            F::Salt | F::Spice | F::Colour => Self::Spice,
            F::Flavour if larder_fresh(food) => Self::Fresh,
            F::Flavour => Self::Spice,
            F::Egg | F::Dairy | F::Fat | F::Protein => Self::Cold,
            F::Fruit | F::Vegetable => Self::Fresh,
            F::Meat => Self::Meat,
            F::Liquid if food.spoils() || food.does(F::Dairy) => Self::Cold,
            F::Liquid | F::Acid | F::Alcohol | F::Water => Self::Drink,
            F::Crumb | F::Prepared => Self::Other,
        }
    }
}

/// A flavouring that is sold fresh: herbs and zest.
fn larder_fresh(food: &Food) -> bool {
    food.name.starts_with("fresh ") || food.key.ends_with("_zest")
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;

    #[test]
    fn foods_stand_with_their_like() {
        let larder = Larder::built_in().expect("tables");
        for (key, section) in [
            ("malted_milk_balls", Section::Sugar),
            ("liquorice", Section::Sugar),
            ("toffee", Section::Sugar),
            ("caster_sugar", Section::Sugar),
            ("pearl_sugar", Section::Sugar),
            ("cocoa_nibs", Section::Chocolate),
            ("granola", Section::Grain),
            ("steel_cut_oats", Section::Grain),
            ("white_rice", Section::Grain),
            ("couscous", Section::Grain),
            ("gluten_free_pasta", Section::Grain),
            ("rolled_oats", Section::Flour),
            ("walnut", Section::Dry),
            ("raisins", Section::Dry),
            ("cheddar", Section::Cold),
        ] {
            let food = larder.by_key(key).expect(key);
            assert_eq!(Section::of(larder.food(food)), section, "{key}");
        }
    }
}
