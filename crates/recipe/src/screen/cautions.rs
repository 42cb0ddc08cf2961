//! The usual advice that a recipe calls for.

use super::core::{self, core_cautions};
use super::judge::{has, is_oats};
use larder::{Allergen, Food, Function};
use std::collections::BTreeMap;

/// A caution. All are usual advice: local rules and licensed practice come first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Caution {
    /// Stable code.
    pub code: &'static str,
    /// The advice.
    pub text: &'static str,
    /// Where it comes from, and what that rests on.
    pub source: &'static str,
}

impl Caution {
    /// Whether it says how hot meat, poultry or fish gets in the middle.
    #[must_use]
    pub fn is_of_meat(&self) -> bool {
        core::ROWS.iter().any(|r| r.caution.code == self.code)
    }
}

/// What calls for a caution.
#[derive(Default)]
pub(super) struct Seen {
    oats: bool,
    /// Something that may have oats in it.
    perhaps_oats: bool,
    flour: bool,
    egg: bool,
    fermented: bool,
    wheat_starch: bool,
    honey: bool,
    psyllium: bool,
    core: BTreeMap<&'static str, Caution>,
}

/// Fermented or hydrolysed foods made, or sometimes made, with gluten grain.
pub(super) const FERMENTED: [&str; 32] = [
    "soy_sauce",
    "tamari",
    "tamari_gluten_free",
    "miso",
    "barley_miso",
    "hoisin_sauce",
    "oyster_sauce",
    "teriyaki_sauce",
    "hoisin_sauce_gluten_free",
    "oyster_sauce_gluten_free",
    "teriyaki_sauce_gluten_free",
    "worcestershire_sauce",
    "fish_sauce",
    "malt_vinegar",
    "rice_vinegar",
    "black_vinegar",
    "rice_wine",
    "beer",
    "stout",
    "gluten_free_beer",
    "barley_free_beer",
    "sourdough_starter",
    "rye_sourdough_starter",
    "gluten_free_sourdough_starter",
    "yeast_extract",
    "brewers_yeast",
    "hydrolysed_wheat_protein",
    "vegetable_protein",
    "malt_syrup",
    "dry_malt_extract",
    "rice_syrup",
    "blue_cheese",
];

impl Seen {
    /// Takes in what an ingredient is called, where the larder is not sure of it.
    pub(super) fn words(&mut self, words: &str) {
        let said = core_cautions(None, words);
        self.core.extend(said.into_iter().map(|c| (c.code, c)));
    }
    pub(super) fn food(&mut self, food: &Food) {
        let key = food.key.as_str();
        let said = core_cautions(Some(food), &food.name);
        self.core.extend(said.into_iter().map(|c| (c.code, c)));
        self.oats |= is_oats(food);
        self.perhaps_oats |= has(food, Allergen::Oats);
        self.flour |= food.is_flour_phase();
        self.egg |= food.does(Function::Egg) && has(food, Allergen::Egg);
        self.fermented |= FERMENTED.contains(&key);
        self.wheat_starch |= key == "wheat_starch_gf";
        self.honey |= key == "honey";
        self.psyllium |= key.starts_with("psyllium");
    }

    pub(super) fn cautions(&self) -> Vec<Caution> {
        let all = [
            (
                true,
                Caution {
                    code: "cross_contact",
                    text: "A kitchen that also holds wheat can put gluten into any recipe: wash tools and bench with soap and water, bake the gluten-free batch first, keep flour sacks, sieve, wooden spoon, rolling pin and toaster apart. This recipe's words cannot know your kitchen or your ingredients. Usual advice: a clinician's or dietitian's word and local rules come first.",
                    source: "Weisbrod et al. 2020 on shared tools (seen); the rest common practice, no source",
                },
            ),
            (
                self.oats,
                Caution {
                    code: "oats",
                    text: "Only oats labelled gluten-free. Most coeliacs tolerate them, not all: ask whoever treats you first. Australia and New Zealand do not allow oats as gluten-free.",
                    source: "Codex CXS 118-1979, EU 828/2014, SOR/2015-114, Standard 1.2.7 (seen)",
                },
            ),
            (
                self.perhaps_oats && !self.oats,
                Caution {
                    code: "oats",
                    text: "No line is of oats, but biscuits, granola and the like that are labelled gluten-free may hold them: read the label. Most coeliacs tolerate oats labelled gluten-free, not all: ask whoever treats you first. Australia and New Zealand do not allow oats as gluten-free.",
                    source: "Codex CXS 118-1979, EU 828/2014, SOR/2015-114, Standard 1.2.7 (seen)",
                },
            ),
            (
                self.flour,
                Caution {
                    code: "raw_flour",
                    text: "Flour is raw, rice and oat flour too: do not taste raw dough or batter, and wash hands and bowls after it. Usual advice; local rules come first.",
                    source: "FDA and CDC notices on raw flour (seen)",
                },
            ),
            (
                self.egg,
                Caution {
                    code: "raw_egg",
                    text: "Do not taste raw batter with egg in it. Where egg stays uncooked, use pasteurised egg or heat it to 71 °C (160 °F). Usual advice; local rules come first.",
                    source: "FDA and USDA consumer advice, egg dishes 160 °F (seen)",
                },
            ),
            (
                self.fermented,
                Caution {
                    code: "fermented",
                    text: "No test measures gluten reliably in fermented or hydrolysed foods: go by the label and by what went in before, never by a figure.",
                    source: "85 FR 49240, 13 August 2020 (seen)",
                },
            ),
            (
                self.wheat_starch,
                Caution {
                    code: "wheat_starch",
                    text: "Gluten-free wheat starch is still wheat: never for a wheat allergy, and not gluten-free in Australia or New Zealand. Only a lot labelled gluten-free will do.",
                    source: "78 FR 47154, 5 August 2013; Standard 1.2.7 (seen)",
                },
            ),
            (
                self.honey,
                Caution {
                    code: "honey",
                    text: "No honey for a child under 12 months, baked or not. Usual advice; local rules come first.",
                    source: "INSPQ, Québec (seen)",
                },
            ),
            (
                self.psyllium,
                Caution {
                    code: "psyllium",
                    text: "Mix psyllium with enough liquid before anyone swallows it: dry, it swells and can choke.",
                    source: "21 CFR 101.17(f), from memory",
                },
            ),
        ];
        all.into_iter()
            .filter(|(here, _)| *here)
            .map(|(_, c)| c)
            .chain(self.core.values().copied())
            .collect()
    }
}
