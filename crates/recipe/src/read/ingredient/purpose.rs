//! What an ingredient is for.

use super::Reader;
use crate::line::{Item, Purpose};
use larder::{FoodId, Function};

const DUSTING: [&str; 16] = [
    "for dusting",
    "for rolling",
    "for kneading",
    "for flouring",
    "for shaping",
    "for the work",
    "for the bench",
    "for the board",
    "for the counter",
    "for the surface",
    "for the table",
    "to dust",
    "for sprinkling the",
    "for coating",
    "for dredging",
    "for the peel",
];

/// Before [`PAN`]: 'for brushing' is for the bake, 'for brushing the tin' for the tin.
const BRUSHING: [&str; 12] = [
    "for brushing",
    "to brush",
    "egg wash",
    "eggwash",
    "egg-wash",
    "for glazing",
    "to glaze",
    "for the wash",
    "as a wash",
    "for basting",
    "to seal",
    "for sealing",
];

const PAN: [&str; 33] = [
    "for greasing",
    "for buttering",
    "for the pan",
    "for the tin",
    "for the dish",
    "for the mould",
    "for the mold",
    "for the ramekin",
    "for the baking",
    "for the muffin",
    "for the cake tin",
    "for the loaf tin",
    "for brushing the tin",
    "for brushing the pan",
    "for brushing the dish",
    "to grease",
    "to brush the tin",
    "to brush the pan",
    "for frying",
    "for deep",
    "for shallow",
    "for oiling",
    "for cooking the",
    "for the griddle",
    "for the skillet",
    "for the bowl",
    "for boiling",
    "for the boiling",
    "for poaching",
    "for the poaching",
    "for steaming",
    "for the water bath",
    "for a water bath",
];

const SERVING: [&str; 10] = [
    "to serve",
    "for serving",
    "to decorate",
    "for decoration",
    "to garnish",
    "for garnish",
    "to finish",
    "for sprinkling",
    "for scattering",
    "for decorating",
];

/// What the words say an ingredient is for. With an amount of its own, words behind 'plus',
/// 'and more' or 'with extra' say what the extra is for, not the ingredient.
pub(super) fn purpose_of(lower: &str, amount: bool) -> Purpose {
    // One look at most lines: every phrase holds one of these.
    if !["for ", "to ", "wash", "as "]
        .iter()
        .any(|w| lower.contains(w))
    {
        return Purpose::Formula;
    }
    let words = if amount {
        extra(lower).map_or(lower, |at| &lower[..at])
    } else {
        lower
    };
    let says = |all: &[&str]| all.iter().any(|w| words.contains(w));
    if says(&PAN) {
        Purpose::Pan
    } else if says(&BRUSHING) {
        Purpose::Brushing
    } else if says(&DUSTING) {
        Purpose::Dusting
    } else if says(&SERVING) {
        Purpose::Serving
    } else {
        Purpose::Formula
    }
}

/// Where the words about an unmeasured extra begin: 'plus more', 'and a little extra'.
pub(super) fn extra(lower: &str) -> Option<usize> {
    [
        " plus ",
        ",plus ",
        " + ",
        " and more",
        " and extra",
        " and a little",
        " and some",
        " & more",
        " & extra",
        " with more",
        " with extra",
        " with a little extra",
        " with a little more",
        ", extra ",
        ", more ",
        "(plus ",
        "(and more",
        "(and extra",
    ]
    .iter()
    .filter_map(|w| lower.find(w))
    .min()
}

/// 'for the glaze': of egg or milk it is brushed on.
pub(super) fn says_glaze(lower: &str) -> bool {
    ["for the glaze", "for glaze", "for a glaze", "as a glaze"]
        .iter()
        .any(|w| lower.contains(w))
}

impl Reader<'_> {
    fn is_one_of(&self, food: FoodId, keys: &[&str]) -> bool {
        keys.contains(&self.larder.food(food).key.as_str())
    }

    /// Whether a food is what bakes are brushed with: egg, milk, cream.
    pub(super) fn brushes(&self, food: FoodId) -> bool {
        self.is_egg(food)
            || self.is_one_of(
                food,
                &[
                    "whole_milk",
                    "semi_skimmed_milk",
                    "low_fat_milk",
                    "skim_milk",
                    "plant_milk",
                    "double_cream",
                    "heavy_cream",
                    "light_cream",
                ],
            )
    }

    /// Whether a food is an egg or a part of one.
    pub(crate) fn is_egg(&self, food: FoodId) -> bool {
        self.is_one_of(food, &["egg", "egg_yolk", "egg_white"])
    }

    /// Whether an item may be of a wash: egg, milk, cream, water, salt, sugar.
    pub(crate) fn may_wash(&self, item: &Item) -> bool {
        item.food.as_ref().is_some_and(|m| {
            self.brushes(m.food) || self.is_one_of(m.food, &["water", "table_salt", "white_sugar"])
        })
    }

    /// Whether an item may be of what a dough is boiled in.
    pub(in crate::read) fn is_of_a_bath(&self, item: &Item) -> bool {
        const BATH: [&str; 12] = [
            "water",
            "baking_soda",
            "table_salt",
            "kosher_salt",
            "sea_salt_fine",
            "sea_salt_coarse",
            "white_sugar",
            "light_brown_sugar",
            "honey",
            "molasses",
            "malt_syrup",
            "malted_barley_flour",
        ];
        let food = item.food.as_ref();
        food.is_some_and(|m| self.is_one_of(m.food, &BATH))
    }

    /// '100 g sugar and 2 tsp cinnamon, for coating': what the last is for holds for all that is mixed to be strewn.
    /// Flour is not taken along, as '500 g flour and some semolina, for dusting' begins with the dough's; nor sugar
    /// with sugar, of which one may be the dough's.
    pub(super) fn share_coating(&self, items: &mut [Item]) {
        let food = |i: &Item| i.food.as_ref().map(|m| self.larder.food(m.food));
        let is = |i: &Item, all: &[Function]| {
            food(i).is_some_and(|f| all.iter().any(|a| f.function() == *a))
        };
        let Some((last, before)) = items.split_last_mut() else {
            return;
        };
        let strewn = [Function::Sugar, Function::Spice, Function::Salt];
        let aside = matches!(last.purpose, Purpose::Dusting | Purpose::Serving);
        // Nobody coats with a spice or salt alone.
        let mixed = aside && is(last, &strewn[1..]) && before.iter().all(|i| is(i, &strewn));
        for item in before.iter_mut().filter(|_| mixed) {
            if item.purpose == Purpose::Formula {
                item.purpose = last.purpose;
            }
        }
    }

    /// '10 cups water + 2/3 cup soda (for boiling)': the words are for all on a line that holds
    /// nothing but a bath, and one water.
    pub(super) fn share_bath(&self, text: &str, items: &mut [Item]) {
        let lower = text.to_ascii_lowercase();
        if ![
            "for boiling",
            "for the boiling",
            "for poaching",
            "for the poaching",
        ]
        .iter()
        .any(|w| lower.contains(w))
        {
            return;
        }
        let water =
            |i: &Item| (i.food.as_ref()).is_some_and(|m| self.is_one_of(m.food, &["water"]));
        let waters = items.iter().filter(|i| water(i)).count();
        if waters == 1 && items.iter().all(|i| self.is_of_a_bath(i)) {
            for item in items.iter_mut().filter(|i| i.purpose == Purpose::Formula) {
                item.purpose = Purpose::Pan;
            }
        }
    }

    /// '1 egg and 1 tbsp milk, to glaze': the words behind the last are for the whole wash.
    pub(super) fn share_wash(&self, items: &mut [Item]) {
        let food = |i: &Item| i.food.as_ref().map(|m| m.food);
        let Some((last, before)) = items.split_last_mut() else {
            return;
        };
        let may = |i: &Item| self.may_wash(i);
        let egg = before
            .iter()
            .chain([&*last])
            .any(|i| food(i).is_some_and(|f| self.is_egg(f)));
        if last.purpose == Purpose::Brushing && egg && may(last) {
            for item in before.iter_mut().filter(|i| i.purpose == Purpose::Formula) {
                if may(item) {
                    item.purpose = Purpose::Brushing;
                }
            }
        }
    }
}
